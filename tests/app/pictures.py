"""Draws the window for eyes: ``python tests/app/pictures.py OUT_DIR [SURFACE ...]``; fails on cut or overlapping text.

Every surface in light and dark, in English and in the made-up language, at the sizes below. Editors are named
"edit-aim", with "edit-shelf+" as they are worked in.
"""

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
SIZES |= {"1366x768@150": (1366, 768, 1.5), "1366x768@200": (1366, 768, 2.0), "1024x768@200": (1024, 768, 2.0)}
THEMES = ("light", "dark")
LANGUAGES = {"en": "", "pseudo": "pseudo"}


def draw_all(folder: Path, surfaces: list[str]) -> int:
    """Draw every combination in a process of its own, since Qt reads the scale only at its start; count the faulty."""
    folder.mkdir(parents=True, exist_ok=True)
    faulty = 0
    for theme, language, (name, (width, height, scale)) in product(THEMES, LANGUAGES, SIZES.items()):
        environment = os.environ | {
            "QT_QPA_PLATFORM": "offscreen",
            "QT_SCALE_FACTOR": str(scale),
            "SALTWRIGHT_THEME": theme,
            "SALTWRIGHT_LANGUAGE": LANGUAGES[language],
            "XDG_STATE_HOME": str(folder / "state"),
            "XDG_DATA_HOME": str(folder / "data"),
            "PYTHONPATH": str(TOP),
        }
        target = str(folder / f"{{surface}}-{theme}-{name}-{language}.png")
        size = [str(round(width / scale)), str(round(height / scale))]
        done = subprocess.run(
            [sys.executable, __file__, "--one", target, *size, *surfaces], env=environment, check=False
        )
        faulty += done.returncode != 0
    return faulty


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


def open_why(window: MainWindow) -> None:
    """Open the answers to why, with a figure worked out."""
    from PySide6.QtWidgets import QApplication

    from app.surfaces.why import WhySheet

    window.go_to("design")
    window.room.editors.open("why")
    sheet = window.room.editors.sheets["why"]
    assert isinstance(sheet, WhySheet)
    while not sheet.asker.idle():
        QApplication.processEvents()
    sheet.working.choose("Ca")
    QApplication.processEvents()


def open_feed(window: MainWindow, state: str) -> None:
    """Show the reservoir as it is worked at: "feed-pour" with most poured and read, "feed-ph" with acid due, others."""
    from PySide6.QtCore import QEventLoop
    from PySide6.QtWidgets import QApplication

    from app.surfaces.feed import FeedSurface
    from core.plan.feeding_records import Done

    window.go_to("feed")
    feed = window.room.surfaces["feed"]
    assert isinstance(feed, FeedSurface)
    while not feed.dosing.asker.idle():
        QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
    feed.show_mode(state if state in ("topup", "injector") else "dose")
    feed.dosing.start_over()
    if state == "topup":
        assert feed.topup is not None
        for field, value in ((feed.topup.left_l, 300.0), (feed.topup.left_ec, 2.0), (feed.topup.fill_to_l, 400.0),
                             (feed.topup.used_l, 120.0)):  # fmt: skip
            field.set_quantity(value)
        feed.topup.show_tanks()
    elif state == "injector":
        assert feed.injector is not None
        feed.injector.hose.set_quantity(1.6)
        feed.injector.water.set_quantity(0.5)
        feed.injector.show_tanks()
    elif state in ("pour", "ph"):
        feed.dosing.state(volume_l=400.0)
        feed.dosing.want(wanted_ms_per_cm=1.6)
        done = [Done(ec_ms_per_cm=0.47), Done(), Done(), Done(ec_ms_per_cm=1.34)]
        done += [Done(), Done(ec_ms_per_cm=1.6), Done(ph=6.6)] if state == "ph" else []
        for one in done:
            feed.dosing.do(one)
        feed.follow()
    QApplication.processEvents()


def open_logbook(window: MainWindow, state: str) -> None:
    """Show an invented diary: "empty" without one, "why" with the causes, "form" and "change" with what is typed."""
    from PySide6.QtCore import QEventLoop
    from PySide6.QtWidgets import QApplication

    from app.surfaces.logbook import LogbookSurface
    from core.logbook.records import Logbook
    from tests.app.diary import sample_logbook

    session = window.room.session
    assert session.recipe is not None
    session.book.push("", Logbook() if state == "empty" else sample_logbook(session.recipe))
    window.go_to("logbook")
    surface = window.room.surfaces["logbook"]
    assert isinstance(surface, LogbookSurface)

    def settle() -> None:
        while not surface.idle():
            QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)

    settle()
    if state == "why":
        surface.why.button.click()
        settle()
    elif state == "form":
        surface.open_form(new=True)
    elif state == "change":
        surface.diary.table.wanted.emit(6)
    QApplication.processEvents()


def open_weighout(window: MainWindow, state: str) -> None:
    """Show the batch being weighed: "weighout-over" with too much of the second product in, "weighout-done" ticked."""
    from PySide6.QtCore import QEventLoop
    from PySide6.QtWidgets import QApplication

    from app.surfaces.weighout import WeighoutSurface

    window.go_to("weighout")
    surface = window.room.surfaces["weighout"]
    assert isinstance(surface, WeighoutSurface)

    def settle() -> None:
        while not surface.idle():
            QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)

    settle()
    window.room.session.weighing.start_over()
    if state == "over":
        surface.now.button.click()
        settle()
        surface.now.other.field.setText("1500")
        surface.now.other.field.textEdited.emit("1500")
        surface.now.button.click()
    while state == "done" and surface.now.line() is not None:
        surface.now.button.click()
        settle()
    settle()
    QApplication.processEvents()


def open_compare(window: MainWindow, state: str) -> None:
    """Set variants beside the recipe: "goals", or "crops" with an adaptation and one kept; "adapt" makes another."""
    from PySide6.QtCore import QEventLoop
    from PySide6.QtWidgets import QApplication

    from app.surfaces.compare import CompareSurface

    window.go_to("compare")
    compare = window.room.surfaces["compare"]
    assert isinstance(compare, CompareSurface)
    comparing = compare.comparing

    def settle() -> None:
        askers = (comparing.looker, comparing.maker, comparing.senser)
        while not all(asker.idle() for asker in askers):
            QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)

    if state in ("goals", "crops", "words"):
        comparing.add_goals()
        settle()
    if state == "crops":
        comparing.adapt("cucumber-ikeda-1996", None, tanks=False)
        settle()
        comparing.adapt("tomato-ikeda-1996", None, tanks=True)
        settle()
    if state == "adapt":
        window.room.editors.open("adapt")
    settle()
    QApplication.processEvents()


def choose_goal(window: MainWindow, goal: str) -> None:
    """Show the recipe for another goal, with what could be left out."""
    from msgspec import structs
    from PySide6.QtWidgets import QApplication

    from app.session.planning import solve

    window.go_to("design")
    session = window.room.session
    assert session.recipe is not None
    recipe = structs.replace(session.recipe, goal=goal)
    session.start(recipe, plan=solve(recipe))
    foot = window.room.design.salts.foot
    foot.look()
    while not foot.asker.idle():
        QApplication.processEvents()


def show(window: MainWindow, surface: str) -> None:
    """Bring a surface, the chemistry or an editor into view and wait until it is there."""
    from PySide6.QtCore import QEventLoop
    from PySide6.QtWidgets import QApplication

    window.room.editors.close()
    window.room.design.close_chemistry()
    if surface == "chemistry":
        window.show_chemistry()
        while window.room.design.chemistry is None or not window.room.design.chemistry.looking.idle():
            QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
    elif surface == "why":
        open_why(window)
    elif surface.startswith("compare-"):
        open_compare(window, surface.removeprefix("compare-"))
    elif surface == "feed" or surface.startswith("feed-"):
        open_feed(window, surface.removeprefix("feed").removeprefix("-"))
    elif surface == "weighout" or surface.startswith("weighout-"):
        open_weighout(window, surface.removeprefix("weighout").removeprefix("-"))
    elif surface == "logbook" or surface.startswith("logbook-"):
        open_logbook(window, surface.removeprefix("logbook").removeprefix("-"))
    elif surface.startswith("goal-"):
        choose_goal(window, surface.removeprefix("goal-"))
    elif surface.startswith("edit-"):
        window.go_to("design")
        open_editor(window, surface.removeprefix("edit-"))
    else:
        window.go_to(surface)
    for _ in range(3):
        QApplication.processEvents()


def demo_window() -> MainWindow:
    """Return a window on the demo with its shipped plan, which no edit replaces."""
    from app.session.demo import demo_plan, demo_recipe
    from app.session.planning import Planner, solve
    from app.session.session import Session
    from app.window.frame import MainWindow

    window = MainWindow()
    window.furnish(Session(Planner(held=True)))
    recipe = demo_recipe()
    window.room.session.start(recipe, plan=demo_plan() or solve(recipe))
    return window


def names_given(window: MainWindow) -> frozenset[str]:
    """Return what people gave names to in the recipe in view."""
    recipe = window.room.session.recipe
    if recipe is None:
        return frozenset()
    waters = [water.name for water in (recipe.water, recipe.second_water) if water is not None]
    return frozenset(name for name in (recipe.title, *waters, *(entry.entry_id for entry in recipe.shelf)) if name)


def draw_one(target: str, width: int, height: int, surfaces: list[str]) -> int:
    """Draw some surfaces of one window; say what is cut and return whether anything is."""
    from app.window.start import application
    from tests.app.seen import faults

    app = application()
    window = demo_window()
    window.resize(width, height)
    window.show()
    found = 0
    for surface in surfaces:
        show(window, surface)
        path = target.format(surface=surface)
        window.grab().save(path)
        wrong = faults(window, names_given(window))
        found += len(wrong)
        sys.stderr.writelines(f"{Path(path).stem}: {one}\n" for one in wrong)
    window.close()
    app.quit()
    return 1 if found else 0


if __name__ == "__main__":
    arguments = sys.argv[1:]
    if arguments[:1] == ["--one"]:
        sys.exit(draw_one(arguments[1], int(arguments[2]), int(arguments[3]), arguments[4:]))
    sys.exit(min(1, draw_all(Path(arguments[0]), arguments[1:] or ["design"])))
