"""Putting the batch into the logbook once all is weighed, and the batches mixed before with their labels."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.paper.text import foreign, shown
from app.widgets import theme
from app.widgets.form_text import FormText
from app.widgets.laid_card import LaidCard, Text
from app.widgets.link_button import LinkButton
from app.widgets.main_button import MainButton
from app.wording import paper
from app.wording import weighout_batch as say
from core.logbook.records import MadeBatch

SHOWN_AT_MOST = 6


class _Batch(QWidget):
    """One made batch with the link to its labels."""

    def __init__(self, parent: QWidget, print_labels: Callable[[MadeBatch], None]) -> None:
        super().__init__(parent)
        self._batch: MadeBatch | None = None
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        self.words = Text(self, 13)
        self.link = LinkButton(self)
        self.link.set_text(say.labels_link())
        self.link.clicked.connect(self._print)
        self._print_labels = print_labels
        row.addWidget(self.words, 1)
        row.addWidget(self.link)

    def _print(self) -> None:
        if self._batch is not None:
            self._print_labels(self._batch)

    def show_batch(self, batch: MadeBatch) -> None:
        """Show this batch."""
        self._batch = batch
        title = shown(foreign(batch.recipe.title)) or paper.untitled()
        self.words.say(say.batch_line(batch.mixed_on[:10], title, batch.mark))
        self.words.setToolTip(shown(foreign(batch.note)))
        self.link.setAccessibleName(say.labels_link_name(batch.mixed_on[:10], title))


class MixedCard(LaidCard):
    """The card.

    Signals
    -------
    mixed : the batch is to go into the logbook, with this note.
    labels_wanted : the labels of a made batch are to be printed.
    """

    mixed = Signal(str)
    labels_wanted = Signal(object)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.mixed_title())
        name, hint = say.note_field()
        self.note = FormText(self, name)
        self.note.setPlaceholderText(hint)
        self.note.setMaxLength(400)
        self.button = MainButton(self)
        self.button.set_text(say.mixed_button())
        self.button.clicked.connect(lambda: self.mixed.emit(self.note.text().strip()))
        self.missing = Text(self, 12.5, role="muted")
        for part in (self.note, self.button, self.missing):
            self.column.addWidget(part)
        self._list = QVBoxLayout()
        self._list.setSpacing(theme.px(2))
        self.column.addLayout(self._list)
        self.batches: list[_Batch] = []
        self.none = Text(self, 12.5, role="muted")
        self.column.addWidget(self.none)
        self.show_state(0, nothing=True)

    def show_state(self, left: int, *, blocked: str = "", nothing: bool = False) -> None:
        """Show whether the batch can go into the logbook: how many weights are left, and what stands in the way."""
        ready = left == 0 and not blocked and not nothing
        self.button.setEnabled(ready)
        self.button.setVisible(not nothing)
        self.note.setVisible(ready)
        self.missing.say(blocked or (say.still_to_weigh(left) if left and not nothing else ""))

    def show_batches(self, made: tuple[MadeBatch, ...]) -> None:
        """List the batches, the newest first."""
        newest = sorted(made, key=lambda batch: batch.mixed_on, reverse=True)[:SHOWN_AT_MOST]
        while len(self.batches) < len(newest):
            self.batches.append(_Batch(self, self.labels_wanted.emit))
            self._list.addWidget(self.batches[-1])
        for line, batch in zip(self.batches, newest, strict=False):
            line.show_batch(batch)
        for number, line in enumerate(self.batches):
            line.setVisible(number < len(newest))
        older = len(made) - len(newest)
        self.none.say(say.no_batches() if not made else say.more_batches(older) if older else "")
