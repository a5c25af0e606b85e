"""The edits the Tanks surface asks for, each a recipe made from another; nothing here calculates."""

from __future__ import annotations

from typing import Any, NamedTuple

from msgspec import structs

from core.plan.records import Plan, Tank
from core.recipe.records import Batch, Recipe, TankSetup

LETTERS = "ABCD"


class Target(NamedTuple):
    """A tank a salt may be moved to; without content it is not in use yet."""

    letter: str
    content: str | None


def value_of(recipe: Recipe, name: str) -> Any:
    """Return what a control shows: a field of the tanks, or the batch's tank volume."""
    return getattr(recipe.batch if name == "tank_volume_l" else recipe.tanks, name)


def with_value(recipe: Recipe, name: str, value: Any) -> Recipe:
    """Return the recipe with one field of its tanks or its batch changed; None is the field's default."""
    record: TankSetup | Batch = recipe.batch if name == "tank_volume_l" else recipe.tanks
    if value is None:
        value = {info.name: info.default for info in structs.fields(record)}[name]
    changed = structs.replace(record, **{name: value})
    return structs.replace(recipe, **{"batch" if isinstance(record, Batch) else "tanks": changed})


def with_pin(recipe: Recipe, entry_id: str, letter: str | None) -> Recipe:
    """Return the recipe with a shelf entry pinned to a tank, or free again for None."""
    pins = {key: kept for key, kept in recipe.tanks.pins.items() if key != entry_id}
    if letter is not None:
        pins[entry_id] = letter
    return structs.replace(recipe, tanks=structs.replace(recipe.tanks, pins=pins))


def targets(recipe: Recipe, plan: Plan) -> tuple[Target, ...]:
    """Return the tanks salts may be moved to: those in use, and one more where the recipe allows it."""
    used = {tank.name: tank.content for tank in plan.tanks}
    found, offered = [], False
    for letter in LETTERS[: recipe.tanks.count]:
        if letter in used:
            found.append(Target(letter, used[letter]))
        elif not offered:
            offered = True
            found.append(Target(letter, None))
    return tuple(found)


def moved_along(before: Plan, after: Plan) -> dict[tuple[str, str], str]:
    """Return what an edit moved: (letter, entry) of products that came from another tank -> that tank's content.

    A tank is the one most of its products stood in before, whatever its letter; what is new in the plan has not moved.
    """
    found: dict[tuple[str, str], str] = {}
    for tank in after.tanks:
        keys = {content.entry_id for content in tank.contents}
        origin = max(before.tanks, key=lambda old: (_shared(old, keys), old.name == tank.name), default=None)
        for old in before.tanks:
            for content in old.contents:
                key = content.entry_id
                if old is not origin and key in keys and not _shared(origin, {key}):
                    found[tank.name, key] = old.content
    return found


def _shared(tank: Tank | None, keys: set[str]) -> int:
    return 0 if tank is None else sum(content.entry_id in keys for content in tank.contents)


def beside(found: tuple[Target, ...], letter: str, by: int) -> str | None:
    """Return the letter of the next tank in a direction, None where there is none."""
    letters = [target.letter for target in found]
    wanted = letters.index(letter) + by if letter in letters else -1
    return letters[wanted] if 0 <= wanted < len(letters) else None
