"""The ways to a variant, what can be done with the one chosen, and what is being worked out."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QLabel, QWidget

from app.session.side_by_side import Held
from app.widgets import theme
from app.widgets.form_text import FormText
from app.widgets.link_button import LinkButton
from app.wording import comparing as say

LINE, NAME = 30, 220


def flow(parts: Sequence[QWidget], width: int, *, left: int = 0, top: int = 0) -> int:
    """Place the parts in lines from the left, as many as the width takes; return the height they need [px]."""
    x, y, line, gap = left, top, theme.px(LINE), theme.px(4)
    for part in parts:
        size = part.sizeHint() if isinstance(part, LinkButton) else part.size()
        if x > left and x + size.width() > width:
            x, y = left, y + line
        part.setGeometry(x, y + (line - size.height()) // 2, size.width(), size.height())
        x += size.width() + gap
    return y + line - top


class WaysBar(QWidget):
    """Buttons that add a variant, and at their end what is going on.

    Signals
    -------
    wanted : the way that was pressed.
    cancelled : what is being worked out is to be given up.
    turned : the words are to stand in the table's place, or it in theirs.
    """

    wanted = Signal(str)
    cancelled = Signal()
    turned = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.ways = {name: LinkButton(self) for name in say.WAYS}
        for name, link in self.ways.items():
            text, tip = say.way(name)
            link.set_text(text)
            link.setToolTip(tip)
            link.setAccessibleDescription(tip)
            link.clicked.connect(lambda _checked=False, name=name: self.wanted.emit(name))
        self.turn = LinkButton(self)
        self.turn.clicked.connect(self.turned)
        self.turn.hide()
        self.state = QLabel(self)
        self.state.setFont(theme.small())
        self.state.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self.cancel = LinkButton(self)
        self.cancel.set_text(say.cancel())
        self.cancel.clicked.connect(self.cancelled)
        self.say_busy(False)

    def show_only(self, names: Sequence[str]) -> None:
        """Offer only these ways."""
        for name, link in self.ways.items():
            link.setVisible(name in names)

    def show_turn(self, to_words: bool | None) -> None:
        """Offer to turn to the words or to the table, or not at all."""
        self.turn.setVisible(to_words is not None)
        if to_words is not None:
            self.turn.set_text(say.turn(to_words))

    def say_busy(self, busy: bool) -> None:
        """Say that something is being worked out, or that it is no longer."""
        self.cancel.setVisible(busy)
        self.say(say.working() if busy else "")

    def say(self, text: str) -> None:
        """Say this at the end of the line."""
        self.state.setText(text)
        self.state.setAccessibleName(text)
        self.state.adjustSize()
        self.state.setVisible(bool(text))

    def height_for(self, width: int) -> int:
        """Lay the bar out for a width and return the height it needs [px]."""
        parts = [link for link in (*self.ways.values(), self.turn) if not link.isHidden()]
        return flow([*parts, *(p for p in (self.state, self.cancel) if not p.isHidden())], width)


class ActsBar(QWidget):
    """What can be done with the variant chosen.

    Signals
    -------
    wanted : the act that was pressed.
    renamed : another name for the variant.
    """

    wanted = Signal(str)
    renamed = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.name = FormText(self, say.name_label())
        self.name.setPlaceholderText(say.name_label())
        self.name.entered.connect(self.renamed)
        self.name.resize(theme.px(NAME), self.name.height())
        self.acts = {name: LinkButton(self) for name in say.ACTS}
        for name, link in self.acts.items():
            link.set_text(say.act(name))
            link.clicked.connect(lambda _checked=False, name=name: self.wanted.emit(name))

    def show_held(self, held: Held, name: str) -> None:
        """Show what can be done with this variant."""
        self.name.setVisible(held.kind in ("kept", "adapted"))
        self.name.set_kept(name)
        if not self.name.hasFocus():
            self.name.setCursorPosition(0)
        self.acts["open"].setVisible(held.kind != "open")
        self.acts["save"].setVisible(held.kind in ("kept", "adapted") and held.path is None)
        self.acts["remove"].setVisible(held.kind != "open")
        for link in self.acts.values():
            link.setAccessibleDescription(name)

    def height_for(self, width: int) -> int:
        """Lay the bar out for a width and return the height it needs [px]."""
        parts = [part for part in (*self.acts.values(), self.name) if not part.isHidden()]
        return flow(parts, width)
