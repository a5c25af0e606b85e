"""Adding a reservoir, or changing one: name, volume, water."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import structs
from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLabel, QWidget

from app.widgets import theme
from app.widgets.choice import Choice
from app.widgets.form_field import FormField
from app.widgets.form_text import FormText
from app.widgets.laid_card import LaidCard, Text
from app.widgets.link_button import LinkButton
from app.widgets.main_button import MainButton
from app.widgets.measure import VOLUME
from app.wording import logbook as say

if TYPE_CHECKING:
    from core.logbook.records import Reservoir
    from core.recipe.records import Water

BATCH, OPEN, PURE, KEPT = "batch", "open", "pure", "kept"


class ReservoirForm(LaidCard):
    """Three fields and a button; Enter ends it, Escape gives it up.

    Signals
    -------
    entered : the reservoir as it is to be.
    given_up : nothing is to change.
    """

    entered = Signal(object)
    given_up = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.reservoir_form(True))
        self._old: Reservoir | None = None
        self._taken: tuple[str, ...] = ()
        self._open_water: Water | None = None
        name, volume, water = say.reservoir_fields()
        self.name = FormText(self, name)
        self.volume = FormField(self, VOLUME, volume)
        self.water = Choice(self, water)
        self.name.setFixedWidth(theme.px(200))
        self.volume.setFixedWidth(theme.px(90))
        self.water.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.water.setMinimumWidth(theme.px(120))
        self.water.setMaximumWidth(theme.px(480))
        grid = QGridLayout()
        grid.setHorizontalSpacing(theme.px(10))
        grid.setVerticalSpacing(theme.px(6))
        grid.setColumnStretch(2, 1)
        unit = QLabel(VOLUME.unit, self)
        for line, (words, part) in enumerate(((name, self.name), (volume, self.volume), (water, self.water))):
            label = QLabel(words, self)
            label.setBuddy(part)
            label.setFont(theme.font())
            grid.addWidget(label, line, 0)
            grid.addWidget(part, line, 1, 1, 1 if part is self.volume else 2)
        grid.addWidget(unit, 1, 2)
        self.save, self.cancel = MainButton(self), LinkButton(self)
        self.cancel.set_text(say.cancel())
        self.cancel.clicked.connect(self.given_up)
        self.save.clicked.connect(self.take)
        buttons = QHBoxLayout()
        buttons.addWidget(self.save)
        buttons.addWidget(self.cancel)
        buttons.addStretch(1)
        self.told = Text(self, 12.5, role="stop")
        self.column.addLayout(grid)
        self.column.addWidget(self.told)
        self.column.addLayout(buttons)
        self.column.addStretch(1)
        self.name.returnPressed.connect(self.take)
        self.volume.returnPressed.connect(self.take)
        self.hide()

    def begin(self, old: Reservoir | None, taken: tuple[str, ...], open_water: Water | None) -> None:
        """Show a reservoir to be changed, or an empty form; `taken` are names other reservoirs have."""
        self._old, self._taken, self._open_water = old, taken, open_water
        self.set_title(say.reservoir_form(old is None))
        self.save.set_text(say.save_reservoir(old is None))
        self.name.set_kept("" if old is None else old.name)
        self.volume.set_quantity(None if old is None else old.volume_l)
        own = () if old is None or old.water is None else ((KEPT, say.kept_water(old.water.name)),)
        name = "" if open_water is None else open_water.name
        pairs = [pair for pair in say.reservoir_waters(name) if pair[0] != OPEN or open_water is not None]
        self.water.set_pairs([*own, *pairs])
        self.water.set_key(KEPT if own else BATCH)
        self.told.say("")
        self.show()
        self.name.setFocus(Qt.FocusReason.TabFocusReason)

    def old(self) -> Reservoir | None:
        """Return the reservoir being changed, None for a new one."""
        return self._old

    def take(self) -> None:
        """Hand on the reservoir, or say what is missing."""
        from core.logbook.records import Reservoir

        name, volume = self.name.text().strip(), self.volume.quantity()
        if self.volume.fault():
            return
        missing = (
            say.name_missing()
            if not name
            else say.name_taken(name)
            if name in self._taken
            else say.volume_missing()
            if not volume
            else ""
        )
        self.told.say(missing)
        if missing:
            (self.name if not name or name in self._taken else self.volume).setFocus(Qt.FocusReason.OtherFocusReason)
            return
        old = self._old or Reservoir(name, 1.0)
        self.entered.emit(structs.replace(old, name=name, volume_l=volume, water=self._water(old.water)))

    def _water(self, kept: Water | None) -> Water | None:
        from core.recipe.records import Water

        chosen = self.water.key()
        if chosen == PURE:
            return Water(say.pure_water_name())
        return kept if chosen == KEPT else self._open_water if chosen == OPEN else None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.given_up.emit()
        else:
            super().keyPressEvent(event)
