"""Sizing a batch, weighing it, mending what went otherwise, and putting it into the logbook."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from app.session.asking import Asker, Stop
from app.session.session import Session
from app.surfaces.weighout import mixing
from app.surfaces.weighout.band_card import BandCard
from app.surfaces.weighout.batch_bar import BatchBar
from app.surfaces.weighout.bench_sheet import BenchSheet, Line, make_sheet
from app.surfaces.weighout.mixed_card import MixedCard
from app.surfaces.weighout.now_card import NowCard, focus_field
from app.surfaces.weighout.paragraphs import Paragraphs
from app.surfaces.weighout.tools import Tools
from app.surfaces.weighout.weigh_card import WeighCard
from app.surfaces.weighout.weigh_row import WeighRow
from app.widgets import theme
from app.widgets.laid_card import Text
from app.widgets.slim_bar import slim
from app.widgets.strip import Strip
from app.wording import surfaces as phrases
from app.wording import weighout as say
from app.wording import weighout_batch as batch_words
from app.wording.refusals import refusal
from core.logbook.progress import agreed, is_done, next_item, put_in, taken_back, with_repair
from core.logbook.records import MadeBatch
from core.logbook.worklist import ToWeigh
from core.plan.records import Plan
from core.recipe.records import Recipe

MARGIN, TWO_FROM = 14, 860
LEFT_SHARE = 0.56


class WeighoutSurface(QWidget):
    """Asks for the words of the batch behind the window and shows them; every tick is noted in the session.

    Signals
    -------
    print_wanted : the printing is to be opened; with a made batch its labels, else None.
    """

    print_wanted = Signal(object)

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent)
        self._session = session
        self._shown: tuple[Recipe, Plan] | None = None
        self.sheet = BenchSheet(None)
        self._now: tuple[str, str] | None = None
        self._wants_keyboard = False
        self.setAccessibleName(phrases.surface("weighout"))
        self._scroll = QScrollArea(self)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        slim(self._scroll)
        self._page = page = QWidget()
        self._scroll.setWidget(page)
        self.asker = Asker(self, session.behind)
        self.asker.answered.connect(self._take)
        self.asker.failed.connect(lambda reason: self._say(say.not_worked_out(reason)))
        self.bar = BatchBar(page, session)
        self.changed = Strip(page)
        self.repair = Strip(page)
        self.fine = Strip(page, level="met")
        self.kept = Strip(page, level="met")
        self._made: MadeBatch | None = None
        self.now = NowCard(page)
        self.cards: list[WeighCard] = []
        self.steps = Paragraphs(page)
        self.bands = BandCard(page)
        self.outside = Paragraphs(page)
        self.tools = Tools(page, session)
        self.mixed = MixedCard(page)
        self._waiting = Text(page, 13.5, role="muted")
        self._say(say.working())
        self._connect()

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Show this plan's batch."""
        if self._shown != (recipe, plan):
            self._shown = (recipe, plan)
            self._ask()
        self.bar.show_plan(recipe, plan)
        self.mixed.show_batches(self._session.book.logbook.batches)
        self._arrange()

    def rows(self) -> list[WeighRow]:
        """Return every row in view, from the first tank's first."""
        return [row for card in self._cards_in_view() for row in card.rows]

    def idle(self) -> bool:
        """Return whether everything asked for is shown."""
        return self.asker.idle() and not self.asker.busy()

    def _connect(self) -> None:
        weighing, book = self._session.weighing, self._session.book
        weighing.changed.connect(self._show_progress)
        book.changed.connect(lambda: self.mixed.show_batches(book.logbook.batches))
        self._session.opened.connect(self._forget)
        self.now.weighed.connect(self._weighed)
        self.now.height_changed.connect(self._arrange)
        self.changed.accepted.connect(lambda: weighing.note(agreed(weighing.progress, self._items())))
        self.repair.accepted.connect(self._mend)
        self.kept.accepted.connect(self._print_made)
        self.bands.law_chosen.connect(lambda law: weighing.choose(law=law))
        self.tools.printing.clicked.connect(lambda: self.print_wanted.emit(None))
        self.mixed.mixed.connect(self._mix)
        self.mixed.labels_wanted.connect(self.print_wanted)

    def _connect_row(self, row: WeighRow) -> None:
        row.ticked.connect(partial(self._tick, row))
        row.wanted.connect(partial(self._bring_up, row))
        row.stepped.connect(partial(self._step, row))

    def _show_progress(self) -> None:
        """Show the ticks at once; what they make of the feed follows."""
        progress = self._session.weighing.progress
        lines = tuple(line._replace(done=is_done(progress, line.item)) for line in self.sheet.lines)
        self.sheet = self.sheet._replace(lines=lines)
        self._show_sheet()
        self._ask()

    def _ask(self) -> None:
        if self._shown is None:
            return
        (recipe, plan), progress, habits = self._shown, self._session.weighing.progress, self._session.weighing.habits

        def work(_stop: Stop) -> BenchSheet:
            return make_sheet(recipe, plan, progress, habits)

        self.asker.ask(work)

    def _forget(self) -> None:
        self._shown, self._now, self.sheet = None, None, BenchSheet(None)
        self.asker.cancel()
        self._say_made("", None)
        self._show_sheet()

    def _take(self, answer: object) -> None:
        assert isinstance(answer, BenchSheet)
        self.sheet = answer
        self._show_sheet()

    def _items(self) -> list[ToWeigh]:
        return [line.item for line in self.sheet.lines]

    def _show_sheet(self) -> None:
        sheet, progress = self.sheet, self._session.weighing.progress
        places = {line.item.place: line for line in sheet.lines}
        if self._now not in places or places[self._now].done and not self._typing():
            after = places[self._now].item if self._now in places else None
            item = next_item(progress, [line.item for line in sheet.lines], after)
            self._now = None if item is None else item.place
        now = None if self._now is None else places[self._now]
        self._say("" if sheet.lines else say.nothing_to_weigh() if sheet.recipe is not None else say.working())
        self._show_cards(now)
        finishing = now is None and self._at_now()
        self._show_now(now)
        self._show_strips()
        self._show_steps(now)
        if sheet.reckoned is not None:
            self.bands.show_reckoned(sheet.reckoned, self._session.weighing.habits.law)
        boxes = [
            part for title, lines in sheet.outside for part in (("head", title), *[("care", one) for one in lines])
        ]
        self.outside.show_lines(batch_words.acid_title() if boxes else "", tuple(boxes))
        left = sum(not line.done for line in sheet.lines)
        blocked = "" if sheet.may_go_on else batch_words.cannot_go_on()
        self.mixed.show_state(left, blocked=blocked, nothing=not sheet.lines)
        self.bar.show_makes(sheet.makes)
        if (self._wants_keyboard or finishing) and sheet.lines:
            self._wants_keyboard = False
            (self.mixed.note if now is None else self.now.button).setFocus(Qt.FocusReason.TabFocusReason)
            self._scroll.ensureVisible(0, 0)
        self.tools.show_state()
        self._arrange()
        if self._at_now() and self.repair.isHidden():
            self._scroll.ensureWidgetVisible(self.now.button, 0, theme.px(24))  # where the window is low

    def _at_now(self) -> bool:
        """Return whether the keyboard is on what the large one offers."""
        return self.now.button.hasFocus() or self.now.other.field.hasFocus()

    def _typing(self) -> bool:
        return self.now.other.field.hasFocus() and self.now.line() is not None

    def _cards_in_view(self) -> list[WeighCard]:
        return self.cards[: len(self.sheet.tanks)]

    def _show_cards(self, now: Line | None) -> None:
        tanks = self.sheet.tanks
        while len(self.cards) < len(tanks):
            self.cards.append(WeighCard(self._page, self._connect_row))
        for number, card in enumerate(self.cards):
            if number < len(tanks):
                lines = tuple(line for line in self.sheet.lines if line.item.tank == tanks[number].name)
                card.show_tank(tanks[number], lines, None if now is None else now.item.place)
            card.setVisible(number < len(tanks))

    def _show_now(self, now: Line | None) -> None:
        lines = self.sheet.lines
        done = sum(line.done for line in lines)
        title, sentence = say.done_title(len(lines)), ""
        if now is not None:
            tank = next(tank for tank in self.sheet.tanks if tank.name == now.item.tank)
            title = say.now_title(min(done + 1, len(lines)), len(lines), tank.title)
            sentence = tank.steps[now.item.step]
        self.now.show_line(now, title, sentence, all_done=bool(lines) and now is None)

    def _show_strips(self) -> None:
        sheet = self.sheet
        tail = "" if sheet.may_go_on else f" {batch_words.cannot_go_on()}"
        self.changed.say(
            f"{sheet.changed}{tail}" if sheet.changed else "", batch_words.go_on_button() if sheet.may_go_on else ""
        )
        repair = sheet.reckoned.repair if sheet.reckoned is not None else None
        helps = repair is not None and bool(repair.weights or repair.volumes)
        self.repair.say(sheet.repair, batch_words.repair_button() if helps else "")
        self.fine.say(batch_words.still_in_range() if sheet.in_range else "")

    def _show_steps(self, now: Line | None) -> None:
        tanks = self.sheet.tanks
        if not tanks:
            self.steps.show_lines("", ())
            return
        tank = next((one for one in tanks if now is not None and one.name == now.item.tank), tanks[-1])
        step = None if now is None else now.item.step
        lines = [("now" if n == step else "", f"{n + 1}  {words}") for n, words in enumerate(tank.steps)]
        for title, told in tank.boxes:
            lines += [("head", title), *[("", one) for one in told]]
        self.steps.show_lines(batch_words.steps_title(tank.title), (*lines, ("care", tank.wear)))

    def _tick(self, row: WeighRow) -> None:
        weighing, item = self._session.weighing, row.line.item
        progress = weighing.progress
        if is_done(progress, item):
            self._now = item.place
            weighing.note(taken_back(progress, item))
        else:
            self._note(item.place, None)

    def _bring_up(self, row: WeighRow, to_type: bool) -> None:
        item = row.line.item
        weighing = self._session.weighing
        self._now = item.place
        if is_done(weighing.progress, item):
            weighing.note(taken_back(weighing.progress, item))
        else:
            self._show_sheet()
        self._scroll.ensureWidgetVisible(self.now)
        if to_type:
            focus_field(self.now)

    def _step(self, row: WeighRow, by: int) -> None:
        rows = self.rows()
        wanted = rows.index(row) + by
        if 0 <= wanted < len(rows):
            rows[wanted].setFocus(Qt.FocusReason.TabFocusReason)
            self._scroll.ensureWidgetVisible(rows[wanted])

    def _weighed(self, grams: float | None) -> None:
        line = self.now.line()
        if line is not None:
            self._note(line.item.place, grams)

    def _note(self, place: tuple[str, str], grams: float | None) -> None:
        item = next(line.item for line in self.sheet.lines if line.item.place == place)
        weighing = self._session.weighing
        progress = put_in(weighing.progress, item, grams)
        following = next_item(progress, self._items(), item)
        self._now = None if following is None else following.place
        self._say_made("", None)
        weighing.note(progress)

    def _mend(self) -> None:
        told, weighing = self.sheet.reckoned, self._session.weighing
        if told is not None and told.repair is not None and self._shown is not None:
            volume = self._shown[0].batch.tank_volume_l
            self._now = None
            weighing.note(with_repair(weighing.progress, self._items(), volume, told.repair))

    def _mix(self, note: str) -> None:
        sheet = self.sheet
        if sheet.recipe is None:
            return
        batch = mixing.made_batch(sheet.recipe, sheet.mark, self._items(), self._session, note)
        book = self._session.book
        book.add_batch(batch_words.mixed_edit(sheet.recipe.title), batch)
        self._session.weighing.start_over()
        self.mixed.note.clear()
        said = batch_words.not_into_logbook(refusal(book.trouble)) if book.trouble is not None else ""
        self._say_made(said or batch_words.put_into_logbook(batch.mixed_on[:10]), batch)
        self.kept.button.setFocus(Qt.FocusReason.TabFocusReason)
        self._scroll.ensureVisible(0, 0)

    def _say_made(self, words: str, batch: MadeBatch | None) -> None:
        self._made = batch
        self.kept.say(words, "" if batch is None else batch_words.labels_link())
        self._arrange()

    def _print_made(self) -> None:
        if self._made is not None:
            self.print_wanted.emit(self._made)

    def _say(self, words: str) -> None:
        self._waiting.say(words)
        self._arrange()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._wants_keyboard = True  # so that Space alone goes through the list
        if self.sheet.lines:
            self._show_sheet()

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        self._scroll.setGeometry(0, 0, self.width(), self.height())
        margin, gap = theme.px(MARGIN), theme.px(theme.GAP)
        inner = self.width() - 2 * margin  # the scroll bar's room is in the margin, whether there is one or not
        if inner <= 0:
            return
        top = margin
        for part in (self.kept, self.bar, self.changed, self.repair, self.fine):
            tall = part.height_for(inner)
            if tall:
                part.setGeometry(margin, top, inner, tall)
                top += tall + gap
        top = self._arrange_cards(top, inner)
        self._page.resize(self._scroll.viewport().width(), top + margin - gap)

    def _arrange_cards(self, top: int, inner: int) -> int:
        """Put the cards into one column or two, return where they end [px]."""
        margin, gap = theme.px(MARGIN), theme.px(theme.GAP)
        there = bool(self.sheet.lines)
        finished = there and self._now is None
        cards: tuple[QWidget, ...] = (self.now, *([self.mixed] if finished else []), *self._cards_in_view(), self.tools)
        if not there:
            cards = (self._waiting_room(top, inner),)
        beside: tuple[QWidget, ...] = (self.steps, self.bands, self.outside) if there else ()
        beside = tuple(part for part in beside if part is not self.outside or self.sheet.outside)
        beside += () if finished else (self.mixed,)
        for part in (self.now, self.steps, self.bands, self.tools):
            part.setVisible(there)
        self.outside.setVisible(there and bool(self.sheet.outside))
        two = inner >= theme.px(TWO_FROM)
        left = round((inner - gap) * LEFT_SHARE) if two else inner
        right = inner - gap - left if two else inner
        below = _stack(cards, margin, top, left, gap)
        other = _stack(beside, margin + left + gap if two else margin, top if two else below, right, gap)
        return max(below, other)

    def _waiting_room(self, top: int, inner: int) -> QWidget:
        self._waiting.setGeometry(theme.px(MARGIN), top, inner, self._waiting.heightForWidth(inner))
        return self._waiting


def _stack(parts: tuple[QWidget, ...], left: int, top: int, width: int, gap: int) -> int:
    for part in parts:
        tall = part.least_height(width) if hasattr(part, "least_height") else part.heightForWidth(width)
        part.setGeometry(left, top, width, tall)
        top += tall + gap
    return top
