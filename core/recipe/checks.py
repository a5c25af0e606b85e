"""What a well-formed recipe must also obey: ranges, and fields that may not contradict each other."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from msgspec import Struct, to_builtins

from core.recipe.checks_label import check_label
from core.recipe.checks_shelf import check_shelf_entry
from core.recipe.checks_water import check_water
from core.recipe.errors import Path, RecipeError, quoted
from core.recipe.ranges import RANGES
from core.recipe.records import Aim, LabelPercent, Limit, Recipe, Scale, ShelfEntry, Target, Water
from core.recipe.shape import close_match, fields_of
from core.recipe.strict_json import check_values

TANK_LETTERS = "ABCD"


def check(recipe: Recipe) -> None:
    """Refuse a recipe that a file could not hold or the plan could not mean; the window calls it for every edit.

    Raises
    ------
    RecipeError : the first thing found, with its place and how to mend it.
    """
    check_values(to_builtins(recipe))
    _check_record(recipe, ())


def _check_record(record: Struct, path: Path) -> None:
    """Check ranges and rules of a record, then of every record inside it."""
    ranges = RANGES.get(type(record), {})
    for info in fields_of(type(record)):
        value, place = getattr(record, info.name), (*path, info.encode_name)
        if value is not None and info.name in ranges:
            _check_range(value, ranges[info.name], place)
        members = enumerate(value) if isinstance(value, tuple) else ()
        for inner, inner_place in [(value, place), *((member, (*place, index)) for index, member in members)]:
            if isinstance(inner, Struct):
                _check_record(inner, inner_place)
    if type(record) in _RULES:
        _RULES[type(record)](record, path)


def _check_range(number: float, span: tuple[float, float, str], path: Path) -> None:
    low, high, unit = span
    if not low <= number <= high:
        what = f"is {number:.15g}, outside {low:.15g} to {high:.15g} {unit}".rstrip()
        raise RecipeError(what, "correct the number or its unit", path)


def _check_target(target: Target, path: Path) -> None:
    low, high = target.low_mg_per_l, target.high_mg_per_l
    if target.tolerance_percent is not None and (low is not None or high is not None):
        raise RecipeError("states both a tolerance and a range", "keep one of the two", path)
    _check_order(low, target.mg_per_l, "low", "target", path)
    _check_order(target.mg_per_l, high, "target", "high", path)


def _check_limit(limit: Limit, path: Path) -> None:
    _check_order(limit.at_least_mg_per_l, limit.at_most_mg_per_l, "at least", "at most", path)


def _check_order(low: float | None, high: float | None, low_name: str, high_name: str, path: Path) -> None:
    if low is not None and high is not None and low > high:
        what = f"has its {low_name} ({low:.15g} mg/L) above its {high_name} ({high:.15g} mg/L)"
        raise RecipeError(what, "exchange or correct them", path)


def _check_aim(aim: Aim, path: Path) -> None:
    if aim.crop is not None:
        _check_crop(aim.crop, (*path, "crop"))
    for name, rows in (("targets", aim.targets), ("limits", aim.limits)):
        repeated = _first_repeated(row.nutrient for row in rows)
        if repeated is not None:
            index, nutrient = repeated
            raise RecipeError(f"repeats {nutrient}", "keep one of the two", (*path, name, index))


def _check_scale(scale: Scale, path: Path) -> None:
    if scale.readability_g >= scale.capacity_g:
        what = f"carries {scale.capacity_g:.15g} g in steps of {scale.readability_g:.15g} g, which cannot be"
        raise RecipeError(what, "correct capacity or readability", path)


def _check_recipe(recipe: Recipe, path: Path) -> None:
    if not recipe.shelf:
        raise RecipeError("is empty", "put at least one salt on it", ("shelf",))
    if recipe.currency and not (len(recipe.currency) == 3 and recipe.currency.isascii() and recipe.currency.isalpha()):
        raise RecipeError(
            f"is {quoted(recipe.currency)}, no currency code", "write three letters such as EUR", ("currency",)
        )
    if recipe.second_water_share_percent > 0 and recipe.second_water is None:
        what = "is given, but no second_water"
        raise RecipeError(what, "add second_water or write 0", ("second_water_share_percent",))
    _check_shelf_names(recipe.shelf)
    _check_pins(recipe)


def _check_shelf_names(shelf: tuple[ShelfEntry, ...]) -> None:
    repeated = _first_repeated(entry.key for entry in shelf)
    if repeated is not None:
        index, key = repeated
        what = f"has the same name as another entry, {quoted(key)}"
        raise RecipeError(what, 'give each its own "entry_id"', ("shelf", index))


def _check_pins(recipe: Recipe) -> None:
    keys = [entry.key for entry in recipe.shelf]
    letters = TANK_LETTERS[: recipe.tanks.count]
    for key, letter in recipe.tanks.pins.items():
        path: Path = ("tanks", "pins", key)
        if key not in keys:
            hint = close_match(key, keys) or "name a shelf entry by its entry_id, or its salt where it has none"
            raise RecipeError(f"pins {quoted(key)}, which does not stand on the shelf", hint, path)
        if letter not in tuple(letters):
            what = f"is {quoted(letter)}, none of the {len(letters)} tanks"
            raise RecipeError(what, f"use {', '.join(letters)}", path)


def _check_crop(crop: str, path: Path) -> None:
    from core.catalog import crops  # read only for a recipe that names one

    known = [profile.id for profile in crops()]
    if crop not in known:
        what = f"is {quoted(crop)}, which is no crop profile of the catalog"
        raise RecipeError(what, close_match(crop, known) or "name one of the catalog or leave it out", path)


def _first_repeated(names: Iterable[str]) -> tuple[int, str] | None:
    seen: set[str] = set()
    for index, name in enumerate(names):
        if name in seen:
            return index, name
        seen.add(name)
    return None


_RULES: dict[type, Callable[[Any, Path], None]] = {
    Target: _check_target,
    Limit: _check_limit,
    Aim: _check_aim,
    Water: check_water,
    LabelPercent: check_label,
    ShelfEntry: check_shelf_entry,
    Scale: _check_scale,
    Recipe: _check_recipe,
}
