"""Marks the rows that an edit changed, until a moment after the last key: what moved is seen without comparing."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QTimer
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QWidget

from app.widgets.stripe import Stripe

MOMENT_MS = 4000


class ChangeMarks:
    """Compares what rows show with what they showed before the edit; typing on in one field is one edit."""

    def __init__(self, card: QWidget, edits: QUndoStack) -> None:
        self._edits = edits
        self._step = -1
        self._before: dict[str, str] = {}
        self._shown: dict[str, str] = {}
        self._rows: Mapping[str, Stripe] = {}
        self._moment = QTimer(card)
        self._moment.setSingleShot(True)
        self._moment.setInterval(MOMENT_MS)
        self._moment.timeout.connect(self.clear)

    def tell(self, rows: Mapping[str, Stripe], shown: dict[str, str]) -> None:
        """Mark the rows that show something else than before the edit under way."""
        if self._edits.index() != self._step:
            self._before, self._step = self._shown, self._edits.index()
        self._rows, self._shown = rows, shown
        for name, row in rows.items():
            row.mark(name in self._before and self._before[name] != shown.get(name))
        self._moment.start()

    def clear(self) -> None:
        """Take the marks away."""
        self._moment.stop()
        for row in self._rows.values():
            row.mark(False)

    def forget(self) -> None:
        """Begin anew: what comes next is another recipe's."""
        self.clear()
        self._before, self._shown, self._rows, self._step = {}, {}, {}, -1
