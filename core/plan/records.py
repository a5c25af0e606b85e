"""The plan: everything derived from a recipe, as plain frozen values that serialise as they stand.

Words for people are not here: titles and caution texts are made from these codes by the program's wording.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Literal

from msgspec import Struct, structs

Verdict = Literal["clear", "doubtful", "settles"]
Level = Literal["note", "check", "stop"]


class Caution(Struct, frozen=True):
    """One thing to know, look at or mend; `data` holds what its sentence needs."""

    level: Level
    code: str
    data: dict[str, Any] = {}


class Amount(Struct, frozen=True):
    """How much of one shelf entry a litre of finished feed holds, and where it goes.

    `tank` is a tank's name, or "water" or "reservoir" for acid put there; `shares` sum to 1 over tank names.
    `ml_per_filling` is for all the feed that one filling of the tanks makes.
    """

    entry_id: str
    salt: str
    mg_per_l: float
    ml_per_l: float | None
    tank: str | None
    shares: dict[str, float]
    brings_mg_per_l: dict[str, float]
    alkalinity_meq_per_l: float
    density_kg_per_l: float | None = None
    ml_per_1000_l: float | None = None
    ml_per_filling: float | None = None
    strength_percent: float | None = None
    fixed: bool = False

    def grams_in(self, feed_l: float) -> float:
        """Return what so much finished feed [L] holds of it [g]."""
        return self.mg_per_l * feed_l / 1000.0

    def ml_in(self, feed_l: float) -> float | None:
        """Return the same of a liquid by volume [mL], None for what is weighed."""
        return None if self.ml_per_l is None else self.ml_per_l * feed_l


class NutrientRow(Struct, frozen=True):
    """One line of the aim: what is wanted, what the water brings, what the feed reaches.

    `verdict`: "met" within the wanted range of a target, "fine" within a limit (or nothing asked), "short", "over".
    """

    nutrient: str
    target_mg_per_l: float | None
    low_mg_per_l: float | None
    high_mg_per_l: float | None
    water_mg_per_l: float
    feed_mg_per_l: float
    verdict: Literal["met", "fine", "short", "over"]


class IonShare(Struct, frozen=True):
    """An ion of the feed by total, with its charge: for the cation and anion bars."""

    ion: str
    charge: int
    meq_per_l: float


class Feed(Struct, frozen=True):
    """The solution the roots get; EC and pH are None where the feed lies outside what the chemistry holds for.

    `water_ec_ms_per_cm`: as measured where that is stated beside an analysis. `alkalinity_meq_per_l`: what is left,
    acids counted by what they give off in this feed. EC is at 25 °C; pH and saturation are at `ph_temperature_c`, that
    of the water where its report states one.
    """

    mg_per_l: dict[str, float]
    ec_ms_per_cm: float | None
    ec_band_percent: float
    water_ec_ms_per_cm: float | None
    ph: float | None
    ph_aired: float | None
    alkalinity_meq_per_l: float
    charge_error_percent: float
    saturation_index: dict[str, float]
    ions: tuple[IonShare, ...] = ()
    ph_temperature_c: float = 25.0


class WeighedOn(Struct, frozen=True):
    """The scale a weight is meant for."""

    capacity_g: float
    readability_g: float


class TankContent(Struct, frozen=True):
    """One product in one tank, for the whole tank volume.

    `change_percent`: what rounding to the scale does to each nutrient of the feed, in per cent of the feed's value.
    """

    entry_id: str
    salt: str
    grams: float
    grams_to_weigh: float
    scale: WeighedOn | None
    millilitres: float | None = None
    change_percent: dict[str, float] = {}


def in_all(contents: Sequence[TankContent]) -> TankContent:
    """One product's contents of several tanks as one, on the scale of the first."""
    first, known = contents[0], all(one.millilitres is not None for one in contents)
    return structs.replace(
        first,
        grams=sum(one.grams for one in contents),
        grams_to_weigh=sum(one.grams_to_weigh for one in contents),
        millilitres=sum(one.millilitres or 0.0 for one in contents) if known else None,
    )


class NearSolid(Struct, frozen=True):
    """A solid on its way out of a tank in the coldest room.

    `ratio_limit` is the ratio at which it saturates, `fullness` the tank's ratio over that: 1 at saturation.
    """

    solid: str
    ratio_limit: float
    fullness: float


class Tank(Struct, frozen=True):
    """One concentrate; `content` says what kind it is, "everything" only of the only tank; `settling` what comes out.

    `ratio_limit` is the ratio at which `limited_by` would saturate in the coldest room, `clear_ratio` the largest that
    is still "clear" there and `clear_limited_by` the solid that ends it, where one does; `injector_step` the next ratio
    injectors are built for; None where nothing ever would.
    `fullness` is the tank's ratio over its limit; `near` lists the solids nearest to coming out, the worst first.
    `ph` is at the tanks' own temperature, None where little in the tank holds it; `density_kg_per_l` of the filled
    tank, `water_kg` what a whole filling holds. `reasons` are codes in the order of `contents`, `broken` the codes of
    rules of compatibility that are broken inside. `beyond_model`: stronger than the forecast was measured for, so that
    it is never called clear.
    """

    name: str
    content: Literal[
        "calcium", "phosphate", "acid", "silicate", "sulfate", "plain", "everything",
        "calcium-phosphate", "calcium-sulfate",
    ]  # fmt: skip
    ratio: float
    volume_l: float
    ml_per_l: float
    contents: tuple[TankContent, ...]
    verdict: Verdict
    cold_verdict: Verdict
    ratio_limit: float | None
    limited_by: str | None
    clear_ratio: float | None = None
    injector_step: int | None = None
    fullness: float | None = None
    settling: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()
    broken: tuple[str, ...] = ()
    near: tuple[NearSolid, ...] = ()
    beyond_model: bool = False
    ph: float | None = None
    density_kg_per_l: float | None = None
    water_kg: float | None = None
    clear_limited_by: str | None = None


class Cost(Struct, frozen=True):
    """What the amounts cost; `missing` lists used entries without a price, and then `per_1000_l` leaves them out."""

    currency: str
    per_1000_l: float | None
    missing: tuple[str, ...]


class Plan(Struct, frozen=True):
    """Everything the window, the paper and the command line show.

    `feed_per_filling_l` is the finished feed that one filling of the tanks makes.
    """

    title: str
    amounts: tuple[Amount, ...]
    unused: tuple[str, ...]
    rows: tuple[NutrientRow, ...]
    feed: Feed
    tanks: tuple[Tank, ...]
    cost: Cost
    cautions: tuple[Caution, ...]
    feed_per_filling_l: float = 0.0
