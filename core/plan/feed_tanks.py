"""The tanks of a recipe as they are dosed: what a litre of each brings, and the water they go into."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from core.bench.quantities import ml_per_l_of_feed
from core.blend.alkalinity import USUAL_RESIDUAL_MEQ_PER_L, is_acid, is_base
from core.blend.nutrients import Array
from core.blend.shelf import Source, source_of
from core.blend.solve import Blend, solve
from core.blend.waters import WaterTotals, recipe_water, water_totals
from core.catalog import UnknownCrop, UnknownSalt, crop
from core.plan.acid_checks import is_hard
from core.plan.amounts import acid_place
from core.plan.feed import FIELD_BAND_PERCENT
from core.plan.feed_contents import Contents, conductivities_ms_per_cm, milligrams_per_unit
from core.plan.tanks import split_blend
from core.recipe.records import Recipe, ShelfEntry, Water

NEAR_MS_PER_CM = 0.1
"""Half width of the band drawn around a wanted EC whose crop names no range (this program's own choice)."""


class NoTanks(ValueError):
    """The recipe plans no tank, so there is nothing to dose."""


class NeitherAcidNorBase(ValueError):
    """A product that moves no pH was named for that; carries its id."""

    def __init__(self, product: str) -> None:
        self.product = product
        super().__init__(f"{product} is neither an acid nor a base.")


@dataclass(frozen=True)
class Part:
    """One concentrate; `ml_per_l` of it per litre of finished feed make the planned strength."""

    name: str
    content: str
    ml_per_l: float


@dataclass(frozen=True, eq=False)
class FeedTanks:
    """Concentrates ready to be poured.

    Attributes
    ----------
    parts : silicate first, then in the order of the tanks
    totals : (n_components, n_parts) ndarray [mmol per litre of concentrate]
    alkalinity : (n_parts,) ndarray [meq per litre of concentrate]
    first_acids : acids that go into the water before any tank, with their dose [mL or g per litre of water]
    last_acids : the recipe's acids that go into soft water after the tanks, likewise
    full_ms_per_cm : EC of the feed at the planned strength; not a number outside the chemistry's range
    band_percent : how far the rise of the EC may be off
    wanted_ms_per_cm, wanted_ph : ranges to aim for; the pH's is None where neither aim nor crop names one
    """

    recipe: Recipe
    parts: tuple[Part, ...]
    totals: Array
    alkalinity: Array
    water: WaterTotals
    first_acids: tuple[tuple[Source, float], ...]
    full_ms_per_cm: float
    band_percent: float
    wanted_ms_per_cm: tuple[float, float]
    wanted_ph: tuple[float, float] | None
    last_acids: tuple[tuple[Source, float], ...] = ()

    @cached_property
    def water_ms_per_cm(self) -> float:
        """EC of the water by its report."""
        return float(conductivities_ms_per_cm((self.of_water(1.0),))[0])

    @property
    def first_wanted_ms_per_cm(self) -> float:
        """An EC to begin with: the middle of the wanted range, as meters show it."""
        return round(sum(self.wanted_ms_per_cm) / 2.0, 2)

    @property
    def hard(self) -> bool:
        """Whether the water holds so much alkalinity that acid goes in first."""
        return is_hard(self.water.alkalinity)

    def of_water(self, volume_l: float) -> Contents:
        """The water alone."""
        return Contents(volume_l, self.water.totals, self.water.alkalinity, self.water.temperature_c)

    def concentrate(self, part: int, volume_l: float) -> Contents:
        """A volume of one part [L]; the water in it counts as the reservoir's, as in every plan."""
        totals, alkalinity = self.totals[:, part], float(self.alkalinity[part])
        return Contents(
            volume_l, totals + self.water.totals, alkalinity + self.water.alkalinity, self.water.temperature_c
        )

    def poured(self, contents: Contents, litres: Mapping[str, float]) -> Contents:
        """Contents with some of the parts poured in, by name [L]."""
        for place, part in enumerate(self.parts):
            if litres.get(part.name):
                contents = contents.mixed(self.concentrate(place, litres[part.name]))
        return contents

    def dose_l(self, strength: float, volume_l: float, without: frozenset[str] = frozenset()) -> dict[str, float]:
        """How much of each part brings `strength` of the planned dose to a volume [L of each]."""
        return {p.name: strength * p.ml_per_l / 1000.0 * volume_l for p in self.parts if p.name not in without}

    def with_first_acid(self, contents: Contents, water_l: float) -> Contents:
        """Contents after the acid that goes first, for this much fresh water in them [L]."""
        return _with_acids(contents, self.first_acids, water_l)

    def of_served_water(self, volume_l: float) -> Contents:
        """The water with all the acid the recipe gives it, first or last: what a finished feed is made of."""
        return _with_acids(self.of_water(volume_l), (*self.first_acids, *self.last_acids), volume_l)


def _with_acids(contents: Contents, acids: tuple[tuple[Source, float], ...], water_l: float) -> Contents:
    for source, per_l in acids:
        contents = contents.with_product(source, per_l * water_l)
    return contents


def feed_tanks(recipe: Recipe, water: Water | None = None) -> FeedTanks:
    """Make the tanks of a recipe ready to be dosed.

    Parameters
    ----------
    recipe : Recipe; the tanks are as it plans them in its own water
    water : the water they are dosed into, where it is another

    Raises
    ------
    NoTanks : the recipe plans none.
    """
    blend = solve(recipe)
    plans = split_blend(blend).plans
    if not plans:
        raise NoTanks
    plans = tuple(sorted(plans, key=lambda plan: plan.content != "silicate"))
    ml_per_l = ml_per_l_of_feed(recipe.tanks.ratio)
    shares = [{place.key: place.share for place in plan.contents} for plan in plans]
    amounts = np.array(
        [[share.get(s.key, 0.0) for share in shares] for s in blend.shelf.sources]
    ) * blend.amounts_mg_per_l[:, None] * (1000.0 / ml_per_l)  # fmt: skip
    totals, alkalinity = blend.shelf.totals @ amounts, blend.shelf.alkalinity @ amounts
    own = recipe_water(recipe) if water is None else water_totals(water)
    parts = tuple(Part(plan.name, plan.content, ml_per_l) for plan in plans)
    bare = FeedTanks(
        recipe, parts, totals, alkalinity, own, (), 0.0, FIELD_BAND_PERCENT, (0.0, 0.0), _wanted_ph(recipe)
    )
    return _finished(bare, blend)


def _finished(bare: FeedTanks, blend: Blend) -> FeedTanks:
    """The tanks with what follows from them: the acid that goes first and the EC they are made for."""
    acids, first = _acids(blend), _acid_goes_first(bare, blend)
    with_acid = replace(bare, first_acids=acids if first else (), last_acids=() if first else acids)
    dose = bare.dose_l(1.0, 1.0)
    full = with_acid.poured(with_acid.with_first_acid(bare.of_water(max(1.0 - sum(dose.values()), 0.1)), 1.0), dose)
    ec = float(conductivities_ms_per_cm((full,))[0])
    return replace(with_acid, full_ms_per_cm=ec, wanted_ms_per_cm=_wanted_ec(bare.recipe, ec))


def _acids(blend: Blend) -> tuple[tuple[Source, float], ...]:
    """The recipe's own acids that are in no tank, with their dose [mL or g per litre of feed]."""
    if acid_place(blend) == "tank":
        return ()
    pairs = zip(blend.shelf.sources, blend.amounts_mg_per_l.tolist(), strict=True)
    return tuple((s, amount / milligrams_per_unit(s)) for s, amount in pairs if amount > 0.0 and is_acid(s))


def _acid_goes_first(tanks: FeedTanks, blend: Blend) -> bool:
    """Whether the recipe's acid goes into the water before the tanks: by its own word, or because the water is hard."""
    return tanks.hard or acid_place(blend) == "water"


def _wanted_ec(recipe: Recipe, full_ms_per_cm: float) -> tuple[float, float]:
    """The range the crop's profile names, else close around the aim's EC or that of the planned strength."""
    aim = recipe.aim
    if aim.crop is not None:
        try:
            profile = crop(aim.crop)
        except UnknownCrop:
            profile = None
        if profile is not None and profile.ec_low_ms_per_cm is not None and not profile.ec_is_rise_over_water:
            low, high = profile.ec_low_ms_per_cm, profile.ec_high_ms_per_cm or profile.ec_low_ms_per_cm
            return (low, high) if high > low else (low - NEAR_MS_PER_CM, high + NEAR_MS_PER_CM)
    middle = aim.ec_ms_per_cm if aim.ec_ms_per_cm is not None and not aim.ec_is_rise_over_water else full_ms_per_cm
    return middle - NEAR_MS_PER_CM, middle + NEAR_MS_PER_CM


def _wanted_ph(recipe: Recipe) -> tuple[float, float] | None:
    if recipe.aim.ph is not None:
        return recipe.aim.ph, recipe.aim.ph
    if recipe.aim.crop is None:
        return None
    try:
        profile = crop(recipe.aim.crop)
    except UnknownCrop:
        return None
    return None if profile.ph_low is None or profile.ph_high is None else (profile.ph_low, profile.ph_high)


def ph_product(recipe: Recipe, product: str, strength_percent: float | None = None) -> Source:
    """Return an acid or base of the shelf by its key, or of the catalog by its id.

    strength_percent : [% by mass]; None for the entry's own, or what it is usually sold at

    Raises
    ------
    NeitherAcidNorBase : it moves no pH, or is not known.
    """
    entry = next((one for one in recipe.shelf if one.key == product), None)
    salt = product if entry is None else entry.salt
    if entry is None or strength_percent is not None:
        entry = ShelfEntry(salt=salt, entry_id=None if entry is None else entry.key, strength_percent=strength_percent)
    try:
        source = source_of(entry)
    except (UnknownSalt, KeyError):
        raise NeitherAcidNorBase(product) from None
    if not (is_acid(source) or is_base(source)) or source.alkalinity == 0.0:
        raise NeitherAcidNorBase(product)
    return source


def residual_to_leave_meq_per_l(tanks: FeedTanks) -> float:
    """Alkalinity that acid put in first should leave in the water [meq/L]: the aim's, else the usual."""
    asked = tanks.recipe.aim.residual_alkalinity_meq_per_l
    return USUAL_RESIDUAL_MEQ_PER_L if asked is None else asked
