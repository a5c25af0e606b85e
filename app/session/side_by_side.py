"""What a comparison works out: every variant planned, how each differs from the first, cost against fit."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Literal, NamedTuple

from msgspec.structs import replace

from app.session.asking import GivenUp, Stop
from core.plan.records import Plan
from core.recipe.records import Recipe

if TYPE_CHECKING:
    from core.blend.frontier import Frontier
    from core.blend.solve import Blend
    from core.blend.why_records import Price, Unused
    from core.plan.comparison import Differing, Variant
    from core.plan.costing import Use

Kind = Literal["open", "kept", "file", "goal", "adapted"]


@dataclass(frozen=True, eq=False)
class Held:
    """One variant that is held.

    Attributes
    ----------
    number : its own, kept as long as it is held; 0 is the open recipe
    name : what it is called; "" where its recipe or its goal says it
    recipe : Recipe, None where it follows the open one
    goal : the goal the open recipe is looked at for, for a variant of that kind
    path : the file it lies in
    remarks : how an adaptation came out
    doses_ml_per_l : mL per litre of feed of each tank already mixed, by its name on the shelf
    """

    number: int
    kind: Kind
    name: str = ""
    recipe: Recipe | None = None
    goal: str = ""
    path: Path | None = None
    remarks: tuple[str, ...] = ()
    doses_ml_per_l: dict[str, float] = field(default_factory=dict)

    def recipe_of(self, opened: Recipe) -> Recipe:
        """Return the recipe to plan, beside the open one."""
        if self.kind == "goal":
            return replace(opened, goal=self.goal)
        return opened if self.recipe is None else self.recipe


class Column(NamedTuple):
    """A variant, planned."""

    held: Held
    recipe: Recipe
    blend: Blend
    plan: Plan
    variant: Variant


class Looked(NamedTuple):
    """The variants, the open recipe first; what differs from it in each, and the curve of its cost against its fit."""

    columns: tuple[Column, ...]
    differences: tuple[tuple[Differing, ...], ...]
    frontier: Frontier


class Sensitivity(NamedTuple):
    """What prices and tolerances would do to one variant."""

    number: int
    prices: tuple[Price, ...]
    unused: tuple[Unused, ...]


def look(held: tuple[Held, ...], opened: Recipe, use: Use | None, before: Looked | None, stop: Stop) -> Looked:
    """Plan all variants; what was planned before is not planned again.

    Raises
    ------
    GivenUp : no longer wanted.
    """
    from core.blend.frontier import frontier_of
    from core.plan.comparison import difference
    from core.plan.costing import Use, batch_feed_l

    wanted = use or Use(batch_feed_l(opened))
    known = () if before is None else before.columns
    columns = []
    for one in held:
        if stop():
            raise GivenUp
        columns.append(_column(one, one.recipe_of(opened), wanted, known))
    first = columns[0]
    same = before is not None and before.columns[0].blend is first.blend
    curve = before.frontier if before is not None and same else frontier_of(first.blend)
    others = tuple(difference(first.variant, column.variant) for column in columns)
    return Looked(tuple(columns), others, curve)


def _column(held: Held, recipe: Recipe, use: Use, known: tuple[Column, ...]) -> Column:
    from core.plan import derive, solve
    from core.plan.comparison import variant_of

    before = next((column for column in known if column.recipe == recipe), None)
    blend = solve(recipe) if before is None else before.blend
    plan = derive(recipe, blend) if before is None else before.plan
    return Column(held, recipe, blend, plan, variant_of(recipe, blend, plan, use))


def sensitivity(column: Column) -> Sensitivity:
    """Return what prices and tolerances would do to a variant."""
    from core.blend.why import sensitivity_of

    return Sensitivity(column.held.number, *sensitivity_of(column.blend))
