"""Starts a window and tells when it was painted: ``python -m tests.speed.window_start bare|demo``.

Prints JSON: [ms] since the moment given in SALTWRIGHT_STARTED to the first paint, and for the demo to the paint in
which its plan's figures stand; the memory held once the engine is loaded [MB].
"""

from __future__ import annotations

import json
import os
import sys
import time
from pathlib import Path

STARTED = "SALTWRIGHT_STARTED"


def since_ms() -> float:
    """Return the time since whoever measures began the process [ms]."""
    return (time.monotonic_ns() - int(os.environ[STARTED])) / 1e6


def memory_mb() -> float:
    """Return the memory this process holds in RAM [MB]; Linux only."""
    kilobytes = next(
        line.split()[1] for line in Path("/proc/self/status").read_text("ascii").splitlines() if "VmRSS" in line
    )
    return int(kilobytes) / 1000.0


def bare() -> dict[str, float]:
    """Start what any PySide6 program must: an application and a window with a label."""
    from PySide6.QtWidgets import QApplication, QLabel, QMainWindow

    app = QApplication([])
    window = QMainWindow()
    window.setCentralWidget(QLabel("bare"))
    window.resize(1366, 768)
    window.show()
    app.processEvents()
    return {"first_ms": since_ms(), "memory_mb": memory_mb()}


def demo() -> dict[str, float]:
    """Start the program as its command does, on the demo."""
    from app.window import start

    app = start.application()
    window = start.MainWindow()
    start.AfterNextPaint(window, lambda: start.begin(window, None))
    window.resize(1366, 768)
    window.show()
    app.processEvents()
    told = {"first_ms": since_ms()}
    while window._room is None or window.room.session.plan is None:
        app.processEvents()
    app.processEvents()
    told["solved_ms"] = since_ms()
    planner = window.room.session._planner
    until = time.monotonic() + 20.0
    while ("scipy.optimize" not in sys.modules or not planner.idle()) and time.monotonic() < until:
        app.processEvents()
    return told | {"memory_mb": memory_mb()}


if __name__ == "__main__":
    print(json.dumps(bare() if sys.argv[1] == "bare" else demo()), flush=True)
    os._exit(0)
