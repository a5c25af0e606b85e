"""The one way a number gets in: keys, bad text, and what is left alone."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, QRect, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from app.widgets.field_note import FieldNote
from app.widgets.quantity_field import QuantityField
from app.widgets.reading import concentration_of


@pytest.fixture
def form(dressed: None, qtbot: QtBot) -> QWidget:
    form = QWidget()
    layout = QVBoxLayout(form)
    for name in ("first", "second"):
        field = QuantityField(form)
        field.setObjectName(name)
        layout.addWidget(field)
    form.show()
    form.activateWindow()
    return form


@pytest.fixture
def field(form: QWidget) -> QuantityField:
    field = form.findChild(QuantityField, "first")
    assert field is not None
    field.setFocus()
    return field


@pytest.fixture
def sent(field: QuantityField) -> list[float | None]:
    sent: list[float | None] = []
    field.typed.connect(sent.append)
    return sent


@pytest.mark.usefixtures("locale")
@pytest.mark.parametrize(
    ("keys", "value"), [("12.5", 12.5), ("12,5", 12.5), ("0,0475", 0.0475), ("1.234", 1.234), ("1234", 1234.0)]
)
def test_either_mark_is_the_decimal_mark(
    qtbot: QtBot, field: QuantityField, sent: list[float | None], keys: str, value: float
) -> None:
    qtbot.keyClicks(field, keys)
    assert sent[-1] == value
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert float(field.text()) == value


@pytest.mark.usefixtures("locale")
def test_a_comma_for_thousands_is_refused_whatever_the_locale(
    qtbot: QtBot, field: QuantityField, sent: list[float | None]
) -> None:
    qtbot.keyClicks(field, "1,000")
    assert field.quantity() is None
    assert "did you mean 1000 or 1.0?" in field.fault()
    qtbot.keyClicks(field, "5")
    assert (field.fault(), field.quantity()) == ("", 1.0005)


def test_every_valid_change_is_sent_while_typing(qtbot: QtBot, field: QuantityField, sent: list[float | None]) -> None:
    qtbot.keyClicks(field, "15")
    assert sent == [1.0, 15.0]


def test_two_marks_are_refused_aloud(
    qtbot: QtBot, form: QWidget, field: QuantityField, sent: list[float | None]
) -> None:
    QApplication.clipboard().setText("1.234,5")
    field.paste()
    qtbot.keyClick(field, Qt.Key.Key_Return)
    note = form.findChild(FieldNote)
    assert sent == []
    assert field.text() == "1.234,5"
    assert field.quantity() is None
    assert "decimal mark" in field.fault()
    assert note is not None
    assert note.text() == field.fault()


def test_bad_text_never_becomes_a_number(qtbot: QtBot, form: QWidget, field: QuantityField) -> None:
    field.set_quantity(7.0)
    field.selectAll()
    qtbot.keyClicks(field, "abc")
    other = form.findChild(QuantityField, "second")
    assert other is not None
    other.setFocus()
    assert field.text() == "abc"
    assert field.quantity() == 7.0
    note = form.findChild(FieldNote)
    assert note is not None
    assert note.text() == ""
    field.setFocus()
    assert note.text() == field.fault()


def test_mending_takes_the_fault_away(qtbot: QtBot, field: QuantityField, sent: list[float | None]) -> None:
    qtbot.keyClicks(field, "4x")
    assert field.fault()
    qtbot.keyClick(field, Qt.Key.Key_Backspace)
    assert not field.fault()
    assert sent == [4.0, None, 4.0]


def test_below_zero_is_refused(qtbot: QtBot, field: QuantityField, sent: list[float | None]) -> None:
    qtbot.keyClicks(field, "-5")
    assert "below zero" in field.fault()
    assert sent == []


def test_emptying_says_none(qtbot: QtBot, field: QuantityField, sent: list[float | None]) -> None:
    field.set_quantity(7.0)
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Delete)
    assert sent == [None]


def test_enter_alone_changes_nothing(qtbot: QtBot, field: QuantityField, sent: list[float | None]) -> None:
    field.set_quantity(0.0475)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert field.text() == "0.0475"
    assert sent == []


def test_leaving_shows_the_shortest_text(qtbot: QtBot, form: QWidget, field: QuantityField) -> None:
    qtbot.keyClicks(field, "0012,500")
    assert field.text() == "0012,500"
    qtbot.keyClick(field, Qt.Key.Key_Tab)
    assert field.text() == "12.5"


def test_escape_brings_back_what_was_there(qtbot: QtBot, field: QuantityField, sent: list[float | None]) -> None:
    field.set_quantity(128.0)
    field.clearFocus()
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClicks(field, "99")
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert field.text() == "128"
    assert sent == [9.0, 99.0, 128.0]


def test_a_plan_does_not_touch_the_text_under_the_hand(qtbot: QtBot, field: QuantityField) -> None:
    qtbot.keyClicks(field, "12,")
    field.set_quantity(12.0)
    assert field.text() == "12,"
    field.set_quantity(13.0)
    assert field.text() == "13"


def test_the_wheel_changes_nothing(field: QuantityField, sent: list[float | None]) -> None:
    field.set_quantity(10.0)
    turn = QWheelEvent(
        QPointF(5, 5), QPointF(5, 5), QPoint(), QPoint(0, 120), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(field, turn)
    assert field.text() == "10"
    assert sent == []


def test_up_and_down_ask_for_the_neighbour(qtbot: QtBot, field: QuantityField) -> None:
    steps: list[int] = []
    field.stepped.connect(steps.append)
    qtbot.keyClick(field, Qt.Key.Key_Down)
    qtbot.keyClick(field, Qt.Key.Key_Up)
    assert steps == [1, -1]


def test_a_refused_value_says_why(form: QWidget, field: QuantityField) -> None:
    field.refuse("This is 30000, outside 0 to 20000 mg/L.")
    note = form.findChild(FieldNote)
    assert note is not None
    assert note.text() == "This is 30000, outside 0 to 20000 mg/L."


def test_text_on_the_way_to_a_number_leaves_what_was_there(
    qtbot: QtBot, field: QuantityField, sent: list[float | None]
) -> None:
    field.set_quantity(180.0)
    field.clearFocus()
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClicks(field, "1.234,5")
    assert sent[-2:] == [1.234, 180.0]
    assert field.quantity() == 180.0
    assert field.text() == "1.234,5"


def test_what_was_understood_is_said_until_the_field_is_left(qtbot: QtBot, form: QWidget) -> None:
    field = QuantityField(form, concentration_of("K"))
    field.show()
    field.setFocus()
    qtbot.keyClicks(field, "5 mmol/L")
    field.set_quantity(field.quantity())
    note = form.findChild(FieldNote)
    assert note is not None
    assert note.text() == "5 mmol/L is 195.5 mg/L"
    assert field.text() == "5 mmol/L"
    field.clearFocus()
    assert note.text() == ""
    assert float(field.text()) == pytest.approx(195.49, abs=0.01)


def test_the_field_widens_over_its_neighbour_while_long_text_is_typed(qtbot: QtBot, form: QWidget) -> None:
    field = QuantityField(form, concentration_of("K"))
    field.put(QRect(0, 0, 60, 24))
    field.show()
    field.setFocus()
    qtbot.keyClicks(field, "5 mmol/L as K2O")
    assert field.width() > 60
    field.clearFocus()
    assert field.width() == 60


@pytest.mark.parametrize(
    ("number", "shown"), [(210.10500000001, "210.1"), (0.0476631212, "0.04766"), (12.5, "12.5"), (172.0, "172")]
)
def test_a_long_number_at_rest_keeps_its_first_digits(field: QuantityField, number: float, shown: str) -> None:
    field.clearFocus()
    field.setFixedWidth(66)
    field.set_quantity(number)
    assert field.resting_text().startswith(shown)
    assert float(field.resting_text()) == pytest.approx(number, rel=5e-4)
    field.setFocus()
    assert float(field.text()) == number
