"""The command `sheet`."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from app.__main__ import main
from app.headless.libraries import missing_libraries
from app.headless.output import BadInput
from app.headless.sheet import save

DEMO = Path(__file__).resolve().parents[3] / "resources" / "demo" / "strawberry.saltwright"
needs_qt = pytest.mark.skipif(bool(missing_libraries("offscreen")), reason="system libraries of Qt are missing")


def run(*arguments: str) -> int:
    return main(["sheet", *arguments])


def test_html_is_written_and_said(tmp_path, capsys):
    out = tmp_path / "sheet.html"
    assert run(str(DEMO), "-o", str(out)) == 0
    assert "CALCIUM SIDE" in out.read_text(encoding="utf-8")
    assert capsys.readouterr() == (f"{out}: written.\n", "")
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.html"]


def test_the_recipe_itself_is_never_replaced_by_its_sheet(tmp_path, capsys):
    recipe = tmp_path / "recipe.html"
    recipe.write_bytes(DEMO.read_bytes())
    assert run(str(recipe), "-o", str(recipe)) == 2
    assert "is the recipe itself" in capsys.readouterr().err
    assert recipe.read_bytes() == DEMO.read_bytes()


def test_replacing_is_said_and_keeps_the_permissions(tmp_path, capsys):
    out = tmp_path / "sheet.csv"
    out.write_text("old")
    out.chmod(0o640)
    assert run(str(DEMO), "-o", str(out)) == 0
    assert capsys.readouterr().out == f"{out}: replaced.\n"
    assert out.read_text(encoding="utf-8").startswith("place,tank,entry_id,")
    assert out.stat().st_mode & 0o777 == 0o640


def test_a_new_file_has_the_usual_permissions(tmp_path):
    mask = os.umask(0o027)
    try:
        save(tmp_path / "x.csv", b"1")
    finally:
        os.umask(mask)
    assert (tmp_path / "x.csv").stat().st_mode & 0o777 == 0o640


def test_a_link_stays_a_link(tmp_path):
    (tmp_path / "real.csv").write_text("old")
    (tmp_path / "link.csv").symlink_to(tmp_path / "real.csv")
    assert save(tmp_path / "link.csv", b"new")
    assert (tmp_path / "link.csv").is_symlink()
    assert (tmp_path / "real.csv").read_text() == "new"


@pytest.mark.parametrize("output", ["sheet", "sheet.txt", "sheet.pdf.exe", ".html", ""])
def test_other_endings_are_refused_in_one_line(tmp_path, capsys, monkeypatch, output):
    monkeypatch.chdir(tmp_path)
    assert run(str(DEMO), "-o", output) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_what_cannot_be_written_is_refused_and_leaves_nothing(tmp_path, capsys):
    assert run(str(DEMO), "-o", str(tmp_path / "no" / "sheet.html")) == 2
    assert capsys.readouterr().err.count("\n") == 1
    folder = tmp_path / "folder.html"
    folder.mkdir()
    with pytest.raises(BadInput):
        save(folder, b"x")
    assert list(tmp_path.iterdir()) == [folder]


def test_a_write_that_fails_leaves_the_old_file(tmp_path, monkeypatch):
    out = tmp_path / "sheet.csv"
    out.write_text("old")

    def refuse(_from: str, _to: str) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.replace", refuse)
    with pytest.raises(BadInput, match="No space left"):
        save(out, b"new")
    assert out.read_text() == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.csv"]


def test_the_output_must_be_named(capsys):
    assert run(str(DEMO)) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_a_caution_to_stop_is_the_exit_status(tmp_path):
    recipe = json.loads(DEMO.read_text(encoding="utf-8"))
    recipe["tanks"]["count"] = 1
    bad = tmp_path / "bad.saltwright"
    bad.write_text(json.dumps(recipe), encoding="utf-8")
    assert run(str(bad), "-o", str(tmp_path / "bad.html")) == 1
    assert "STOP." in (tmp_path / "bad.html").read_text(encoding="utf-8")


def test_units_decimal_mark_and_parts(tmp_path):
    out = tmp_path / "sheet.html"
    assert run(str(DEMO), "-o", str(out), "--units", "us", "--decimal", "comma", "--only", "sheet") == 0
    text = out.read_text(encoding="utf-8")
    assert "5 lb 2,44 oz" in text
    assert "Dosing card" not in text


def test_csv_has_points_whatever_is_asked(tmp_path):
    out = tmp_path / "sheet.csv"
    assert run(str(DEMO), "-o", str(out), "--decimal", "comma") == 0
    assert ",12.92," in out.read_text(encoding="utf-8")


FRESH = """
import sys
from app.__main__ import main
code = main(sys.argv[1:])
loaded = {name.partition(".")[0] for name in sys.modules}
print(code, "PySide6" in loaded, "PySide6.QtWidgets" in sys.modules, "pint" in loaded)
"""


def fresh(*arguments: str) -> list[str]:
    """Run the command in a process of its own, without any display, and return what it loaded."""
    environment = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")}
    done = subprocess.run(
        [sys.executable, "-c", FRESH, "sheet", *arguments],
        cwd=DEMO.parents[2], env=environment, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert done.stderr == ""
    return done.stdout.splitlines()[-1].split()


def test_html_needs_no_qt(tmp_path):
    assert fresh(str(DEMO), "-o", str(tmp_path / "a.html")) == ["0", "False", "False", "False"]


@needs_qt
def test_pdf_needs_no_display_and_no_widgets(tmp_path):
    out = tmp_path / "a.pdf"
    assert fresh(str(DEMO), "-o", str(out), "--paper", "letter") == ["0", "True", "False", "False"]
    assert out.read_bytes().startswith(b"%PDF-")
