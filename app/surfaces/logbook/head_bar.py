"""The surface's own head: which reservoir, ways to add and change one, and the logbook's file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.widgets import paint, theme
from app.widgets.choice import Choice
from app.widgets.link_button import LinkButton
from app.wording import logbook as say
from app.wording import logbook_file as of_file
from app.wording.surfaces import surface

if TYPE_CHECKING:
    from core.logbook.records import Logbook

TALL, PAD, NARROW = 52, 16, 640
ROUND_NAME = 36
"""Room the choice takes beside its text."""


class HeadBar(QWidget):
    """One line.

    Signals
    -------
    chosen : the name of the reservoir to show.
    """

    chosen = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._file = ""
        self.choice = Choice(self, say.reservoir_choice())
        # its width is the bar's matter: left to itself it takes that of its text a moment later
        self.choice.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.choice.chosen.connect(self.chosen)
        self.change, self.add = LinkButton(self), LinkButton(self)
        self.change.set_text(say.change_reservoir())
        self.add.set_text(say.add_reservoir())

    def show_logbook(self, logbook: Logbook, name: str, file: str) -> None:
        """Offer the reservoirs of a logbook that lies in this file."""
        there = bool(logbook.reservoirs)
        self.choice.set_pairs([(one.name, one.name) for one in logbook.reservoirs])
        self.choice.set_key(name)
        for part in (self.choice, self.change, self.add):
            part.setVisible(there)
        self._file = of_file.file_line(file)
        self._arrange()
        self.update()

    def height_for(self, width: int) -> int:
        """Return the height needed at a width [px]."""
        return theme.px(TALL) + (theme.px(32) if width < theme.px(NARROW) and not self.choice.isHidden() else 0)

    def _arrange(self) -> None:
        narrow = self.width() < theme.px(NARROW)
        title = theme.font(18, strong=True).width(surface("logbook"))
        left = theme.px(PAD) + (0 if narrow else title + theme.px(20))
        top = theme.px(46 if narrow else 13)
        names = [self.choice.itemText(number) for number in range(self.choice.count())]
        longest = max((theme.font(12.5).width(name) for name in names), default=0)
        wide = round(min(max(longest + theme.px(ROUND_NAME), theme.px(120)), theme.px(230)))
        self.choice.setGeometry(left, top, wide, theme.px(26))
        left += wide + theme.px(8)
        for link in (self.change, self.add):
            link.move(left, top)
            left += link.width() + theme.px(4)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.fillRect(self.rect(), colours.card)
        painter.fillRect(QRectF(0, self.height() - 1, self.width(), 1), colours.line)
        line = QRectF(theme.px(PAD), 0, self.width() - 2 * theme.px(PAD), theme.px(TALL))
        paint.text(painter, line, surface("logbook"), theme.font(18, strong=True), colours.text)
        used = 0 if self.width() < theme.px(NARROW) else self.add.geometry().right()
        room = line.adjusted(max(used, theme.px(150)), 0, 0, 0)
        if theme.small().width(self._file) <= room.width():
            paint.text(painter, room, self._file, theme.small(), colours.muted, paint.RIGHT)
