"""Recipes side by side: amounts, nutrients, EC, ammonium, sodium and chloride, tanks, cost, bags, and what differs."""

from __future__ import annotations

from msgspec import Struct

from core.blend.judge import misses, target_rows
from core.blend.nutrients import ROW
from core.blend.ratios import Ratio, ratios
from core.blend.solve import Blend
from core.plan import derive, solve
from core.plan.costing import Costing, Use, costing
from core.plan.records import Plan
from core.recipe.records import Recipe

NOTICED = 0.005
"""Relative difference of an amount or a nutrient that is worth listing."""


class Variant(Struct, frozen=True):
    """One recipe of a comparison. `worst_deviation_percent` is weighted, as the curve of cost against fit counts it."""

    title: str
    goal: str
    amounts_mg_per_l: dict[str, float]
    salts: dict[str, str]
    nutrients_mg_per_l: dict[str, float]
    verdicts: dict[str, str]
    ec_ms_per_cm: float | None
    ph: float | None
    ammonium_share_percent: float
    tanks: tuple[str, ...]
    tank_verdicts: tuple[str, ...]
    missed: int
    worst_deviation_percent: float
    costing: Costing
    ratios: tuple[Ratio, ...]
    cautions: tuple[str, ...]


class Differing(Struct, frozen=True):
    """One thing that differs between the first recipe and another.

    `kind`: "amount" of a product [mg/L], "new" and "gone" for products, "nutrient" [mg/L], "ec" [mS/cm], "ph", "cost"
    per 1000 L in the currency that is `about`, of recipes in the same one only, "tanks" their number. `before` and
    `after` are None where there is none.
    """

    kind: str
    about: str
    before: float | None
    after: float | None


class Comparison(Struct, frozen=True):
    """Recipes side by side, and for every one after the first what differs from it."""

    variants: tuple[Variant, ...]
    differences: tuple[tuple[Differing, ...], ...]


def compare(recipes: tuple[Recipe, ...], use: Use | None = None) -> Comparison:
    """Plan recipes and set them side by side.

    Parameters
    ----------
    recipes : any number of them
    use : how much feed the bags are for; None for one filling of each recipe's tanks
    """
    variants = tuple(variant(recipe, use) for recipe in recipes)
    return Comparison(variants, tuple(difference(variants[0], other) for other in variants[1:]))


def variant(recipe: Recipe, use: Use | None = None) -> Variant:
    """One recipe, planned, as a column of a comparison."""
    blend = solve(recipe)
    return variant_of(recipe, blend, derive(recipe, blend), use)


def variant_of(recipe: Recipe, blend: Blend, plan: Plan, use: Use | None = None) -> Variant:
    """A column of a comparison from what is solved and planned already."""
    feed = plan.feed.mg_per_l
    reduced = feed["NH4-N"] + feed["urea-N"]
    return Variant(
        title=recipe.title,
        goal=recipe.goal,
        amounts_mg_per_l={amount.entry_id: amount.mg_per_l for amount in plan.amounts},
        salts={amount.entry_id: amount.salt for amount in plan.amounts},
        nutrients_mg_per_l=dict(feed),
        verdicts={row.nutrient: row.verdict for row in plan.rows},
        ec_ms_per_cm=plan.feed.ec_ms_per_cm,
        ph=plan.feed.ph,
        ammonium_share_percent=100.0 * reduced / feed["N"] if feed["N"] > 0.0 else 0.0,
        tanks=tuple(tank.content for tank in plan.tanks),
        tank_verdicts=tuple(tank.cold_verdict for tank in plan.tanks),
        missed=len(misses(blend)),
        worst_deviation_percent=100.0 * worst_deviation(blend),
        costing=costing(recipe, plan, use),
        ratios=ratios(blend.totals, blend.alkalinity, recipe.aim.crop),
        cautions=tuple(caution.code for caution in plan.cautions),
    )


def worst_deviation(blend: Blend) -> float:
    """The worst weighted relative deviation from a target."""
    feed = blend.nutrients_mg_per_l
    return max(
        (row.weight * abs(float(feed[ROW[row.nutrient]]) - row.target) / row.target for row in target_rows(blend)),
        default=0.0,
    )


def difference(before: Variant, after: Variant) -> tuple[Differing, ...]:
    """What differs, products first, then nutrients, then figures of the whole feed."""
    return (*_amounts(before, after), *_nutrients(before, after), *_figures(before, after))


def _amounts(before: Variant, after: Variant) -> list[Differing]:
    found = []
    for key in dict.fromkeys((*before.amounts_mg_per_l, *after.amounts_mg_per_l)):
        was, now = before.amounts_mg_per_l.get(key), after.amounts_mg_per_l.get(key)
        kind = "new" if was is None else "gone" if now is None else "amount"
        if kind != "amount" or _differs(was, now):
            found.append(Differing(kind, key, was, now))
    return found


def _nutrients(before: Variant, after: Variant) -> list[Differing]:
    told = [name for name in before.nutrients_mg_per_l if name in before.verdicts or name in after.verdicts]
    pairs = [(name, before.nutrients_mg_per_l[name], after.nutrients_mg_per_l[name]) for name in told]
    return [Differing("nutrient", name, was, now) for name, was, now in pairs if _differs(was, now)]


def _figures(before: Variant, after: Variant) -> list[Differing]:
    figures = (
        ("ec", before.ec_ms_per_cm, after.ec_ms_per_cm),
        ("ph", before.ph, after.ph),
        ("tanks", float(len(before.tanks)), float(len(after.tanks))),
    )
    found = [Differing(kind, kind, was, now) for kind, was, now in figures if _differs(was, now)]
    was, now, currency = before.costing.per_1000_l, after.costing.per_1000_l, after.costing.currency
    if currency == before.costing.currency and _differs(was, now):
        found.append(Differing("cost", currency, was, now))
    return found


def _differs(was: float | None, now: float | None) -> bool:
    if was is None or now is None:
        return was is not now
    return abs(now - was) > NOTICED * max(abs(was), abs(now), 1e-9)
