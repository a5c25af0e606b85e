"""What is printed, seen before it is printed: parts, paper and decimal mark beside the pages themselves."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QDialog,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.paper.document import PARTS, PartName, document
from app.paper.job import Job
from app.paper.pdf_pages import lay_out
from app.widgets import paint, theme
from app.widgets.choice import Choice
from app.widgets.link_button import LinkButton
from app.widgets.main_button import MainButton
from app.widgets.slim_bar import slim
from app.window.page_view import PageView
from app.wording import printing as say

if TYPE_CHECKING:
    from app.paper.blocks import Document
    from app.session.weighing import Weighing

SIDE = 230


class _Turn(LinkButton):
    """Turns a page; grey where there is none."""

    def paintEvent(self, event: QPaintEvent) -> None:
        if self.isEnabled():
            super().paintEvent(event)
        else:
            place = QRectF(self.rect()).adjusted(theme.px(6), 0, 0, 0)
            paint.text(QPainter(self), place, self.text(), theme.font(12.5), theme.colours().muted)


class PrintDialog(QDialog):
    """Shows the pages of a job as they are chosen.

    Signals
    -------
    wanted : "print", "pdf", "html" or "csv" was pressed.
    """

    wanted = Signal(str)

    def __init__(self, window: QWidget, job: Job, weighing: Weighing, parts: tuple[PartName, ...]) -> None:
        super().__init__(window)
        self.job = job
        self._weighing = weighing
        self.setWindowTitle(say.title() if job.made is None else say.title_of_batch(job.made.mixed_on[:10]))
        self.boxes: dict[PartName, QCheckBox] = {}
        offered = PARTS if job.made is None else ("labels",)
        side = QVBoxLayout()
        side.setSpacing(theme.px(7))
        for name in offered:
            box = self.boxes[name] = QCheckBox(say.part(name), self)
            box.setFont(theme.font())
            box.setChecked(name in parts)
            box.toggled.connect(self._show)
            side.addWidget(box)
        self.paper = Choice(self, say.paper_name(), say.papers())
        self.paper.set_key(weighing.habits.paper)
        self.paper.chosen.connect(lambda key: self._choose(paper=key))
        self.mark = Choice(self, say.mark_name(), say.marks())
        self.mark.set_key(weighing.habits.decimal_mark)
        self.mark.chosen.connect(lambda key: self._choose(decimal_mark=key))
        side.addLayout(self._choices())
        self.told = QLabel(self)
        self.told.setWordWrap(True)
        self.told.setTextFormat(Qt.TextFormat.PlainText)
        self.told.setFont(theme.font(12.5))
        self.open_link = LinkButton(self)
        self.open_link.set_text(say.open_file())
        self.open_link.hide()
        self.buttons = self._make_buttons(side)
        side.addWidget(self.told)
        side.addWidget(self.open_link)
        side.addStretch(1)
        side.addWidget(self.buttons["close"])
        self.view = PageView(self)
        self.view.turned.connect(self._show_page)
        self._lay_out(side)
        self._show()
        self.resize(min(theme.px(900), window.width() - 40), min(theme.px(700), window.height() - 30))
        self.buttons["print"].setFocus()

    def document(self) -> Document:
        """Return what is chosen."""
        return document(self.job, self.parts(), self._weighing.habits.decimal_mark)

    def parts(self) -> tuple[PartName, ...]:
        """Return the parts that are ticked, in their order."""
        return tuple(name for name, box in self.boxes.items() if box.isChecked())

    def tell(self, words: str, *, to_open: bool = False) -> None:
        """Say what became of a printing or an export."""
        self.told.setText(words)
        self.told.setAccessibleName(words)
        self.open_link.setVisible(to_open)

    def _want(self, kind: str, _checked: bool = False) -> None:
        self.wanted.emit(kind)

    def _choose(self, **changed: str) -> None:
        self._weighing.choose(**changed)
        self._show()

    def _choices(self) -> QGridLayout:
        grid = QGridLayout()
        for row, (name, choice) in enumerate(((say.paper_name(), self.paper), (say.mark_name(), self.mark))):
            label = QLabel(name, self)
            label.setFont(theme.font())
            label.setBuddy(choice)
            grid.addWidget(label, row, 0)
            grid.addWidget(choice, row, 1)
        grid.setColumnStretch(1, 1)
        return grid

    def _make_buttons(self, side: QVBoxLayout) -> dict[str, MainButton]:
        made = {}
        for kind in ("print", "pdf", "html", "csv", "close"):
            if kind == "csv" and self.job.made is not None:
                continue
            button = made[kind] = MainButton(self, quiet=kind != "print")
            button.set_text(say.buttons()[kind])
            button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            button.clicked.connect(self.reject if kind == "close" else partial(self._want, kind))
            if kind != "close":  # it stands at the bottom
                side.addWidget(button)
        return made

    def _lay_out(self, side: QVBoxLayout) -> None:
        holder = QWidget(self)
        holder.setLayout(side)
        scroll = QScrollArea(self)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setWidgetResizable(True)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        slim(scroll)
        scroll.setWidget(holder)
        scroll.setFixedWidth(max(theme.px(SIDE), holder.sizeHint().width() + theme.px(14)))
        self._back, self._on = _Turn(self), _Turn(self)
        self._number = QLabel(self)
        self._number.setFont(theme.small())
        turning = QHBoxLayout()
        for link, kind, by in ((self._back, "back", -1), (self._on, "on", 1)):
            link.set_text(say.buttons()[kind])
            link.clicked.connect(lambda _checked=False, by=by: self.view.turn(by))
        for part in (self._back, self._number, self._on):
            turning.addWidget(part)
        turning.addStretch(1)
        right = QVBoxLayout()
        right.addWidget(self.view, 1)
        right.addLayout(turning)
        row = QHBoxLayout(self)
        row.addWidget(scroll)
        row.addLayout(right, 1)

    def _show(self) -> None:
        pages = lay_out(self.document(), self._weighing.habits.paper) if self.parts() else ()
        self.view.show_pages(pages)
        for kind in ("print", "pdf", "html"):
            self.buttons[kind].setEnabled(bool(pages))
        self.tell("")

    def _show_page(self) -> None:
        self._number.setText(self.view.told())
        self._back.setEnabled(self.view.number > 0)
        self._on.setEnabled(self.view.number + 1 < len(self.view.pages))
