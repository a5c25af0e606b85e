"""Why a blend is as it is: what holds each miss, what bounds cost, what would help, what it can do without."""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from core.blend.causes import reasons
from core.blend.entering import unused
from core.blend.judge import misses
from core.blend.remedies import best_remedy, plain_recipe, spares
from core.blend.sensitivity import prices
from core.blend.shelf import compile_shelf
from core.blend.solve import Blend, solve_aim
from core.blend.why_records import Price, Unused, Why


def why_of(blend: Blend, stop: Callable[[], bool] | None = None) -> Why:
    """Everything there is to say of a blend, worst first; made when it is looked at, not with every plan.

    Parameters
    ----------
    blend : Blend
    stop : asked now and then; True ends the search for a remedy with the best so far

    Returns
    -------
    Why
    """
    steady = _on_its_own_salts(blend)
    return Why(
        reasons=reasons(steady),
        remedy=best_remedy(blend, stop) if misses(blend) else None,
        spare=spares(blend),
        prices=prices(steady),
        unused=unused(blend),
    )


def sensitivity_of(blend: Blend) -> tuple[tuple[Price, ...], tuple[Unused, ...]]:
    """What one step of every bound and target does, and from which price each unused entry would come in."""
    return prices(_on_its_own_salts(blend)), unused(blend)


def _on_its_own_salts(blend: Blend) -> Blend:
    """A blend of fewest salts as one that is solved again quickly: its own salts, the cheapest or closest of them."""
    outcome = blend.outcome
    if outcome is None or outcome.goal != "fewest" or outcome.missed:
        return blend

    used = tuple(s.entry for s, x in zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True) if x > 0.0)
    goal = "cheapest" if all(entry.price_per_kg is not None for entry in used) else "closest"
    recipe = replace(plain_recipe(blend), shelf=used, goal=goal)
    return solve_aim(recipe, recipe.aim, compile_shelf(used), blend.water)
