"""What an injector really gives, by the hose; how much of a closed loop to let go for sodium and chloride."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.surfaces.feed.columns import lay_columns
from app.surfaces.feed.form_card import FormCard
from app.widgets import paint, theme
from app.widgets.ec_reading import EC_READING
from app.widgets.laid_card import Text
from app.widgets.measure import NUMBER
from app.wording import feed as words
from app.wording import feed_topup as say
from core.bench.meter import Meter

if TYPE_CHECKING:
    from app.surfaces.feed.dosing import Dosing
    from core.plan.running import Bleed, InjectorAnswer
    from core.recipe.records import Aim


class InjectorPage(QWidget):
    """Two cards that answer while they are typed into."""

    def __init__(self, parent: QWidget, dosing: Dosing) -> None:
        super().__init__(parent)
        self._dosing = dosing
        self._tanks: object = None
        self._rise_ms_per_cm, self._unit = 0.0, ""
        self.answer: InjectorAnswer | None = None
        self.bleeds: tuple[Bleed, ...] = ()
        self.injector = FormCard(self, say.injector_title())
        self.hose = self.injector.add_quantity(say.label("hose"), EC_READING, lambda _v: self.show_tanks())
        self.water = self.injector.add_quantity(say.label("water"), EC_READING, lambda _v: self.show_tanks())
        self.rise = self.injector.add_quantity(say.label("rise"), EC_READING, lambda _v: self.show_tanks())
        self.found = _Answer(self.injector)
        self.given, self.true = self.found.add(34, strong=True), self.found.add(15)
        self.advice = self.found.add(13.5)
        self.counted = Text(self.injector, 12, role="muted")
        self.counted.say(say.ratio_source())
        self.injector.column.addWidget(self.counted)
        self.loop = FormCard(self, say.bleed_title())
        self.crop = self.loop.add_choice(say.label("crop"), _crops(), lambda _key: self.show_tanks())
        self.crop.setMinimumWidth(theme.px(170))
        unit = say.meq_per_l()
        self.inflow = {
            ion: self.loop.add_quantity(say.label(ion), NUMBER, lambda _v: self._show_loop(), unit_words=unit)
            for ion in ("Na", "Cl")
        }
        self.let_go = _Answer(self.loop)
        self.lines = [(self.let_go.add(26, strong=True), self.let_go.add(13)) for _ in self.inflow]
        self.loop_advice = self.let_go.add(13.5, strong=True)
        self.source = Text(self.loop, 12, role="muted")
        self.loop.column.addWidget(self.source)

    def show_tanks(self) -> None:
        """Answer with the dosing's tanks."""
        tanks = self._dosing.tanks
        if tanks is None:
            return
        if tanks is not self._tanks:
            from core.plan.running import inflow_meq_per_l, planned_rise_ms_per_cm

            self._tanks = tanks
            self._rise_ms_per_cm, self._unit = planned_rise_ms_per_cm(tanks), ""
            for ion, amount in inflow_meq_per_l(tanks).items():
                self.inflow[ion].set_quantity(round(amount, 2))
            self.crop.set_key(_crop_of(tanks.recipe.aim))
        self._show_unit()
        self._show_injector()
        self._show_loop()

    def _show_unit(self) -> None:
        """Follow the scale of her meter when that changes."""
        meter = self._dosing.meter
        if meter.unit != self._unit:
            self._unit = meter.unit
            for field in (self.hose, self.water, self.rise):
                self.injector.show_unit(field, meter.unit)
            self.rise.set_hint(words.number_on(self._rise_ms_per_cm, Meter(meter.unit)))

    def _show_injector(self) -> None:
        tanks, meter = self._dosing.tanks, self._dosing.meter
        hose, water, rise = self.hose.quantity(), self.water.quantity(), self.rise.quantity()
        self.answer = None
        if tanks is not None and hose is not None and water is not None and (rise is None or rise > 0.0):
            from core.plan.running import injector_answer

            self.answer = injector_answer(tanks, meter.to_25_c(hose), meter.to_25_c(water), rise)
        big, rest = ("", "") if self.answer is None else say.delivered(self.answer)
        self.given.say(big)
        self.true.say(rest)
        self.advice.say("" if self.answer is None else say.injector_advice(self.answer, meter))
        self.found.setVisible(self.answer is not None)
        self._arrange()

    def _show_loop(self) -> None:
        from core.plan.running import bleeds, loop_for

        chosen = self.crop.key()
        self.let_go.setVisible(bool(chosen))
        self.source.say("" if chosen else say.crops_known())
        if not chosen:
            self.bleeds = ()
            self._arrange()
            return
        loop = loop_for(chosen)
        amounts = {ion: field.quantity() or 0.0 for ion, field in self.inflow.items()}
        self.bleeds = bleeds(amounts, loop)  # type: ignore[arg-type]  # sodium and chloride, as the fields are made
        for (big, rest), one in zip(self.lines, self.bleeds, strict=True):
            share, behind = say.bleed_line(one)
            big.say("" if one.share == 0.0 else share)  # nothing to let go is said once, above
            rest.say(behind)
        self.loop_advice.say(say.bleed_advice(self.bleeds))
        self.source.say(say.bleed_source(loop))
        self._arrange()

    def height_for(self, width: int) -> int:
        """Return the height needed at a width [px]."""
        return self._lay(width, place=False)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        self._lay(self.width(), place=True)

    def _lay(self, width: int, *, place: bool) -> int:
        return lay_columns(([self.injector], [self.loop]), [self.injector, self.loop], width, place=place)


class _Answer(QWidget):
    """What is told, large, on the ground of the one thing to look at; takes no room while nothing is told."""

    def __init__(self, card: FormCard) -> None:
        super().__init__(card)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(theme.px(14), theme.px(8), theme.px(14), theme.px(10))
        self.column.setSpacing(theme.px(2))
        card.column.addWidget(self)

    def add(self, designed: float, *, strong: bool = False) -> Text:
        """Put a text below those there are, and return it."""
        text = Text(self, designed, strong=strong)
        self.column.addWidget(text)
        return text

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours = theme.colours()
        paint.panel(QPainter(self), QRectF(self.rect()), colours.rail_chosen, colours.wanted_line, theme.px(8))


def _crops() -> list[tuple[str, str]]:
    from core.catalog import closed_loops

    return [("", say.choose_crop()), *((one.crop, say.crop(one.crop)) for one in closed_loops())]


def _crop_of(aim: Aim) -> str:
    """The crop an aim was taken from, where there are figures for it; "" where it is left to her."""
    from core.catalog import closed_loops, crops

    grown = next((one.crop for one in crops() if one.id == aim.crop), "")
    return grown if grown in [one.crop for one in closed_loops()] else ""
