"""What every test runs under: no display, no settings of the person who runs it, no window left behind."""

from __future__ import annotations

import os
import re
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

from app.headless.libraries import how_to_install, missing_libraries

# Before Qt or a linear-algebra library is loaded: two test workers share two cores.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

_HOME = Path(tempfile.mkdtemp(prefix="saltwright-tests-"))
for name in ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"):
    os.environ[name] = str(_HOME / name.lower())
_RUNTIME = _HOME / "runtime"
_RUNTIME.mkdir(mode=0o700)
os.environ["XDG_RUNTIME_DIR"] = str(_RUNTIME)

settings.register_profile("saltwright", deadline=None, print_blob=True)
settings.load_profile("saltwright")

MISSING = missing_libraries(os.environ["QT_QPA_PLATFORM"].partition(":")[0])
_NEEDS_QT = re.compile(
    r"^\s*(from|import) (PySide6|shiboken6|app\.(window|surfaces|widgets|session|paper\.pdf))\b|\b(qtbot|qapp)\b",
    re.MULTILINE,
)


def pytest_addoption(pluginmanager: pytest.PytestPluginManager) -> None:
    """Without Qt's libraries the Qt plugin would end the whole run: take it out before it is configured."""
    if not MISSING:
        return
    if os.environ.get("SALTWRIGHT_REQUIRE_QT") == "1":
        raise pytest.UsageError(how_to_install(MISSING))
    pluginmanager.set_blocked("pytest-qt")
    pluginmanager.unregister(name="pytest-qt")


def pytest_configure(config: pytest.Config) -> None:
    """Know the mark the Qt plugin would have brought."""
    if MISSING:
        config.addinivalue_line("markers", "qt_log_ignore: of the Qt plugin, which was taken out")


def pytest_ignore_collect(collection_path: Path) -> bool | None:
    """Leave out the tests that need Qt where it cannot be loaded; tests/app/test_qt_libraries.py reports it once."""
    if not MISSING or collection_path.suffix != ".py":
        return None
    return True if _NEEDS_QT.search(collection_path.read_text(encoding="utf-8")) else None


def pytest_unconfigure() -> None:
    shutil.rmtree(_HOME, ignore_errors=True)


@pytest.fixture
def repository() -> Path:
    """The top of the repository."""
    return Path(__file__).resolve().parents[1]


@pytest.fixture(autouse=True)
def _no_window_left(request: pytest.FixtureRequest) -> Iterator[None]:
    """Close what a test opened; Qt only deletes later, and piled-up widgets crash at the end of the process."""
    yield
    widgets = sys.modules.get("PySide6.QtWidgets")
    if MISSING or widgets is None or widgets.QApplication.instance() is None:
        return
    from PySide6.QtCore import QCoreApplication, QEvent

    for widget in widgets.QApplication.topLevelWidgets():
        widget.close()
        widget.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    left = widgets.QApplication.topLevelWidgets()
    assert not left, f"{request.node.nodeid} leaves {left}"
