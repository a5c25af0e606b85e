"""Shows what the program reports of its own faults, one at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Slot
from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from app.window.fault_dialog import FaultDialog


class FaultTeller(QObject):
    """Shows one report at a time; what fails while one is shown is only logged."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        self.shown: FaultDialog | None = None

    @Slot(str)
    def tell(self, report: str) -> None:
        """Show this report."""
        if self.shown is not None:
            return
        from app.window.fault_dialog import FaultDialog  # hardly ever needed

        self.shown = FaultDialog(self._window, report)
        self.shown.finished.connect(self._put_away)
        self.shown.open()

    @Slot()
    def _put_away(self) -> None:
        if self.shown is not None:
            self.shown.deleteLater()
            self.shown = None
