"""What the headline says of a recipe and its plan, already in words."""

from __future__ import annotations

from typing import NamedTuple

from app.wording import figures, format_decimals, format_short
from app.wording import window as say
from core.plan.records import Plan
from core.recipe.records import Recipe, Water


class Figure(NamedTuple):
    """One figure of the forecast: what it is, the number, what belongs behind it; words in full and short."""

    heading: tuple[str, str]
    number: str
    unit: tuple[str, str]


def recipe_title(recipe: Recipe) -> str:
    """Return the recipe's title."""
    return recipe.title or say.untitled()


def recipe_parts(recipe: Recipe, plan: Plan | None) -> tuple[str, ...]:
    """Return crop, water and tanks, each as one part of the line below the title."""
    parts = [_crop_name(recipe.aim.crop) if recipe.aim.crop else say.aim_unnamed()]
    parts.append(" + ".join(map(_water_name, filter(None, (recipe.water, recipe.second_water)))))
    if plan is not None and plan.tanks:
        poured = format_short(plan.tanks[0].ml_per_l, 4)
        parts.append(say.tank_line(len(plan.tanks), plan.tanks[0].volume_l, poured))
    return tuple(parts)


def forecast(plan: Plan) -> tuple[Figure, Figure, Figure]:
    """Return EC, pH and cost as they stand in the headline."""
    return _ec(plan), _ph(plan), _cost(plan)


def _crop_name(crop_id: str) -> str:
    from core.catalog import crop  # read only for a recipe that names one

    profile = crop(crop_id)
    return figures.capital(say.crop_line(profile.crop, profile.stage))


def _water_name(water: Water) -> str:
    if water.name:
        return water.name
    return say.unnamed_water() if water.mg_per_l else say.pure_water()


def _ec(plan: Plan) -> Figure:
    ec = plan.feed.ec_ms_per_cm
    if ec is None:
        return Figure(say.ec_heading(), figures.DASH, say.no_forecast())
    return Figure(say.ec_heading(), format_decimals(ec, 2), say.ec_band(plan.feed.ec_band_percent))


def _ph(plan: Plan) -> Figure:
    now, aired = plan.feed.ph, plan.feed.ph_aired
    if now is None or aired is None:
        return Figure(say.ph_heading(), figures.DASH, say.no_forecast())
    return Figure(say.ph_heading(), format_decimals(aired, 1), say.ph_now(format_decimals(now, 1)))


def _cost(plan: Plan) -> Figure:
    cost = plan.cost
    if cost.per_1000_l is None:
        return Figure(say.cost_heading(0), "", say.no_prices())
    return Figure(
        say.cost_heading(len(cost.missing)), format_decimals(cost.per_1000_l, 2), say.cost_unit(cost.currency)
    )
