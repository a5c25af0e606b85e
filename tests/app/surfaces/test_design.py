"""The Design surface: what is typed becomes an edit, what is planned is shown in place."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.session import changes
from app.surfaces.design import DesignSurface
from app.surfaces.design.salt_lines import salt_lines
from app.widgets.quantity_field import QuantityField
from app.window.frame import MainWindow
from tests.app.sample import sample_plan, sample_recipe

Settle = Callable[[MainWindow], None]


@pytest.fixture
def design(window: MainWindow) -> DesignSurface:
    return window.room.design


def retype(qtbot: QtBot, field: QuantityField, keys: str) -> None:
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClicks(field, keys)


def test_a_typed_target_is_followed_while_typing(
    qtbot: QtBot, window: MainWindow, design: DesignSurface, settled: Settle
) -> None:
    row = design.aim.rows["K"]
    retype(qtbot, row.field, "2")
    settled(window)
    assert "feed reaches 2," in row.bar.accessibleDescription()
    qtbot.keyClicks(row.field, "00")
    settled(window)
    assert "feed reaches 200, met" in row.bar.accessibleDescription()
    assert row.field.text() == "200"
    assert window.room.session.edits.count() == 1


def test_a_target_in_another_unit(qtbot: QtBot, window: MainWindow, design: DesignSurface, settled: Settle) -> None:
    field = design.aim.rows["Ca"].field
    retype(qtbot, field, "3 mmol/L")
    settled(window)
    assert window.room.session.recipe is not None
    target = changes.target_of(window.room.session.recipe, "Ca")
    assert target is not None
    assert target.mg_per_l == pytest.approx(120.23, abs=0.01)


def test_a_new_target_and_an_emptied_one(
    qtbot: QtBot, window: MainWindow, design: DesignSurface, settled: Settle
) -> None:
    field = design.aim.rows["S"].field
    retype(qtbot, field, "60")
    settled(window)
    assert window.room.session.recipe is not None
    assert changes.target_of(window.room.session.recipe, "S") is not None
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Backspace)
    settled(window)
    assert changes.target_of(window.room.session.recipe, "S") is None


def test_a_target_out_of_range_is_refused_beside_the_field(
    qtbot: QtBot, window: MainWindow, design: DesignSurface, settled: Settle
) -> None:
    field = design.aim.rows["K"].field
    retype(qtbot, field, "30000")
    settled(window)
    assert "outside 0 to 20000" in field.fault()
    assert window.room.session.recipe is not None
    target = changes.target_of(window.room.session.recipe, "K")
    assert target is not None
    assert target.mg_per_l == 3000.0


def test_typing_an_amount_fixes_it_and_clearing_releases_it(
    qtbot: QtBot, window: MainWindow, design: DesignSurface, settled: Settle
) -> None:
    field = design.salts.rows["potassium-nitrate"].field
    assert (field.text(), field.placeholderText()) == ("", "168")
    retype(qtbot, field, "150")
    settled(window)
    assert window.room.session.recipe is not None
    entry = changes.entry_of(window.room.session.recipe, "potassium-nitrate")
    assert entry is not None
    assert entry.exactly_mg_per_l == 150.0
    assert "Fixed by you" in field.accessibleDescription()
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Delete)
    settled(window)
    assert changes.entry_of(window.room.session.recipe, "potassium-nitrate") == changes.entry_of(
        sample_recipe(), "potassium-nitrate"
    )
    assert "Chosen by the program" in field.accessibleDescription()


def test_undo_brings_field_and_plan_back(
    qtbot: QtBot, window: MainWindow, design: DesignSurface, settled: Settle
) -> None:
    row = design.aim.rows["K"]
    retype(qtbot, row.field, "200")
    settled(window)
    window.room.session.edits.undo()
    settled(window)
    assert row.field.text() == "180"
    assert "feed reaches 180," in row.bar.accessibleDescription()
    window.room.session.edits.redo()
    settled(window)
    assert row.field.text() == "200"


def test_clearing_and_typing_again_keeps_the_tolerance(
    qtbot: QtBot, window: MainWindow, design: DesignSurface, settled: Settle
) -> None:
    assert window.room.session.recipe is not None
    like = changes.target_of(window.room.session.recipe, "K")
    assert like is not None
    from msgspec import structs

    toleranced = structs.replace(like, tolerance_percent=2.0)
    window.room.session.push("x", ("x",), changes.with_target(window.room.session.recipe, "K", 180.0, toleranced))
    settled(window)
    field = design.aim.rows["K"].field
    field.setFocus()
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Backspace)
    settled(window)
    qtbot.keyClicks(field, "175")
    settled(window)
    assert changes.target_of(window.room.session.recipe, "K") == structs.replace(toleranced, mg_per_l=175.0)


def test_rows_are_kept_not_made_anew(qtbot: QtBot, window: MainWindow, design: DesignSurface, settled: Settle) -> None:
    before = {id(row) for row in (*design.aim.rows.values(), *design.salts.rows.values())}
    retype(qtbot, design.aim.rows["N"].field, "140")
    settled(window)
    assert {id(row) for row in (*design.aim.rows.values(), *design.salts.rows.values())} == before


def test_what_is_not_needed_unfolds_and_can_be_fixed(
    qtbot: QtBot, window: MainWindow, design: DesignSurface, settled: Settle
) -> None:
    salts = design.salts
    assert salts.unused_link.text() == "4 on the shelf are not needed"
    assert not salts.rows["urea"].isVisible()
    qtbot.keyClick(salts.unused_link, Qt.Key.Key_Space)
    assert salts.rows["urea"].isVisible()
    field = salts.rows["urea"].field
    retype(qtbot, field, "5")
    settled(window)
    assert "urea" in salts.shown()
    assert salts.unused_link.text() == "3 on the shelf are not needed"
    assert field.hasFocus()


def test_up_and_down_walk_the_column(qtbot: QtBot, window: MainWindow, design: DesignSurface) -> None:
    retype(qtbot, design.aim.rows["P"].field, "")
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Down)
    assert design.aim.rows["K"].field.hasFocus()
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Up)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Up)
    assert design.aim.rows["NH4-N"].field.hasFocus()
    first, last = design.salts.shown()[0], design.salts.shown()[-1]
    retype(qtbot, design.salts.rows[last].field, "")
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Down)
    assert design.salts.rows[last].field.hasFocus()
    assert first == "nitric-acid"


def test_the_salts_stand_by_where_they_go() -> None:
    lines = salt_lines(sample_recipe(), sample_plan())
    places = [line.place for line in lines if line.used]
    assert places == ["water, first", *["calcium side"] * 3, *["phosphate side"] * 8]
    assert [line.used for line in lines] == [True] * 12 + [False] * 4
    acid = lines[0]
    assert (acid.name, acid.grade, acid.weight) == ("Nitric acid", "60 %", "1000 mL")
    assert acid.brings == "N 36.4  takes 2.6 meq/L"
    assert lines[1].weight == "2105 g"
    assert lines[7].weight == "12.30 g"


def test_the_ions_are_said_too(design: DesignSurface) -> None:
    assert design.ions.cations.accessibleDescription().startswith("Ca 6.89 meq/L, K 4.61 meq/L")
    assert "HCO₃ 0.5 meq/L" in design.ions.anions.accessibleDescription()


@pytest.mark.parametrize("size", [(1024, 700), (1366, 700), (1920, 1000), (911, 480), (512, 340)])
def test_nothing_is_cut_at_any_size(window: MainWindow, design: DesignSurface, size: tuple[int, int]) -> None:
    window.resize(*size)
    QApplication.processEvents()
    cards = (design.aim, design.salts, design.ions, design.tanks)
    for card in cards:
        assert card.height() >= card.least_height(card.width())
        page = card.parentWidget()
        assert page.rect().contains(card.geometry())
    for one in cards:
        assert not [other for other in cards if other is not one and one.geometry().intersects(other.geometry())]
    fields = [row.field for row in design.aim.rows.values() if row.isVisible()]
    assert all(field.parentWidget().rect().contains(field.geometry()) for field in fields)
    assert design.cautions.geometry().bottom() <= design.height()
