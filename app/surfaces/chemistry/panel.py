"""The feed's chemistry in place of the recipe: figures, forms, titration, and what is pointed at explained."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QWidget

from app.surfaces.chemistry.explained import FIGURE_HEIGHT, ExplanationLine, FigureTile
from app.surfaces.chemistry.forms_card import FormsCard
from app.surfaces.chemistry.looking import Behind, Looked, Looking
from app.surfaces.chemistry.titration_card import TitrationCard
from app.widgets import paint, theme
from app.widgets.link_button import LinkButton
from app.widgets.slim_bar import slim
from app.wording import chemistry as say
from app.wording import chemistry_figures as figure_words
from core.recipe.records import Recipe

if TYPE_CHECKING:
    from core.plan.chemistry_details import FeedChemistry

MARGIN, HEAD = 14, 38
LEAST_TILE = 172
TWO_CARDS_FROM = 760
FORMS_SHARE = 0.52


class ChemistryPanel(QWidget):
    """Asks for the chemistry only while it is looked at.

    Signals
    -------
    closed : it wants to be closed.
    """

    closed = Signal()

    def __init__(self, parent: QWidget, behind: Behind) -> None:
        super().__init__(parent)
        self.setAccessibleName(say.title())
        self.back = LinkButton(self)
        self.back.set_text(say.back())
        self.back.clicked.connect(self.closed)
        self._scroll = QScrollArea(self)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        slim(self._scroll)
        self._page = QWidget()
        self._scroll.setWidget(self._page)
        self.tiles = [FigureTile(self._page, heading) for heading in figure_words.figure_headings()]
        self.forms = FormsCard(self._page)
        self.titration = TitrationCard(self._page)
        self.line = ExplanationLine(self)
        for tile in self.tiles:
            tile.explained.connect(self.line.say)
        self.forms.explained.connect(self.line.say)
        self.titration.explained.connect(self.line.say)
        self._instead = QLabel(say.working(), self)
        self._instead.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._instead.setWordWrap(True)
        self.looking = Looking(self, behind)
        self.looking.looked.connect(self._show)
        self.titration.chosen.connect(self._choose)
        self._acid = ""
        self._recipe: Recipe | None = None
        self._show_instead(say.working())

    def show_recipe(self, recipe: Recipe) -> None:
        """Show the chemistry of this recipe's feed as soon as it is worked out."""
        if recipe != self._recipe:
            self._recipe = recipe
            self.looking.ask(recipe, self._acid)

    def begin(self) -> None:
        """Take the keyboard."""
        self.back.setFocus(Qt.FocusReason.OtherFocusReason)

    def _choose(self, acid: str) -> None:
        self._acid = acid
        if self._recipe is not None:
            self.looking.ask(self._recipe, acid)

    def _show(self, looked: Looked) -> None:
        if looked.chemistry is None:
            self._show_instead(say.beyond(looked.fault))
            return
        self._instead.hide()
        self._scroll.show()
        self._show_figures(looked.chemistry, looked.alkalinity_meq_per_l)
        self.forms.show_chemistry(looked.chemistry)
        self.titration.show_titration(looked)
        self._arrange()

    def _show_instead(self, text: str) -> None:
        self._scroll.hide()
        self._instead.setText(text)
        self._instead.setAccessibleName(text)
        self._instead.show()

    def _show_figures(self, told: FeedChemistry, alkalinity_meq_per_l: float) -> None:
        shown = (
            figure_words.ec_figure(told),
            figure_words.ph_figure(told, alkalinity_meq_per_l),
            figure_words.strength_figure(told),
            figure_words.charge_figure(told),
            figure_words.phosphate_figure(told),
            figure_words.iron_figure(told),
        )
        for tile, figure in zip(self.tiles, shown, strict=True):
            tile.set_figure(*figure)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        margin, head = theme.px(MARGIN), theme.px(HEAD)
        inner = self.width() - 2 * margin
        size = self.back.sizeHint()
        left = self.width() - margin - size.width()
        self.back.setGeometry(left, theme.px(8), size.width(), size.height())
        line = self.line.height_for(inner)
        self.line.setGeometry(margin, self.height() - margin - line, inner, line)
        room = self.height() - head - line - margin - theme.px(theme.GAP)
        for fill in (self._scroll, self._instead):
            fill.setGeometry(0, head, self.width(), room)
        self._arrange_page(inner, room)

    def _arrange_page(self, inner: int, room: int) -> None:
        margin, gap = theme.px(MARGIN), theme.px(theme.GAP)
        top = self._place_tiles(inner)
        two = inner >= theme.px(TWO_CARDS_FROM)
        left = int((inner - gap) * FORMS_SHARE) if two else inner
        right = inner - gap - left if two else inner
        least = (self.forms.least_height(left), self.titration.least_height(right))
        if two:
            height = max(*least, room - top)
            self.forms.setGeometry(margin, top, left, height)
            self.titration.setGeometry(margin + left + gap, top, right, height)
            top += height
        else:
            self.titration.setGeometry(margin, top, inner, least[1] + theme.px(40))
            top += self.titration.height() + gap
            self.forms.setGeometry(margin, top, inner, least[0] + theme.px(200))
            top += self.forms.height()
        bar = self._scroll.verticalScrollBar().sizeHint().width() if top > room else 0
        self._page.resize(self.width() - bar, top)

    def _place_tiles(self, inner: int) -> int:
        """Lay the figures out in as few rows as the width takes; return where they end."""
        margin, gap, count = theme.px(MARGIN), theme.px(8), len(self.tiles)
        fits = max(1, (inner + gap) // (theme.px(LEAST_TILE) + gap))
        rows = -(-count // min(fits, count))
        each = -(-count // rows)
        width = (inner - gap * (each - 1)) / each
        for number, tile in enumerate(self.tiles):
            row, place = divmod(number, each)
            top = row * (theme.px(FIGURE_HEIGHT) + gap)
            tile.setGeometry(margin + round(place * (width + gap)), top, int(width), theme.px(FIGURE_HEIGHT))
        return rows * (theme.px(FIGURE_HEIGHT) + gap) + theme.px(theme.GAP) - gap

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.fillRect(self.rect(), colours.window)
        place = QRectF(theme.px(MARGIN + 2), 0, self.width(), theme.px(HEAD))
        paint.text(painter, place, say.title(), theme.font(16, strong=True), colours.text)
