"""The table of the diary on its card, with what is said of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from app.surfaces.logbook.diary_model import DiaryModel
from app.surfaces.logbook.diary_table import DiaryTable
from app.widgets import theme
from app.widgets.card import PAD, Card
from app.widgets.laid_card import Text
from app.wording import logbook as say

if TYPE_CHECKING:
    from core.logbook.forecast import Foretold
    from core.logbook.records import Entry

HELP = 26


class DiaryCard(Card):
    """The newest entry stands first."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.diary_title(0))
        self.model = DiaryModel()
        self.model.setParent(self)
        self.table = DiaryTable(self, self.model)
        self.help = Text(self, 12, role="muted")
        self.told = Text(self, 12.5, role="stop")
        self.help.say(say.diary_help())
        self.model.refused.connect(self.tell)

    def show_diary(
        self,
        entries: tuple[Entry, ...],
        foretold: tuple[Foretold, ...],
        did: Callable[[Entry], str],
        odd: frozenset[int],
    ) -> None:
        """Show these entries, given oldest first; `odd` are the places of those whose reading is marked."""
        current = self.table.currentIndex()
        self.model.show(entries, foretold, did, odd)
        if current.isValid() and current.row() < len(entries):
            self.table.setCurrentIndex(self.model.index(current.row(), current.column()))
        self.set_title(say.diary_title(len(entries)))
        self._arrange()

    def tell(self, words: str) -> None:
        """Say why something was not taken."""
        self.told.say(words)
        self.help.say("" if words else say.diary_help())
        self._arrange()

    def least_height(self, width: int) -> int:
        self.table.fit(width - 2 * theme.px(8))
        return self.body_top + self.table.wanted_height() + theme.px(HELP + 8)

    def _arrange(self) -> None:
        pad, top = theme.px(PAD), self.body_top
        inner, below = self.width() - 2 * theme.px(8), theme.px(HELP)
        self.table.setGeometry(theme.px(8), top, inner, self.height() - top - below - theme.px(6))
        self.table.fit(inner)
        for text in (self.help, self.told):
            text.setGeometry(pad, self.height() - below - theme.px(2), self.width() - 2 * pad, below)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()
