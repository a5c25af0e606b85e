"""Faults of the program itself: the work is kept, the log has a line, and a report can be copied."""

from __future__ import annotations

import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QMessageLogContext, QtMsgType
from PySide6.QtGui import QGuiApplication
from pytestqt.qtbot import QtBot

from app.session import state
from app.session.faults import Faults, report
from app.session.journal import LARGEST_BYTES, journal, journal_file
from app.window.fault_teller import FaultTeller
from app.window.frame import MainWindow

A_SESSION_THAT_FAILS = """
import sys, threading
from PySide6.QtCore import QCoreApplication, QTimer, qFatal
from app.session.faults import Faults
from app.session.planning import Planner
from app.session.recovery import Recovery
from app.session.session import Session
from app.session import changes
from tests.app.sample import follow, sample_recipe
app = QCoreApplication(["saltwright"])
recovery = Recovery(delay_s=3600.0)
faults = Faults(recovery.flush)
faults.happened.connect(lambda report: (print(report), app.quit()))
faults.install()
session = Session(Planner(make=follow, warm=lambda: None, held=True), recovery=recovery)
session.start(sample_recipe())
def fail():
    session.push("K", ("aim", "K"), changes.with_target(session.recipe, "K", 200.0))
    raise ZeroDivisionError("in a slot")
def fail_behind():
    session.push("K", ("aim", "K"), changes.with_target(session.recipe, "K", 200.0))
    threading.Thread(target=lambda: 1 / 0).start()
def fail_hard():
    session.push("K", ("aim", "K"), changes.with_target(session.recipe, "K", 200.0))
    qFatal("no more")
QTimer.singleShot(0, {"slot": fail, "thread": fail_behind, "fatal": fail_hard}[sys.argv[1]])
app.exec()
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "state" / "window.json")
    yield tmp_path / "state"
    for handler in list(journal().handlers):
        handler.close()
        journal().removeHandler(handler)


@pytest.fixture
def kept() -> list[str]:
    return []


@pytest.fixture
def faults(qtbot: QtBot, kept: list[str]) -> Faults:
    return Faults(lambda: kept.append("kept"))


def caught(make: Callable[[], object]) -> Exception:
    try:
        make()
    except Exception as error:  # noqa: BLE001  # any will do
        return error
    raise AssertionError("no fault")


def tell(faults: Faults, error: Exception) -> None:
    faults.python_fault(type(error), error, error.__traceback__)


def test_a_fault_keeps_the_work_logs_and_reports(qtbot: QtBot, faults: Faults, kept: list[str]) -> None:
    with qtbot.waitSignal(faults.happened) as happened:
        tell(faults, caught(lambda: 1 / 0))
    assert kept == ["kept"]
    assert "ZeroDivisionError" in happened.args[0]
    assert "test_faults.py" in happened.args[0]
    assert happened.args[0].startswith("Saltwright ")
    assert "ZeroDivisionError" in journal_file().read_text(encoding="utf-8")


def test_one_place_is_reported_once_and_logged_every_time(faults: Faults) -> None:
    reports: list[str] = []
    faults.happened.connect(reports.append)
    for _ in range(3):
        tell(faults, caught(lambda: 1 / 0))
    assert len(reports) == 1
    assert journal_file().read_text(encoding="utf-8").count("ERROR fault") == 3


def test_a_fault_while_keeping_the_work_hides_nothing(qtbot: QtBot, capsys: pytest.CaptureFixture[str]) -> None:
    faults = Faults(lambda: [][0])  # type: ignore[arg-type, return-value]
    faults._before = sys.__excepthook__, threading.__excepthook__
    with qtbot.waitSignal(faults.happened) as happened:
        tell(faults, caught(lambda: 1 / 0))
    assert "ZeroDivisionError" in happened.args[0]
    assert "IndexError" in capsys.readouterr().err


def test_a_report_does_not_tell_where_a_person_s_files_lie(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Path, "home", lambda: Path(__file__).parents[1])
    error = caught(lambda: 1 / 0)
    told = report(type(error), error, error.__traceback__)
    assert str(Path(__file__).parents[1]) not in told
    assert "~/session/test_faults.py" in told


def test_warnings_of_qt_are_logged_and_what_it_cannot_survive_keeps_the_work(faults: Faults, kept: list[str]) -> None:
    for kind in (QtMsgType.QtDebugMsg, QtMsgType.QtWarningMsg, QtMsgType.QtFatalMsg):
        faults.qt_message(kind, QMessageLogContext(), f"said {kind.name}")
    logged = journal_file().read_text(encoding="utf-8")
    assert "said QtWarningMsg" in logged
    assert "said QtDebugMsg" not in logged
    assert kept == ["kept"]


def test_hooks_are_put_back(faults: Faults) -> None:
    before = sys.excepthook, threading.excepthook
    faults._before = before
    sys.excepthook, threading.excepthook = faults.python_fault, faults._thread_fault
    faults.remove()
    assert (sys.excepthook, threading.excepthook) == before


def test_the_log_does_not_grow_without_end() -> None:
    for _ in range(60):
        journal().info("x" * 10_000)
    files = sorted(journal_file().parent.iterdir())
    assert len(files) == 2
    assert all(file.stat().st_size <= LARGEST_BYTES for file in files)


def test_a_folder_that_takes_no_log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "file" / "window.json")
    journal().info("in vain")
    assert [path.name for path in tmp_path.iterdir()] == ["file"]
    assert (tmp_path / "file").read_text(encoding="utf-8") == ""


@pytest.mark.parametrize(("where", "told"), [("slot", "in a slot"), ("thread", "division by zero"), ("fatal", "")])
def test_the_copy_is_there_after_a_fault(tmp_path: Path, repository: Path, where: str, told: str) -> None:
    from os import environ

    done = subprocess.run(
        [sys.executable, "-c", A_SESSION_THAT_FAILS, where],
        cwd=repository,
        env={**environ, "XDG_STATE_HOME": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert told in done.stdout
    assert (done.returncode == 0) is (where != "fatal")
    (copy,) = tmp_path.rglob("*.saltwright")
    assert '"K", "mg_per_l": 200' in copy.read_text(encoding="utf-8")


def test_the_report_can_be_copied_by_keys_and_work_goes_on(qtbot: QtBot, window: MainWindow) -> None:
    teller = FaultTeller(window)
    teller.tell("the report")
    teller.tell("another")
    dialog = teller.shown
    assert dialog is not None
    dialog.copy.setFocus()
    qtbot.keyClick(dialog.copy, "\r")
    assert QGuiApplication.clipboard().text() == "the report"
    qtbot.keyClick(dialog.go_on, " ")
    assert teller.shown is None
    assert window.isVisible()
