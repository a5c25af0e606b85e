"""What a window shows: every text painted with the room it had, every text a screen reader or a tool tip says."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, NamedTuple

from PySide6.QtCore import QPoint, QRect, QRectF, Qt
from PySide6.QtGui import QAccessible, QAction, QFontMetrics, QPainter
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QCheckBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QWidget,
)

from app.widgets import paint
from app.widgets.quantity_field import QuantityField

PLAIN_WORD = re.compile(r"(?=[A-Za-z]*[a-z])[A-Za-z]*[aeiouyAEIOUY][A-Za-z]*")
"""A word; capitals alone are formulas and tanks' letters."""


class Painted(NamedTuple):
    """A text, where its letters stand in its widget, and the size it had and needed [px]."""

    widget: QWidget
    words: str
    ink: QRect
    room: tuple[float, float]
    needs: tuple[float, float]

    @property
    def cut(self) -> bool:
        """Whether it had less room than it needed."""
        return any(needed > had + 1 for needed, had in zip(self.needs, self.room, strict=True))


@contextmanager
def watched() -> Iterator[list[Painted]]:
    """Collect everything painted through `app.widgets.paint` meanwhile."""
    seen: list[Painted] = []
    text, paragraph = paint.text, paint.paragraph

    def note(painter: QPainter, place: QRectF, words: str, face: Any, flags: int, wraps: bool) -> None:
        device = painter.device()
        if words and isinstance(device, QWidget) and place.width() > 0:
            home = painter.transform().mapRect(place)
            face = face if wraps else face.for_room(words, int(place.width()))
            metrics = QFontMetrics(face)
            ink = metrics.boundingRect(home.toRect(), flags, words)
            line = QRect(ink.left(), ink.top(), ink.width() if wraps else face.width(words), ink.height())
            width = max((face.width(word) for word in words.split()), default=0) if wraps else face.width(words)
            height = line.height() if wraps else 0.75 * face.height()  # the face's own line has air over and below
            seen.append(
                Painted(device, words, ink & home.toAlignedRect(), (home.width(), home.height()), (width, height))
            )

    def watched_text(p: QPainter, place: QRectF, words: str, face: Any, colour: Any, align: int = paint.LEFT) -> None:
        note(p, place, words, face, align, False)
        text(p, place, words, face, colour, align)

    def watched_paragraph(
        p: QPainter, place: QRectF, words: str, face: Any, colour: Any, align: int = paint.TOP
    ) -> None:
        note(p, place, words, face, align | int(Qt.TextFlag.TextWordWrap), True)
        paragraph(p, place, words, face, colour, align)

    paint.text, paint.paragraph = watched_text, watched_paragraph
    try:
        yield seen
    finally:
        paint.text, paint.paragraph = text, paragraph


def said(window: QWidget, *, hidden: bool = False) -> Iterator[tuple[QWidget, str]]:
    """Yield every text the widgets of a window hold, of hidden ones too where that is wanted."""
    for widget in (window, *window.findChildren(QWidget)):
        if not hidden and not widget.isVisible():
            continue
        for words in _texts(widget):
            if words:
                yield widget, words
    for action in window.findChildren(QAction):
        yield from ((window, words) for words in (action.text(), action.statusTip()) if words)


def _texts(widget: QWidget) -> Iterator[str]:
    yield from (widget.accessibleName(), widget.accessibleDescription(), widget.toolTip())
    if isinstance(widget, QLabel | QAbstractButton):
        yield widget.text()
    elif isinstance(widget, QLineEdit):
        yield widget.placeholderText()
    elif isinstance(widget, QPlainTextEdit):
        yield widget.toPlainText()
    elif isinstance(widget, QComboBox):
        yield from (widget.itemText(row) for row in range(widget.count()))
    elif isinstance(widget, QAbstractItemView) and widget.model() is not None:
        model = widget.model()
        for column in range(model.columnCount()):
            yield str(model.headerData(column, Qt.Orientation.Horizontal) or "")
            for row in range(model.rowCount()):
                yield str(model.index(row, column).data() or "")
    interface = QAccessible.queryAccessibleInterface(widget)
    if interface is not None:
        yield interface.text(QAccessible.Text.Name)


def untranslated(words: str, own: frozenset[str] = frozenset()) -> list[str]:
    """Return the words of a text that are not of the pseudo-language; `own` are names people or sources gave."""
    for name in sorted(own, key=len, reverse=True):
        words = re.sub(rf"(?<![A-Za-z]){re.escape(name)}(?![A-Za-z])", " ", words, flags=re.IGNORECASE)
    accented = "áéíóúýÁÉÍÓÚÝ"
    plain = re.findall(rf"[A-Za-z{accented}]+", words)
    return [word for word in plain if PLAIN_WORD.fullmatch(word) and not set(word) & set(accented)]


def cramped(window: QWidget) -> list[str]:
    """Return the labels, buttons and boxes in view that are smaller than their text."""
    found = []
    for widget in window.findChildren(QWidget):
        if not widget.isVisible() or not isinstance(widget, QLabel | QAbstractButton | QCheckBox) or not widget.text():
            continue
        if widget.visibleRegion().isEmpty() or type(widget).__name__ in {"_Part", "RailButton", "LinkButton"}:
            continue  # scrolled out of view; or painted through `paint.text`, which is watched
        if isinstance(widget, QLabel) and widget.wordWrap():
            needs, has = widget.heightForWidth(widget.width()), widget.height()
        else:
            needs, has = widget.sizeHint().width(), widget.width()
        if needs > has + 1:
            found.append(f"{widget.text()!r} needs {needs}, has {has}")
    return found + cut_numbers(window)


def cut_numbers(window: QWidget) -> list[str]:
    """Return the numbers at rest in view that their field has not the room for: their first digits are out of it."""
    found = []
    for field in window.findChildren(QuantityField):
        if field.isVisible() and not field.hasFocus() and not field.visibleRegion().isEmpty():
            needs, has = field.fontMetrics().horizontalAdvance(field.resting_text()), field.width() - 4
            if needs > has:
                found.append(f"the number {field.text()!r} needs {needs}, has {has}")
    return found


def faults(window: QWidget, own: frozenset[str] = frozenset()) -> list[str]:
    """Return everything cut, cramped or overlapping in a window as it is now; `own` are names a person gave.

    Such a name may be shortened where it is said in full by a tool tip or to a screen reader.
    """
    with watched() as painted:
        window.grab()
    cut = [f"{one.words!r} is cut, {one.room} for {one.needs}" for one in painted if one.cut and not _excused(one, own)]
    shortened = [one.words for one in painted if one.words.endswith("…") and "(" not in one.words]
    cut += [f"{words!r} was shortened" for words in shortened if not _is_menu(words, window) and not _own(words, own)]
    return sorted({*cut, *cramped(window), *overlapping(window, painted)})


def _own(words: str, own: frozenset[str]) -> bool:
    """Tell whether what was shortened is a person's: the letters before the dots begin one of the names."""
    heads = [part.strip().removesuffix("…") for part in words.replace("·", "\n").split("\n") if part.endswith("…")]
    return all(any(name.startswith(head[:8]) for name in own) for head in heads)


def _excused(one: Painted, own: frozenset[str]) -> bool:
    said_in_full = (one.widget.toolTip(), one.widget.accessibleName(), one.widget.accessibleDescription())
    return any(name in one.words for name in own) and any(one.words in words for words in said_in_full)


def _is_menu(words: str, window: QWidget) -> bool:
    """Tell whether the dots say that something opens, as those of a link or a button do."""
    return any(button.text() == words for button in window.findChildren(QAbstractButton))


def overlapping(window: QWidget, painted: list[Painted]) -> list[str]:
    """Return the pairs of texts in view whose letters run into each other."""
    spots = [(one.words, _in_window(window, one.widget, one.ink)) for one in painted]
    spots += [
        (widget.text(), _in_window(window, widget, _label_ink(widget)))
        for widget in window.findChildren(QLabel)
        if widget.isVisible() and widget.text()
    ]
    found = []
    inset = [(words, spot.adjusted(1, 3, -1, -3)) for words, spot in spots if spot.width() > 4 and spot.height() > 8]
    for number, (words, spot) in enumerate(inset):
        for other, elsewhere in inset[number + 1 :]:
            if spot.intersects(elsewhere) and (words, spot) != (other, elsewhere):
                found.append(f"{words!r} runs into {other!r}")
    return found


def _label_ink(label: QLabel) -> QRect:
    flags = int(label.alignment()) | (int(Qt.TextFlag.TextWordWrap) if label.wordWrap() else 0)
    return label.fontMetrics().boundingRect(label.contentsRect(), flags, label.text()) & label.contentsRect()


def _in_window(window: QWidget, widget: QWidget, spot: QRect) -> QRect:
    """Return the part of a text that can be seen, in the window's coordinates; none where something lies over it."""
    if not widget.isVisible():
        return QRect()
    seen = spot & widget.visibleRegion().boundingRect()
    seen = QRect(widget.mapTo(window, QPoint(seen.left(), seen.top())), seen.size())
    top = window.childAt(seen.center()) if not seen.isEmpty() else None
    ours = top is widget or (top is not None and (widget.isAncestorOf(top) or top.isAncestorOf(widget)))
    return seen if ours else QRect()
