"""What may be typed after the program's name."""

from __future__ import annotations

import pytest

from app.headless.arguments import parse
from app.headless.output import BadInput


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ([], {"command": "window", "file": None, "version": False}),
        (["my.saltwright"], {"command": "window", "file": "my.saltwright", "version": False}),
        (["./plan"], {"command": "window", "file": "./plan", "version": False}),
        (["--version"], {"command": "window", "file": None, "version": True}),
        (["plan", "x"], {"command": "plan", "file": "x", "goal": None, "json": False}),
        (["plan", "--json", "-"], {"command": "plan", "file": "-", "goal": None, "json": True}),
        (["solution", "-", "--json"], {"command": "solution", "file": "-", "json": True}),
        (["catalog", "waters"], {"command": "catalog", "kind": "waters", "json": False}),
    ],
)
def test_what_is_typed_is_understood(typed: list[str], meant: dict[str, object]) -> None:
    assert vars(parse(typed)) == meant


@pytest.mark.parametrize(
    "typed",
    [
        ["plan"],
        ["plan", "a", "b"],
        ["plan", "a", "--jso"],
        ["catalog"],
        ["catalog", "bottles"],
        ["--nonsense"],
        ["a", "b"],
        ["solution"],
    ],
)
def test_what_makes_no_sense_is_refused(typed: list[str]) -> None:
    with pytest.raises(BadInput, match=r"try: saltwright.* --help"):
        parse(typed)


def test_help_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        parse(["--help"])
    assert end.value.code == 0
    shown = capsys.readouterr().out
    for command in ("plan FILE", "solution FILE", "catalog salts|crops|waters", "--version", "exit status"):
        assert command in shown
