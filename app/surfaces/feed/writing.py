"""Writing a finished dosing into a diary: which reservoir's, or a new one's."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.widgets import theme
from app.widgets.choice import Choice
from app.widgets.form_text import FormText
from app.widgets.laid_card import Text
from app.wording import feed_surface as say

if TYPE_CHECKING:
    from app.surfaces.feed.dosing import Dosing

NEW = "\n"
"""Key of the choice of a new reservoir; no name holds a line's end."""


class Writing(QWidget):
    """A choice of reservoirs, and a name where it is a new one.

    Signals
    -------
    wanted : the name of the reservoir, and whether it is new.
    """

    wanted = Signal(str, bool)

    def __init__(self, parent: QWidget, dosing: Dosing) -> None:
        super().__init__(parent)
        self._dosing = dosing
        self._names: tuple[str, ...] = ()
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        row = QHBoxLayout()
        row.setSpacing(theme.px(8))
        label = Text(self, 13)
        label.setWordWrap(False)
        label.say(say.write_where())
        self.choice = Choice(self, say.write_where())
        self.choice.chosen.connect(lambda _key: self._show_name())
        self.name = FormText(self, say.new_name())
        self.name.setPlaceholderText(say.new_name())
        self.name.setFixedWidth(theme.px(170))
        self.name.returnPressed.connect(self.write)
        label.setBuddy(self.choice)
        for part in (label, self.choice, self.name):
            row.addWidget(part)
        row.addStretch(1)
        self.refusal = Text(self, 12.5, role="stop")
        outer.addLayout(row)
        outer.addWidget(self.refusal)

    def first(self) -> QWidget | None:
        """Return the field that wants a name, if any does."""
        return None if self.name.isHidden() else self.name

    def set_reservoirs(self, names: tuple[str, ...]) -> None:
        """Offer these."""
        self._names = names
        self.show_reservoirs()

    def show_reservoirs(self) -> None:
        """Show the dosing's own reservoir first, a new one where none was chosen."""
        self.choice.set_pairs([*((name, name) for name in self._names), (NEW, say.new_reservoir())])
        self.choice.set_key(self._dosing.reservoir or (self.choice.key() or NEW))
        self._show_name()

    def _show_name(self) -> None:
        self.name.setVisible(self.choice.key() == NEW)
        self.refusal.say("")

    def write(self) -> None:
        """Ask for the entry to be written, or say what is missing."""
        key = self.choice.key()
        if key != NEW:
            self.wanted.emit(key, False)
            return
        name = self.name.text().strip()
        if not name:
            self.refusal.say(say.name_missing())
        elif name in self._names:
            self.refusal.say(say.name_taken(name))
        else:
            self.name.set_kept("")
            self.wanted.emit(name, True)
