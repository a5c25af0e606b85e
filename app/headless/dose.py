"""The command `dose`: one EC reading in, how much to pour out."""

from __future__ import annotations

import json
from math import inf
from typing import TYPE_CHECKING, Any, NamedTuple

from app.headless.output import BadInput, only_our_answer, visible, write
from app.headless.plan import open_recipe
from app.wording.language import gettext as _

if TYPE_CHECKING:
    from core.bench.meter import Meter
    from core.plan.feed_tanks import FeedTanks
    from core.plan.feeding_records import Asked, Done, Feeding
    from core.recipe import Recipe
    from core.units.formats import System


MOST = {
    "--volume": (1e7, "L"), "--after-pouring": (1e7, "L"), "--factor": (10.0, ""),
}  # fmt: skip
"""The most of each that is no slip: as in the logbook and in a recipe; of an EC the meter knows."""


class Wanted(NamedTuple):
    """What was typed behind the command; quantities still as text."""

    volume: str
    now: str
    target: str
    finished: bool = False
    feed_left: bool = False
    water_ec: str | None = None
    meter: str = "mS/cm"
    uncompensated_at: str | None = None
    after_pouring: str | None = None
    reads: tuple[str, ...] = ()
    factor: float = 1.0
    ph: float | None = None
    acid: str = ""
    strength: float | None = None


def dose_command(file: str, wanted: Wanted, *, as_json: bool = False) -> int:
    """Write what to pour and return the exit status: 1 where something says to stop.

    Raises
    ------
    BadInput : the recipe or a quantity cannot be read, there are no tanks, or no feed can have this.
    """
    recipe = open_recipe(file)
    meter, system = _meter(wanted), _system(wanted.volume)
    asked, done = _asked(wanted, meter, system)
    tanks = _tanks(recipe)
    from core.chemistry import OutOfRange

    if wanted.acid:
        _check_product(tanks, wanted)
    try:
        told = _told(tanks, asked, done)
    except OutOfRange as error:
        raise BadInput(str(error)) from None
    write(dose_json(told) if as_json else dose_text(recipe, asked, told, system, meter))
    return 1 if any(remark.level == "stop" for remark in told.remarks) else 0


def _tanks(recipe: Recipe) -> FeedTanks:
    from core.plan.feed_tanks import NoTanks, feed_tanks

    try:
        with only_our_answer():
            return feed_tanks(recipe)
    except NoTanks:
        raise BadInput("this recipe plans no tanks, so there is nothing to dose") from None


def _check_product(tanks: FeedTanks, wanted: Wanted) -> None:
    from core.plan.feed_tanks import NeitherAcidNorBase, ph_product

    try:
        ph_product(tanks.recipe, wanted.acid, wanted.strength)
    except NeitherAcidNorBase:
        raise BadInput(f"{wanted.acid!r} is neither an acid nor a base of the shelf or the catalog") from None
    except ValueError as error:
        raise BadInput(str(error)) from None


def _system(volume: str) -> System:
    """Gallons are answered in fluid ounces of the same country, everything else in millilitres."""
    unit = _quantity(volume, "volume", "L", "--volume").unit
    return "us" if unit.startswith("US ") else "imperial" if unit.startswith("imp ") else "metric"


def _quantity(text: str, kind: Any, unit: str, option: str, us_units: bool | None = None) -> Any:
    from core.bench.meter import NoSuchReading, check_reading
    from core.units import UnitError, read_quantity

    try:
        read = read_quantity(text, kind, unit, us_units=us_units)
        if kind == "ec":
            check_reading(read.value, read.unit)
    except (UnitError, NoSuchReading) as error:
        raise BadInput(f"{option}: {error}") from None
    return read


def _meter(wanted: Wanted) -> Meter:
    from core.bench.meter import Meter

    unit = _quantity("1", "ec", wanted.meter, "--meter").unit
    if wanted.uncompensated_at is None:
        return Meter(unit)
    at_c = _quantity(wanted.uncompensated_at, "temperature", "°C", "--uncompensated-at").value
    if not 0.0 <= at_c <= 50.0:
        raise BadInput("--uncompensated-at: compensation holds from 0 to 50 °C")
    return Meter(unit, compensates=False, temperature_c=at_c)


def _asked(wanted: Wanted, meter: Meter, system: System) -> tuple[Asked, tuple[Done, ...]]:
    from core.plan.feeding_records import Asked, Done

    def read(text: str, option: str) -> float:
        return meter.to_25_c(_positive(_quantity(text, "ec", meter.unit, option).value, option, zero=True))

    us_units = None if system == "metric" else system == "us"
    if (wanted.after_pouring is None) != (not wanted.reads):
        raise BadInput("--after-pouring and --reads go together: what was poured of each, and what it shows then")
    done: tuple[Done, ...] = ()
    if wanted.after_pouring is not None:
        poured = _quantity(wanted.after_pouring, "volume", "L", "--after-pouring", us_units).value
        _positive(poured, "--after-pouring")
        done = (
            Done(parts_ml={"": 1000.0 * poured}),
            *(Done(ec_ms_per_cm=read(one, "--reads")) for one in wanted.reads),
        )
    asked = Asked(
        volume_l=_positive(_quantity(wanted.volume, "volume", "L", "--volume").value, "--volume"),
        wanted_ms_per_cm=_positive(_quantity(wanted.target, "ec", "mS/cm", "--target").value, "--target"),
        start_ms_per_cm=read(wanted.now, "--now"),
        volume_is="finished" if wanted.finished else "start",
        holds="feed" if wanted.feed_left else "water",
        water_ms_per_cm=None if wanted.water_ec is None else read(wanted.water_ec, "--water-ec"),
        factor=_positive(wanted.factor, "--factor"),
        wanted_ph=_within(wanted.ph, 3.0, 9.0, "--ph"),
        product=wanted.acid,
        strength_percent=_within(wanted.strength, 0.01, 100.0, "--strength"),
    )
    if done and 1e-3 * done[0].parts_ml[""] > asked.volume_l:
        raise BadInput("--after-pouring is more than the reservoir holds; write its unit, such as 364 mL")
    return asked, done


def _positive(value: float, option: str, *, zero: bool = False) -> float:
    if not (value > 0.0 or (zero and value == 0.0)):
        raise BadInput(f"{option} must be above zero")
    most, unit = MOST.get(option, (inf, ""))
    if value > most:
        raise BadInput(f"{option} is {value:.3g}, above {most:g} {unit}".rstrip() + "; correct the number or its unit")
    return value


def _within(value: float | None, low: float, high: float, option: str) -> float | None:
    if value is None or low <= value <= high:
        return value
    raise BadInput(f"{option} is {value:g}, outside {low:g} to {high:g}; correct the number")


def _told(tanks: FeedTanks, asked: Asked, done: tuple[Done, ...]) -> Feeding:
    """Walk through what was done: what comes before the tanks was done as told, every part got the same."""
    from msgspec.structs import replace

    from core.plan.feeding import walk
    from core.plan.feeding_records import Done

    here = walk(tanks, asked)
    for number, one in enumerate(done):
        if number > 1 and here.now.kind != "read":
            raise BadInput("--reads is given once more only where the answer says to read again")
        while one.parts_ml and here.now.kind in ("silicate", "acid-first"):
            here = here.after(Done())
        same = one.parts_ml.get("")
        here = here.after(one if same is None else replace(one, parts_ml={pour.name: same for pour in here.now.pours}))
    return here.told()


def dose_json(told: Feeding) -> str:
    """Return the answer as JSON in ASCII, with its sentences put in."""
    from msgspec import to_builtins

    from app.wording import feed as say
    from app.wording import tank_title

    document: dict[str, Any] = to_builtins(told)
    for shown, step in zip(document["steps"], told.steps, strict=True):
        shown["title"] = say.title(step)
        for pour in shown["pours"]:
            pour["title"] = tank_title(pour["content"])
    for shown, remark in zip(document["remarks"], told.remarks, strict=True):
        shown["text"] = say.remark(remark)
    document["order"]["text"] = say.order_text(told.order)
    now = told.step
    document["do"] = {
        "kind": now.kind,
        "pour_ml": {pour.name: pour.ml for pour in now.pours},
        "water_to_add_l": now.water_l,
        "expected_ms_per_cm": now.expected_ms_per_cm,
    }
    curve = told.curve
    document["do"]["in_all_ml"] = None if curve is None or curve.wanted is None else curve.wanted[0]
    return json.dumps(document, indent=1, allow_nan=False) + "\n"


def dose_text(recipe: Recipe, asked: Asked, told: Feeding, system: System, meter: Meter) -> str:
    """Return the answer as lines for a terminal: what to do now, what comes then, and what to mind."""
    from app.wording import feed as say

    head = _("{title}: {volume} at {now}, {wanted} wanted").format(
        title=recipe.title or _("Tanks"),
        volume=say.volume(asked.volume_l, system),
        now=say.reading_and_ec(asked.start_ms_per_cm or 0.0, meter),
        wanted=say.ms_per_cm(asked.wanted_ms_per_cm),
    )
    remarks = [say.remark(one) for one in told.remarks]
    coming = []
    for step in told.steps[told.now + 1 :]:
        text = say.coming_text(step, system, meter)
        coming.append(f"  {say.title(step)}: {text}" if text else f"  {say.title(step)}")
    foot = [say.order_text(told.order)] if asked.holds == "water" else []
    sections = (
        [head],
        remarks,
        [_("Now: {step}").format(step=say.title(told.step, asked.holds)), *_now_lines(told, system, meter)],
        [_("Then:"), *coming] if coming else [],
        [*foot, say.volume_text(told, system)],
    )
    return "\n\n".join("\n".join(visible(line) for line in lines) for lines in sections if lines) + "\n"


def _now_lines(told: Feeding, system: System, meter: Meter) -> list[str]:
    from app.wording import feed as say

    step = told.step
    lines = [f"{say.millilitres(pour.ml, system)} {say.part(pour.content)}" for pour in step.pours]
    if step.drop is not None:
        lines.append(f"{say.amount(step.drop, system)} {say.product_within(step.drop)}")
        lines.append(say.acid_care(step.drop.salt))
    if step.water_l is not None:
        lines.append(say.volume(step.water_l, system))
    if step.kind in ("read", "read-ph"):
        lines.append(say.read_text(step, meter))
    else:
        lines.append(say.expect_text(step, meter))
    lines.append(say.factor_text(told))
    if step.kind == "pour-first":
        lines.append(say.in_all_text(told, system))
    return [f"  {line}" for line in lines if line]
