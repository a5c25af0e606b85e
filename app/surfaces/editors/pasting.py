"""Catches a whole column that is pasted into one field of a table."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QApplication, QWidget

from app.surfaces.editors.columns import is_column


class _Watch(QObject):
    """Takes a paste of more than one quantity away from its field."""

    def __init__(self, field: QWidget, take: Callable[[str], object]) -> None:
        super().__init__(field)
        self._take = take
        field.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
            and event.matches(QKeySequence.StandardKey.Paste)
        ):
            text = QApplication.clipboard().text()
            if is_column(text):
                self._take(text)
                return True
        return super().eventFilter(watched, event)


def watch_paste(field: QWidget, take: Callable[[str], object]) -> None:
    """Have `take` called with a column that is pasted into this field; one quantity is the field's own."""
    _Watch(field, take)
