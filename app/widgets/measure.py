"""What a form's field holds: a kind of quantity, the unit it is kept in, and how what was typed is heard."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

from app.widgets.reading import shortest, with_basis

if TYPE_CHECKING:
    from core.units import Context, Kind, Understood

_PER_LITRE = re.compile(r" ?(?:/ ?|per )[lL]$")
_PLAIN = re.compile(r"[\d.,]+ ?[^\d*+]*")


class Heard(NamedTuple):
    """What was understood: the value in the kept unit, the unit it was typed in, in words; `plain` needs no words."""

    value: float
    unit: str
    words: str
    plain: bool
    compound: bool = False


class Measure(NamedTuple):
    """A kind of quantity; `kind` None is a bare number. `others` are units offered beside the kept one.

    With `per` every unit is of that much ("/L"), which may be typed or left out. `basis` is shown behind the kept unit
    where the field's name alone would leave open what is counted.
    """

    kind: Kind | None
    unit: str = ""
    of: str | None = None
    others: tuple[str, ...] = ()
    signed: bool = False
    per: str = ""
    basis: str = ""

    def label(self, unit: str) -> str:
        """Return a unit with all that tells what it counts: "mg/L" of sulfur as "mg/L as S"."""
        return f"{unit} as {self.basis}" if unit == self.unit and self.basis else f"{unit}{self.per}"

    def hear(self, text: str, shown_unit: str) -> Heard:
        """Understand typed text; a number alone is in the unit shown.

        Raises
        ------
        core.units.UnitError : it cannot be read, or only in several ways.
        """
        if self.kind is None:
            return self._hear_number(text)
        from core.units import UnitError, read_quantity  # first needed when somebody types

        if self.per:
            text = _PER_LITRE.sub("", text.replace("ppm", "mg"))
        try:
            understood = read_quantity(text, self.kind, shown_unit, of=self.of)
        except UnitError:
            spelled = with_basis(text) if self.kind in ("concentration", "alkalinity", "hardness") else None
            if spelled is None:
                raise
            understood = self._with_basis(text, spelled, shown_unit)
        plain = understood.unit == self.unit and _PLAIN.fullmatch(text.strip()) is not None
        value = self._kept(understood.value)
        if understood.unit != self.unit or len(understood.parts) > 1:
            value = float(f"{value:.12g}")  # 470 µS/cm is 0.47 mS/cm, not 0.47000000000000003
        return Heard(value, understood.unit, understood.echo(), plain, len(understood.parts) > 1)

    def _with_basis(self, text: str, spelled: str, shown_unit: str) -> Understood:
        """Read a number with a form behind it; where that is none either, what was typed is what is wrong."""
        from core.units import UnitError, read_quantity

        assert self.kind is not None
        try:
            return read_quantity(spelled, self.kind, shown_unit, of=self.of)
        except UnitError:
            return read_quantity(text, self.kind, shown_unit, of=self.of)

    def text(self, value: float, shown_unit: str) -> str:
        """Return the shortest text of a kept value in the unit shown."""
        if self.kind is None or shown_unit == self.unit:
            return shortest(value)
        from core.units import value_in

        ours = self._in_ours(value)
        return shortest(float(f"{value_in(ours, self.kind, shown_unit, self._context()):.10g}"))

    def _hear_number(self, text: str) -> Heard:
        from app.widgets.reading import read_plain
        from core.units import read_number

        read: Callable[[str], float] = read_number if self.signed else lambda typed: read_plain(typed).value
        value = read(text)
        return Heard(value, "", shortest(value), text.strip().replace(",", ".").replace(".", "", 1).isdigit())

    def _context(self) -> Context:
        from core.units import Context

        return Context(self.of)

    def _kept(self, ours: float) -> float:
        from core.units import OUR_UNIT, value_in

        assert self.kind is not None
        if self.unit == OUR_UNIT[self.kind]:
            return ours
        return float(f"{value_in(ours, self.kind, self.unit, self._context()):.14g}")

    def _in_ours(self, value: float) -> float:
        from core.units import OUR_UNIT, read_quantity

        assert self.kind is not None
        if self.unit == OUR_UNIT[self.kind]:
            return value
        return read_quantity(shortest(value), self.kind, self.unit, of=self.of).value


NUMBER = Measure(None)
PACK = Measure("mass", "kg", others=("g", "lb"))
GRAMS = Measure("mass", "g", others=("kg", "mg", "oz", "lb"))
VOLUME = Measure("volume", "L", others=("m³", "US gal", "imp gal"))
EC = Measure("ec", "mS/cm", others=("µS/cm", "dS/m", "CF", "ppm-500", "ppm-700"))
TEMPERATURE = Measure("temperature", "°C", others=("°F",))
PERCENT = Measure("percent", "%", others=("g/kg", "mg/kg"))
DILUTION = Measure("dilution", "x", others=("mL/L", "%"))
ALKALINITY = Measure("alkalinity", "meq/L", others=("mg/L as HCO3", "mg/L as CaCO3", "°dH"))
HARDNESS = Measure("hardness", "meq/L", others=("mg/L as CaCO3", "°dH", "°fH", "mmol/L"))
PRODUCT = Measure("mass", "mg", others=("g",), per="/L")
"""Product per litre of feed, which has no one substance to count moles of."""
