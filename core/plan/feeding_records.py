"""What is asked and answered at a reservoir: frozen values that surface, diary and command line show."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from core.bench.meter import PLAUSIBLE

StepKind = Literal[
    "read-start", "silicate", "acid-first", "pour-first", "pour-rest", "read", "add-water", "read-ph", "acid", "base",
    "finish",
]  # fmt: skip

POURS = ("silicate", "pour-first", "pour-rest")
DROPS = ("acid-first", "acid", "base")


class Asked(Struct, frozen=True):
    """What is stated before anything is poured; EC as at 25 degC.

    `volume_is`: "start" is what is in the reservoir now, "finished" what is to be in it in the end. `holds`: "water"
    for fresh water, "feed" for what is left of these tanks' feed. `water_ms_per_cm`: of the water at hand, where the
    reservoir holds no fresh one. `factor`: how these tanks read in this water on this meter, over the forecast.
    `product` is an acid or base, a key of the shelf or an id of the catalog; "" leaves the choice to us.
    """

    volume_l: float
    wanted_ms_per_cm: float
    start_ms_per_cm: float | None = None
    volume_is: Literal["start", "finished"] = "start"
    holds: Literal["water", "feed"] = "water"
    start_ph: float | None = None
    water_ms_per_cm: float | None = None
    factor: float = 1.0
    wanted_ph: float | None = None
    product: str = ""
    strength_percent: float | None = None


class Done(Struct, frozen=True):
    """The present step as it was done: what was poured, or what the meter showed; nothing at all skips it."""

    parts_ml: dict[str, float] = {}
    amount: float | None = None
    water_l: float | None = None
    ec_ms_per_cm: float | None = None
    ph: float | None = None
    temperature_c: float | None = None


class Pour(Struct, frozen=True):
    """How much of one part."""

    name: str
    content: str
    ml: float


class Drop(Struct, frozen=True):
    """How much of an acid or base; `amount` is in mL of a liquid, in g of a solid."""

    key: str
    salt: str
    strength_percent: float | None
    unit: Literal["mL", "g"]
    amount: float


class Step(Struct, frozen=True):
    """One thing to do, or as it was done.

    `expected_ms_per_cm`, `expected_ph`: what should be read after it. `over_ms_per_cm`, `water_per_tenth_l`: from
    which reading on water is to be added, and how much for each 0.1 mS/cm. `factor`: rise measured over the forecast.
    `number` of `of`: which of several equal steps this is.
    """

    kind: StepKind
    state: Literal["done", "now", "coming"]
    pours: tuple[Pour, ...] = ()
    drop: Drop | None = None
    water_l: float | None = None
    expected_ms_per_cm: float | None = None
    expected_ph: float | None = None
    read_ms_per_cm: float | None = None
    read_ph: float | None = None
    factor: float | None = None
    over_ms_per_cm: float | None = None
    water_per_tenth_l: float | None = None
    number: int = 0
    of: int = 0
    skipped: bool = False


class Curve(Struct, frozen=True):
    """EC against what is poured of the lead part [mL]; the other parts go with it in step.

    `forecast`, `low`, `high` stand over `dose_ml`; `line` is through what was read, None before; `wanted` the dose that
    gives the EC wanted, None where none does. `also_ml` tells what of each part belongs to `wanted`.
    """

    lead: str
    lead_content: str
    equal: bool
    dose_ml: tuple[float, ...]
    forecast: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    line: tuple[float, ...] | None
    points: tuple[tuple[float, float], ...]
    wanted: tuple[float, float] | None
    range_ms_per_cm: tuple[float, float]


class PhForecast(Struct, frozen=True):
    """The pH once EC stands, and what equal steps of an acid or base do to it; closed, and aired in the end.

    `aim` is the pH gone for, `wanted` the range that is near enough. `steps`: (amount in all, pH); empty where nothing
    need be done. `measured`: the first pH was read, not foretold.
    """

    ph: float
    ph_aired: float
    measured: bool
    aim: float
    wanted: tuple[float, float]
    drop: Drop | None
    steps: tuple[tuple[float, float], ...]
    ph_aired_after: float
    alkalinity_meq_per_l: float
    alkalinity_after_meq_per_l: float


class Order(Struct, frozen=True):
    """Why acid goes first or last: saturation index of calcium phosphate in the finished feed without it and with it.

    None where it cannot form or is outside the chemistry's range, or there is no acid to compare with.
    """

    acid_first: bool
    hard: bool
    alkalinity_meq_per_l: float
    brushite_without: float | None
    brushite_with: float | None


class Remark(Struct, frozen=True):
    """Something to be said about how it goes; `data` holds what its sentence needs."""

    level: Literal["note", "check", "stop"]
    code: str
    data: dict[str, float] = {}


class Feeding(Struct, frozen=True):
    """Where a dosing stands: what was done, the one thing to do now, and what comes after.

    Volumes [L] are at the start, now and in the end; `parts_ml`, `drops` and `water_l` all that went in so far.
    `factor` is the one in use; `factor_measured` tells whether it was read today.
    """

    steps: tuple[Step, ...]
    now: int
    order: Order
    curve: Curve | None
    ph: PhForecast | None
    remarks: tuple[Remark, ...]
    factor: float
    factor_measured: bool
    start_l: float
    volume_l: float
    volume_end_l: float
    parts_ml: dict[str, float]
    drops: tuple[Drop, ...]
    water_l: float
    ec_ms_per_cm: float | None
    read_ph: float | None

    @property
    def factor_kept(self) -> bool:
        """Whether the factor read today is one that a meter may have, so that it holds for other days too."""
        return self.factor_measured and PLAUSIBLE[0] <= self.factor <= PLAUSIBLE[1]

    @property
    def step(self) -> Step:
        """The one thing to do now."""
        return self.steps[self.now]
