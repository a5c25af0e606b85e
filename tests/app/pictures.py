"""Draws the window in light and dark at several sizes, for eyes: ``python tests/app/pictures.py OUT_DIR``."""

from __future__ import annotations

import os
import subprocess
import sys
from itertools import product
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from app.window.frame import MainWindow

TOP = Path(__file__).resolve().parents[2]
SIZES = {"1024x768": (1024, 768, 1.0), "1366x768": (1366, 768, 1.0), "1920x1080": (1920, 1080, 1.0)}
SIZES |= {"1366x768@150": (1366, 768, 1.5), "1024x768@200": (1024, 768, 2.0)}
THEMES = ("light", "dark")


def draw_all(folder: Path, surfaces: list[str]) -> int:
    """Draw every size and theme in a process of its own, since Qt reads the scale only at its start."""
    folder.mkdir(parents=True, exist_ok=True)
    for theme, (name, (width, height, scale)) in product(THEMES, SIZES.items()):
        environment = os.environ | {
            "QT_QPA_PLATFORM": "offscreen",
            "QT_SCALE_FACTOR": str(scale),
            "SALTWRIGHT_THEME": theme,
            "XDG_STATE_HOME": str(folder / "state"),
            "PYTHONPATH": str(TOP),
        }
        target = str(folder / f"{{surface}}-{theme}-{name}.png")
        size = [str(round(width / scale)), str(round(height / scale))]
        done = subprocess.run(
            [sys.executable, __file__, "--one", target, *size, *surfaces], env=environment, check=False
        )
        if done.returncode:
            return done.returncode
    return 0


def open_editor(window: MainWindow, name: str) -> None:
    """Open an editor as it is worked in: "shelf+" with a product unfolded, "aim+" with a crop looked for."""
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication

    from app.surfaces.editors.aim_editor import AimEditor
    from app.surfaces.editors.shelf_editor import ShelfEditor

    window.activateWindow()
    window.room.editors.open(name.rstrip("+"))
    QApplication.processEvents()
    sheet = window.room.editors.sheets[name.rstrip("+")]
    if name.endswith("+") and isinstance(sheet, ShelfEditor):
        sheet.open_entry("nitric-acid")
    elif name.endswith("+") and isinstance(sheet, AimEditor):
        QTest.keyClicks(sheet.crop.field, "tomato")
    QApplication.processEvents()


def draw_one(target: str, width: int, height: int, surfaces: list[str]) -> int:
    """Draw some surfaces of one window."""
    from PySide6.QtWidgets import QApplication

    from app.session.demo import demo_plan, demo_recipe
    from app.session.planning import Planner, solve
    from app.session.session import Session
    from app.window.frame import MainWindow
    from app.window.start import application

    app = application()
    window = MainWindow()
    window.furnish(Session(Planner(held=True)))
    recipe = demo_recipe()
    window.room.session.start(recipe, plan=demo_plan() or solve(recipe))
    window.resize(width, height)
    window.show()
    for surface in surfaces:
        if surface == "chemistry":
            window.show_chemistry()
            while window.room.design.chemistry is None or not window.room.design.chemistry.looking.idle():
                QApplication.processEvents()
        elif surface.startswith("edit-"):
            open_editor(window, surface.removeprefix("edit-"))
        else:
            window.go_to(surface)
        QApplication.processEvents()
        window.grab().save(target.format(surface=surface))
    window.close()
    app.quit()
    return 0


if __name__ == "__main__":
    arguments = sys.argv[1:]
    if arguments[:1] == ["--one"]:
        sys.exit(draw_one(arguments[1], int(arguments[2]), int(arguments[3]), arguments[4:]))
    sys.exit(draw_all(Path(arguments[0]), arguments[1:] or ["design"]))
