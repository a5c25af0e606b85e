"""What reaches the terminal: any encoding, any foreign text, one line for a complaint."""

from __future__ import annotations

import ctypes
import io
import os

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.headless.output import BadInput, complain, only_our_answer, visible, write


@given(st.text())
def test_visible_text_is_one_printable_line(text: str) -> None:
    shown = visible(text)
    assert shown.isprintable()
    assert len(shown.splitlines()) <= 1


def test_controls_and_bidirectional_marks_are_escaped() -> None:
    assert visible("a\x1b[31m\u202eb\nc\u2028") == r"a\x1b[31m\u202eb\nc\u2028"
    assert visible("Ü ½ °C") == "Ü ½ °C"


def test_a_name_that_is_no_utf8_is_escaped() -> None:
    assert visible(b"\xff.json".decode("utf-8", "surrogateescape")) == r"\udcff.json"


def terminal(monkeypatch: pytest.MonkeyPatch, name: str, encoding: str) -> io.BytesIO:
    raw = io.BytesIO()
    monkeypatch.setattr(f"sys.{name}", io.TextIOWrapper(raw, encoding=encoding, write_through=True))
    return raw


def test_an_ascii_terminal_gets_plain_characters(monkeypatch: pytest.MonkeyPatch) -> None:
    raw = terminal(monkeypatch, "stdout", "ascii")
    write("EC 1.77 ± 5 % at 25 °C, Ca(NO₃)₂·4H₂O \N{MINUS SIGN}3 ≤ ☃\n")
    assert raw.getvalue() == rb"EC 1.77 +- 5 % at 25 deg C, Ca(NO3)2.4H2O -3 at most  \u2603" + b"\n"


def test_a_complaint_is_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    raw = terminal(monkeypatch, "stderr", "latin-1")
    complain("line one\nline two \u202e µS")
    assert raw.getvalue() == b"saltwright: line one\\nline two \\u202e \xb5S\n"


def test_without_an_output_nothing_happens(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdout", None)
    monkeypatch.setattr("sys.stderr", None)
    write("text")
    complain("text")


def test_a_full_disk_is_bad_news_in_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    class Full(io.TextIOWrapper):
        def flush(self) -> None:
            raise OSError(28, "No space left on device")

        def fileno(self) -> int:
            return duplicate

    duplicate = os.open(os.devnull, os.O_WRONLY)
    monkeypatch.setattr("sys.stdout", Full(io.BytesIO(), encoding="utf-8"))
    try:
        with pytest.raises(BadInput, match="could not be written: No space left on device"):
            write("text")
    finally:
        os.close(duplicate)
        monkeypatch.undo()


def test_what_libraries_print_behind_python_goes_nowhere(capfd: pytest.CaptureFixture[str]) -> None:
    with only_our_answer():
        os.write(1, b"banner of a solver\n")
        if os.name == "posix":
            ctypes.CDLL(None).puts(b"another, through the buffer of C")
    write("ours\n")
    assert capfd.readouterr() == ("ours\n", "")


def test_the_answer_comes_through_after_a_failure(capfd: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(ZeroDivisionError), only_our_answer():
        raise ZeroDivisionError
    write("ours\n")
    assert capfd.readouterr().out == "ours\n"
