"""All editors: names for screen readers, one at a time, and any edits undone to the first recipe."""

from __future__ import annotations

from random import Random

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QComboBox, QWidget
from pytestqt.qtbot import QtBot

from app.surfaces.editors import Editors
from app.surfaces.editors.aim_editor import AimEditor
from app.surfaces.editors.shelf_editor import ShelfEditor
from app.widgets.form_field import FormField
from app.window.frame import MainWindow
from core.recipe import dumps
from tests.app.surfaces.editors.conftest import Hands

NAMES = ("aim", "water", "shelf", "tanks")
TEXTS = ("12", "0,5", "", "3 meq/L", "7 lb", "1.234,5", "40 %", "x", "5 °dH", "1:80", "60", "2 mmol/L", "0")


@pytest.mark.parametrize("name", NAMES)
def test_everything_the_keyboard_reaches_has_a_name_and_a_place(window: MainWindow, name: str) -> None:
    editors = window.room.editors
    editors.open(name)
    sheet = editors.sheets[name]
    if isinstance(sheet, ShelfEditor):
        sheet.open_entry("nitric-acid")
        sheet.rows["nitric-acid"].form.label_link.click()  # type: ignore[union-attr]
    if isinstance(sheet, AimEditor):
        sheet.table.show_details(True)
    window.grab()
    parts = [part for part in sheet.findChildren(QWidget) if part.isVisible() and part.window() is window]
    reached = [part for part in parts if part.focusPolicy() & Qt.FocusPolicy.TabFocus or isinstance(part, QComboBox)]
    assert len(reached) > 5
    for part in reached:
        interface = QAccessible.queryAccessibleInterface(part)
        assert interface is not None
        assert interface.text(QAccessible.Text.Name), part
        assert sheet.rect().intersects(QRect(part.mapTo(sheet, part.rect().topLeft()), part.size())) or part.y() >= 0
        assert part.width() > 8, part


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("size", [(1024, 768), (1366, 768)])
def test_nothing_lies_over_anything_or_beyond_the_sheet(window: MainWindow, name: str, size: tuple[int, int]) -> None:
    window.resize(*size)
    window.room.editors.open(name)
    sheet = window.room.editors.sheets[name]
    window.grab()
    fields = [part for part in sheet.findChildren(FormField) if part.isVisible()]
    places = [QRect(part.mapTo(sheet, part.rect().topLeft()), part.size()) for part in fields]
    assert all(place.left() > 0 and place.right() < sheet.width() for place in places)
    overlaps = [(a, b) for n, a in enumerate(places) for b in places[n + 1 :] if a.intersects(b)]
    assert overlaps == []


def test_one_editor_at_a_time_by_menu_keys(hands: Hands, window: MainWindow, editors: Editors) -> None:
    for key, name in (
        (Qt.Key.Key_F5, "aim"),
        (Qt.Key.Key_F6, "water"),
        (Qt.Key.Key_F7, "shelf"),
        (Qt.Key.Key_F8, "tanks"),
    ):
        hands.key(key)
        assert [sheet for sheet in NAMES if sheet in editors.sheets and editors.sheets[sheet].isVisible()] == [name]
    hands.key(Qt.Key.Key_Escape)
    assert editors.name == ""


def test_links_on_the_cards_and_in_the_headline(qtbot: QtBot, window: MainWindow, editors: Editors) -> None:
    design = window.room.design
    for card, name in ((design.aim, "aim"), (design.salts, "shelf"), (design.tanks, "tanks")):
        assert card.link is not None
        qtbot.mouseClick(card.link, Qt.MouseButton.LeftButton)
        assert editors.name == name
        editors.close()
    for part, name in zip(window.room.headline.parts, ("aim", "water", "tanks"), strict=True):
        assert part.isVisible()
        qtbot.keyClick(part, Qt.Key.Key_Space)
        assert editors.name == name
        editors.close()


def test_another_recipe_is_shown_at_once(window: MainWindow, editors: Editors) -> None:
    editors.open("shelf")
    window.room.opening.new()
    assert editors.sheets["shelf"].rows == {}  # type: ignore[attr-defined]


@pytest.mark.parametrize("seed", range(2))
def test_any_typing_is_undone_to_the_first_recipe(window: MainWindow, hands: Hands, qtbot: QtBot, seed: int) -> None:
    session, random = window.room.session, Random(seed)
    assert session.recipe is not None
    first = dumps(session.recipe)
    for _time in range(50):
        name = random.choice(NAMES)
        window.room.editors.open(name)
        sheet = window.room.editors.sheets[name]
        if isinstance(sheet, ShelfEditor):
            sheet.open_entry(random.choice([*sheet.rows]))
        field = random.choice([part for part in sheet.findChildren(FormField) if part.isVisible()])
        field.setFocus(Qt.FocusReason.TabFocusReason)
        qtbot.keyClicks(field, random.choice(TEXTS))
        qtbot.keyClick(field, Qt.Key.Key_Return)
        dumps(session.recipe)
    last = dumps(session.recipe)
    assert last != first
    window.room.editors.close()
    while session.edits.canUndo():
        session.edits.undo()
    assert dumps(session.recipe) == first
    while session.edits.canRedo():
        session.edits.redo()
    assert dumps(session.recipe) == last


@pytest.mark.parametrize("name", NAMES)
def test_tab_goes_round_within_a_sheet_and_escape_closes_it_from_anywhere(
    hands: Hands, editors: Editors, name: str
) -> None:
    """Behind the sheet Escape would go to what it covers."""
    editors.open(name)
    sheet = editors.sheets[name]
    for _ in range(90):
        hands.tab()
        assert sheet.isAncestorOf(hands.on)
    hands.key(Qt.Key.Key_Escape)
    assert not sheet.isVisible()
