"""The working: the arithmetic behind a figure, line by line, so that anyone can repeat it by hand.

Lines carry numbers and units; their words are the program's wording. Each line's `result` follows from its own numbers
by its own sign, and the last line's from the results before it.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from core.blend.judge import cost_per_1000_l
from core.blend.nutrients import ROW
from core.blend.solve import Blend
from core.chemistry import OutOfRange, conductivity_by_ion, kg_water_per_l, speciate
from core.chemistry.species import all_species
from core.units import Context, Kind, UnitError, value_in


class Number(Struct, frozen=True):
    """A number with its unit, as it stands in a line."""

    value: float
    unit: str


class Line(Struct, frozen=True):
    """One line: `numbers` joined by `sign` make `result`; `about` names a product, an ion or a nutrient.

    `code`: "water", "salt" (amount times content), "sum", "target", "weight", "ion", "ec", "price", "cost", "unit".
    `sign`: "x" multiply, "/" divide, "+" add, "" a figure taken as it is.
    """

    code: str
    about: str
    numbers: tuple[Number, ...]
    sign: str
    result: Number


class Working(Struct, frozen=True):
    """The working of one figure."""

    subject: str
    lines: tuple[Line, ...]


def nutrient_working(blend: Blend, nutrient: str) -> Working:
    """How much of a nutrient the feed holds: the water's, and each product's amount times its content."""
    row = ROW[nutrient]
    water = float(blend.water_mg_per_l[row])
    lines = [Line("water", nutrient, (), "", _mg(water))] if water > 0.0 else []
    for source, amount in zip(blend.shelf.sources, blend.amounts_mg_per_l.tolist(), strict=True):
        content = float(source.brings[row])
        if amount > 0.0 and content > 0.0:
            numbers = (_mg(amount), Number(100.0 * content, "%"))
            lines.append(Line("salt", source.key, numbers, "x", _mg(amount * content)))
    parts = tuple(line.result for line in lines)
    return Working(nutrient, (*lines, Line("sum", nutrient, parts, "+", _mg(float(blend.nutrients_mg_per_l[row])))))


def salt_working(blend: Blend, key: str, ratio: float, volume_l: float) -> Working:
    """What a product's amount makes in a tank: grams per litre of feed, times the strength, times the volume.

    Raises
    ------
    KeyError : the shelf holds no such entry.
    """
    keys = [source.key for source in blend.shelf.sources]
    if key not in keys:
        raise KeyError(key)
    source, amount = blend.shelf.sources[keys.index(key)], float(blend.amounts_mg_per_l[keys.index(key)])
    lines = [
        Line("brings", name, (_mg(amount), Number(100.0 * float(source.brings[ROW[name]]), "%")), "x",
             _mg(amount * float(source.brings[ROW[name]])))
        for name in ROW if source.brings[ROW[name]] > 1e-4
    ]  # fmt: skip
    numbers = (_mg(amount), Number(ratio, "L feed per L tank"), Number(volume_l, "L"), Number(0.001, "g/mg"))
    return Working(key, (*lines, Line("weight", key, numbers, "x", Number(amount * ratio * volume_l / 1000.0, "g"))))


LEAST_SHARE = 0.002
"""Share of the EC under which an ion is added to "the rest"."""


def ec_working(blend: Blend) -> Working | None:
    """The EC as a sum over free ions: charge equivalents times what an equivalent carries at this strength.

    The conductivity of an equivalent is given as slowed by the other ions; at no strength at all it would be the
    tabulated limiting one. None outside the chemistry's range.
    """
    column = blend.totals[:, None] * 1e-3
    water = kg_water_per_l(column)
    try:
        found = speciate(column / water, 25.0, alkalinity_eq_per_kg=blend.alkalinity * 1e-3 / water)
    except OutOfRange:
        return None
    told = conductivity_by_ion(found)
    ec, share = float(told.ec_ms_per_cm[0]), told.share[:, 0]
    lines, rest = [], 0.0
    for place in np.argsort(-share):
        species, part = all_species()[int(place)], ec * float(share[place])
        if species.charge == 0 or part == 0.0:
            continue
        if share[place] < LEAST_SHARE:
            rest += part
            continue
        meq = abs(species.charge) * float((found.molality[place] * water)[0]) * 1e3
        numbers = (Number(meq, "meq/L"), Number(1000.0 * part / meq, "uS/cm per meq/L"), Number(0.001, "mS/uS"))
        lines.append(Line("ion", species.name, numbers, "x", Number(part, "mS/cm")))
    if rest > 0.0:
        lines.append(Line("rest", "", (), "", Number(rest, "mS/cm")))
    return Working("EC", (*lines, Line("ec", "EC", tuple(one.result for one in lines), "+", Number(ec, "mS/cm"))))


def cost_working(blend: Blend, currency: str) -> Working | None:
    """The cost of 1000 L: grams per 1000 L times the price; None where something used has no price."""
    total = cost_per_1000_l(blend)
    if total is None:
        return None
    lines = []
    for source, amount in zip(blend.shelf.sources, blend.amounts_mg_per_l.tolist(), strict=True):
        price = source.entry.price_per_kg
        if amount > 0.0 and price is not None:
            numbers = (Number(amount / 1000.0, "kg per 1000 L"), Number(price, f"{currency}/kg".lstrip("/")))
            lines.append(Line("price", source.key, numbers, "x", Number(amount * price / 1000.0, currency)))
    return Working("cost", (*lines, Line("cost", "", tuple(one.result for one in lines), "+", Number(total, currency))))


UNITS: dict[str, tuple[Kind, tuple[str, ...]]] = {
    "mg/L": ("concentration", ("mg/L", "mmol/L", "meq/L")),
    "g": ("mass", ("g", "kg", "oz", "lb")),
    "mS/cm": ("ec", ("mS/cm", "µS/cm", "CF", "ppm-500", "ppm-700")),
}
"""Unit a working ends in -> the kind of quantity and the units it can be turned into."""


def units_of(working: Working) -> tuple[str, ...]:
    """The units a working's result can be told in, its own first."""
    own = working.lines[-1].result.unit
    if own not in UNITS:
        return (own,)
    return tuple(unit for unit in UNITS[own][1] if unit == own or _factor(working, unit) is not None)


def in_unit(working: Working, unit: str) -> Working:
    """The same working with a last line that turns its result into another unit.

    Raises
    ------
    ValueError : the result cannot be told in that unit.
    """
    result = working.lines[-1].result
    if unit == result.unit:
        return working
    factor = _factor(working, unit)
    if factor is None:
        raise ValueError(f"{working.subject} cannot be told in {unit}")
    turned = Number(result.value * factor, unit)
    own, other = result.unit.split("/")[0], unit.split("/")[0]
    if factor >= 1.0:
        line = Line("unit", unit, (result, Number(factor, f"{other}/{own}")), "x", turned)
    else:
        line = Line("unit", unit, (result, Number(1.0 / factor, f"{own}/{other}")), "/", turned)
    return Working(working.subject, (*working.lines, line))


def _factor(working: Working, unit: str) -> float | None:
    """What one of a working's own unit is in another; None where that cannot be."""
    own = working.lines[-1].result.unit
    if own not in UNITS or unit not in UNITS[own][1]:
        return None
    kind = UNITS[own][0]
    try:
        return value_in(1.0, kind, unit, Context(working.subject if kind == "concentration" else None))
    except UnitError:
        return None


def _mg(value: float) -> Number:
    return Number(value, "mg/L")
