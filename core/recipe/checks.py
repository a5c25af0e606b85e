"""What a well-formed recipe must also obey: ranges, and fields that may not contradict each other."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import zip_longest
from typing import Any

from msgspec import Struct, to_builtins

from core.phrase import Phrase
from core.recipe.checks_label import check_label
from core.recipe.checks_shelf import check_shelf_entry
from core.recipe.checks_water import check_water
from core.recipe.errors import Path, RecipeError, quoted
from core.recipe.ranges import RANGES, Range
from core.recipe.records import Aim, LabelPercent, Limit, Recipe, Scale, ShelfEntry, Target, Water
from core.recipe.shape import close_match, fields_of
from core.recipe.strict_json import check_values

TANK_LETTERS = "ABCD"

Rule = Callable[[Any, Path], None]


def check(recipe: Recipe, since: Recipe | None = None) -> None:
    """Refuse a recipe that a file could not hold or the plan could not mean; the window calls it for every edit.

    Parameters
    ----------
    since : a recipe that was checked before; what this one took from it as it was is not looked at again.

    Raises
    ------
    RecipeError : the first thing found, with its place and how to mend it.
    """
    if since is None:
        check_values(to_builtins(recipe))
    else:
        _check_new_values(recipe, since, ())
    check_record(recipe, (), RANGES, RULES, since)


def _check_new_values(value: Any, old: Any, path: Path) -> None:
    """Check texts, numbers and sizes wherever a value is not the very one that stood there before."""
    if value is old:
        return
    if isinstance(value, Struct):
        for info in fields_of(type(value)):
            before = getattr(old, info.name) if type(old) is type(value) else None
            _check_new_values(getattr(value, info.name), before, (*path, info.encode_name))
    elif isinstance(value, tuple):
        check_values([None] * len(value), path)
        for index, (member, before) in enumerate(_beside(value, old)):
            _check_new_values(member, before, (*path, index))
    else:
        check_values(value, path)


def _beside(value: tuple[Any, ...], old: Any) -> Iterable[tuple[Any, Any]]:
    """Return the members of a list, each with the one that stood in its place before, or None."""
    before = old if isinstance(old, tuple) else ()
    return zip_longest(value, before[: len(value)])


def check_record(
    record: Struct,
    path: Path,
    ranges: Mapping[type, Mapping[str, Range]],
    rules: Mapping[type, Rule],
    since: Struct | None = None,
) -> None:
    """Check ranges and rules of a record, then of every record inside it.

    Parameters
    ----------
    record : any record
    path : where in the document it stands
    ranges : record -> field -> span of the number, or of every number of a group
    rules : record -> the function that refuses fields which contradict each other
    since : a record that was checked before; what is the very same in it is not looked at again

    Raises
    ------
    RecipeError : the first thing found, with its place and how to mend it.
    """
    spans = ranges.get(type(record), {})
    for info in fields_of(type(record)):
        value, place = getattr(record, info.name), (*path, info.encode_name)
        old = getattr(since, info.name) if type(since) is type(record) else None
        if value is None or value is old:
            continue
        if info.name in spans:
            _check_span(value, spans[info.name], place)
        members = enumerate(_beside(value, old)) if isinstance(value, tuple) else ()
        inside = [(value, old, place), *((member, before, (*place, index)) for index, (member, before) in members)]
        for inner, before, inner_place in inside:
            if isinstance(inner, Struct) and inner is not before:
                check_record(inner, inner_place, ranges, rules, before)
    if type(record) in rules:
        rules[type(record)](record, path)


def _check_span(value: float | dict[str, float], span: Range, path: Path) -> None:
    if not isinstance(value, dict):
        _check_range(value, span, path)
        return
    for name, number in value.items():
        _check_range(number, span, (*path, name))


def _check_range(number: float, span: Range, path: Path) -> None:
    low, high, unit = span
    if not low <= number <= high:
        what = Phrase("is {number:.15g}, outside {low:.15g} to {high:.15g}", number=number, low=low, high=high)
        if unit:
            what = Phrase("{outside} {unit}", outside=what, unit=unit)
        raise RecipeError(what, "correct the number or its unit", path)


def _check_target(target: Target, path: Path) -> None:
    low, high = target.low_mg_per_l, target.high_mg_per_l
    if target.tolerance_percent is not None and (low is not None or high is not None):
        raise RecipeError("states both a tolerance and a range", "keep one of the two", path)
    _check_order(low, target.mg_per_l, Phrase("low"), Phrase("target"), path)
    _check_order(target.mg_per_l, high, Phrase("target"), Phrase("high"), path)


def _check_limit(limit: Limit, path: Path) -> None:
    _check_order(limit.at_least_mg_per_l, limit.at_most_mg_per_l, Phrase("at least"), Phrase("at most"), path)


def _check_order(low: float | None, high: float | None, low_name: str, high_name: str, path: Path) -> None:
    if low is not None and high is not None and low > high:
        what = Phrase(
            "has its {low_name} ({low:.15g} mg/L) above its {high_name} ({high:.15g} mg/L)",
            low_name=low_name,
            low=low,
            high_name=high_name,
            high=high,
        )
        raise RecipeError(what, "exchange or correct them", path)


def _check_aim(aim: Aim, path: Path) -> None:
    if aim.crop is not None:
        _check_crop(aim.crop, (*path, "crop"))
    for name, rows in (("targets", aim.targets), ("limits", aim.limits)):
        repeated = first_repeated(row.nutrient for row in rows)
        if repeated is not None:
            index, nutrient = repeated
            raise RecipeError(
                Phrase("repeats {nutrient}", nutrient=nutrient), "keep one of the two", (*path, name, index)
            )


def _check_scale(scale: Scale, path: Path) -> None:
    if scale.readability_g >= scale.capacity_g:
        what = Phrase(
            "carries {capacity_g:.15g} g in steps of {readability_g:.15g} g, which cannot be",
            capacity_g=scale.capacity_g,
            readability_g=scale.readability_g,
        )
        raise RecipeError(what, "correct capacity or readability", path)


def _check_recipe(recipe: Recipe, path: Path) -> None:
    if not recipe.shelf:
        raise RecipeError("is empty", "put at least one salt on it", (*path, "shelf"))
    if recipe.currency and not (len(recipe.currency) == 3 and recipe.currency.isascii() and recipe.currency.isalpha()):
        raise RecipeError(
            Phrase("is {currency}, no currency code", currency=quoted(recipe.currency)),
            "write three letters such as EUR",
            (*path, "currency"),
        )
    if recipe.second_water_share_percent > 0 and recipe.second_water is None:
        what = "is given, but no second_water"
        raise RecipeError(what, "add second_water or write 0", (*path, "second_water_share_percent"))
    _check_shelf_names(recipe.shelf, path)
    _check_pins(recipe, path)


def _check_shelf_names(shelf: tuple[ShelfEntry, ...], above: Path) -> None:
    repeated = first_repeated(entry.key for entry in shelf)
    if repeated is not None:
        index, key = repeated
        what = Phrase("has the same name as another entry, {entry}", entry=quoted(key))
        raise RecipeError(what, 'give each its own "entry_id"', (*above, "shelf", index))


def _check_pins(recipe: Recipe, above: Path) -> None:
    keys = [entry.key for entry in recipe.shelf]
    letters = TANK_LETTERS[: recipe.tanks.count]
    for key, letter in recipe.tanks.pins.items():
        path: Path = (*above, "tanks", "pins", key)
        if key not in keys and not _is_salt(key):  # a catalog product may come to the shelf later: the plan says so
            hint = close_match(key, keys) or "name a shelf entry by its entry_id, or its salt where it has none"
            raise RecipeError(Phrase("pins {entry}, which does not stand on the shelf", entry=quoted(key)), hint, path)
        if letter not in tuple(letters):
            what = Phrase("is {letter}, none of the {count} tanks", letter=quoted(letter), count=len(letters))
            raise RecipeError(what, Phrase("use {letters}", letters=", ".join(letters)), path)


def _is_salt(key: str) -> bool:
    from core.catalog import salts  # read only for a pin of something that is not on the shelf

    return key in salts()


def _check_crop(crop: str, path: Path) -> None:
    from core.catalog import crops  # read only for a recipe that names one

    known = [profile.id for profile in crops()]
    if crop not in known:
        what = Phrase("is {crop}, which is no crop profile of the catalog", crop=quoted(crop))
        raise RecipeError(what, close_match(crop, known) or Phrase("name one of the catalog or leave it out"), path)


def first_repeated(names: Iterable[str]) -> tuple[int, str] | None:
    """Return position and name of the first name that stood there before, or None."""
    seen: set[str] = set()
    for index, name in enumerate(names):
        if name in seen:
            return index, name
        seen.add(name)
    return None


RULES: dict[type, Rule] = {
    Target: _check_target,
    Limit: _check_limit,
    Aim: _check_aim,
    Water: check_water,
    LabelPercent: check_label,
    ShelfEntry: check_shelf_entry,
    Scale: _check_scale,
    Recipe: _check_recipe,
}
