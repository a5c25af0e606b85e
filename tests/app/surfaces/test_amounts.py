"""Amounts typed for the tank, marks that could be meant otherwise, and what an edit changed."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.session import changes
from app.surfaces.design import DesignSurface
from app.widgets.field_note import FieldNote
from app.window.frame import MainWindow
from tests.app.sample import sample_recipe

Settle = Callable[[MainWindow], None]


@pytest.fixture
def design(window: MainWindow) -> DesignSurface:
    return window.room.design


def note(window: MainWindow) -> str:
    found = window.findChild(FieldNote)
    return "" if found is None else found.text()


def test_grams_for_the_tank_become_an_amount(
    qtbot: QtBot, window: MainWindow, design: DesignSurface, settled: Settle
) -> None:
    field = design.salts.rows["potassium-nitrate"].field
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClicks(field, "500 g")
    settled(window)
    assert "500 g is 100 mg/L" in note(window)
    assert window.room.session.recipe is not None
    entry = changes.entry_of(window.room.session.recipe, "potassium-nitrate")
    assert entry is not None
    assert entry.exactly_mg_per_l == 100.0, "500 g in 50 L at 1:100, which makes 5000 L"
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert field.text() == "100"
    assert window.room.session.edits.count() == 1


@pytest.mark.parametrize(("typed", "kept"), [("1.500", 1.5), ("120 K2O", 99.618)])
def test_a_mark_for_thousands_is_not_believed_in_silence(
    qtbot: QtBot, window: MainWindow, design: DesignSurface, settled: Settle, typed: str, kept: float
) -> None:
    field = design.aim.rows["K"].field
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClicks(field, typed)
    settled(window)
    assert field.quantity() == pytest.approx(kept, rel=1e-4)
    assert (f"{typed} was read with a decimal mark. For thousands type 1500." in note(window)) == ("K2O" not in typed)


def test_a_comma_for_thousands_is_refused_aloud(
    qtbot: QtBot, window: MainWindow, design: DesignSurface, settled: Settle
) -> None:
    """Read as 1.5 it would be a thousandth of what half the world means by it."""
    field = design.aim.rows["K"].field
    before = field.quantity()
    field.setFocus(Qt.FocusReason.TabFocusReason)
    field.selectAll()
    qtbot.keyClicks(field, "1,500")
    settled(window)
    assert field.quantity() == before
    assert '"1,500" can be read as thousands and as decimals; did you mean 1500 or 1.5?' in note(window)


def test_what_an_edit_changed_is_marked_until_the_next(
    qtbot: QtBot, window: MainWindow, design: DesignSurface, settled: Settle
) -> None:
    rows = design.aim.rows
    for name, value in (("K", "200"), ("P", "50")):
        rows[name].field.setFocus(Qt.FocusReason.TabFocusReason)
        qtbot.keyClicks(rows[name].field, value)
        settled(window)
        assert [nutrient for nutrient, row in rows.items() if row._marked] == [name]
    design.aim._marks.clear()
    assert not any(row._marked for row in rows.values())
    window.room.session.edits.undo()
    settled(window)
    assert [nutrient for nutrient, row in rows.items() if row._marked] == ["P"]
    window.room.session.start(sample_recipe())
    settled(window)
    assert not any(row._marked for row in rows.values()), "another recipe changed nothing"
