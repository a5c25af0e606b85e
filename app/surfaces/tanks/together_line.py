"""What if everything went into one tank: worked out only while somebody looks at it."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QWidget

from app.widgets import paint, theme
from app.widgets.link_button import LinkButton
from app.wording import tanks as say
from core.plan.records import Plan
from core.recipe.records import Recipe

LINK, PAD = 30, 14


class TogetherLine(QWidget):
    """A question that unfolds its answer.

    Signals
    -------
    height_changed : the answer was unfolded or folded up.
    """

    height_changed = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._asked: tuple[Recipe, Plan] | None = None
        self.link = LinkButton(self, unfolds=True)
        self.link.set_text(say.together_link())
        self._words = QLabel(self)
        self._words.setFont(theme.font())
        self._words.setWordWrap(True)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._words.hide()
        self.link.toggled.connect(self._unfold)

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Take the newest plan; it is worked on only where the answer is in view."""
        self._asked = (recipe, plan)
        if self.link.isChecked():
            self._answer()

    def words(self) -> str:
        """Return the answer in view, or nothing."""
        return "" if self._words.isHidden() else self._words.text()

    def _unfold(self, unfolded: bool) -> None:
        if unfolded:
            self._answer()
        self._words.setVisible(unfolded)
        self.height_changed.emit()

    def _answer(self) -> None:
        if self._asked is None:
            return
        from core.plan.together import together

        recipe, plan = self._asked
        found = together(recipe, plan)
        self._words.setText(say.together_words(found, recipe.batch.tank_volume_l))
        self.link.setAccessibleDescription(self._words.text())

    def height_for(self, width: int) -> int:
        """Return the height it needs at a width [px]."""
        folded = theme.px(LINK + 6)
        if self._words.isHidden():
            return folded
        return folded + self._words.heightForWidth(width - 2 * theme.px(PAD)) + theme.px(10)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        pad = theme.px(PAD)
        self.link.move(pad - theme.px(6), theme.px(4))
        self._words.setGeometry(pad, theme.px(LINK + 2), self.width() - 2 * pad, self.height() - theme.px(LINK + 8))

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours = theme.colours()
        paint.panel(QPainter(self), QRectF(self.rect()), colours.card, colours.line, theme.px(theme.RADIUS))
