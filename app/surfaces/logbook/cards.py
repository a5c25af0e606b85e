"""What is read out of the diary, in words: why it differs, what was taken up, which batches were mixed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from app.surfaces.logbook.reading import Told, product_names
from app.widgets import theme
from app.widgets.laid_card import LaidCard, Text
from app.widgets.link_button import LinkButton
from app.widgets.main_button import MainButton
from app.wording import figures
from app.wording import logbook as words
from app.wording import logbook_causes as causes
from app.wording import logbook_told as say

if TYPE_CHECKING:
    from core.logbook.records import Logbook, MadeBatch
    from core.logbook.triage_records import Triage

DRIFT_PERCENT, CAUSES, BATCHES, BALANCES, UNSEEN = 10.0, 4, 6, 2, 3


class Lines(QWidget):
    """A column of texts that is filled anew."""

    def __init__(self, card: LaidCard) -> None:
        super().__init__(card)
        self._card = card
        self._texts: list[Text] = []
        self.hide()

    def show_lines(self, lines: list[tuple[str, str]]) -> None:
        """Show these, each a kind and words: "strong", "muted", "check" or plain."""
        for number, (kind, words_) in enumerate(lines):
            if number >= len(self._texts):
                text = Text(self._card, 12.5)
                self._texts.append(text)
                self._card.column.insertWidget(self._card.column.indexOf(self), text)
            text = self._texts[number]
            text.setFont(theme.font(13 if kind == "strong" else 12.5, strong=kind == "strong"))
            text.set_role(kind if kind in ("muted", "check", "stop") else "text")
            text.say(words_)
        for text in self._texts[len(lines) :]:
            text.say("")

    def words(self) -> list[str]:
        """Return what is shown."""
        return [text.text() for text in self._texts if not text.isHidden()]


class WhyCard(LaidCard):
    """How far the readings are from what was foretold, and the search for the cause.

    Signals
    -------
    wanted : the cause is to be searched for.
    changed : it needs another height.
    """

    wanted = Signal()
    changed = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.why_title())
        self.lines = Lines(self)
        self.button = MainButton(self, quiet=True)
        self.button.set_text(say.why_button())
        self.button.clicked.connect(self.wanted)
        self.column.addWidget(self.lines)
        self.column.addWidget(self.button)
        self.column.addStretch(1)
        self._asked = False

    def show_told(self, told: Told | None, triage: Triage | None, *, searching: bool) -> None:
        """Show how things stand, and the causes where they were searched for."""
        odd = told is not None and told.asked is not None
        self.button.setVisible(odd and triage is None and not searching)
        self.lines.show_lines(_state(told) if triage is None else _causes(triage, told))
        if searching:
            self.lines.show_lines([*_state(told), ("muted", say.searching())])
        self.changed.emit()


def _state(told: Told | None) -> list[tuple[str, str]]:
    if told is None:
        return [("muted", say.working())]
    if told.asked is not None:
        one, entry = told.foretold[told.asked], told.reservoir.entries[told.asked]
        return [("strong", say.odd(words.when_text(entry.at), one.step_residual_percent or 0.0))]
    if not any(one.ec_ms_per_cm is not None for one in told.balance):
        return [("muted", say.nothing_foretold())]
    last = next((one for one in reversed(told.balance) if one.residual_percent is not None), None)
    if last is not None and last.residual_percent is not None and abs(last.residual_percent) > DRIFT_PERCENT:
        return [("", say.drifting(last.residual_percent))]
    return [("", say.as_foretold())]


def _causes(triage: Triage, told: Told | None) -> list[tuple[str, str]]:
    tanks, products = _names(told, triage.index)
    lines = [("", causes.differs(triage)), ("muted", causes.weighed_by(triage.readings))]
    for cause in triage.causes[:CAUSES]:
        sentence = causes.cause_text(cause, tanks, products)
        lines.append(("strong", f"{sentence} ({causes.likelihood(cause.weight_percent)})"))
        lines.append(("", say.next_test(causes.ask_text(cause.ask, tanks, products))))
    return lines


def _names(told: Told | None, index: int) -> tuple[dict[str, str], dict[str, str]]:
    """What tanks and products of the batch in use at an entry are called."""
    if told is None:
        return {}, {}
    named = [entry.batch_id for entry in told.reservoir.entries[: index + 1] if entry.batch_id]
    batch_id = named[-1] if named else next(iter(told.titles), "")
    batch = next((one for one in told.batches if one.batch_id == batch_id), None)
    products = {key: figures.within(name) for key, name in product_names(batch).items()}
    return told.titles.get(batch_id, {}), products


class UptakeCard(LaidCard):
    """The last balances, newest first."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.uptake_title())
        self.lines = Lines(self)
        self.table = QWidget(self)
        self._grid = QGridLayout(self.table)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(theme.px(14))
        self._grid.setVerticalSpacing(theme.px(2))
        self._cells: list[QLabel] = []
        self.after = Lines(self)
        self.column.addWidget(self.lines)
        self.column.addWidget(self.table)
        self.column.addWidget(self.after)
        self.column.addStretch(1)

    def show_told(self, told: Told | None) -> None:
        """Show the newest balance in full."""
        newest = told.uptakes[-1] if told is not None and told.uptakes else None
        for cell in self._cells:
            cell.deleteLater()
        self._cells = []
        self.table.setVisible(newest is not None and not newest.missing)
        self.after.show_lines([])
        if told is None or newest is None:
            self.lines.show_lines([("muted", say.uptake_empty())])
            return
        entries = told.reservoir.entries
        between = say.uptake_between(entries[newest.start].at, entries[newest.end].at)
        if newest.missing:
            self.lines.show_lines([("strong", between), ("check", say.uptake_missing(newest.missing))])
            return
        self.lines.show_lines([("strong", between), ("", say.uptake_spent(newest))])
        self._fill([("", *say.uptake_columns()), *[say.uptake_row(one) for one in newest.taken]])
        told_of = [("check", say.unseen(one)) for one in newest.unseen[:UNSEEN]]
        silent = [("muted", say.water_silent(newest.water_silent))] if newest.water_silent else []
        self.after.show_lines([*told_of, *silent])

    def rows(self) -> list[str]:
        """Return the cells of the table, row by row."""
        return [cell.text() for cell in self._cells]

    def _fill(self, rows: list[tuple[str, ...]]) -> None:
        for line, row in enumerate(rows):
            for column, text in enumerate(row):
                cell = QLabel(text, self.table)
                cell.setFont(theme.small() if line == 0 else theme.font(12.5, strong=column == 1))
                side = Qt.AlignmentFlag.AlignRight if column else Qt.AlignmentFlag.AlignLeft
                cell.setAlignment(side | Qt.AlignmentFlag.AlignVCenter)
                if line == 0:
                    cell.setForegroundRole(QPalette.ColorRole.PlaceholderText)
                    cell.setWordWrap(True)
                self._grid.addWidget(cell, line, column)
                self._cells.append(cell)
                cell.show()


class BatchesCard(LaidCard):
    """Batches as they were mixed; one unfolds to its weights.

    Signals
    -------
    changed : it needs another height.
    """

    changed = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, words.batches_title())
        self._open = ""
        self._batches: tuple[MadeBatch, ...] = ()
        self._titles: dict[str, dict[str, str]] = {}
        self.buttons: list[LinkButton] = []
        self.lines = Lines(self)
        self.column.addWidget(self.lines)
        self.column.addStretch(1)

    def show_logbook(self, logbook: Logbook, titles: dict[str, dict[str, str]]) -> None:
        """Show the newest batches first."""
        self._batches = tuple(reversed(logbook.batches))[:BATCHES]
        self._titles = titles
        while len(self.buttons) < len(self._batches):
            button = LinkButton(self, unfolds=True)
            number = len(self.buttons)
            button.clicked.connect(lambda _checked=False, number=number: self._toggle(number))
            self.buttons.append(button)
            self.column.insertWidget(number, button)
        self._show()

    def _toggle(self, number: int) -> None:
        batch_id = self._batches[number].batch_id
        self._open = "" if self._open == batch_id else batch_id
        self._show()
        self.changed.emit()

    def _show(self) -> None:
        for number, button in enumerate(self.buttons):
            button.setVisible(number < len(self._batches))
            if number < len(self._batches):
                batch = self._batches[number]
                button.set_text(words.batch_line(batch))
                button.setChecked(batch.batch_id == self._open)
        opened = next((one for one in self._batches if one.batch_id == self._open), None)
        if opened is not None:
            self.lines.show_lines(_contents(opened, self._titles.get(opened.batch_id, {})))
        else:
            self.lines.show_lines([] if self._batches else [("muted", words.no_batches())])


def _contents(batch: MadeBatch, titles: dict[str, str]) -> list[tuple[str, str]]:
    """What went into a batch, tank by tank."""
    products = product_names(batch)

    def tank(letter: str) -> str:
        return titles.get(letter) or words.part_title("", letter)

    lines = [
        ("", words.weighed_line(products.get(one.entry_id, one.entry_id), tank(one.tank), one.weighed_g, one.planned_g))
        for one in batch.weighed
    ]
    lines += [("muted", words.filled_line(tank(letter), litres)) for letter, litres in batch.tank_volume_l.items()]
    return lines + ([("muted", batch.note)] if batch.note else [])
