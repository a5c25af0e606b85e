"""What acid does to this feed: the choice of an acid, its curve, and what follows from it in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPalette, QResizeEvent
from PySide6.QtWidgets import QLabel, QWidget

from app.surfaces.chemistry.curve import TitrationCurve
from app.surfaces.chemistry.looking import Looked, Offer
from app.widgets import theme
from app.widgets.card import PAD, Card
from app.widgets.choice import Choice
from app.wording import figures, salt_name
from app.wording import titration as say

if TYPE_CHECKING:
    from core.plan.titration import Titration

LEAST_CURVE = 200
WORDS_LINES = 4


class TitrationCard(Card):
    """Shows one titration.

    Signals
    -------
    explained : what the point under the cursor is.
    chosen : the acid or base to look at instead.
    """

    explained = Signal(str)
    chosen = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.title())
        self.choice = Choice(self, say.choice_name())
        self.choice.chosen.connect(self.chosen)
        self.curve = TitrationCurve(self)
        self.curve.explained.connect(self.explained)
        self._words = QLabel(self)
        self._words.setWordWrap(True)
        self._words.setFont(theme.small())
        self._words.setForegroundRole(QPalette.ColorRole.WindowText)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._words.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)

    def show_titration(self, looked: Looked) -> None:
        """Show what was found."""
        curve = looked.titration
        self.choice.set_pairs([(offer.key, say.offered(_name(offer), offer.on_shelf)) for offer in looked.offers])
        if curve is not None:
            self.set_title(say.title(curve.is_base))
            self.choice.set_key(curve.acid_id)
            self._say(curve)
        self.curve.set_curve(curve)
        self._arrange()

    def words(self) -> str:
        """Return what is said below the curve."""
        return self._words.text()

    def least_height(self, width: int) -> int:
        return self.body_top + theme.px(36 + LEAST_CURVE + 14) + self._words_height()

    def _say(self, curve: Titration) -> None:
        text = say.sentences(curve)
        if text != self._words.text():
            self._words.setText(text)
            self._words.setAccessibleName(text)

    def _words_height(self) -> int:
        return WORDS_LINES * theme.small().height() + theme.px(6)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        pad, inner = theme.px(PAD), self.width() - 2 * theme.px(PAD)
        wide = min(inner, self.choice.sizeHint().width())
        self.choice.setGeometry(pad, self.body_top, wide, self.choice.height())
        below = max(self._words_height(), self._words.heightForWidth(inner))
        top = self.body_top + theme.px(36)
        height = max(0, self.height() - top - below - theme.px(14))
        self.curve.setGeometry(theme.px(8), top, self.width() - theme.px(16), height)
        self._words.setGeometry(pad, top + height + theme.px(6), inner, below)


def _name(offer: Offer) -> str:
    name = salt_name(offer.salt)
    if offer.strength_percent is None or offer.strength_percent >= 100.0:
        return name
    return f"{name} {figures.strength(offer.strength_percent)}"
