"""What is done with the list as a whole: start over, the units of weights, printing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QLabel, QWidget

from app.widgets import theme
from app.widgets.choice import Choice
from app.widgets.link_button import LinkButton
from app.widgets.main_button import MainButton
from app.wording import weighout as say
from app.wording import weighout_batch as batch_words
from core.logbook.progress import Progress

if TYPE_CHECKING:
    from app.session.session import Session

BESIDE_FROM = 560


class Tools(QWidget):
    """A line of a button, a choice and a link; below each other where it is narrow."""

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent)
        self._weighing = session.weighing
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(theme.px(10))
        self.printing = MainButton(self, quiet=True)
        self.printing.set_text(batch_words.print_button())
        units = QWidget(self)
        inside = QHBoxLayout(units)
        inside.setContentsMargins(0, 0, 0, 0)
        label = QLabel(say.units_name(), units)
        label.setFont(theme.font())
        self.units = Choice(units, say.units_name(), say.units())
        self.units.chosen.connect(lambda key: self._weighing.choose(units=key))
        label.setBuddy(self.units)
        inside.addWidget(label)
        inside.addWidget(self.units)
        inside.addStretch(1)
        self.over = LinkButton(self)
        self.over.clicked.connect(self._start_over)
        for part in (self.printing, units, self.over):
            self._row.addWidget(part)
        self.show_state()

    def show_state(self) -> None:
        """Offer to start over where something is noted, or to bring back what was forgotten."""
        back = self._weighing.can_bring_back()
        words, tip = say.bring_back() if back else say.start_over()
        self.over.set_text(words)
        self.over.setToolTip(tip)
        self.over.setAccessibleDescription(tip)
        self.over.setFixedSize(self.over.sizeHint())
        self.over.setVisible(back or self._weighing.progress != Progress())
        self.units.set_key(self._weighing.habits.units)

    def _start_over(self) -> None:
        if self._weighing.can_bring_back():
            self._weighing.bring_back()
        else:
            self._weighing.start_over()

    def least_height(self, width: int) -> int:
        """Return the height needed at a width [px]."""
        needed = self.printing.sizeHint().width() + self.units.sizeHint().width() + self.over.sizeHint().width()
        beside = width >= max(theme.px(BESIDE_FROM), needed + theme.px(130))
        self._row.setDirection(QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom)
        self._row.activate()
        return self._row.totalSizeHint().height()
