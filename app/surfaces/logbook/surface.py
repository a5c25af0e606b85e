"""One reservoir's diary: a line to type, the plots, the table, and what can be read out of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from msgspec import structs
from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from app.session import clock
from app.session.asking import Asker, Stop
from app.surfaces.logbook.cards import BatchesCard, UptakeCard, WhyCard
from app.surfaces.logbook.diary_card import DiaryCard
from app.surfaces.logbook.empty import Empty
from app.surfaces.logbook.entry_line import EntryLine
from app.surfaces.logbook.head_bar import HeadBar
from app.surfaces.logbook.plots import PlotsCard
from app.surfaces.logbook.reading import Titles, Told, planned_batch, product_names, read_diary
from app.surfaces.logbook.reservoir_form import ReservoirForm
from app.widgets import theme
from app.widgets.card import Card
from app.widgets.slim_bar import slim
from app.wording import figures
from app.wording import logbook as say
from app.wording import logbook_told as of_told
from app.wording import surfaces as phrases
from app.wording.refusals import refusal
from core.recipe import RecipeError

if TYPE_CHECKING:
    from app.session.session import Session
    from core.logbook.records import Entry, Logbook, Reservoir
    from core.logbook.triage_records import Triage
    from core.plan.records import Plan
    from core.recipe.records import Recipe

MARGIN, TWO_FROM, LEFT_SHARE = 14, 1000, 0.66


class LogbookSurface(QWidget):
    """Shows the session's logbook; everything typed is pushed into it, and comes back from there."""

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent)
        self._session = session
        self._book = session.book
        self._name = ""
        self._told: Told | None = None
        self._triage: Triage | None = None
        self._changing: int | None = None
        self._titles: Titles = {}
        self.setAccessibleName(phrases.surface("logbook"))
        self.head = HeadBar(self)
        self._scroll = QScrollArea(self)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        slim(self._scroll)
        self._page = page = QWidget()
        self._scroll.setWidget(page)
        self.form = ReservoirForm(page)
        self.line = EntryLine(page)
        self.plots = PlotsCard(page)
        self.diary = DiaryCard(page)
        self.why = WhyCard(page)
        self.uptake = UptakeCard(page)
        self.batches = BatchesCard(page)
        self.empty = Empty(page)
        self.asker = Asker(self, session.behind)
        self.searcher = Asker(self, session.behind)
        self._connect()
        self._show_book()

    def _connect(self) -> None:
        self._book.changed.connect(self._show_book)
        self.head.chosen.connect(self._choose)
        self.head.add.clicked.connect(lambda: self.open_form(new=True))
        self.head.change.clicked.connect(lambda: self.open_form(new=False))
        self.empty.button.clicked.connect(lambda: self.open_form(new=True))
        self.form.entered.connect(self._take_reservoir)
        self.form.given_up.connect(self._close_form)
        self.line.entered.connect(self._take_entry)
        self.line.given_up.connect(self._stop_changing)
        self.line.planned_wanted.connect(self._take_planned)
        self.line.height_changed.connect(self._arrange)
        self.diary.model.changed.connect(self._change)
        self.diary.table.wanted.connect(self._load)
        self.diary.table.deleted.connect(self._delete)
        self.why.wanted.connect(self._search)
        self.why.changed.connect(self._arrange)
        self.batches.changed.connect(self._arrange)
        self.asker.answered.connect(self._take_told)
        self.asker.failed.connect(lambda reason: self.diary.tell(of_told.not_worked_out(reason)))
        self.searcher.answered.connect(self._take_triage)
        self.searcher.failed.connect(lambda reason: self.diary.tell(of_told.not_worked_out(reason)))

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Show the logbook; the open recipe only lends its water and its tanks."""
        del recipe, plan

    def reservoir(self) -> Reservoir | None:
        """Return the reservoir in view."""
        there = self._book.logbook.reservoirs
        return next((one for one in there if one.name == self._name), there[0] if there else None)

    def idle(self) -> bool:
        """Return whether everything asked for is shown."""
        return all(one.idle() and not one.busy() for one in (self.asker, self.searcher))

    def open_form(self, *, new: bool) -> None:
        """Open the form for another reservoir, or for this one."""
        old = None if new else self.reservoir()
        others = tuple(one.name for one in self._book.logbook.reservoirs if old is None or one.name != old.name)
        recipe = self._session.recipe
        self.empty.hide()
        self.line.hide()
        self.form.begin(old, others, None if recipe is None else recipe.water)
        self._arrange()
        self._scroll.ensureVisible(0, 0)

    def _close_form(self) -> None:
        self.form.hide()
        self._show_book()
        self.begin()

    def begin(self) -> None:
        """Put the keyboard on the one thing to do."""
        if self.reservoir() is None:
            if not self.empty.isHidden():
                self.empty.button.setFocus(Qt.FocusReason.TabFocusReason)
        elif self.form.isHidden():
            self.line.begin()

    def _choose(self, name: str) -> None:
        self._name = name
        self._stop_changing()
        self.line.clear()
        self._show_book()

    def _show_book(self) -> None:
        """Show the logbook as it is now, and have what follows from it worked out."""
        logbook, shown = self._book.logbook, self.reservoir()
        if shown is not None and self._told is not None and shown is self._told.reservoir:
            told: Told | None = self._told
        else:
            told = None
            self._triage = None
            self.searcher.cancel()
        self.head.show_logbook(logbook, "" if shown is None else shown.name, self._book.path.name)
        if shown is None:
            self._told = None
            self.asker.cancel()
        elif told is None or told.batches != logbook.batches:
            self._ask(logbook, shown)
        self._show(logbook, shown)

    def _ask(self, logbook: Logbook, reservoir: Reservoir) -> None:
        titles = dict(self._titles)

        def work(_stop: Stop) -> Told:
            return read_diary(logbook, reservoir, titles)

        self.asker.ask(work)

    def _take_told(self, answer: object) -> None:
        self._told = cast("Told", answer)
        self._titles = self._told.titles
        self._show(self._book.logbook, self.reservoir())

    def _show(self, logbook: Logbook, shown: Reservoir | None) -> None:
        told = self._told if self._told is not None and shown is not None and self._told.reservoir is shown else None
        there = shown is not None
        self.empty.setVisible(not there and self.form.isHidden())
        for part in (self.plots, self.diary, self.why, self.uptake, self.batches):
            part.setVisible(there)
        self.line.setVisible(there and self.form.isHidden())
        if shown is not None:
            poured = [entry.batch_id for entry in shown.entries if entry.batch_id]
            wanted = poured[-1] if poured else logbook.batches[-1].batch_id if logbook.batches else ""
            self.line.show_batches(logbook.batches, self._titles, wanted)
            self.plots.plots.show_diary(shown.entries, told)
            marked = frozenset() if told is None else told.odd
            self.diary.show_diary(shown.entries, () if told is None else told.foretold, self._did, marked)
            self.why.show_told(told, self._triage, searching=self.searcher.busy())
            self.uptake.show_told(told)
            self.batches.show_logbook(logbook, self._titles)
        self._arrange()

    def _did(self, entry: Entry) -> str:
        batch = next((one for one in self._book.logbook.batches if one.batch_id == entry.batch_id), None)
        products = {key: figures.within(name) for key, name in product_names(batch).items()} if entry.acid_ml else {}
        return say.did_text(entry, self._titles.get(entry.batch_id, {}), products)

    def _search(self) -> None:
        told, logbook = self._told, self._book.logbook
        if told is None or told.asked is None:
            return
        reservoir, odd = told.reservoir, told.asked

        def work(_stop: Stop) -> object:
            from core.logbook.triage import triage

            return triage(logbook, reservoir, odd)

        self.searcher.ask(work)
        self.line.begin()
        self.why.show_told(told, None, searching=True)

    def _take_triage(self, answer: object) -> None:
        self._triage = cast("Triage | None", answer)
        self.why.show_told(self._told, self._triage, searching=False)
        self._arrange()

    def _take_reservoir(self, reservoir: Reservoir) -> None:
        logbook, old = self._book.logbook, self.form.old()
        if old is None:
            label, all_of = say.edit("reservoir"), (*logbook.reservoirs, reservoir)
        else:
            label = say.edit("rename")
            all_of = tuple(reservoir if one is old else one for one in logbook.reservoirs)
        try:
            self._book.push(label, structs.replace(logbook, reservoirs=all_of))
        except RecipeError as error:
            self.form.told.say(say.refused(refusal(error)))
            return
        self._name = reservoir.name
        self._close_form()

    def _take_entry(self, entry: Entry) -> None:
        shown = self.reservoir()
        if shown is None:
            return
        try:
            if self._changing is None:
                self._book.add_entry(say.edit("entry"), shown.name, entry)
            else:
                self._push(say.edit("change"), _exchanged(shown, self._changing, entry))
        except RecipeError as error:
            self.line.refuse(say.refused(refusal(error)))
            return
        self._changing = None
        self.line.clear()
        self.line.begin()

    def _change(self, place: int, entry: Entry) -> None:
        shown = self.reservoir()
        if shown is None:
            return
        self.diary.tell("")
        try:
            self._push(say.edit("change"), _exchanged(shown, place, entry))
        except RecipeError as error:
            self.diary.tell(say.refused(refusal(error)))
        self._arrange()

    def _delete(self, places: list[int]) -> None:
        shown = self.reservoir()
        if shown is not None:
            self._stop_changing()
            kept = tuple(entry for place, entry in enumerate(shown.entries) if place not in places)
            self._push(say.edit("delete"), structs.replace(shown, entries=kept))

    def _push(self, label: str, reservoir: Reservoir) -> None:
        logbook = self._book.logbook
        all_of = tuple(reservoir if one.name == reservoir.name else one for one in logbook.reservoirs)
        self._book.push(label, structs.replace(logbook, reservoirs=all_of))

    def _load(self, place: int) -> None:
        shown = self.reservoir()
        if shown is not None:
            self._changing = place
            self.line.load(shown.entries[place])
            self._scroll.ensureVisible(0, 0)

    def _stop_changing(self) -> None:
        if self._changing is not None:
            self._changing = None
            self.line.clear()

    def _take_planned(self) -> None:
        """Put the open recipe's tanks into the logbook as if they had been mixed as planned."""
        recipe = self._session.recipe
        if recipe is None or not recipe.shelf:
            return
        day = clock.today_text()
        taken = {batch.batch_id for batch in self._book.logbook.batches}
        batch_id = next(f"{day}-{n}" for n in range(1, len(taken) + 2) if f"{day}-{n}" not in taken)
        try:
            self._book.add_batch(say.edit("batch"), planned_batch(recipe, batch_id, day, "", say.planned_note()))
        except RecipeError as error:
            self.line.refuse(say.refused(refusal(error)))

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.begin()

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        tall = self.head.height_for(self.width())
        self.head.setGeometry(0, 0, self.width(), tall)
        self._scroll.setGeometry(0, tall, self.width(), self.height() - tall)
        margin, gap = theme.px(MARGIN), theme.px(theme.GAP)
        inner = self._scroll.viewport().width() - 2 * margin
        if inner <= 0:
            return
        if not self.empty.isHidden():
            self.empty.setGeometry(margin, margin, inner, self._scroll.height() - 2 * margin)
            self._page.resize(self._scroll.viewport().width(), self._scroll.height())
            return
        top = margin
        if not self.form.isHidden():
            self.form.setGeometry(margin, top, inner, self.form.least_height(inner))
            top += self.form.height() + gap
        if self.plots.isHidden():
            self._page.resize(self._scroll.viewport().width(), top + margin)
            return
        if not self.line.isHidden():
            self.line.setGeometry(margin, top, inner, self.line.height_for(inner))
            top += self.line.height() + gap
        self._page.resize(self._scroll.viewport().width(), self._arrange_cards(top, inner) + margin)

    def _arrange_cards(self, top: int, inner: int) -> int:
        """Put the cards into one column or two, return where they end [px]."""
        margin, gap = theme.px(MARGIN), theme.px(theme.GAP)
        main: tuple[Card, ...] = (self.plots, self.diary)
        beside: tuple[Card, ...] = (self.why, self.uptake, self.batches)
        two = inner >= theme.px(TWO_FROM)
        left_wide = round(LEFT_SHARE * inner) if two else inner
        columns: list[tuple[int, int, tuple[Card, ...]]] = (
            [(margin, left_wide, main), (margin + left_wide + gap, inner - left_wide - gap, beside)]
            if two
            else [(margin, inner, (self.why, *main, self.uptake, self.batches))]
        )
        ends = []
        for left, wide, cards in columns:
            at = top
            for card in cards:
                tall = card.least_height(wide)
                card.setGeometry(left, at, wide, tall)
                at += tall + gap
            ends.append(at - gap)
        return max(ends)


def _exchanged(reservoir: Reservoir, place: int, entry: Entry) -> Reservoir:
    """The reservoir with another entry in place of one, in its own place by time."""
    from core.logbook.merge import in_order

    entries = (*reservoir.entries[:place], entry, *reservoir.entries[place + 1 :])
    return structs.replace(reservoir, entries=in_order(entries))
