"""The dosing card: EC against the dose, for this water and these tanks, as a table and a curve."""

from __future__ import annotations

import math

from app.paper.blocks import Block, Curve, Line, Part, Steps, Table, Together
from app.paper.job import Job
from app.paper.steps import dosing_lines
from app.paper.text import foreign
from app.wording import format_decimals, format_short, joined
from app.wording import paper_parts as say
from core.bench.quantities import FL_OZ_PER_US_GALLON
from core.bench.rise import ec_by_dose
from core.units import value_in

STEPS_TO_PLANNED = 8.0
"""About so many rows lead up to the planned dose."""

BEYOND = 1.4
"""The card ends at this many times the planned dose."""

NICE = (1.0, 2.0, 2.5, 5.0, 10.0)
SCALES = (("CF", 1), ("ppm-500", 0), ("ppm-700", 0))
"""Other scales that meters show, each with the decimals they show."""

Point = tuple[float, float]


def dosing_card(job: Job) -> Part | None:
    """Return the card, or None where there is nothing to dose."""
    if not job.plan.tanks:
        return None
    tanks = joined(list(dict.fromkeys(job.tank(tank) for tank in job.plan.tanks)))
    water = say.this_water(foreign(job.recipe.water.name))
    head: list[Block] = [Line(say.date_by(), "small"), Line(say.card_intro(water, tanks), "strong")]
    points = _points(job)
    middle: list[Block | Together] = (
        [Line(say.no_curve(), "strong")] if len(points) < 3 else _table_and_curve(job, points)
    )
    return Part("card", say.card_title(job.title), (*head, *middle, Together((Steps(dosing_lines(job)),))))


def nice_step(span: float, steps: float) -> float:
    """Return a round step that divides a span into about so many: 1, 2, 2.5 or 5 times a power of ten."""
    raw = span / steps
    power = 10.0 ** math.floor(math.log10(raw))
    return power * min(NICE, key=lambda nice: abs(math.log(nice * power / raw)))


def _planned_dose(job: Job) -> float:
    """The planned dose of each tank in the leading unit."""
    dose = job.plan.tanks[0].ml_per_l
    return dose * FL_OZ_PER_US_GALLON / 1000.0 if job.style.us_volumes else dose


def _points(job: Job) -> list[Point]:
    """(dose in the leading unit, EC) from the water alone to beyond the planned dose, the planned one among them."""
    planned = _planned_dose(job)
    step = nice_step(planned, STEPS_TO_PLANNED)
    doses = [n * step for n in range(math.floor(BEYOND * planned / step + 1e-9) + 1)]
    if not any(math.isclose(dose, planned, rel_tol=1e-6) for dose in doses):
        doses = sorted([*doses, planned])
    per_unit = job.plan.tanks[0].ml_per_l / planned
    in_tanks = {content.entry_id for tank in job.plan.tanks for content in tank.contents}
    first = {amount.entry_id for amount in job.outside("water")}
    found = ec_by_dose(job.blend, [dose * per_unit for dose in doses], planned * per_unit, in_tanks, first)
    return [(dose, ec) for dose, ec in zip(doses, found, strict=True) if ec is not None]


def _table_and_curve(job: Job, points: list[Point]) -> list[Block | Together]:
    planned = _planned_dose(job)
    strong = frozenset(row for row, (dose, _) in enumerate(points) if math.isclose(dose, planned, rel_tol=1e-6))
    us = job.style.us_volumes
    head = (*say.card_head_dose(us), *say.card_head_readings())
    table = Table(head, tuple(_row(job, point) for point in points), frozenset(range(len(head))), strong)
    notes = [Line(say.card_band(format_short(job.plan.feed.ec_band_percent, 2)), "small")]
    place = "water" if job.outside("water") else ("reservoir" if job.outside("reservoir") else "")
    notes += [Line(say.card_acid(place), "small")] if place else []
    return [Together((table,)), *notes, Together((_curve(job, points),))]


def _row(job: Job, point: Point) -> tuple[str, ...]:
    dose, ec = point
    factor = FL_OZ_PER_US_GALLON / 1000.0
    other = dose / factor if job.style.us_volumes else dose * factor
    readings = (format_decimals(value_in(ec, "ec", scale), decimals) for scale, decimals in SCALES)
    return (format_short(dose), format_decimals(other, 2), format_decimals(ec, 2), *readings)


def _curve(job: Job, points: list[Point]) -> Curve:
    planned = _planned_dose(job)
    ec = next(ec for dose, ec in points if math.isclose(dose, planned, rel_tol=1e-6) or dose == points[-1][0])
    x_label, y_label = say.curve_axes(job.style.us_volumes)
    return Curve(
        tuple(points),
        _ticks(max(dose for dose, _ in points), 8.0),
        _ticks(max(ec for _, ec in points), 5.0),
        x_label,
        y_label,
        (planned, ec),
        say.planned_point(format_decimals(ec, 2)),
    )


def _ticks(highest: float, steps: float) -> tuple[tuple[float, str], ...]:
    step = nice_step(highest, steps)
    return tuple((n * step, format_short(n * step)) for n in range(math.ceil(highest / step - 1e-9) + 1))
