"""The diary worked with keys and clicks: a line in, a reading changed, entries out, all of it taken back."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from app.surfaces.logbook import LogbookSurface
from app.surfaces.logbook.diary_model import COLUMNS, DiaryModel
from app.window.frame import MainWindow
from core.logbook.file import load
from core.logbook.records import Entry, Reservoir
from core.recipe.records import Water

Answered = Callable[[LogbookSurface], None]
TAB, ENTER, DELETE = Qt.Key.Key_Tab, Qt.Key.Key_Return, Qt.Key.Key_Delete


def entries(surface: LogbookSurface) -> tuple[Entry, ...]:
    shown = surface.reservoir()
    return () if shown is None else shown.entries


def type_in(qtbot: QtBot, text: str, *, then: Qt.Key = TAB) -> None:
    """Type into whatever has the keyboard, and go on."""
    where = QApplication.focusWidget()
    assert isinstance(where, QLineEdit), where
    qtbot.keyClicks(where, text)
    qtbot.keyClick(where, then)


def tab(qtbot: QtBot, times: int = 1) -> None:
    for _ in range(times):
        where = QApplication.focusWidget()
        assert isinstance(where, QWidget)
        qtbot.keyClick(where, TAB)


def undo(qtbot: QtBot, window: MainWindow) -> None:
    qtbot.keyClick(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)


def test_an_empty_logbook_says_what_it_is_for_and_offers_one_thing(
    qtbot: QtBot, window: MainWindow, bare: LogbookSurface
) -> None:
    assert bare.empty.isVisible()
    assert bare.empty.button.hasFocus()
    assert not bare.line.isVisible()
    qtbot.keyClick(bare.empty.button, Qt.Key.Key_Space)
    assert bare.form.name.hasFocus()
    type_in(qtbot, "Tunnel 1")
    type_in(qtbot, "300", then=ENTER)
    assert bare.reservoir() == Reservoir("Tunnel 1", 300.0)
    assert bare.line.fields["water_l"].hasFocus()
    assert load(window.room.session.book.path).reservoirs == (Reservoir("Tunnel 1", 300.0),)


def test_a_reservoir_needs_name_and_volume(qtbot: QtBot, bare: LogbookSurface) -> None:
    bare.open_form(new=True)
    bare.form.save.click()
    assert "needs a name" in bare.form.told.text()
    qtbot.keyClicks(bare.form.name, "one")
    bare.form.save.click()
    assert "needs a volume" in bare.form.told.text()
    qtbot.keyClicks(bare.form.volume, "80 US gal")
    bare.form.save.click()
    shown = bare.reservoir()
    assert shown is not None
    assert shown.volume_l == pytest.approx(302.8, abs=0.1)


def test_a_day_is_typed_with_tab_and_enter(
    qtbot: QtBot, window: MainWindow, surface: LogbookSurface, answered: Answered
) -> None:
    line = surface.line
    assert line.texts["at"].text() == "2026-03-14 09:05"
    assert line.fields["water_l"].hasFocus()
    type_in(qtbot, "24")
    for _part in range(len(line.parts)):
        type_in(qtbot, "120")
    for _acid in range(len(line.acids)):
        type_in(qtbot, "5")
    tab(qtbot)  # over the box
    type_in(qtbot, "299")
    type_in(qtbot, "1,27")
    tab(qtbot)  # over the scale
    type_in(qtbot, "6.2")
    type_in(qtbot, "15.5")
    type_in(qtbot, "slugs", then=ENTER)
    answered(surface)
    last = entries(surface)[-1]
    assert (last.at, last.water_l, last.level_l, last.ec_ms_per_cm, last.ph) == ("2026-03-14T09:05", 24, 299, 1.27, 6.2)
    assert (last.temperature_c, last.note, last.batch_id) == (15.5, "slugs", "2026-03-09-1")
    assert last.parts_ml == {"A": 120.0, "B": 120.0}
    assert set(last.acid_ml) == set(line.acids)
    assert line.fields["water_l"].hasFocus()
    assert line.fields["level_l"].text() == ""
    assert load(window.room.session.book.path) == window.room.session.book.logbook
    undo(qtbot, window)
    assert entries(surface)[-1].at == "2026-03-12T08:15"


def test_ec_on_another_scale_is_understood(qtbot: QtBot, surface: LogbookSurface) -> None:
    field = surface.line.fields["ec_ms_per_cm"]
    field.setFocus()
    type_in(qtbot, "920 ppm-500", then=ENTER)
    assert entries(surface)[-1].ec_ms_per_cm == pytest.approx(1.84)
    assert entries(surface)[-1].meter == "ppm-500", "the scale it was typed on is kept with it"
    assert surface.line.scale.key() == "ppm-500"
    field.setFocus()
    type_in(qtbot, "900", then=ENTER)
    assert entries(surface)[-1].ec_ms_per_cm == pytest.approx(1.8)


def test_an_empty_line_and_a_wrong_date_are_refused(qtbot: QtBot, surface: LogbookSurface) -> None:
    before = len(entries(surface))
    surface.line.add.click()
    assert "Nothing is typed yet" in surface.line.told.text()
    surface.line.texts["at"].setText("tomorrow")
    surface.line.fields["level_l"].setFocus()
    type_in(qtbot, "280", then=ENTER)
    assert '"tomorrow" is no date' in surface.line.told.text()
    assert len(entries(surface)) == before
    surface.line.texts["at"].setText("2026-03-13")
    surface.line.add.click()
    assert entries(surface)[-1] == Entry("2026-03-13", level_l=280.0)


def test_days_are_typed_as_people_write_them(surface: LogbookSurface) -> None:
    line = surface.line
    for typed, said in (("3/5/2026", "did you mean 2026-05-03 or 2026-03-05?"), ("22.11.26", "is no date")):
        line.texts["at"].setText(typed)
        line.fields["level_l"].set_quantity(280.0)
        line.add.click()
        assert said in line.told.text()
    line.texts["at"].setText("22.11.2026 8:00")
    line.add.click()
    assert entries(surface)[-1] == Entry("2026-11-22T08:00", level_l=280.0)
    model = surface.diary.model
    assert model.setData(model.index(0, 0), "23.11.2026 9:30")
    assert entries(surface)[-1].at == "2026-11-23T09:30"


def test_a_reading_no_feed_has_is_not_taken(qtbot: QtBot, surface: LogbookSurface) -> None:
    before, field = entries(surface), surface.line.fields["ec_ms_per_cm"]
    field.setFocus()
    type_in(qtbot, "480", then=ENTER)
    assert "did you mean 480 µS/cm?" in field.fault()
    model = surface.diary.model
    assert not model.setData(model.index(0, COLUMNS.index("ec_ms_per_cm")), "480")
    assert entries(surface) == before


def test_a_reading_that_is_changed_in_nothing_keeps_its_meter(surface: LogbookSurface) -> None:
    """A diary of before names no scale; loading one of its entries and saving it states none."""
    surface.diary.table.wanted.emit(3)
    surface.line.fields["level_l"].set_quantity(277.0)
    surface.line.add.click()
    assert (entries(surface)[3].level_l, entries(surface)[3].meter) == (277.0, "")


def test_the_reservoirs_box_keeps_its_width(surface: LogbookSurface) -> None:
    choice = surface.head.choice
    assert choice.width() >= 120
    before = choice.geometry()
    for _ in range(3):
        QApplication.processEvents()
    assert choice.geometry() == before


def test_what_a_logbook_could_not_hold_is_refused_in_the_line(qtbot: QtBot, surface: LogbookSurface) -> None:
    surface.line.fields["ph"].setFocus()
    type_in(qtbot, "61", then=ENTER)
    assert "outside 0 to 14" in surface.line.told.text()
    assert surface.line.fields["ph"].text() == "61"


def test_the_table_shows_the_newest_first_and_how_far_each_is_off(surface: LogbookSurface) -> None:
    model = surface.diary.model
    cells = {name: model.index(2, number).data() for number, name in enumerate(COLUMNS)}
    assert cells["at"] == "2026-03-10 08:00"
    assert cells["did"].startswith("filled anew, 285 L water, 2900 mL calcium side A")
    assert cells["ec_ms_per_cm"] == "1.29"
    assert float(cells["foretold"]) > 1.4
    assert cells["off"].startswith("\N{MINUS SIGN}")
    assert model.index(2, 0).data(Qt.ItemDataRole.ToolTipRole)


def test_a_reading_is_changed_in_its_cell_and_brought_back(
    qtbot: QtBot, window: MainWindow, surface: LogbookSurface
) -> None:
    table, model = surface.diary.table, surface.diary.model
    table.setFocus()
    table.setCurrentIndex(model.index(0, COLUMNS.index("ph")))
    qtbot.keyClick(table, ENTER)
    editor = table.findChild(QLineEdit)
    assert editor is not None
    editor.selectAll()
    qtbot.keyClicks(editor, "5,8")
    qtbot.keyClick(editor, ENTER)
    QApplication.processEvents()  # the delegate commits when the key has been dealt with
    assert entries(surface)[-1].ph == 5.8
    undo(qtbot, window)
    assert entries(surface)[-1].ph == 6.3


def test_opening_a_cell_changes_nothing_and_nonsense_is_said(surface: LogbookSurface) -> None:
    model, before = surface.diary.model, entries(surface)
    for number, name in enumerate(COLUMNS):
        index = model.index(0, number)
        if name not in ("did", "foretold", "off"):
            assert model.setData(index, index.data(Qt.ItemDataRole.EditRole))
    assert entries(surface) == before
    assert not model.setData(model.index(0, COLUMNS.index("ph")), "six")
    assert "does not begin with a number" in surface.diary.told.text()
    assert not model.setData(model.index(0, 0), "yesterday")
    model.setData(model.index(0, COLUMNS.index("ph")), "99")
    assert "outside 0 to 14" in surface.diary.told.text()
    assert entries(surface) == before


def test_entries_are_taken_out_and_brought_back(qtbot: QtBot, window: MainWindow, surface: LogbookSurface) -> None:
    table, before = surface.diary.table, entries(surface)
    table.setFocus()
    table.selectRow(1)
    qtbot.keyClick(table, DELETE)
    assert entries(surface) == (*before[:-2], before[-1])
    undo(qtbot, window)
    assert entries(surface) == before


def test_an_entry_is_changed_as_a_whole_in_the_line(qtbot: QtBot, surface: LogbookSurface, answered: Answered) -> None:
    table = surface.diary.table
    table.setFocus()
    table.setCurrentIndex(surface.diary.model.index(5, COLUMNS.index("did")))
    qtbot.keyClick(table, ENTER)
    line = surface.line
    assert line.texts["at"].text() == "2026-03-07 08:30"
    assert line.analysis["K"].text() == "150"
    assert line.add.text() == "Change it"
    line.analysis["K"].setFocus()
    line.analysis["K"].selectAll()
    type_in(qtbot, "155", then=ENTER)
    answered(surface)
    changed = next(entry for entry in entries(surface) if entry.at == "2026-03-07T08:30")
    assert changed.analysis_mg_per_l["K"] == 155.0
    assert changed.parts_ml == {"A": 170.0, "B": 170.0}
    assert len(entries(surface)) == 12
    assert line.add.text() == "Add"


def test_leaving_an_entry_as_it_was(qtbot: QtBot, surface: LogbookSurface) -> None:
    before = entries(surface)
    surface.diary.table.wanted.emit(0)
    surface.line.leave.click()
    surface.line.fields["level_l"].setFocus()
    type_in(qtbot, "290", then=ENTER)
    assert entries(surface)[:-1] == before


def test_undo_acts_on_the_surface_in_view(qtbot: QtBot, window: MainWindow, surface: LogbookSurface) -> None:
    before = entries(surface)
    surface.diary.table.deleted.emit([0])
    window.go_to("design")
    undo(qtbot, window)
    assert entries(surface) != before
    window.go_to("logbook")
    undo(qtbot, window)
    assert entries(surface) == before


def test_several_reservoirs(qtbot: QtBot, surface: LogbookSurface, answered: Answered) -> None:
    choice = surface.head.choice
    assert [choice.itemText(n) for n in range(choice.count())] == ["Tunnel 1", "Propagation bench"]
    choice.setCurrentIndex(1)
    choice.activated.emit(1)
    answered(surface)
    assert entries(surface) == ()
    surface.head.change.click()
    surface.form.name.setText("Bench")
    surface.form.water.set_key("pure")
    surface.form.save.click()
    shown = surface.reservoir()
    assert shown is not None
    assert (shown.name, shown.volume_l, shown.water) == ("Bench", 60.0, Water("Pure water"))
    surface.head.add.click()
    qtbot.keyClicks(surface.form.name, "Bench")
    qtbot.keyClicks(surface.form.volume, "10")
    surface.form.save.click()
    assert 'There is a reservoir "Bench" already.' in surface.form.told.text()
    qtbot.keyClick(surface.form, Qt.Key.Key_Escape)
    assert not surface.form.isVisible()


def test_the_recipes_tanks_can_be_taken_as_planned(window: MainWindow, bare: LogbookSurface) -> None:
    book = window.room.session.book
    book.push("", type(book.logbook)(reservoirs=(Reservoir("one", 300.0),)))
    assert bare.line.planned.isVisible()
    assert bare.line.parts == {}
    bare.line.planned.click()
    (batch,) = book.logbook.batches
    assert batch.mixed_on == "2026-03-14"
    assert batch.weighed
    assert list(bare.line.parts) == ["A", "B"]
    assert not bare.line.planned.isVisible()


def test_the_model_keeps_qts_rules(surface: LogbookSurface, qapp: object) -> None:
    model = DiaryModel()
    tester = QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    shown = entries(surface)
    model.show(shown, (), lambda _entry: "")
    model.show(shown[:1], (), lambda _entry: "")
    assert model.rowCount() == 1
    assert model.headerData(0, Qt.Orientation.Horizontal) == "When"
    tester.deleteLater()
    model.deleteLater()
