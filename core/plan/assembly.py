"""From a solved blend to everything that is shown of it."""

from __future__ import annotations

from core.bench.quantities import feed_from_tank_l
from core.blend.alkalinity import is_acid
from core.blend.solve import Blend
from core.plan.acid_checks import is_hard
from core.plan.amounts import acid_place, amounts_of, unused_of
from core.plan.bench_checks import cost_cautions, tank_cautions, weighing_cautions
from core.plan.cautions import caution, worst_first
from core.plan.checks import BLEND_CHECKS, aim_cautions, feed_cautions
from core.plan.chelate_checks import iron_cautions
from core.plan.choice_checks import choice_cautions
from core.plan.cost import cost_of
from core.plan.feed import feed_of, forecast_of
from core.plan.goal_checks import goal_cautions
from core.plan.records import Caution, Plan
from core.plan.rows import nutrient_rows
from core.plan.tanks import split_blend, tanks_of
from core.recipe.records import Recipe


def derive(recipe: Recipe, blend: Blend) -> Plan:
    """Everything the window, the paper and the command line show of a blend.

    Parameters
    ----------
    recipe : Recipe the blend was solved for
    blend : Blend from `core.blend.solve.solve`

    Returns
    -------
    Plan
    """
    told = forecast_of(blend)
    feed, rows, cost = feed_of(blend, told), nutrient_rows(blend), cost_of(blend)
    split = split_blend(blend)
    plans = split.plans
    tanks, weighings = tanks_of(blend, split)
    cautions: list[Caution] = [
        *(found for check in BLEND_CHECKS for found in check(blend)),
        *goal_cautions(blend),
        *choice_cautions(blend),
        *aim_cautions(blend, rows),
        *feed_cautions(blend, feed),
        *iron_cautions(blend, told),
        *tank_cautions(blend, tanks, plans),
        *weighing_cautions(blend, tanks, weighings),
        *cost_cautions(cost),
        *acid_first(blend),
    ]
    return Plan(
        title=recipe.title,
        amounts=amounts_of(blend, plans),
        unused=unused_of(blend),
        rows=rows,
        feed=feed,
        tanks=tanks,
        cost=cost,
        cautions=worst_first(cautions),
        feed_per_filling_l=feed_from_tank_l(recipe.batch.tank_volume_l, recipe.tanks.ratio),
    )


def acid_first(blend: Blend) -> list[Caution]:
    """On hard water the acid goes in before anything else, and it is said where the recipe has it otherwise."""
    used = [source for source, _ in blend.used if is_acid(source)]
    if not used:
        return []
    first, hard = acid_place(blend) == "water", is_hard(blend.water.alkalinity)
    code = "acid-first" if first else "acid-late"
    return [caution(code, salts=[source.entry.salt for source in used])] if first or hard else []
