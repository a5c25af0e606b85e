"""What an injector really gives, by the hose; how much of a closed loop to let go for sodium and chloride."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from app.surfaces.feed.form_card import FormCard
from app.widgets import theme
from app.widgets.laid_card import Text
from app.widgets.measure import EC, NUMBER
from app.wording import feed_topup as say

if TYPE_CHECKING:
    from app.surfaces.feed.dosing import Dosing
    from core.plan.running import Bleed, InjectorAnswer

TWO_FROM = 760


class InjectorPage(QWidget):
    """Two cards that answer while they are typed into."""

    def __init__(self, parent: QWidget, dosing: Dosing) -> None:
        super().__init__(parent)
        self._dosing = dosing
        self._tanks: object = None
        self.answer: InjectorAnswer | None = None
        self.bleeds: tuple[Bleed, ...] = ()
        self.injector = FormCard(self, say.injector_title())
        self.hose = self.injector.add_quantity(say.label("hose"), EC, lambda _v: self.show_tanks())
        self.water = self.injector.add_quantity(say.label("water"), EC, lambda _v: self.show_tanks())
        self.rise = self.injector.add_quantity(say.label("rise"), EC, lambda _v: self.show_tanks())
        self.given = Text(self.injector, 34, strong=True)
        self.true = Text(self.injector, 15)
        self.advice = Text(self.injector, 13.5)
        self.counted = Text(self.injector, 12, role="muted")
        self.counted.say(say.ratio_source())
        for part in (self.given, self.true, self.advice, self.counted):
            self.injector.column.addWidget(part)
        self.loop = FormCard(self, say.bleed_title())
        self.crop = self.loop.add_choice(say.label("crop"), _crops(), lambda _key: self.show_tanks())
        unit = say.meq_per_l()
        self.inflow = {
            ion: self.loop.add_quantity(say.label(ion), NUMBER, lambda _v: self._show_loop(), unit_words=unit)
            for ion in ("Na", "Cl")
        }
        self.lines = [(Text(self.loop, 26, strong=True), Text(self.loop, 13)) for _ in self.inflow]
        self.loop_advice = Text(self.loop, 13.5, strong=True)
        self.source = Text(self.loop, 12, role="muted")
        for big, rest in self.lines:
            self.loop.column.addWidget(big)
            self.loop.column.addWidget(rest)
        self.loop.column.addWidget(self.loop_advice)
        self.loop.column.addWidget(self.source)

    def show_tanks(self) -> None:
        """Answer with the dosing's tanks."""
        tanks = self._dosing.tanks
        if tanks is None:
            return
        if tanks is not self._tanks:
            from core.plan.running import inflow_meq_per_l, planned_rise_ms_per_cm

            self._tanks = tanks
            self.rise.set_hint(say.planned_rise(planned_rise_ms_per_cm(tanks)))
            for ion, amount in inflow_meq_per_l(tanks).items():
                self.inflow[ion].set_quantity(round(amount, 2))
            for field in (self.hose, self.water):
                self.injector.show_unit(field, self._dosing.meter.unit)
        self._show_injector()
        self._show_loop()

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
        self.advice.say("" if self.answer is None else say.injector_advice(self.answer))
        self._arrange()

    def _show_loop(self) -> None:
        from core.plan.running import bleeds, loop_for

        loop = loop_for(self.crop.key())
        amounts = {ion: field.quantity() or 0.0 for ion, field in self.inflow.items()}
        self.bleeds = bleeds(amounts, loop)  # type: ignore[arg-type]  # sodium and chloride, as the fields are made
        for (big, rest), one in zip(self.lines, self.bleeds, strict=True):
            words = say.bleed_line(one)
            big.say(words[0])
            rest.say(words[1])
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
        gap = theme.px(theme.GAP)
        two = width >= theme.px(TWO_FROM)
        wide = (width - gap) // 2 if two else width
        left, top, deepest = 0, 0, 0
        for card in (self.injector, self.loop):
            high = card.least_height(wide)
            if place:
                card.setGeometry(left, top, wide, high)
            deepest = max(deepest, top + high)
            if two:
                left += wide + gap
            else:
                top += high + gap
        return deepest


def _crops() -> list[tuple[str, str]]:
    from core.catalog import closed_loops

    return [(one.crop, say.crop(one.crop)) for one in closed_loops()]
