"""Reading what is named on the command line."""

from __future__ import annotations

import io
import os
from pathlib import Path

import pytest

from app.headless.input import read
from app.headless.output import BadInput


def test_a_file_is_read_up_to_one_byte_more(tmp_path: Path) -> None:
    file = tmp_path / "ten"
    file.write_bytes(b"0123456789")
    assert read(str(file), 100) == b"0123456789"
    assert read(str(file), 4) == b"01234"


def test_standard_input(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(b"0123456789")))
    assert read("-", 4) == b"01234"


def test_no_standard_input_is_empty(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", None)
    assert read("-", 4) == b""


def test_what_cannot_be_read(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    for name, reason in (
        (tmp_path / "missing", "cannot be read: No such file"),
        (tmp_path, "is not an ordinary file"),
        (tmp_path / "pipe", "is not an ordinary file"),
        ("/dev/zero", "is not an ordinary file"),
        ("a\0b", "is not a usable file name"),
    ):
        with pytest.raises(BadInput, match=reason):
            read(str(name), 10)
