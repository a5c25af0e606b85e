"""What would happen if everything went into one tank, or if the tanks were poured together undiluted."""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from core.blend.nutrients import Array
from core.blend.shelf import source_of
from core.chemistry.components import COMPONENTS
from core.chemistry.concentrates import assess
from core.chemistry.concentrates.gypsum import GYPSUM_G_PER_MOL, gypsum_dropped
from core.plan.records import Plan, Verdict
from core.recipe.records import Recipe
from core.tanks.plans import VERDICTS

_CALCIUM = COMPONENTS.index("Ca")


class Mixed(Struct, frozen=True):
    """A mixture that nobody should make, at the tanks' own temperature.

    `gypsum_g` of a tank volume of it, `calcium_lost` the share of the calcium that leaves with the gypsum (0 to 1);
    `settling` every solid that is not clear, the worst first.
    """

    verdict: Verdict
    settling: tuple[str, ...]
    gypsum_g: float
    gypsum_g_per_l: float
    calcium_lost: float


class Together(Struct, frozen=True):
    """`one_tank`: all products in one tank as strong as each is now. `poured`: equal volumes of the tanks undiluted."""

    one_tank: Mixed
    poured: Mixed


def together(recipe: Recipe, plan: Plan) -> Together | None:
    """Work out both mixtures; None where there are not two tanks.

    Parameters
    ----------
    recipe, plan : Plan of that Recipe

    Returns
    -------
    Together
    """
    if len(plan.tanks) < 2:
        return None
    ratio, count = recipe.tanks.ratio, len(plan.tanks)
    brought = _brought_mol_per_l(recipe, plan)
    contents = np.stack([brought * ratio, brought * ratio / count], axis=1)
    temperature_c = recipe.tanks.temperature_c
    state, dropped = assess(contents, (temperature_c,)), gypsum_dropped(contents, temperature_c)
    mixed = []
    for place in range(2):
        mol_per_l, calcium = float(dropped[place]), float(contents[_CALCIUM, place])
        per_l = mol_per_l * GYPSUM_G_PER_MOL
        grams, lost = per_l * recipe.batch.tank_volume_l, mol_per_l / calcium if calcium > 0.0 else 0.0
        verdict: Verdict = VERDICTS[int(state.rank[0, place])]
        mixed.append(Mixed(verdict, state.settling(0, place), grams, per_l, lost))
    return Together(*mixed)


def _brought_mol_per_l(recipe: Recipe, plan: Plan) -> Array:
    """What all tanks bring to the finished feed, (n_components,) [mol/L]."""
    entries = {entry.key: entry for entry in recipe.shelf}
    brought = np.zeros(len(COMPONENTS))
    for amount in plan.amounts:
        if amount.shares:
            brought += source_of(entries[amount.entry_id]).totals * amount.mg_per_l * sum(amount.shares.values()) * 1e-3
    return brought
