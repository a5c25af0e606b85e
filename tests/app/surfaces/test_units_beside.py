"""The unit read beside a field is the unit of its number: every field of every surface and editor, any unit typed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLabel

from app.session import state
from app.surfaces.editors.shelf_editor import ShelfEditor
from app.surfaces.feed import FeedSurface
from app.surfaces.logbook import LogbookSurface
from app.surfaces.weighout import WeighoutSurface
from app.widgets.form_field import FormField
from app.window.frame import MainWindow
from app.wording import editors as say
from tests.app.pictures import demo_window, show

TYPED = {
    "mass": "0.5 lb",
    "volume": "16 US gal",
    "temperature": "50 °F",
    "ec": "1700 µS/cm",
    "percent": "20 g/kg",
    "dilution": "8 mL/L",
    "alkalinity": "2 °dH",
    "hardness": "8 °fH",
    "concentration": "0,02 mmol/L",
}
UNITS = ("lb", "oz", "kg", "g", "US gal", "US fl oz", "mL", "L", "°F", "µS/cm", "mmol/L", "g/kg", "mL/L", "°dH", "°fH")
MANY = 40
NEAR = 70
"""How far beside its field a unit may stand [px]."""


@pytest.fixture
def shown(dressed: None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[MainWindow]:
    from app.session import book

    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "window.json")
    monkeypatch.setattr(book, "own_logbook", lambda: tmp_path / "logbook.saltwright-log")
    window = demo_window()
    window.resize(1366, 1400)
    window.show()
    yield window
    window.room.session.edits.setClean()
    window.close()


def fields_in_view(window: MainWindow) -> list[FormField]:
    return [field for field in window.findChildren(FormField) if field.isVisible() and field.isEnabled()]


def words_in_view(window: MainWindow) -> list[QLabel | QComboBox]:
    return [part for kind in (QLabel, QComboBox) for part in window.findChildren(kind) if part.isVisible()]


def beside(field: FormField, words: list[QLabel | QComboBox]) -> list[str]:
    """What is read beside a field: the label or the choice right behind it, then its own label."""
    window = field.window()
    right = field.mapTo(window, QPoint(field.width(), field.height() // 2))
    behind: list[tuple[int, str]] = []
    own = []
    for part in words:
        text = part.text() if isinstance(part, QLabel) else part.currentText()
        left = part.mapTo(window, QPoint(0, part.height() // 2))
        if 0 <= left.x() - right.x() < NEAR and abs(left.y() - right.y()) < field.height() // 2:
            behind.append((left.x(), text))
        if isinstance(part, QLabel) and part.buddy() is field:
            own.append(text)
    return [text for _left, text in sorted(behind)[:1]] + own


def unit_beside(field: FormField, texts: list[str]) -> str:
    """The unit read beside a field; where none is, only the unit it is kept in can be meant."""
    measure = field.measure
    units = dict.fromkeys((measure.unit, *measure.others, *UNITS))
    words = {unit: {unit, say.unit(measure.label(unit))} for unit in units}
    for text in texts:
        spoken = text.replace("\N{WORD JOINER}", "").replace("\N{NO-BREAK SPACE}", " ")
        hits = [(len(word), unit) for unit in units for word in words[unit] if word and _stands_in(word, spoken)]
        if hits:
            return max(hits)[1]
    return measure.unit


def _stands_in(word: str, text: str) -> bool:
    before, found, after = text.partition(word)
    apart = not before[-1:].isalnum() and before[-1:] != "/" and not after[:1].isalnum() and after[:1] not in ("/", "³")
    return bool(found) and (apart or (bool(after) and _stands_in(word, after)))


def enter(field: FormField, text: str) -> None:
    """Type and leave."""
    field.setText(text)
    field.setModified(True)
    field.textEdited.emit(text)
    QApplication.sendEvent(field, QFocusEvent(QEvent.Type.FocusOut))


def wrong_in(field: FormField, words: list[QLabel | QComboBox]) -> list[str] | None:
    """Type a quantity in another unit, then a number alone; say where the unit beside is not the number's.

    None where what was typed is refused, so that nothing was tried.
    """
    assert field.measure.kind is not None
    found, tried = [], 0
    for text in (TYPED[field.measure.kind], "0.5"):
        enter(field, text)
        if field.fault():
            continue
        tried += 1
        texts = beside(field, words)
        meant = field.measure.hear(field.text(), unit_beside(field, texts)).value
        if meant != pytest.approx(field.quantity(), rel=1e-6):
            found.append(f"{field.accessibleName()}: {text} held as {field.quantity()}, read {field.text()} {texts}")
    return found if tried else None


def plain(window: MainWindow) -> None:
    """As it is."""


def by(way: str) -> Callable[[MainWindow], None]:
    def choose(window: MainWindow) -> None:
        surface = window.room.surfaces["weighout"]
        assert isinstance(surface, WeighoutSurface)
        surface.bar.way.set_key(way)
        surface.bar.way.chosen.emit(way)

    return choose


def all_of_the_diary(window: MainWindow) -> None:
    surface = window.room.surfaces["logbook"]
    assert isinstance(surface, LogbookSurface)
    surface.line.more.setChecked(True)


def poured_otherwise(window: MainWindow) -> None:
    surface = window.room.surfaces["feed"]
    assert isinstance(surface, FeedSurface)
    surface.steps.now.other.click()


def a_product(window: MainWindow) -> None:
    sheet = window.room.editors.sheets["shelf"]
    assert isinstance(sheet, ShelfEditor)
    sheet.open_entry("potassium-nitrate")
    for button in sheet.findChildren(QAbstractButton):
        if button.isCheckable() and not button.isChecked() and button.isVisible():
            button.setChecked(True)


def weights_too(window: MainWindow) -> None:
    window.room.editors.sheets["aim"].weights.setChecked(True)  # type: ignore[attr-defined]
    QApplication.processEvents()


STATES = [
    ("tanks", plain, 4),
    ("weighout", by("tank"), 2),
    ("weighout", by("feed"), 2),
    ("weighout", by("days"), 2),
    ("weighout", by("bag"), 2),
    ("feed", plain, 2),
    ("feed-pour", poured_otherwise, 2),
    ("feed-ph", plain, 2),
    ("feed-topup", plain, 4),
    ("feed-injector", plain, 3),
    ("compare-goals", plain, 1),
    ("logbook", all_of_the_diary, 6),
    ("logbook-form", plain, 1),
    ("edit-aim", weights_too, 20),
    ("edit-water", plain, 10),
    ("edit-shelf+", plain, 5),
    ("edit-shelf", a_product, 4),
    ("edit-tanks", plain, 8),
]


def test_the_unit_beside_a_field_is_the_unit_of_its_number(shown: MainWindow) -> None:
    wrong: dict[str, list[str]] = {}
    for surface, prepare, least in STATES:
        show(shown, surface)
        prepare(shown)
        for _ in range(3):
            QApplication.processEvents()
        words = words_in_view(shown)
        fields = [field for field in fields_in_view(shown) if field.measure.kind is not None]
        fields = fields[:: 1 + len(fields) // MANY]  # the rows of a long table are made alike
        answers = [answer for field in fields if (answer := wrong_in(field, words)) is not None]
        found = [line for answer in answers for line in answer]
        if len(answers) < least:
            found.append(f"{len(answers)} of {[field.accessibleName() for field in fields]} tried")
        if found:
            wrong[f"{surface} {prepare.__name__}"] = found
    assert not wrong, "\n".join(f"{where}: {line}" for where, lines in wrong.items() for line in lines)
