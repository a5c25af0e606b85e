"""Compare: variants in a table, what differs in words, cost against fit; empty, what it is for and how to begin."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.session.comparing import Comparing
from app.session.session import Session
from app.session.side_by_side import Column, Held, Looked, Sensitivity
from app.surfaces.compare.bar import ActsBar, WaysBar
from app.surfaces.compare.rows import head_of
from app.surfaces.compare.side import Side
from app.surfaces.compare.table import CompareTable
from app.widgets import icons, paint, theme
from app.widgets.main_button import MainButton
from app.wording import comparing as say
from app.wording import surfaces
from app.wording.refusals import refusal
from core.plan.records import Plan
from core.recipe import RecipeError
from core.recipe.records import Recipe

MARGIN = 14
BOTH_FROM, TABLE_SHARE = 800, 0.56
EMPTY_WAYS = ("goals", "file")


class CompareSurface(QWidget):
    """Shows what is held beside the recipe; works it out only while it is looked at.

    Signals
    -------
    editor_wanted : the sheet a button leads to.
    file_wanted : a recipe file is to be chosen and added.
    open_wanted, save_wanted : a `Held` is to be the recipe, or to be saved.
    """

    editor_wanted = Signal(str)
    file_wanted = Signal()
    open_wanted = Signal(object, object)
    save_wanted = Signal(object, object)

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent)
        self.setAccessibleName(surfaces.surface("compare"))
        self.setAcceptDrops(True)
        self._session = session
        self._to_words = False
        self.comparing: Comparing = session.comparing
        self.begin = {name: MainButton(self, quiet=name != "goals") for name in EMPTY_WAYS}
        for name, button in self.begin.items():
            button.set_text(say.way(name)[0])
            button.setToolTip(say.way(name)[1])
            button.setAccessibleDescription(say.way(name)[1])
            button.clicked.connect(lambda _checked=False, name=name: self._go(name))
        self.ways = WaysBar(self)
        self.ways.wanted.connect(self._go)
        self.ways.cancelled.connect(self.comparing.cancel)
        self.ways.turned.connect(self._turn)
        self.acts = ActsBar(self)
        self.acts.wanted.connect(self._do)
        self.acts.renamed.connect(lambda name: self.comparing.rename(self._held().number, name.strip()))
        self.table = CompareTable(self)
        self.table.chosen.connect(self._choose)
        self.table.open_wanted.connect(lambda: self._do("open"))
        self.table.remove_wanted.connect(lambda: self._do("remove"))
        self.side = Side(self)
        self.side.prices_wanted.connect(lambda: self.editor_wanted.emit("shelf"))
        self.side.use.changed.connect(self.comparing.set_use)
        self._listen()

    def _listen(self) -> None:
        self.comparing.changed.connect(self._arrange)
        self.comparing.looked.connect(self._show)
        self.comparing.sensed.connect(self._show_sensitivity)
        self.comparing.failed.connect(lambda reason: self._say(say.failed(reason)))
        self.comparing.busy_changed.connect(self._say_busy)

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Compare with the recipe as it is now."""
        self._arrange()
        if len(self.comparing.held) > 1:
            self.comparing.refresh()

    def add_files(self, paths: list[Path]) -> None:
        """Hold these files; what is refused is said."""
        for path in paths:
            try:
                self.comparing.add_file(path)
            except RecipeError as error:
                self._say(say.cannot_add(refusal(error)))

    def columns(self) -> tuple[Column, ...]:
        """Return the variants in view."""
        return () if self.comparing.found is None else self.comparing.found.columns

    def _empty(self) -> bool:
        return len(self.comparing.held) < 2 and not self.comparing.maker.busy()

    def _go(self, way: str) -> None:
        if way == "goals":
            self.comparing.add_goals()
        elif way == "keep":
            self.comparing.keep(say.variant_name(self.comparing.next_variant()))
        elif way == "adapt":
            self.editor_wanted.emit("adapt")
        else:
            self.file_wanted.emit()

    def _do(self, act: str) -> None:
        held, columns = self._held(), self.columns()
        if act == "copy":
            self.table.copy()
        elif act == "remove":
            self.comparing.remove(held.number)
        elif columns and held.kind != "open":
            signal = self.open_wanted if act == "open" else self.save_wanted
            signal.emit(held, columns[self.table.compared.chosen].recipe)

    def _held(self) -> Held:
        columns = self.columns()
        return columns[self.table.compared.chosen].held if columns else self.comparing.held[0]

    def _show(self, looked: Looked) -> None:
        before = {column.held.number for column in self._shown}
        self._shown = looked.columns
        self.table.show_columns(looked.columns)
        new = [number for number, column in enumerate(looked.columns) if column.held.number not in before]
        if new and before:
            self.table.choose(new[-1])
        elif new and len(looked.columns) > 1:
            self.table.choose(1)
        self._tell()
        self._arrange()

    _shown: tuple[Column, ...] = ()

    def _choose(self, _column: int) -> None:
        if self.comparing.found is not None and self._shown is self.comparing.found.columns:
            self._tell()

    def _tell(self) -> None:
        looked = self.comparing.found
        if looked is None:
            return
        chosen = min(self.table.compared.chosen, len(looked.columns) - 1)
        column = looked.columns[chosen]
        self.side.show_looked(looked, chosen)
        self.acts.show_held(column.held, head_of(column.held, column.recipe.title, column.recipe.goal)[0])
        self._arrange()
        self.comparing.sense(column)

    def _show_sensitivity(self, found: Sensitivity) -> None:
        held = self._held()
        if found.number == held.number and self.comparing.found is not None:
            self.side.show_sensitivity(found, self.columns()[self.table.compared.chosen].recipe.currency)

    def _say_busy(self, busy: bool) -> None:
        self.ways.say_busy(busy)
        self._arrange()

    def _say(self, text: str) -> None:
        self.ways.say(text)
        self._arrange()

    def _turn(self) -> None:
        self._to_words = not self._to_words
        self._arrange()

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        empty, there = self._empty(), len(self._shown) > 1 and not self._empty()
        margin, gap = theme.px(MARGIN), theme.px(theme.GAP)
        inner = self.width() - 2 * margin
        both = inner >= theme.px(BOTH_FROM)
        self.ways.show_only([name for name in say.WAYS if not empty or name not in EMPTY_WAYS])
        self.ways.show_turn(None if both or not there else not self._to_words)
        for button in self.begin.values():
            button.setVisible(empty)
        top = margin // 2
        tall = self.ways.height_for(inner)
        self.ways.setGeometry(margin, top, inner, tall)
        top += tall + margin // 2
        table, words = there and (both or not self._to_words), there and (both or self._to_words)
        for part, shown in ((self.table, table), (self.acts, table), (self.side, words)):
            part.setVisible(shown)
        wide = round(inner * TABLE_SHARE) if both else inner
        self._card = QRectF(margin, top, wide, self.height() - top - margin) if table else QRectF()
        self._place_table(wide, top)
        left = margin + wide + gap if both else margin
        self.side.setGeometry(left, top, self.width() - left - margin // 2, self.height() - top - margin)
        self._place_begin()
        self.update()

    _card = QRectF()

    def _place_table(self, wide: int, top: int) -> None:
        margin, pad = theme.px(MARGIN), theme.px(8)
        tall = self.acts.height_for(wide - 2 * pad)
        self.acts.setGeometry(margin + pad, top + pad // 2, wide - 2 * pad, tall)
        below = top + pad + tall
        self.table.setGeometry(margin + pad, below, wide - 2 * pad, self.height() - below - margin - pad)

    def _about(self) -> QRectF:
        width = min(theme.px(520), self.width() - theme.px(48))
        return QRectF((self.width() - width) / 2, self.height() * 0.32, width, theme.px(64))

    def _place_begin(self) -> None:
        """Put the two buttons below what Compare is for, beside or below each other."""
        words, gap = self._about(), theme.px(10)
        sizes = [button.sizeHint() for button in self.begin.values()]
        whole = sum(size.width() for size in sizes) + gap
        beside = whole <= self.width() - theme.px(32)
        left, top = (self.width() - whole) // 2, round(words.bottom()) + theme.px(14)
        for button, size in zip(self.begin.values(), sizes, strict=True):
            if not beside:
                left = (self.width() - size.width()) // 2
            button.setGeometry(left, top, size.width(), size.height())
            left += size.width() + gap
            top += 0 if beside else size.height() + gap

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        if not self._card.isEmpty():
            paint.panel(painter, self._card, colours.card, colours.line, theme.px(theme.RADIUS))
        if self._empty():
            words, side = self._about(), theme.px(44)
            place = QRectF((self.width() - side) / 2, words.top() - side - theme.px(14), side, side)
            icons.draw(painter, "compare", place, colours.muted)
            paint.paragraph(painter, words, say.about(), theme.font(14), colours.text, paint.TOP_CENTRE)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().urls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        self.add_files([Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()])
