"""The planned tanks of a recipe as products that stand ready mixed."""

from __future__ import annotations

from collections.abc import Sequence

from core.blend.mixed_tanks import MixedTank, mixed_tank
from core.blend.solve import Blend
from core.plan.records import Plan


def ready_tanks(blend: Blend, plan: Plan, names: Sequence[str]) -> tuple[MixedTank, ...]:
    """Every planned tank as one product.

    Parameters
    ----------
    blend, plan : of the recipe the tanks were mixed from
    names : what each tank is to be called, in the plan's order

    Returns
    -------
    MixedTank of each tank.
    """
    return tuple(
        mixed_tank(
            blend,
            name,
            {a.entry_id: a.shares[tank.name] for a in plan.amounts if tank.name in a.shares},
            tank.ratio,
        )
        for tank, name in zip(plan.tanks, names, strict=True)
    )
