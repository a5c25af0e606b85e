"""The local log: what went wrong on this computer, in two short files beside the window's state; it goes nowhere."""

from __future__ import annotations

import logging
from logging.handlers import RotatingFileHandler
from pathlib import Path

from app.session import state

LARGEST_BYTES = 256_000
KEPT_BEFORE = 1


def journal_file() -> Path:
    """Return where the log lies."""
    return state.state_file().parent / "saltwright.log"


def journal() -> logging.Logger:
    """Return the log, opened by the first line written to it; where none can be kept, it takes lines in vain."""
    logger = logging.getLogger("saltwright")
    wanted = str(journal_file())
    if [getattr(handler, "baseFilename", wanted) for handler in logger.handlers] == [wanted]:
        return logger
    for handler in list(logger.handlers):
        logger.removeHandler(handler)
        handler.close()
    logger.addHandler(_handler(Path(wanted)))
    logger.setLevel(logging.INFO)
    logger.propagate = False
    return logger


def _handler(path: Path) -> logging.Handler:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handler = RotatingFileHandler(
            path, maxBytes=LARGEST_BYTES, backupCount=KEPT_BEFORE, encoding="utf-8", errors="replace"
        )
    except OSError:
        return logging.NullHandler()
    handler.setFormatter(logging.Formatter("%(asctime)s %(process)d %(levelname)s %(message)s"))
    return handler
