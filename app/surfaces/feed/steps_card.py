"""The steps of a dosing from top to bottom: done ones small, the present one large, the coming ones faint."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from app.surfaces.feed.now_panel import NowPanel
from app.surfaces.feed.step_line import StepLine
from app.widgets import icons, paint, theme
from app.widgets.laid_card import Text
from app.widgets.link_button import LinkButton
from app.widgets.slim_bar import SlimBar
from app.wording import feed as words
from app.wording import feed_surface as say

if TYPE_CHECKING:
    from app.surfaces.feed.dosing import Dosing
    from core.plan.feeding_records import Feeding

PAD, FOOT, MARK = 10, 38, 13


class CardBar(SlimBar):
    """A scroll bar on a card, whose ground is the card's."""

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.fillRect(self.rect(), colours.card)
        place = self._handle().adjusted(theme.px(2), theme.px(2), -theme.px(2), -theme.px(2))
        ink = colours.muted if self.underMouse() else colours.field_line
        paint.panel(painter, place, ink, None, place.width() / 2)


class Note(QWidget):
    """A remark with the mark of how loud it is."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._level = "note"
        column = QVBoxLayout(self)
        column.setContentsMargins(theme.px(26), theme.px(2), theme.px(4), theme.px(2))
        self.words = Text(self, 12.5)
        column.addWidget(self.words)

    def say(self, level: str, text: str) -> None:
        """Show this remark; nothing takes no room."""
        self._level = level
        self.words.say(text)
        self.setVisible(bool(text))
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, side = theme.colours(), theme.px(MARK)
        ink = {"stop": colours.stop, "check": colours.check}.get(self._level, colours.muted)
        icons.draw(QPainter(self), f"mark-{self._level}", QRectF(theme.px(5), theme.px(4), side, side), ink)


class StepsCard(QWidget):
    """Scrolls where the steps do not fit, so that the present one stays in view; the ways back at its foot.

    Signals
    -------
    back_wanted, over_wanted : the last step is to be taken back; all is to begin anew.
    """

    back_wanted = Signal()
    over_wanted = Signal()

    def __init__(self, parent: QWidget, dosing: Dosing) -> None:
        super().__init__(parent)
        self._dosing = dosing
        self.setAccessibleName(say.steps_title())
        self._scroll = QScrollArea(self)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setVerticalScrollBar(CardBar())
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._page = QWidget()
        self._scroll.setWidget(self._page)
        self._page.setAutoFillBackground(False)
        self._scroll.viewport().setAutoFillBackground(False)
        self._column = column = QVBoxLayout(self._page)
        column.setContentsMargins(theme.px(10), theme.px(4), theme.px(8), theme.px(6))
        column.setSpacing(theme.px(9))
        self.done: list[StepLine] = []
        self.coming: list[StepLine] = []
        self._before, self._after = QVBoxLayout(), QVBoxLayout()
        for lines in (self._before, self._after):
            lines.setSpacing(theme.px(4))
            lines.setContentsMargins(theme.px(8), 0, theme.px(4), 0)
        self.now = NowPanel(self._page, dosing)
        self.blank = Text(self._page, 14, role="muted")
        self.notes = [Note(self._page) for _ in range(5)]
        column.addLayout(self._before)
        column.addWidget(self.now)
        column.addWidget(self.blank)
        column.addLayout(self._after)
        column.addStretch(1)
        for note in self.notes:
            column.addWidget(note)
        self.back, self.over = LinkButton(self), LinkButton(self)
        self.back.set_text(say.take_back())
        self.over.set_text(say.start_over())
        self.back.clicked.connect(self.back_wanted)
        self.over.clicked.connect(self.over_wanted)

    def show_told(self, told: Feeding | None, blank: str) -> None:
        """Show a dosing, or why there is none."""
        self.now.setVisible(told is not None)
        self.blank.say("" if told is not None else blank)
        self.back.setVisible(self._dosing.may_go_back())
        self.over.setVisible(self._dosing.may_go_back())
        steps = () if told is None else told.steps
        number = 0 if told is None else told.now
        self._fill(self.done, self._before, steps[:number], 1, "done")
        self._fill(self.coming, self._after, steps[number + 1 :], number + 2, "coming")
        if told is not None:
            self.now.show_step(told)
        self._show_notes(told)
        self._arrange()

    def keep_in_view(self) -> None:
        """Scroll so that the present step is seen whole."""
        self._column.activate()
        self._page.adjustSize() if self._page.height() < self._column.sizeHint().height() else None
        self._scroll.ensureWidgetVisible(self.now, 0, theme.px(12))

    def _fill(self, lines: list[StepLine], into: QVBoxLayout, steps: object, first: int, state: str) -> None:
        assert isinstance(steps, tuple)
        while len(lines) < len(steps):
            line = StepLine(self._page)
            lines.append(line)
            into.addWidget(line)
        dosing = self._dosing
        for place, line in enumerate(lines):
            line.setVisible(place < len(steps))
            if place < len(steps):
                step = steps[place]
                tell = words.done_text if state == "done" else words.coming_text
                text = tell(step, dosing.system, dosing.meter)
                title = words.title(step, dosing.asked.holds)
                line.show_step(first + place, state, title, text)
                line.setAccessibleName(say.step_name(first + place, title, text))

    def _show_notes(self, told: Feeding | None) -> None:
        notes: list[tuple[str, str]] = []
        if told is not None and told.now > 0:
            notes = [(one.level, words.remark(one)) for one in told.remarks if one.level != "stop"]
            if self._dosing.asked.holds == "water":
                notes.append(("note", words.order_text(told.order)))
            notes.append(("note", words.volume_text(told, self._dosing.system)))
        for place, note in enumerate(self.notes):
            note.say(*(notes[place] if place < len(notes) else ("note", "")))

    def least_height(self, width: int) -> int:
        """Return the height at which nothing of it scrolls [px]."""
        self._column.invalidate()
        self._column.activate()
        return self._column.totalHeightForWidth(width - 1 - theme.px(3)) + theme.px(FOOT + theme.RADIUS + 1)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        foot = theme.px(FOOT) if not self.back.isHidden() else theme.px(6)
        corner, aside = theme.px(theme.RADIUS), theme.px(3)  # no bar lies over the card's round corner
        self._scroll.setGeometry(1, corner, self.width() - 1 - aside, self.height() - foot - corner - 1)
        top = self.height() - theme.px(FOOT) + theme.px(5)
        self.back.move(theme.px(PAD), top)
        self.over.move(self.width() - self.over.width() - theme.px(PAD), top)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        paint.panel(painter, QRectF(self.rect()), colours.card, colours.line, theme.px(theme.RADIUS))
