"""How far the weighing of a batch has come: what went in, what a repair asked for, what the recipe changed meanwhile.

Frozen values and functions of them. A weight that went in is never forgotten because the recipe changed: it is in the
tank. It is told beside what the plan asks for now.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from msgspec import Struct, structs

from core.logbook.records import Weighed
from core.logbook.worklist import ToWeigh, each

if TYPE_CHECKING:
    from core.bench.repair_records import Repair


class _Record(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """Shared settings of every record."""


class Entered(_Record, frozen=True):
    """What is known of one product of one tank beyond the plan.

    `planned_g`: what the plan asked for when this was noted. `weighed_g`: what is in the tank, None while nothing is.
    `asked_g`: what a repair asked to be in it in the end, None without one. `before_g`: what was in before more was
    added to it last.
    """

    tank: str
    entry_id: str
    planned_g: float
    weighed_g: float | None = None
    asked_g: float | None = None
    before_g: float | None = None


class Filled(_Record, frozen=True):
    """A tank that a repair has filled further than the plan's volume at that time [L]."""

    tank: str
    planned_l: float
    litres: float


class Progress(_Record, frozen=True):
    """The weighing of one batch so far."""

    entered: tuple[Entered, ...] = ()
    filled: tuple[Filled, ...] = ()


class Difference(Struct, frozen=True):
    """A weight that went in for another plan than the present one; `now_g` is None where nothing asks for it now."""

    tank: str
    entry_id: str
    then_g: float
    now_g: float | None


def entered_of(progress: Progress, item: ToWeigh) -> Entered | None:
    """Return what is known of an item."""
    return next((one for one in progress.entered if (one.tank, one.entry_id) == item.place), None)


def wanted_g(progress: Progress, item: ToWeigh) -> float:
    """Return what is to be in the tank in the end [g]: the plan's weight, or a repair's where that still holds."""
    entered = entered_of(progress, item)
    if entered is None or entered.asked_g is None or not _same(item, entered.planned_g):
        return item.planned_g
    return entered.asked_g


def weighed_g(progress: Progress, item: ToWeigh) -> float | None:
    """Return what is in the tank already [g], None where nothing is."""
    entered = entered_of(progress, item)
    return None if entered is None else entered.weighed_g


def to_add_g(progress: Progress, item: ToWeigh) -> float:
    """Return what a repair asks to add to what is in already [g]; 0 where it asks for nothing more."""
    entered = entered_of(progress, item)
    if entered is None or entered.weighed_g is None or entered.asked_g is None or not _same(item, entered.planned_g):
        return 0.0
    more = float(f"{entered.asked_g - entered.weighed_g:.12g}")
    return more if more > item.half_step_g else 0.0


def is_done(progress: Progress, item: ToWeigh) -> bool:
    """Tell whether an item is in the tank, with nothing to be added."""
    return weighed_g(progress, item) is not None and to_add_g(progress, item) == 0.0


def next_item(progress: Progress, items: Sequence[ToWeigh], after: ToWeigh | None = None) -> ToWeigh | None:
    """Return the next item that is not done, from the one after `after` on and then from the top."""
    places = [item.place for item in items]
    start = places.index(after.place) + 1 if after is not None and after.place in places else 0
    return next((item for item in (*items[start:], *items[:start]) if not is_done(progress, item)), None)


def put_in(progress: Progress, item: ToWeigh, grams: float | None = None) -> Progress:
    """Return the progress with an item weighed: as asked for, or as many grams as really went in this time [g]."""
    more, before = to_add_g(progress, item), weighed_g(progress, item)
    if more > 0.0 and before is not None:
        total = float(f"{before + (more if grams is None else grams):.12g}")
    else:
        total = wanted_g(progress, item) if grams is None else grams
    return _inside(progress, item, total, before_g=before if more > 0.0 else None)


def _inside(progress: Progress, item: ToWeigh, grams: float, before_g: float | None = None) -> Progress:
    """The progress with so much of an item in its tank, and of all that comes out of one bottle with it."""
    share = grams / item.planned_g if item.planned_g else 1.0
    for other in item.together:
        progress = _with(progress, _noted(progress, other, weighed_g=other.planned_g * share))
    return _with(progress, _noted(progress, item, weighed_g=grams, before_g=before_g))


def taken_back(progress: Progress, item: ToWeigh) -> Progress:
    """Return the progress with what went in last of an item taken back: what was added, else all of it.

    What was in before something was added stays in, and what a repair asked for it stays asked. Once nothing is in, the
    plan's weight is wanted again; and if it was this weight that was off, what its repair asked of others, and of the
    tanks' filling, is no longer wanted either.
    """
    entered = entered_of(progress, item)
    if entered is not None and entered.before_g is not None:
        return _inside(progress, item, entered.before_g)
    inside = weighed_g(progress, item)
    off = inside is not None and abs(inside - wanted_g(progress, item)) >= item.half_step_g
    for one in each((item,)):
        progress = _with(progress, _noted(progress, one, weighed_g=None))
    if not off:
        return progress
    kept = [structs.replace(one, asked_g=None) for one in progress.entered if one.weighed_g is not None]
    return Progress(tuple(kept))


def with_repair(progress: Progress, items: Sequence[ToWeigh], volume_l: float, repair: Repair) -> Progress:
    """Return the progress with a repair accepted; `volume_l` is the plan's volume of each tank [L]."""
    by_place = {item.place: item for item in each(items)}
    for new in repair.weights:
        progress = _with(progress, _noted(progress, by_place[new.tank, new.entry_id], asked_g=new.grams))
    larger = {new.tank: Filled(new.tank, volume_l, new.litres) for new in repair.volumes}
    kept = tuple(one for one in progress.filled if one.tank not in larger)
    return structs.replace(progress, filled=(*kept, *larger.values()))


def filled_volumes_l(progress: Progress, volume_l: float) -> dict[str, float]:
    """Return the tanks that are filled to another volume than the plan's [L]."""
    return {one.tank: one.litres for one in progress.filled if one.planned_l == volume_l}


def differences(progress: Progress, items: Sequence[ToWeigh]) -> tuple[Difference, ...]:
    """Return what went in for another plan than this one."""
    by_place = {item.place: item for item in each(items)}
    found = []
    for one in progress.entered:
        item = by_place.get((one.tank, one.entry_id))
        if one.weighed_g is None or (item is not None and _same(item, one.planned_g)):
            continue
        found.append(Difference(one.tank, one.entry_id, one.planned_g, None if item is None else item.planned_g))
    return tuple(found)


def weighed_records(progress: Progress, items: Sequence[ToWeigh]) -> tuple[Weighed, ...]:
    """Return every item as it is or will be in its tank: what is still to be weighed counts as asked for."""
    found = []
    for item in each(items):
        wanted, inside = wanted_g(progress, item), weighed_g(progress, item)
        real = wanted if inside is None or to_add_g(progress, item) > 0.0 else inside
        found.append(Weighed(item.tank, item.entry_id, item.planned_g, real))
    return tuple(found)


def _same(item: ToWeigh, planned_g: float) -> bool:
    return abs(item.planned_g - planned_g) < item.half_step_g


def _noted(progress: Progress, item: ToWeigh, **changed: float | None) -> Entered:
    before = entered_of(progress, item) or Entered(item.tank, item.entry_id, item.planned_g)
    if not _same(item, before.planned_g):
        before = structs.replace(before, planned_g=item.planned_g, asked_g=None)
    return structs.replace(before, **changed)


def _with(progress: Progress, entered: Entered) -> Progress:
    others = tuple(one for one in progress.entered if (one.tank, one.entry_id) != (entered.tank, entered.entry_id))
    kept = (*others, entered) if entered.weighed_g is not None or entered.asked_g is not None else others
    return structs.replace(progress, entered=kept)


def agreed(progress: Progress, items: Sequence[ToWeigh]) -> Progress:
    """Return the progress with what went in for an earlier plan taken as the way this one is mixed."""
    for item in each(items):
        entered = entered_of(progress, item)
        if entered is not None and not _same(item, entered.planned_g):
            progress = _with(progress, _noted(progress, item))
    return progress
