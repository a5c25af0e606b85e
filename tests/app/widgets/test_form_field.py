"""A form's field: any unit, what it understood, when it sends, and whose undo it is."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QUndoCommand, QUndoStack, QWheelEvent
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from app.widgets.field_note import FieldNote
from app.widgets.form_field import FormField
from app.widgets.measure import DILUTION, EC, GRAMS, NUMBER, PACK, PRODUCT, TEMPERATURE, VOLUME, Measure

CALCIUM = Measure("concentration", "mg/L", "Ca", ("°dH", "meq/L"))
SULFATE = Measure("concentration", "mg/L", "S", ("mg/L as SO4",))
Make = Callable[..., FormField]


@pytest.fixture
def form(dressed: None, qtbot: QtBot) -> QWidget:
    form = QWidget()
    QVBoxLayout(form)
    form.show()
    form.activateWindow()
    return form


@pytest.fixture
def make(form: QWidget) -> Make:
    def make(measure: Measure, *, live: bool = True) -> FormField:
        field = FormField(form, measure, "Quantity", live=live)
        form.layout().addWidget(field)
        field.show()
        field.setFocus(Qt.FocusReason.TabFocusReason)
        return field

    return make


def sent_by(field: FormField) -> list[float | None]:
    sent: list[float | None] = []
    field.typed.connect(sent.append)
    return sent


@pytest.mark.usefixtures("locale")
@pytest.mark.parametrize(("keys", "value"), [("12.5", 12.5), ("12,5", 12.5), ("0,0475", 0.0475), ("1.234", 1.234)])
@pytest.mark.parametrize("measure", [CALCIUM, GRAMS, NUMBER])
def test_the_matrix_of_marks(qtbot: QtBot, make: Make, measure: Measure, keys: str, value: float) -> None:
    field = make(measure, live=False)
    sent = sent_by(field)
    qtbot.keyClicks(field, keys)
    assert sent == []
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert sent == [value]
    assert float(field.text()) == value
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert sent == [value]


@pytest.mark.usefixtures("locale")
@pytest.mark.parametrize("measure", [CALCIUM, GRAMS, VOLUME, NUMBER])
def test_two_marks_are_refused_in_every_locale(qtbot: QtBot, make: Make, measure: Measure) -> None:
    field = make(measure)
    sent = sent_by(field)
    QApplication.clipboard().setText("1.234,5")
    field.paste()
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert sent == []
    assert "1234.5" in field.fault()


@pytest.mark.parametrize(
    ("measure", "typed", "value", "words"),
    [
        (GRAMS, "7 lb 14 oz", 3572.03991375, "7 lb 14 oz = 3572 g"),
        (GRAMS, "12,5 g", 12.5, ""),
        (GRAMS, "3*12.6 oz", 1071.609, "37.8 oz = 1072 g"),
        (PACK, "55 lb", 24.94758035, "55 lb = 24.95 kg"),
        (CALCIUM, "3.2 meq/L", 64.1248, "3.2 meq/L = 64.12 mg/L Ca"),
        (CALCIUM, "5.4 °dH", 38.5936, "5.4 °dH = 38.59 mg/L Ca"),
        (SULFATE, "48 SO4", 16.0207, "48 mg/L as SO4 = 16.02 mg/L S"),
        (EC, "470 µS/cm", 0.47, "470 µS/cm = 0.47 mS/cm"),
        (TEMPERATURE, "54 F", 12.2222, "54 °F = 12.22 °C"),
        (DILUTION, "10 mL/L", 100.0, "10 mL/L = 1:100"),
        (PRODUCT, "421 mg/L", 421.0, ""),
        (PRODUCT, "0.4 g/L", 400.0, "0.4 g = 400 mg/L"),
        (NUMBER, "3*12.6", 37.8, "= 37.8"),
    ],
)
def test_it_says_what_it_understood(
    qtbot: QtBot, make: Make, measure: Measure, typed: str, value: float, words: str
) -> None:
    field = make(measure)
    remarks: list[str] = []
    field.remarked.connect(remarks.append)
    qtbot.keyClicks(field, typed)
    assert field.quantity() == pytest.approx(value, rel=1e-5)
    assert (remarks[-1] if remarks else "") == words


def test_a_basis_with_lowered_figures() -> None:
    assert SULFATE.hear("48 SO₄", "mg/L").value == pytest.approx(16.0207, rel=1e-5)


@pytest.mark.parametrize(
    ("measure", "typed", "readings"),
    [
        (VOLUME, "13 gal", ("US gal", "imp gal")),
        (EC, "650 ppm", ("ppm-500", "ppm-640", "ppm-700")),
        (Measure("concentration", "mg/L", "P"), "2 meq/L", ("H2PO4", "PO4")),
    ],
)
def test_what_has_several_readings_is_asked_back(
    qtbot: QtBot, form: QWidget, make: Make, measure: Measure, typed: str, readings: tuple[str, ...]
) -> None:
    field = make(measure, live=False)
    sent = sent_by(field)
    qtbot.keyClicks(field, typed)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    note = form.findChild(FieldNote)
    assert note is not None
    assert all(reading in note.text() for reading in readings)
    assert sent == []


def test_the_unit_typed_stays_the_unit_shown(qtbot: QtBot, make: Make) -> None:
    field = make(CALCIUM)
    units: list[str] = []
    field.unit_changed.connect(units.append)
    qtbot.keyClicks(field, "5.4 °dH")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert (field.text(), field.unit, units) == ("5.4", "°dH", ["°dH"])
    value = field.quantity()
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert field.quantity() == value
    field.set_unit("mg/L")
    assert field.text().startswith("38.59")
    assert field.quantity() == value


def test_compound_text_keeps_the_unit_shown(qtbot: QtBot, make: Make) -> None:
    field = make(PACK)
    qtbot.keyClicks(field, "7 lb 14 oz")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert (field.text(), field.unit) == ("3.57204", "kg")


def test_it_sends_on_leaving(qtbot: QtBot, form: QWidget, make: Make) -> None:
    field, other = make(GRAMS, live=False), make(GRAMS)
    field.setFocus()
    sent = sent_by(field)
    qtbot.keyClicks(field, "250")
    other.setFocus()
    assert sent == [250.0]


def test_escape_takes_back_first_and_is_the_form_s_then(qtbot: QtBot, form: QWidget, make: Make) -> None:
    field = make(GRAMS, live=False)
    field.set_quantity(7.0)
    sent = sent_by(field)
    qtbot.keyClicks(field, "99")
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert (field.text(), sent) == ("7", [])
    assert field._untouched()


def test_undo_is_the_window_s_once_the_text_is_sent(qtbot: QtBot, form: QWidget, make: Make) -> None:
    stack = QUndoStack(form)
    undo = stack.createUndoAction(form)
    undo.setShortcut("Ctrl+Z")
    form.addAction(undo)
    field = make(GRAMS, live=False)
    field.set_quantity(5.0)
    field.typed.connect(lambda _value: stack.push(QUndoCommand("amount")))
    qtbot.keyClicks(field, "8")
    qtbot.keyClick(field, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert field.text() == "5"
    field.selectAll()
    qtbot.keyClicks(field, "8")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert stack.canUndo()
    qtbot.keyClick(field, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert not stack.canUndo()


def test_the_wheel_changes_nothing(make: Make) -> None:
    field = make(GRAMS)
    field.set_quantity(10.0)
    turn = QWheelEvent(
        QPointF(5, 5), QPointF(5, 5), QPoint(), QPoint(0, 120), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(field, turn)
    assert field.text() == "10"
    assert not turn.isAccepted()


def test_a_blamed_field_keeps_its_text_until_it_is_no_longer_to_blame(qtbot: QtBot, make: Make) -> None:
    field = make(GRAMS)
    qtbot.keyClicks(field, "30")
    field.blame("This is too much.")
    field.set_quantity(30.0)
    assert (field.text(), field.fault()) == ("30", "This is too much.")
    field.blame("")
    assert not field.fault()
    qtbot.keyClicks(field, "x")
    field.blame("")
    assert field.fault()


def test_a_unit_nobody_shows_stays_fixed(qtbot: QtBot, form: QWidget, make: Make) -> None:
    """Where no label follows, the number stays in the label's unit, and a number alone means that unit ever after."""
    field, other = make(GRAMS, live=False), make(GRAMS)
    field.setFocus()
    sent = sent_by(field)
    qtbot.keyClicks(field, "5 kg")
    note = form.findChild(FieldNote)
    assert note is not None
    assert note.text() == "5 kg = 5000 g"
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert (field.text(), field.unit, sent) == ("5000", "g", [5000.0])
    field.set_quantity(5000.0)  # as the plan that follows has it
    assert note.text() == "5 kg = 5000 g"
    qtbot.keyClicks(field, "6000")
    assert note.text() == ""
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert (field.text(), sent) == ("6000", [5000.0, 6000.0])
    qtbot.keyClicks(field, "2 lb")
    other.setFocus()
    assert (field.text(), note.text(), sent[-1]) == ("907.185", "", 907.185)


def test_the_usual_unit_of_a_field_needs_no_note(qtbot: QtBot, form: QWidget, make: Make) -> None:
    """A grower of gallons isn't told at every number what it is in litres."""
    field = make(VOLUME)
    units: list[str] = []
    field.unit_changed.connect(units.append)
    field.set_unit("US gal")
    qtbot.keyClicks(field, "5")
    note = form.findChild(FieldNote)
    assert note is None or note.text() == ""
    qtbot.keyClicks(field, " imp gal")
    note = form.findChild(FieldNote)
    assert note is not None
    assert note.text() == "5 imp gal = 22.73 L"


def test_the_mark_is_still_told_after_what_was_understood(qtbot: QtBot, form: QWidget, make: Make) -> None:
    field = make(GRAMS)
    qtbot.keyClicks(field, "1.500 kg")
    note = form.findChild(FieldNote)
    assert note is not None
    assert "1500 kg" in note.text()
