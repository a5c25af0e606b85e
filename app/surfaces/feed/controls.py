"""Which reservoir, tanks, water and meter, how much is in it and which EC is wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QLabel, QWidget

from app.session.feed_habits import FeedHabits, keep_habits, read_habits
from app.widgets import paint, theme
from app.widgets.choice import Choice
from app.widgets.ec_reading import EC_READING
from app.widgets.form_field import FormField
from app.widgets.link_button import LinkButton
from app.widgets.measure import TEMPERATURE, Measure
from app.wording import editors
from app.wording import feed as words
from app.wording import feed_surface as say
from core.bench.meter import Meter

if TYPE_CHECKING:
    from app.surfaces.feed.dosing import Dosing
    from core.units.formats import System

VOLUME = Measure("volume", "L", others=("US gal", "imp gal", "m³"))
SYSTEMS: dict[str, System] = {"US gal": "us", "imp gal": "imperial"}
PAD, GAP, LABEL, TALL, TITLE = 16, 14, 17, 26, 40
FIGURE = 150
CHOICES = {"reservoir": 150, "tanks": 200, "water": 170}
MOST_CHOICE = 250
BESIDE_FROM = 640


class Controls(QWidget):
    """Blocks of a label and its field, on as many lines as the width needs.

    Signals
    -------
    chosen : which choice (reservoir, tanks, water) and its key.
    mode_chosen : what is to be done at the reservoir.
    """

    chosen = Signal(str, str)
    mode_chosen = Signal(str)

    def __init__(self, parent: QWidget, dosing: Dosing) -> None:
        super().__init__(parent)
        self._dosing = dosing
        self._title = ""
        self._mode = "dose"
        self._habits = read_habits()
        self._labels: dict[QWidget, QLabel] = {}
        self.choices = {name: self._choice(name) for name in CHOICES}
        for name, choice in self.choices.items():
            choice.chosen.connect(lambda key, name=name: self.chosen.emit(name, key))
        self.volume = self._field("volume", VOLUME)
        self.volume.typed.connect(self._take_volume)
        self.volume.unit_changed.connect(self._take_unit)
        self.unit = Choice(self, editors.unit_of(say.label("volume")), [(u, editors.unit(u)) for u in _units(VOLUME)])
        self.unit.chosen.connect(self._take_unit)
        self.volume_is = self._choice("volume_is", say.volume_ways())
        self.volume_is.chosen.connect(lambda key: dosing.state(volume_is=key))
        self.holds = self._choice("holds", say.contents())
        self.holds.chosen.connect(lambda key: dosing.state(holds=key))
        self.wanted = self._field("wanted", EC_READING)
        self.wanted.typed.connect(self._take_wanted)
        self.scale = self._choice("scale", words.scales())
        self.scale.chosen.connect(lambda key: self._take_meter(unit=key))
        self.compensates = self._choice("compensates", say.compensations())
        self.compensates.chosen.connect(lambda key: self._take_meter(compensates=key == "yes"))
        self.temperature = self._field("temperature", TEMPERATURE)
        self.temperature.typed.connect(lambda value: self._take_meter(temperature_c=value))
        self.wanted_unit = QLabel(self)
        self.wanted_unit.setFont(theme.small())
        self.wanted_unit.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self.wanted_unit.setText(words.scale(self.wanted.unit))
        self.wanted.unit_changed.connect(self._show_wanted_unit)
        self.modes = {key: self._mode_button(key, text) for key, text in say.modes()}
        self.show_mode("dose")
        self._take_habits(self._habits)

    def _take_habits(self, habits: FeedHabits) -> None:
        """Begin as she left off."""
        self.temperature.set_quantity(habits.temperature_c)
        self._dosing.choose_meter(Meter(habits.ec_unit, habits.compensates, habits.temperature_c))
        self._take_unit(habits.volume_unit)

    def _keep_habits(self) -> None:
        meter = self._dosing.meter
        habits = FeedHabits(self.volume.unit, meter.unit, meter.compensates, meter.temperature_c)
        if habits != self._habits:
            self._habits = habits
            keep_habits(habits)

    def _choice(self, name: str, pairs: list[tuple[str, str]] | None = None) -> Choice:
        choice = Choice(self, say.label(name), pairs or [])
        self._label(name, choice)
        return choice

    def _field(self, name: str, measure: Measure) -> FormField:
        field = FormField(self, measure, say.label(name), live=False)
        self._label(name, field)
        return field

    def _label(self, name: str, buddy: QWidget) -> None:
        label = self._labels[buddy] = QLabel(say.label(name), self)
        label.setFont(theme.small())
        label.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        label.setBuddy(buddy)

    def _mode_button(self, key: str, text: str) -> LinkButton:
        button = LinkButton(self)
        button.set_text(text)
        button.setCheckable(True)
        button.clicked.connect(lambda: self.mode_chosen.emit(key))
        return button

    def show_mode(self, mode: str) -> None:
        """Mark what is being done, and leave out what belongs to dosing alone."""
        self._mode = mode
        for part in (self.volume, self.unit, self.volume_is, self.holds, self.wanted, self.wanted_unit):
            part.setVisible(mode == "dose")
        for part in (self.volume, self.volume_is, self.holds, self.wanted):
            self._labels[part].setVisible(mode == "dose")
        for key, button in self.modes.items():
            button.setChecked(key == mode)
        self._arrange()

    def show_state(self) -> None:
        """Show what the dosing holds; what was stated before the first pour is not to be changed after it."""
        dosing, asked = self._dosing, self._dosing.asked
        self._keep_habits()
        self.volume.set_quantity(asked.volume_l)
        self.wanted.set_quantity(asked.wanted_ms_per_cm or None)
        self.volume_is.set_key(asked.volume_is)
        self.holds.set_key(asked.holds)
        self.scale.set_key(dosing.meter.unit)
        self.compensates.set_key("yes" if dosing.meter.compensates else "no")
        self.temperature.setVisible(not dosing.meter.compensates)
        self._labels[self.temperature].setVisible(not dosing.meter.compensates)
        for part in (self.volume, self.unit, self.volume_is, self.holds):
            part.setEnabled(not dosing.begun())
        self._title = say.title(dosing.reservoir, dosing.told, dosing.system, asked.volume_l)
        self.setAccessibleName(self._title)
        self._arrange()
        self.update()

    def _take_volume(self, value: float | None) -> None:
        if value is not None and value > 0.0:
            self._dosing.state(volume_l=value)

    def _take_unit(self, unit: str) -> None:
        """Gallons bring fluid ounces of their country with them, litres millilitres."""
        self.volume.set_unit(unit)
        self.unit.set_key(unit, editors.unit(unit))
        self._dosing.show_in(SYSTEMS.get(unit, "metric"))

    def _take_wanted(self, value: float | None) -> None:
        if value is not None and value > 0.0:
            self._dosing.want(wanted_ms_per_cm=value)

    def _show_wanted_unit(self, unit: str) -> None:
        self.wanted_unit.setText(words.scale(unit))
        self._arrange()

    def _take_meter(self, **changes: object) -> None:
        meter = self._dosing.meter
        figures = {"unit": meter.unit, "compensates": meter.compensates, "temperature_c": self.temperature.quantity()}
        figures |= changes
        temperature = figures["temperature_c"]
        if not isinstance(temperature, float | int) or not 0.0 <= temperature <= 50.0:
            self.temperature.refuse(say.no_temperature())
            return
        self._dosing.choose_meter(Meter(str(figures["unit"]), bool(figures["compensates"]), float(temperature)))

    def height_for(self, width: int) -> int:
        """Return the height needed at a width [px]."""
        return self._lay(width, place=False)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        self._lay(self.width(), place=True)

    def _blocks(self) -> list[tuple[QWidget, int, QWidget | None]]:
        px = theme.px
        blocks: list[tuple[QWidget, int, QWidget | None]] = []
        for name, least in CHOICES.items():
            choice = self.choices[name]
            shown = choice.count() > 1 or name == "tanks"
            for part in (choice, self._labels[choice]):
                part.setVisible(shown)
            if shown:
                blocks.append((choice, min(max(choice.sizeHint().width(), px(least)), px(MOST_CHOICE)), None))
        dose = self._mode == "dose"
        if dose:
            blocks.append((self.volume, px(72), self.unit))
        for part in (self.volume_is, self.holds) if dose else ():
            blocks.append((part, part.sizeHint().width(), None))
        if dose:
            blocks.append((self.wanted, px(72), self.wanted_unit))
        for part in (self.scale, self.compensates):
            blocks.append((part, part.sizeHint().width(), None))
        if not self.temperature.isHidden():
            blocks.append((self.temperature, px(60), None))
        return blocks

    def _lay(self, width: int, *, place: bool) -> int:
        pad, gap, line = theme.px(PAD), theme.px(GAP), theme.px(LABEL + TALL + 8)
        top = self._lay_modes(width, place=place)
        left = pad
        for part, wide, unit in self._blocks():
            beside = 0 if unit is None else unit.sizeHint().width() + theme.px(4)
            if left > pad and left + wide + beside > width - pad:
                left, top = pad, top + line
            if place:
                label = self._labels[part]
                label.setGeometry(left, top, wide + beside + gap, theme.px(LABEL))
                part.setGeometry(left, top + theme.px(LABEL), wide, theme.px(TALL))
                if unit is not None:
                    unit.setGeometry(left + wide + theme.px(4), top + theme.px(LABEL), beside, theme.px(TALL))
            left += wide + beside + gap
        return top + line + theme.px(4)

    def _lay_modes(self, width: int, *, place: bool) -> int:
        """Put the three things to do at the right of the title, or below it where the width is small."""
        pad, title = theme.px(PAD), theme.px(TITLE)
        needed = sum(button.sizeHint().width() + theme.px(6) for button in self.modes.values())
        beside = width >= theme.px(BESIDE_FROM)
        left, top = (width - pad - needed, theme.px(8)) if beside else (pad - theme.px(6), title - theme.px(2))
        for button in self.modes.values():
            if place:
                button.move(left, top)
            left += button.sizeHint().width() + theme.px(6)
        return title + (0 if beside else theme.px(28))

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.fillRect(self.rect(), colours.card)
        painter.fillRect(QRectF(0, self.height() - 1, self.width(), 1), colours.line)
        right = next(iter(self.modes.values())).x() if self.width() >= theme.px(BESIDE_FROM) else self.width()
        place = QRectF(theme.px(PAD), theme.px(8), right - 2 * theme.px(PAD), theme.px(26))
        paint.text(painter, place, self._title, theme.font(18, strong=True), colours.text)
        for button in self.modes.values():
            if button.isChecked():
                inset = theme.px(6)
                under = QRectF(button.x() + inset, button.geometry().bottom() - 1, button.width() - 2 * inset, 2)
                painter.fillRect(under, colours.accent)


def _units(measure: Measure) -> tuple[str, ...]:
    return (measure.unit, *measure.others)


FOCUS = Qt.FocusReason.TabFocusReason
"""How the keyboard is handed on."""
