"""Nothing moves under the hand: cautions, faults and plans come and go without pushing the cards about."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from msgspec import structs
from PySide6.QtCore import QRect, QSize
from PySide6.QtWidgets import QApplication

from app.session import state
from app.window import frame
from app.window.frame import LEAST_SIZE, MainWindow
from core.plan.records import Caution, Plan
from core.recipe.records import Recipe
from tests.app.sample import sample_plan, sample_recipe

Settle = Callable[[MainWindow], None]
LONG = Caution("stop", "acid-handling", {"salts": ["nitric-acid", "phosphoric-acid", "sulfuric-acid"]})
SIZES = [(1366, 730), (1024, 730), (683, 384), (512, 345)]


def places(window: MainWindow) -> list[QRect]:
    design = window.room.design
    return [
        design._scroll.geometry(),
        *(card.geometry() for card in (design.aim, design.salts, design.ions, design.tanks)),
    ]


@pytest.mark.parametrize("size", SIZES)
def test_cautions_move_no_card(window: MainWindow, settled: Settle, size: tuple[int, int]) -> None:
    window.resize(*size)
    settled(window)
    before, plan = places(window), sample_plan()
    for cautions in ((), (LONG,), (LONG,) * 4, plan.cautions):
        window.room.design.show_plan(sample_recipe(), structs.replace(plan, cautions=cautions))
        QApplication.processEvents()
        assert places(window) == before
        strip, surface = window.room.design.cautions, window.room.design
        assert surface.rect().contains(strip.geometry())
        assert strip.height() >= min(strip.height_for(strip.width()), surface.height() - 40)


@pytest.mark.parametrize("surface", ["tanks", "weighout"])
def test_cautions_move_no_other_surface(window: MainWindow, settled: Settle, surface: str) -> None:
    window.resize(683, 384)
    window.go_to(surface)
    settled(window)
    room = window.room
    before = room._stack.geometry()
    for cautions in ((), (LONG,), (LONG,) * 4):
        room.cautions.set_cautions(cautions)
        assert room._stack.geometry() == before
        assert room.cautions.geometry().bottom() < room.height()


def test_a_fault_while_typing_moves_nothing(window: MainWindow, settled: Settle) -> None:
    before = places(window)
    window.room.session.failed.emit("it cannot be")
    assert window.room.notice.isVisible()
    assert places(window) == before
    window.room.notice.clear("plan")
    window.room.notice.say("The file is gone.", topic="elsewhere")
    assert window.room._stack.y() == window.room.notice.geometry().bottom() + 1, "what nobody types may push"


def test_a_plan_is_only_shown_with_the_recipe_it_is_of(window: MainWindow, settled: Settle) -> None:
    shown: list[tuple[Recipe, Plan]] = []
    session = window.room.session
    window.go_to("tanks")
    window.room.surfaces["tanks"].show_plan = lambda recipe, plan: shown.append((recipe, plan))  # type: ignore[method-assign]
    assert session.recipe is not None
    first = session.recipe
    session.push("title", ("title",), structs.replace(first, title="another"))
    assert session.shown == (first, session.plan)
    window.go_to("tanks")
    assert [recipe.title for recipe, _plan in shown] == [first.title]
    settled(window)
    assert session.shown is not None
    assert session.shown[0].title == session.shown[1].title == "another"
    assert all(recipe.title == plan.title for recipe, plan in shown)


def test_a_damaged_file_is_met_with_advice(window: MainWindow, tmp_path: Path) -> None:
    file = tmp_path / "Tunnel 2.saltwright"
    file.write_bytes(b'{"format": "saltwright-recipe", "schema": 1, "shelf": [{"sal')
    assert not window.room.opening.open(file)
    told = window.room.notice.text()
    assert told.startswith("Tunnel 2.saltwright is damaged, or is no recipe: it is not valid JSON at line 1")
    assert "older copy" in told
    assert "The file was not changed" in told
    assert [button.text() for button in window.room.notice.buttons] == ["Open another…", "Show its folder"]
    file.write_text('{"format": "saltwright-recipe", "schema": 99}', encoding="utf-8")
    assert not window.room.opening.open(file)
    assert "newer Saltwright" in window.room.notice.text()


@pytest.mark.parametrize(
    ("free", "size"), [((1920, 1080), (1366, 768)), ((1366, 768), (1362, 728)), ((1024, 768), (1020, 728))]
)
def test_the_first_window_fits_the_screen_with_its_title(
    dressed: None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, free: tuple[int, int], size: tuple[int, int]
) -> None:
    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "window.json")

    class Screen:
        def availableSize(self) -> QSize:
            return QSize(*free)

    monkeypatch.setattr(MainWindow, "screen", lambda _self: Screen())
    window = MainWindow()
    assert (window.width(), window.height()) == size
    assert window.minimumSize().toTuple() == LEAST_SIZE
    assert frame.LEAST_SIZE < (1000, 700)
    window.close()
