"""Starting the program: its exit status, its one line of refusal, and what it does without a display."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

import app
from app.__main__ import DEFECT, main
from app.headless import libraries


@pytest.fixture
def no_display(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"saltwright {app.__version__}\n"


def test_help_is_no_failure(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--help"]) == 0
    assert main(["plan", "--help"]) == 0
    assert "usage: saltwright plan" in capsys.readouterr().out


@pytest.mark.parametrize(
    "typed",
    [["plan"], ["--bogus"], ["plan", "nowhere.saltwright"], ["catalog", "x\n\u202ey"], ["solution", "/dev/zero"]],
)
def test_bad_input_is_one_line_and_exit_two(typed: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(typed) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.startswith("saltwright: ")
    assert shown.err.endswith("\n")
    assert shown.err[:-1].isprintable()


@pytest.mark.usefixtures("no_display")
def test_without_a_display_the_plan_of_the_demo_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 0
    shown = capsys.readouterr()
    assert "there is no display" in shown.err
    assert shown.err.count("\n") == 1
    assert "mS/cm" in shown.out


@pytest.mark.usefixtures("no_display")
def test_without_a_display_a_bad_file_is_still_refused(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert main([str(tmp_path)]) == 2
    assert capsys.readouterr().err.count("\n") == 1


@pytest.mark.usefixtures("no_display")
def test_missing_libraries_are_named_in_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("DISPLAY", ":0")
    monkeypatch.setattr(libraries, "_loads", lambda library: library != "libxcb-cursor.so.0")
    assert main([]) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.count("\n") == 1
    assert "apt-get install libxcb-cursor0 | dnf install xcb-util-cursor | pacman -S xcb-util-cursor" in shown.err


def test_a_missing_package_is_named_in_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "core.catalog", None)
    monkeypatch.setitem(sys.modules, "app.headless.catalog", None)
    assert main(["catalog", "salts"]) == DEFECT  # a module of our own is missing: that is a defect
    assert "ModuleNotFoundError" in capsys.readouterr().err


def test_a_package_that_is_not_installed(repository: Path) -> None:
    code = (
        "import sys\nsys.modules['msgspec'] = None\nfrom app.__main__ import main\nsys.exit(main(['catalog', 'salts']))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=repository, capture_output=True, text=True, check=False, env={**os.environ}
    )
    assert done.returncode == 2
    assert (
        done.stderr
        == "saltwright: the Python package msgspec is not installed; install Saltwright as its README says\n"
    )


def test_a_defect_is_not_mistaken_for_a_caution(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("app.headless.catalog.catalog_command", lambda *_a, **_k: 1 / 0)
    assert main(["catalog", "salts"]) == DEFECT
    assert "ZeroDivisionError" in capsys.readouterr().err
