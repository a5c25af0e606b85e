"""The controls, a card per tank, why each salt stands where it does, and what one tank for all would do."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from itertools import pairwise

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QPalette, QResizeEvent
from PySide6.QtWidgets import QApplication, QFrame, QLabel, QMenu, QScrollArea, QWidget

from app.session.session import Session
from app.surfaces.tanks import changes
from app.surfaces.tanks.content_row import ContentRow
from app.surfaces.tanks.controls import Controls
from app.surfaces.tanks.moves import Company, Moves, fellows_of
from app.surfaces.tanks.tank_card import TankCard
from app.surfaces.tanks.together_line import TogetherLine
from app.widgets import theme
from app.widgets.slim_bar import slim
from app.wording import salt_name
from app.wording import surfaces as phrases
from app.wording import tanks as say
from core.plan.records import Plan
from core.recipe.records import Recipe

MARGIN, WHY = 14, 20
LEAST_CARD, MOST_CARD = 370, 900


class TanksSurface(QWidget):
    """Keeps a card per tank and shows as many as the plan has; a salt moved keeps the keyboard."""

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent)
        self._session = session
        self._shown: tuple[Recipe, Plan] | None = None
        self._follow: str | None = None
        self._company: Company | None = None
        self._moves = Moves()
        session.opened.connect(self._forget)
        self._edit = 0
        self._before: Plan | None = None
        self._order: tuple[tuple[str, ...], ...] = ()
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
        self.together.height_changed.connect(self._show_together)
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
        came = self._moved_along(plan)
        self._shown = (recipe, plan)
        self._keep_company(recipe, plan)
        focused = QApplication.focusWidget()
        if self._follow is None and isinstance(focused, ContentRow):
            self._follow = focused.entry_id
        while len(self.cards) < len(plan.tanks):
            self.cards.append(TankCard(self._page, len(self.cards), self._connect))
        for number, card in enumerate(self.cards):
            if number < len(plan.tanks):
                card.show_tank(recipe, plan, plan.tanks[number], came, self._leader_in(recipe))
            card.setVisible(number < len(plan.tanks))
        self.controls.show_plan(recipe, plan)
        self.together.show_plan(recipe, plan)
        self._arrange()
        self._order_by_tab()
        if self._follow is not None:
            self._focus_row(self._follow)
        self._why.setText(self._told_of_focus())

    def _moved_along(self, plan: Plan) -> dict[tuple[str, str], str]:
        """What the last edit moved between tanks, however many plans were shown while it was typed."""
        edit = self._session.edits.index()
        if edit != self._edit or self._shown is None:
            self._edit, self._before = edit, None if self._shown is None else self._shown[1]
        if self._before is None or not self._session.edits.count():
            return {}
        return changes.moved_along(self._before, plan)

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

    def _leader_in(self, recipe: Recipe) -> Callable[[str], str]:
        """The name of the product whose move pinned another along, by that other's entry; nothing for pins of hers."""

        def leader(key: str) -> str:
            salts = {entry.key: entry.salt for entry in recipe.shelf}
            found = self._moves.leader(key, recipe.tanks.pins)
            return salt_name(salts[found]) if found in salts else ""

        return leader

    def _move_beside(self, row: ContentRow, card: TankCard, by: int) -> None:
        if self._shown is not None:
            letter = changes.beside(changes.targets(*self._shown), self._letter_of(row, card.letter), by)
            if letter is not None:
                self._pin(row, letter)

    def _letter_of(self, row: ContentRow, shown: str) -> str:
        """The tank a salt was sent to last, which the tanks in view may not show yet."""
        recipe = self._session.recipe
        return shown if recipe is None else recipe.tanks.pins.get(row.entry_id, shown)

    def _pin(self, row: ContentRow, letter: str | None, _checked: bool = False) -> None:
        recipe, self._follow, self._company = self._session.recipe, row.entry_id, None
        if recipe is None or self._shown is None:
            return
        key, product, pins = row.entry_id, row.product, recipe.tanks.pins
        if letter is None:
            self._push(key, product, self._moves.release(key, pins))
            return
        origin = next((card.letter for card in self._in_view() if card.rows.get(key) is row), letter)
        wanted, back = self._moves.move(key, self._letter_of(row, origin), letter, pins)
        there = next((card.shown for card in self._in_view() if card.letter == letter), ())
        beside = None if back else next((other for other in there if other != key), None)
        self._push(key, product, wanted)
        self._company = Company(key, product, letter, fellows_of(self._shown[1], key), beside)

    def _keep_company(self, recipe: Recipe, plan: Plan) -> None:
        """Pin what a moved salt was to stand beside, too, where the tanks only changed their letters instead."""
        company, pins = self._company, recipe.tanks.pins
        if company is None or recipe is not self._session.recipe:
            return
        self._company = None
        there = {content.entry_id for tank in plan.tanks if tank.name == company.letter for content in tank.contents}
        wanted: dict[str, str | None] = {}
        if company.entry_id not in there:
            wanted = {company.entry_id: company.letter}  # taken back, but the tanks are no longer what they were
        elif company.beside is not None and company.beside not in there and company.still_stands(plan):
            self._moves.join(company.entry_id, company.beside, company.letter, pins)
            wanted = {company.beside: company.letter}
        if wanted:
            self._push(company.entry_id, company.product, wanted)

    def _forget(self) -> None:
        self._company = None
        self._moves.forget()

    def _push(self, entry_id: str, product: str, pins: Mapping[str, str | None]) -> None:
        recipe = self._session.recipe
        if recipe is not None:
            for key, letter in pins.items():
                recipe = changes.with_pin(recipe, key, letter)
            self._session.push(say.move_edit(product), ("tanks", "pins", entry_id), recipe)

    def _focus_row(self, entry_id: str) -> None:
        self._follow = None
        row, focused = self.row_of(entry_id), QApplication.focusWidget()
        kept = isinstance(focused, ContentRow) and focused.entry_id == entry_id and focused.isVisible()
        if row is not None and not kept:
            row.setFocus(Qt.FocusReason.OtherFocusReason)
            self._scroll.ensureWidgetVisible(row)

    def _order_by_tab(self) -> None:
        """Let the keyboard walk the controls, then every tank from the top, then the question below them."""
        order = tuple(card.shown for card in self._in_view())
        if order != self._order:
            self._order = order
            rows = [card.rows[key] for card in self._in_view() for key in card.shown]
            for before, after in pairwise([self.controls.use, *rows, self.together.link]):
                QWidget.setTabOrder(before, after)

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

    def _show_together(self) -> None:
        """Make room for the answer, and bring the whole of it into view once it is unfolded."""
        self._arrange()
        if self.together.words():
            end, tall = self.together.geometry().bottom() + theme.px(MARGIN), self._scroll.viewport().height()
            bar = self._scroll.verticalScrollBar()
            bar.setValue(max(bar.value(), min(end - tall, self.together.y())))

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        margin, gap = theme.px(MARGIN), theme.px(theme.GAP)
        why = max(theme.px(WHY), self._why.heightForWidth(self.width() - 2 * margin) + theme.px(4))
        self._scroll.setGeometry(0, 0, self.width(), self.height() - why)
        self._why.setGeometry(margin, self.height() - why, self.width() - 2 * margin, why)
        inner = self.width() - 2 * margin
        tall = self.controls.height_for(inner)
        self.controls.setGeometry(margin, margin, inner, tall)
        top = margin + tall + gap
        shown = self._in_view()
        columns = max(1, min(len(shown), (inner + gap) // (theme.px(LEAST_CARD) + gap)))
        width = min(theme.px(MOST_CARD), (inner - gap * (columns - 1)) // columns)
        for start in range(0, len(shown), columns):
            row = shown[start : start + columns]
            height = max(card.least_height(width) for card in row)
            for number, card in enumerate(row):
                card.setGeometry(QRect(margin + number * (width + gap), top, width, height))
            top += height + gap
        tall = self.together.height_for(inner)
        self.together.setGeometry(margin, top, inner, tall)
        self._page.resize(self._scroll.viewport().width(), top + tall + margin)
