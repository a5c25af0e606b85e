"""The controls, a card per tank, why each salt stands where it does, and what one tank for all would do."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QPalette, QResizeEvent
from PySide6.QtWidgets import QApplication, QFrame, QLabel, QMenu, QScrollArea, QWidget

from app.session.session import Session
from app.surfaces.tanks import changes
from app.surfaces.tanks.content_row import ContentRow
from app.surfaces.tanks.controls import Controls
from app.surfaces.tanks.tank_card import TankCard
from app.surfaces.tanks.together_line import TogetherLine
from app.widgets import theme
from app.widgets.slim_bar import slim
from app.wording import surfaces as phrases
from app.wording import tanks as say
from core.plan.records import Plan
from core.recipe.records import Recipe

MARGIN, WHY = 14, 34
LEAST_CARD, MOST_CARD = 370, 640


class TanksSurface(QWidget):
    """Keeps a card per tank and shows as many as the plan has; a salt moved keeps the keyboard."""

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent)
        self._session = session
        self._shown: tuple[Recipe, Plan] | None = None
        self._follow: tuple[str, Qt.FocusReason] | None = None
        self.setAccessibleName(phrases.surface("tanks"))
        self._scroll = QScrollArea(self)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        slim(self._scroll)
        self._page = QWidget()
        self._scroll.setWidget(self._page)
        self.controls = Controls(self._page, session)
        self.cards: list[TankCard] = []
        self.together = TogetherLine(self._page)
        self.together.height_changed.connect(self._arrange)
        self._why = QLabel(say.why_hint(), self)
        self._why.setFont(theme.font(12.5))
        self._why.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self._why.setWordWrap(True)
        self._ghost = QLabel(self)
        self._ghost.setFont(theme.font(strong=True))
        self._ghost.setAutoFillBackground(True)
        self._ghost.setMargin(theme.px(4))
        self._ghost.hide()

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Show the plan's tanks."""
        self._shown = (recipe, plan)
        while len(self.cards) < len(plan.tanks):
            self.cards.append(TankCard(self._page, len(self.cards), self._connect))
            QWidget.setTabOrder(self.cards[-1], self.together.link)
        for number, card in enumerate(self.cards):
            if number < len(plan.tanks):
                card.show_tank(recipe, plan, plan.tanks[number])
            card.setVisible(number < len(plan.tanks))
        self.controls.show_plan(recipe, plan)
        self.together.show_plan(recipe, plan)
        self._arrange()
        if self._follow is not None:
            self._focus_row(*self._follow)

    def row_of(self, entry_id: str) -> ContentRow | None:
        """Return the row of a product, the first where it stands in two tanks."""
        return next((card.rows[entry_id] for card in self._in_view() if entry_id in card.rows), None)

    def why(self) -> str:
        """Return what is said of the salt pointed at."""
        return self._why.text()

    def _in_view(self) -> list[TankCard]:
        return self.cards[: len(self._shown[1].tanks)] if self._shown is not None else []

    def _connect(self, row: ContentRow, card: TankCard) -> None:
        row.moved.connect(lambda by: self._move_beside(row, card, by))
        row.released.connect(lambda: self._pin(row, None))
        row.menu_wanted.connect(lambda where: self.menu(row, card).popup(where))
        row.pointed.connect(lambda told: self._why.setText(told or self._told_of_focus()))
        row.dragged.connect(lambda where: self._drag(row, where))
        row.dropped.connect(lambda where: self._drop(row, card, where))

    def _told_of_focus(self) -> str:
        focused = QApplication.focusWidget()
        return focused.told() if isinstance(focused, ContentRow) else say.why_hint()

    def menu(self, row: ContentRow, card: TankCard) -> QMenu:
        """Return what can be done with a salt: move it, keep it, let the program choose."""
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        if self._shown is not None:
            for target in changes.targets(*self._shown):
                here = target.letter == card.letter
                words = say.pin_here() if here else say.move_to(target.content)
                action = menu.addAction(words)
                action.setEnabled(not (here and row.pinned))
                action.triggered.connect(partial(self._pin, row, target.letter))
        menu.addSeparator()
        release = menu.addAction(say.release())
        release.setEnabled(row.pinned)
        release.triggered.connect(partial(self._pin, row, None))
        return menu

    def _move_beside(self, row: ContentRow, card: TankCard, by: int) -> None:
        if self._shown is not None:
            letter = changes.beside(changes.targets(*self._shown), card.letter, by)
            if letter is not None:
                self._pin(row, letter)

    def _pin(self, row: ContentRow, letter: str | None, _checked: bool = False) -> None:
        recipe = self._session.recipe
        if recipe is None:
            return
        self._follow = (row.entry_id, Qt.FocusReason.OtherFocusReason)
        changed = changes.with_pin(recipe, row.entry_id, letter)
        self._session.push(say.move_edit(row.product), ("tanks", "pins", row.entry_id), changed)

    def _focus_row(self, entry_id: str, reason: Qt.FocusReason) -> None:
        self._follow = None
        row = self.row_of(entry_id)
        if row is not None:
            row.setFocus(reason)
            self._scroll.ensureWidgetVisible(row)

    def _drag(self, row: ContentRow, where: QPoint) -> None:
        over = self._card_at(where)
        for card in self._in_view():
            card.set_target(card is over and row.entry_id not in card.rows)
        self._ghost.setText(row.product)
        self._ghost.adjustSize()
        self._ghost.move(self.mapFromGlobal(where) + QPoint(theme.px(12), theme.px(8)))
        self._ghost.show()
        self._ghost.raise_()

    def _drop(self, row: ContentRow, card: TankCard, where: QPoint) -> None:
        self._ghost.hide()
        over = self._card_at(where)
        for one in self._in_view():
            one.set_target(False)
        if over is not None and over is not card:
            self._pin(row, over.letter)

    def _card_at(self, where: QPoint) -> TankCard | None:
        spot = self._page.mapFromGlobal(where)
        return next((card for card in self._in_view() if card.geometry().contains(spot)), None)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        margin, gap, why = theme.px(MARGIN), theme.px(theme.GAP), theme.px(WHY)
        self._scroll.setGeometry(0, 0, self.width(), self.height() - why)
        self._why.setGeometry(margin, self.height() - why, self.width() - 2 * margin, why - theme.px(4))
        inner = self.width() - 2 * margin
        tall = self.controls.height_for(inner)
        self.controls.setGeometry(margin, margin, inner, tall)
        top = margin + tall + gap
        shown = self._in_view()
        columns = max(1, min(len(shown), (inner + gap) // (theme.px(LEAST_CARD) + gap)))
        width = (inner - gap * (columns - 1)) // columns
        for start in range(0, len(shown), columns):
            row = shown[start : start + columns]
            height = max(card.least_height(width) for card in row)
            for number, card in enumerate(row):
                card.setGeometry(QRect(margin + number * (width + gap), top, width, height))
            top += height + gap
        tall = self.together.height_for(inner)
        self.together.setGeometry(margin, top, inner, tall)
        self._page.resize(self._scroll.viewport().width(), top + tall + margin)
