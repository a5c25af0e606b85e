"""Places the cards of the Design surface and keeps the cautions below them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from app.session.session import Session
from app.surfaces.design.aim_card import AimCard
from app.surfaces.design.ions_card import IonsCard
from app.surfaces.design.salts_card import SaltsCard
from app.surfaces.design.tanks_card import TanksCard
from app.widgets import theme
from app.widgets.caution_strip import LEAST_LINES, SHOWN_AT_MOST, CautionStrip
from app.widgets.slim_bar import slim
from app.wording import chemistry as chemistry_words
from app.wording import editors as edit_words
from core.plan.records import Plan
from core.recipe.records import Recipe

if TYPE_CHECKING:
    from app.surfaces.chemistry import ChemistryPanel

TWO_COLUMNS_FROM = 740
AIM_SHARE, AIM_SHARE_NARROW = 0.47, 0.43
NARROW_BELOW = 1000
MARGIN = 14


class DesignSurface(QWidget):
    """Two columns of cards, one where the window is narrow; what does not fit scrolls, the cautions stay.

    Signals
    -------
    editor_wanted : the editor a card leads to.
    """

    editor_wanted = Signal(str)

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent)
        self._scroll = QScrollArea(self)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        slim(self._scroll)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._page = QWidget()
        self._scroll.setWidget(self._page)
        self.aim = AimCard(self._page, session)
        self.salts = SaltsCard(self._page, session)
        self.ions = IonsCard(self._page)
        self.tanks = TanksCard(self._page)
        for name, card in (("aim", self.aim), ("shelf", self.salts), ("tanks", self.tanks)):
            card.add_link(edit_words.link(name), edit_words.menu(name)[1]).clicked.connect(
                lambda _checked=False, name=name: self.editor_wanted.emit(name)
            )
        self.salts.editor_wanted.connect(self.editor_wanted)
        self.chemistry_link = self.ions.add_link(chemistry_words.link(), chemistry_words.link_tip())
        self.chemistry_link.clicked.connect(self.open_chemistry)
        self.chemistry: ChemistryPanel | None = None
        self._session = session
        self.cautions = CautionStrip(self)
        self.salts.height_changed.connect(self._arrange)
        self.cautions.height_changed.connect(self._settle_cautions)
        self._foot = QRect()
        self._given: tuple[int, ...] = ()

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Show the plan in place; only what changed is painted anew."""
        self.aim.show_plan(recipe, plan)
        self.salts.show_plan(recipe, plan)
        self.tanks.show_plan(recipe, plan)
        self.ions.show_plan(plan)
        self.cautions.set_cautions(plan.cautions)
        if self.chemistry is not None and not self.chemistry.isHidden():
            self.chemistry.show_recipe(recipe)
        if self._needs() != self._given:
            self._arrange()

    def open_chemistry(self) -> None:
        """Show the chemistry of the feed in place of the cards, built when it is first looked at."""
        if self._session.recipe is None or (self.chemistry is not None and not self.chemistry.isHidden()):
            return
        if self.chemistry is None:
            from app.surfaces.chemistry import ChemistryPanel

            self.chemistry = ChemistryPanel(self, self._session.behind)
            self.chemistry.closed.connect(self.close_chemistry)
        self.chemistry.setGeometry(self.rect())
        self.chemistry.show_recipe(self._session.recipe)
        self.chemistry.show()
        self._scroll.hide()
        self.cautions.hide()
        self.chemistry.begin()

    def close_chemistry(self) -> None:
        """Show the cards again; the keyboard goes back to the link that led away."""
        if self.chemistry is None or self.chemistry.isHidden():
            return
        self._scroll.show()
        self.cautions.show()
        self.chemistry.hide()
        self.chemistry_link.setFocus(Qt.FocusReason.OtherFocusReason)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()
        if self.chemistry is not None:
            self.chemistry.setGeometry(self.rect())

    def _needs(self) -> tuple[int, ...]:
        """Return all that the arrangement depends on."""
        inner = self.width() - 2 * theme.px(MARGIN)
        left, right = self._columns(inner)
        cards = (self.aim.least_height(left), self._right_least(right))
        return (self.width(), self.height(), *cards)

    def _arrange(self) -> None:
        margin, gap = theme.px(MARGIN), theme.px(theme.GAP)
        inner = self.width() - 2 * margin
        strip = self._fit_cautions(self.height() - self._least(inner) - 2 * margin - gap)
        room = self.height() - 2 * margin - strip - gap
        page_height = self._place_cards(inner, room)
        shown = min(room, page_height)
        self._scroll.setGeometry(0, margin, self.width(), shown)
        self._foot = QRect(margin, margin, inner, shown + gap + strip)
        self._settle_cautions()
        self._given = self._needs()

    def _settle_cautions(self) -> None:
        """Let what the cautions need beyond their place lie over the cards: those stay where they are."""
        self.cautions.settle(self._foot)

    def _fit_cautions(self, room: int) -> int:
        for lines in range(SHOWN_AT_MOST, LEAST_LINES - 1, -1):
            self.cautions.set_room(lines)
            if self.cautions.reserved() <= room:
                break
        return self.cautions.reserved()

    def _least(self, inner: int) -> int:
        if inner < theme.px(TWO_COLUMNS_FROM):
            return 10**6
        left, right = self._columns(inner)
        return max(self.aim.least_height(left), self._right_least(right))

    def _columns(self, inner: int) -> tuple[int, int]:
        gap = theme.px(theme.GAP)
        left = int((inner - gap) * (AIM_SHARE if inner >= theme.px(NARROW_BELOW) else AIM_SHARE_NARROW))
        return left, inner - gap - left

    def _below_least(self, right: int) -> int:
        gap = theme.px(theme.GAP)
        half = (right - gap) // 2
        return max(self.ions.least_height(half), self.tanks.least_height(right - gap - half))

    def _right_least(self, right: int) -> int:
        return self.salts.least_height(right) + theme.px(theme.GAP) + self._below_least(right)

    def _place_cards(self, inner: int, room: int) -> int:
        margin = theme.px(MARGIN)
        if inner < theme.px(TWO_COLUMNS_FROM):
            height = self._place_one_column(margin, inner)
        else:
            height = self._place_two_columns(margin, inner, room)
        bar = self._scroll.verticalScrollBar().sizeHint().width() if height > room else 0
        self._page.resize(self.width() - bar, height)
        return height

    def _place_two_columns(self, margin: int, inner: int, room: int) -> int:
        gap = theme.px(theme.GAP)
        left, right = self._columns(inner)
        least = max(self.aim.least_height(left), self._right_least(right))
        height = max(least, min(room, self.aim.most_height(left)))
        below = self._below_least(right)
        salts = height - gap - below
        salts = min(salts, max(self.salts.most_height(right), self.salts.least_height(right)))
        below = height - gap - salts
        self.aim.setGeometry(margin, 0, left, min(height, self.aim.most_height(left)))
        x = margin + left + gap
        self.salts.setGeometry(x, 0, right, salts)
        half = (right - gap) // 2
        self.ions.setGeometry(x, salts + gap, half, below)
        self.tanks.setGeometry(x + half + gap, salts + gap, right - gap - half, below)
        return height

    def _place_one_column(self, margin: int, inner: int) -> int:
        top = 0
        for card in (self.aim, self.salts, self.tanks, self.ions):
            height = card.least_height(inner)
            card.setGeometry(margin, top, inner, height)
            top += height + theme.px(theme.GAP)
        return top - theme.px(theme.GAP)
