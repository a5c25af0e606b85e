"""The arithmetic behind one figure, line by line, in the unit that is wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence, QPainter, QPaintEvent
from PySide6.QtWidgets import QApplication, QGridLayout, QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from app.surfaces.why.looking import Answered, figures_of, working_of
from app.widgets import paint, theme
from app.widgets.choice import Choice
from app.widgets.form import Words
from app.widgets.link_button import LinkButton
from app.wording import why as words
from app.wording import why_sheet as say

if TYPE_CHECKING:
    from core.blend.working import Working


SHORTEST = 10
"""Letters the choice of a figure makes room for where there is little; the list below it shows names in full."""


class Lines(QWidget):
    """The lines in three columns: what, from which numbers, what it comes to. Ctrl+C copies them."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(theme.px(4), theme.px(4), theme.px(4), theme.px(4))
        self._grid.setHorizontalSpacing(theme.px(10))
        self._grid.setVerticalSpacing(theme.px(4))
        self._grid.setColumnStretch(1, 1)
        self._labels: list[QLabel] = []
        self._rows: list[tuple[str, str, str]] = []

    def show_working(self, working: Working) -> None:
        """Show these lines."""
        for label in self._labels:
            self._grid.removeWidget(label)
            label.hide()
            label.deleteLater()
        self._labels = []
        self._rows = [(words.line_heading(x), words.arithmetic(x), words.line_result(x)) for x in working.lines]
        for row, (cells, line) in enumerate(zip(self._rows, working.lines, strict=True)):
            last = line.code in ("sum", "weight", "ec", "cost", "unit")
            for column, text in enumerate(cells):
                shown = f"= {text}" if column == 2 else text
                label = Words(self, shown, muted=column == 1, strong=last and column == 2)
                label.setFont(theme.font(12, strong=last and column != 1))
                label.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
                if column == 2:
                    label.setWordWrap(False)
                if column == 0:
                    label.setFixedWidth(theme.px(150))
                self._grid.addWidget(label, row, column)
                self._labels.append(label)
        self.setAccessibleName("; ".join(words.line_text(line) for line in working.lines))

    def texts(self) -> list[tuple[str, str, str]]:
        """Return the lines, three cells each."""
        return list(self._rows)

    def copy(self) -> None:
        """Put the lines on the clipboard, tabs between the cells."""
        QApplication.clipboard().setText("".join("\t".join(row) + "\n" for row in self._rows))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self.hasFocus():
            paint.focus_ring(QPainter(self), QRectF(self.rect()), theme.colours().focus, theme.px(4))


class WorkingPart(QWidget):
    """Choice of a figure and a unit over its lines."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName(say.heading("working"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, theme.px(4), 0, 0)
        column.setSpacing(theme.px(4))
        head = Words(self, say.heading("working"), muted=False, strong=True)
        head.setFont(theme.font(13, strong=True))
        head.setContentsMargins(theme.px(4), 0, 0, 0)
        column.addWidget(head)
        self.figure, self.unit = Choice(self, say.figure_choice()), Choice(self, say.unit_choice())
        self.figure.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.figure.setMinimumContentsLength(SHORTEST)
        self.figure.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.figure.setMaximumWidth(theme.px(290))
        self.figure.chosen.connect(lambda _key: self._show())
        self.unit.chosen.connect(self._choose_unit)
        self.copy = LinkButton(self)
        self.copy.set_text(say.copy_link())
        row = QHBoxLayout()
        row.setSpacing(theme.px(6))
        row.setContentsMargins(theme.px(4), 0, 0, 0)
        parts: tuple[QWidget, ...] = (
            self._label(say.figure_choice(), self.figure),
            self.figure,
            self._label(say.unit_choice(), self.unit),
            self.unit,
            self.copy,
        )
        for part in parts:
            row.addWidget(part)
        row.addStretch(1)
        column.addLayout(row)
        self.lines, self.remark = Lines(self), Words(self)
        self.remark.setContentsMargins(theme.px(4), 0, 0, 0)
        self.copy.clicked.connect(self.lines.copy)
        column.addWidget(self.lines)
        column.addWidget(self.remark)
        self._answered: Answered | None = None
        self._units: list[str] = []
        self.hide()

    def show_answer(self, answered: Answered) -> None:
        """Offer the figures of this answer and keep the one in view."""
        self._answered = answered
        self.figure.set_pairs([(key, say.figure_word(key)) for key in figures_of(answered)])
        self._show()
        self.show()

    def choose(self, figure: str) -> None:
        """Show this figure, where there is one of that name."""
        self.figure.set_key(figure)
        self._show()

    def _label(self, text: str, buddy: QWidget) -> QLabel:
        label = QLabel(text, self)
        label.setFont(theme.font(12.5))
        label.setBuddy(buddy)
        return label

    def _choose_unit(self, unit: str) -> None:
        self._units = [unit, *(other for other in self._units if other != unit)]
        self._show()

    def _show(self) -> None:
        if self._answered is None or not self.figure.key():
            return
        working = working_of(self._answered, self.figure.key())
        for part in (self.lines, self.unit, self.copy):
            part.setVisible(working is not None)
        if working is None:
            self.remark.say(say.no_working(self.figure.key()))
            return
        from core.blend.working import in_unit, units_of

        units = units_of(working)
        self.unit.set_pairs([(unit, unit) for unit in units])
        unit = next((unit for unit in self._units if unit in units), units[0])
        self.unit.set_key(unit)
        self.unit.setEnabled(len(units) > 1)
        self.lines.show_working(in_unit(working, unit))
        self.remark.say(say.by_hand())
