"""What to say of a goal other than the closest fit: that it cannot be had, or what it left aside."""

from __future__ import annotations

from collections.abc import Iterator

from core.blend.solve import Blend
from core.plan.cautions import caution
from core.plan.records import Caution


def goal_cautions(blend: Blend) -> Iterator[Caution]:
    """Goals missed, salts left aside for want of a price, counts not proven."""
    outcome = blend.outcome
    if outcome is None:
        return
    if outcome.missed == "no-prices":
        yield caution("cheapest-no-prices")
    elif outcome.missed:
        yield caution(f"{outcome.goal}-out-of-range")
    if outcome.unpriced:
        yield caution("unpriced-aside", entry_ids=list(outcome.unpriced))
    if outcome.count is not None and outcome.at_least is not None and outcome.at_least < outcome.count:
        yield caution("fewest-unproven", count=outcome.count, at_least=outcome.at_least)
    elif outcome.cost_gap > 0.0:
        yield caution("fewest-cost-unproven", count=outcome.count, percent=100.0 * outcome.cost_gap)
