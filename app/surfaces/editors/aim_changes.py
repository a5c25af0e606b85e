"""Edits of the aim, each an aim made from another."""

from __future__ import annotations

from msgspec import structs

from core.catalog import CropProfile
from core.recipe.records import NUTRIENTS, Aim, Limit, Target

LIMIT_FIELDS = ("at_most_mg_per_l", "at_least_mg_per_l")


def target_in(aim: Aim, nutrient: str) -> Target | None:
    """Return the aim's target for this nutrient."""
    return next((target for target in aim.targets if target.nutrient == nutrient), None)


def limit_in(aim: Aim, nutrient: str) -> Limit | None:
    """Return the aim's limit for this nutrient."""
    return next((limit for limit in aim.limits if limit.nutrient == nutrient), None)


def with_target_field(aim: Aim, nutrient: str, name: str, value: float | None) -> Aim:
    """Return the aim with one field of a target changed.

    An emptied target goes altogether; a range without a target takes its middle, or its one end, as the target.
    """
    old = target_in(aim, nutrient)
    if name == "mg_per_l" and value is None:
        return _with_targets(aim, nutrient, None)
    if old is None:
        old = Target(nutrient, value or 0.0)  # type: ignore[arg-type]  # rows are the nutrients
        if name == "tolerance_percent" or name == "weight" or value is None:
            return aim
    changed = {name: value}
    if name in ("low_mg_per_l", "high_mg_per_l") and value is not None:
        changed["tolerance_percent"] = None
    if name == "tolerance_percent" and value is not None:
        changed |= {"low_mg_per_l": None, "high_mg_per_l": None}
    return _with_targets(aim, nutrient, structs.replace(old, **changed))


def with_limit_field(aim: Aim, nutrient: str, name: str, value: float | None) -> Aim:
    """Return the aim with one end of a limit changed; a limit without ends goes."""
    old = limit_in(aim, nutrient) or Limit(nutrient)  # type: ignore[arg-type]
    changed = structs.replace(old, **{name: value})
    others = [limit for limit in aim.limits if limit.nutrient != nutrient]
    if changed.at_most_mg_per_l is not None or changed.at_least_mg_per_l is not None:
        others.append(changed)
    return structs.replace(aim, limits=tuple(sorted(others, key=lambda limit: NUTRIENTS.index(limit.nutrient))))


def with_column(aim: Aim, mg_per_l: dict[str, float]) -> Aim:
    """Return the aim with these targets; a target that is there keeps its weight, and its range while it fits."""
    for nutrient, value in mg_per_l.items():
        old = target_in(aim, nutrient)
        low, high = (old.low_mg_per_l, old.high_mg_per_l) if old is not None else (None, None)
        if old is not None and not (low or 0.0) <= value <= (value if high is None else high):
            old = structs.replace(old, low_mg_per_l=None, high_mg_per_l=None)
        new = Target(nutrient, value) if old is None else structs.replace(old, mg_per_l=value)  # type: ignore[arg-type]
        aim = _with_targets(aim, nutrient, new)
    return aim


def from_profile(aim: Aim, profile: CropProfile) -> tuple[Aim, tuple[str, ...]]:
    """Return the aim with a crop profile's targets, and the trace elements kept from before."""
    from core.blend.adapt import aim_from_profile  # with the solver, which a table of targets can do without

    return aim_from_profile(aim, profile)


def _with_targets(aim: Aim, nutrient: str, target: Target | None) -> Aim:
    others = [old for old in aim.targets if old.nutrient != nutrient]
    if target is not None:
        others.append(target)
    return structs.replace(aim, targets=tuple(sorted(others, key=lambda one: NUTRIENTS.index(one.nutrient))))
