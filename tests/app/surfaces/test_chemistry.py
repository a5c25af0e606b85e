"""The chemistry of the feed by keys: opening, reading every figure, moving along the curve, choosing an acid."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from msgspec import structs
from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from app.session import changes
from app.surfaces.chemistry import ChemistryPanel
from app.surfaces.chemistry.curve_drawing import dose_axis
from app.surfaces.chemistry.looking import Looked, Looking, look, offered
from app.window.frame import MainWindow
from core.recipe.records import Recipe, ShelfEntry
from tests.app.sample import sample_recipe

Settle = Callable[[MainWindow], None]


@pytest.fixture
def panel(qtbot: QtBot, window: MainWindow) -> ChemistryPanel:
    qtbot.keyClick(window, Qt.Key.Key_I, Qt.KeyboardModifier.ControlModifier)
    shown = window.room.design.chemistry
    assert shown is not None
    answered(qtbot, shown)
    return shown


def answered(qtbot: QtBot, panel: ChemistryPanel) -> None:
    if not panel.looking.idle():
        with qtbot.waitSignal(panel.looking.looked, timeout=20000):
            pass
    QApplication.processEvents()


def keys(qtbot: QtBot, *pressed: Qt.Key) -> None:
    for key in pressed:
        qtbot.keyClick(QApplication.focusWidget(), key)


def test_opened_by_keys_closed_by_escape(qtbot: QtBot, window: MainWindow, panel: ChemistryPanel) -> None:
    design = window.room.design
    assert panel.isVisible()
    assert not design.aim.isVisible()
    assert panel.back.hasFocus()
    keys(qtbot, Qt.Key.Key_Escape)
    assert not panel.isVisible()
    assert design.aim.isVisible()
    assert design.chemistry_link.hasFocus()


def test_the_link_of_the_ions_card_leads_there_and_back(qtbot: QtBot, window: MainWindow) -> None:
    design = window.room.design
    design.chemistry_link.setFocus()
    keys(qtbot, Qt.Key.Key_Space)
    assert design.chemistry is not None
    assert design.chemistry.isVisible()
    answered(qtbot, design.chemistry)
    qtbot.mouseClick(design.chemistry.back, Qt.MouseButton.LeftButton)
    assert design.aim.isVisible()


def test_every_figure_says_what_it_is_from_where_and_how_sure(qtbot: QtBot, panel: ChemistryPanel) -> None:
    said = []
    for _ in panel.tiles:
        keys(qtbot, Qt.Key.Key_Tab)
        assert QApplication.focusWidget() in panel.tiles
        said.append(panel.line.text())
    assert len(set(said)) == len(panel.tiles)
    for text, wanted in zip(
        said, ("CRC Handbook", "water report", "phreeqc.dat", "neutral", "MINTEQA2", "NIST 46"), strict=True
    ):
        assert wanted in text
    assert all(tile.accessibleName().partition(": ")[2] for tile in panel.tiles)


def test_one_tab_for_the_whole_table_and_arrows_within(qtbot: QtBot, panel: ChemistryPanel) -> None:
    panel.tiles[-1].setFocus()
    keys(qtbot, Qt.Key.Key_Tab)
    assert panel.forms.bar.hasFocus()
    assert "of the EC" not in panel.line.text()
    assert "NO₃⁻ 3" in panel.line.text()
    keys(qtbot, Qt.Key.Key_Tab)
    rows = panel.forms.rows
    assert rows[0].hasFocus()
    assert "nitrate, free" in rows[0].accessibleName()
    keys(qtbot, Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Up)
    assert rows[1].hasFocus()
    assert panel.line.text() == rows[1].explanation()
    keys(qtbot, Qt.Key.Key_End)
    last = QApplication.focusWidget()
    assert last is [row for row in rows if not row.isHidden()][-1]
    keys(qtbot, Qt.Key.Key_Tab)
    assert panel.titration.choice.hasFocus()
    qtbot.keyClick(panel.titration.choice, Qt.Key.Key_Tab, Qt.KeyboardModifier.ShiftModifier)
    assert last.hasFocus()


def test_pairs_tell_their_constant(panel: ChemistryPanel) -> None:
    said = {row.accessibleName().partition(",")[0]: row.explanation() for row in panel.forms.rows}
    assert "log K 2.25 at 25 °C" in said["CaSO₄"]
    assert "read in the source" in said["CaSO₄"]
    assert "carries no current" in said["CaSO₄"]
    assert "Mobility 119" in said["Ca²⁺"]
    assert "of all calcium" in said["Ca²⁺"]


def test_along_the_curve_by_keys(qtbot: QtBot, panel: ChemistryPanel) -> None:
    curve = panel.titration.curve
    planned = curve.dose()
    assert "The plan's" in panel.titration.words()
    curve.setFocus()
    start = panel.line.text()
    keys(qtbot, Qt.Key.Key_Right)
    assert curve.dose() > planned
    assert panel.line.text() != start
    keys(qtbot, Qt.Key.Key_Home)
    assert curve.dose() == 0.0
    assert panel.line.text().startswith("0 mL: pH ")
    keys(qtbot, Qt.Key.Key_PageUp, Qt.Key.Key_Left)
    assert 0.0 < curve.dose() < planned
    assert "mL of nitric acid 60 % per 1000 L of feed" in curve.accessibleName().replace("ML", "mL")


def test_another_acid_of_the_shelf(qtbot: QtBot, window: MainWindow, panel: ChemistryPanel, settled: Settle) -> None:
    session = window.room.session
    assert session.recipe is not None
    shelf = (*session.recipe.shelf, ShelfEntry("phosphoric-acid", strength_percent=75))
    session.push("x", ("x",), structs.replace(session.recipe, shelf=shelf))
    settled(window)
    answered(qtbot, panel)
    choice = panel.titration.choice
    assert [choice.itemText(row) for row in range(choice.count())] == ["Nitric acid 60 %", "Phosphoric acid 75 %"]
    choice.setFocus()
    with qtbot.waitSignal(panel.looking.looked, timeout=20000):
        keys(qtbot, Qt.Key.Key_Down)
    QApplication.processEvents()
    assert "phosphoric acid 75 %" in panel.titration.curve.accessibleName()
    keys(qtbot, Qt.Key.Key_Escape)
    assert not panel.isVisible()


def test_an_edit_is_followed_while_it_is_looked_at_and_only_then(
    qtbot: QtBot, window: MainWindow, panel: ChemistryPanel, settled: Settle
) -> None:
    session = window.room.session
    before = panel.tiles[0].accessibleName()
    assert session.recipe is not None
    with qtbot.waitSignal(panel.looking.looked, timeout=20000):
        session.push("x", ("x",), changes.with_target(session.recipe, "K", 240.0))
    assert panel.tiles[0].accessibleName() != before
    keys(qtbot, Qt.Key.Key_Escape)
    with qtbot.assertNotEmitted(panel.looking.looked):
        session.edits.undo()
        settled(window)
    with qtbot.waitSignal(panel.looking.looked, timeout=20000):
        window.show_chemistry()
    assert panel.tiles[0].accessibleName() == before


def test_beyond_the_chemistry_it_says_so(
    qtbot: QtBot, window: MainWindow, panel: ChemistryPanel, settled: Settle
) -> None:
    session = window.room.session
    assert session.recipe is not None
    with qtbot.waitSignal(panel.looking.looked, timeout=20000):
        session.push("x", ("x",), changes.with_exact_amount(session.recipe, "potassium-nitrate", 20000.0 * 3))
    settled(window)
    said = [label.text() for label in panel.findChildren(QLabel) if label.isVisible()]
    assert any(text.startswith("No chemistry for this feed.") for text in said)


@pytest.mark.parametrize("size", [(1366, 768), (1024, 768), (1024, 600), (560, 500)])
def test_no_explanation_is_cut(window: MainWindow, panel: ChemistryPanel, size: tuple[int, int]) -> None:
    window.resize(*size)
    QApplication.processEvents()
    (label,) = panel.line.findChildren(QLabel)
    parts = (*panel.tiles, panel.forms.bar, *panel.forms.rows, panel.titration.curve)
    for part in parts:
        panel.line.say(part.explanation())
        assert label.heightForWidth(label.width()) <= label.height(), part.explanation()
    words = panel.titration.findChildren(QLabel)[0]
    assert words.heightForWidth(words.width()) <= words.height()
    assert panel.titration.curve.height() >= 150


def test_overtaken_questions_are_dropped(qapp: object) -> None:
    waiting: list[Callable[[], None]] = []
    parent = QObject()
    looking = Looking(parent, waiting.append)
    got: list[Looked] = []
    looking.looked.connect(got.append)
    first, second = sample_recipe(), structs.replace(sample_recipe(), title="second")
    looking.ask(first, "")
    looking.ask(second, "")
    assert len(waiting) == 1
    waiting.pop()()
    QApplication.processEvents()
    assert got == []
    waiting.pop()()
    QApplication.processEvents()
    assert [looked.recipe.title for looked in got] == ["second"]
    assert looking.idle()


def test_without_an_acid_on_the_shelf_the_catalog_s_are_offered() -> None:
    made = Recipe("saltwright-recipe", 1, (ShelfEntry("potassium-nitrate", exactly_mg_per_l=500.0),))
    offers = offered(made)
    assert offers[0].salt == "nitric-acid"
    assert not any(offer.on_shelf for offer in offers)
    looked = look(made, "")
    assert looked.titration is not None
    assert looked.titration.strength_percent == 60.0


def test_ticks_of_the_dose_axis_are_round() -> None:
    assert dose_axis(254.0).ticks == (0.0, 50.0, 100.0, 150.0, 200.0, 250.0)
    assert dose_axis(0.9).ticks == pytest.approx((0.0, 0.2, 0.4, 0.6, 0.8))
