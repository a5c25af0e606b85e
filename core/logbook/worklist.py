"""What is to be weighed for a batch, one item per product and tank in the order it goes in, and its trace bottles."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from msgspec import Struct, structs

from core.bench.bottles import BottleFor, bottles_for, trace_products
from core.bench.steps import Step, tank_steps
from core.bench.weighing import at_steps
from core.plan.records import Plan, Tank, TankContent
from core.recipe.records import Scale

if TYPE_CHECKING:
    from core.blend.solve import Blend

Bottles = dict[str, dict[int, BottleFor]]
"""Tank -> number -> bottle; numbered through all tanks, from 1."""


class ToWeigh(Struct, frozen=True):
    """One product of one tank, or one pour out of a trace bottle with everything that is in it.

    `planned_g`: as its scale will show it, or as planned where that is less than the scale shows or comes out of a
    bottle; `loads_g` one number per go. `from_bottle`: the number of the trace bottle, 0 where it is weighed;
    `together`: the other products of the same pour. `step` is its place among the steps of the tank. `millilitres` is
    what is measured out of a liquid or a bottle, None where it is weighed.
    """

    tank: str
    entry_id: str
    salt: str
    planned_g: float
    loads_g: tuple[float, ...]
    step_g: float | None
    capacity_g: float | None
    millilitres: float | None
    from_bottle: int
    step: int
    together: tuple[ToWeigh, ...] = ()

    @property
    def place(self) -> tuple[str, str]:
        """The tank and the entry: what an item is known by."""
        return self.tank, self.entry_id

    @property
    def half_step_g(self) -> float:
        """Two weights nearer than this are the same on the scale [g]; without a scale within a thousandth."""
        return self.planned_g / 1000.0 if self.step_g is None else self.step_g / 2.0


def volume_of(item: ToWeigh, grams: float) -> float | None:
    """Return the volume of another weight [g] of an item that is measured out [mL], None where it is weighed."""
    return None if item.millilitres is None else item.millilitres * grams / item.planned_g


def grams_of(item: ToWeigh, millilitres: float) -> float:
    """Return the weight [g] of another volume [mL] of an item that is measured out."""
    assert item.millilitres is not None, "it is weighed"
    return item.planned_g * millilitres / item.millilitres


def each(items: Iterable[ToWeigh]) -> tuple[ToWeigh, ...]:
    """Return every product by itself, those that come out of one bottle one by one."""
    return tuple(one for item in items for one in (item, *item.together))


def worklist(blend: Blend, plan: Plan) -> tuple[ToWeigh, ...]:
    """Return everything to weigh into the tanks, tank by tank in the order of the steps."""
    bottles = bottles_of(blend, plan)
    return tuple(item for tank in plan.tanks for item in _of_tank(tank, bottles[tank.name]))


def bottles_of(blend: Blend, plan: Plan) -> Bottles:
    """Return the trace bottles of a plan, numbered through its tanks."""
    serves, number = trace_products(blend), 0
    found: Bottles = {}
    for tank in plan.tanks:
        here = bottles_for(tank.contents, blend.recipe.batch.scales, serves)
        found[tank.name] = dict(enumerate(here, number + 1))
        number += len(here)
    return found


def fits_scale(content: TankContent) -> bool:
    """False for a weight that is less than half a step of its scale: it stays as planned."""
    return content.scale is None or content.grams_to_weigh >= content.scale.readability_g / 2


def loads_of(content: TankContent) -> tuple[float, ...]:
    """Return the weights of each go [g]; several where the scale carries less than the whole."""
    if content.scale is None or not fits_scale(content) or content.grams_to_weigh <= content.scale.capacity_g:
        return (content.grams_to_weigh,)
    step = content.scale.readability_g
    scale = Scale(content.scale.capacity_g, step)
    return at_steps(content.grams, scale, round(content.grams_to_weigh / step)).loads_g


def measured_out(tank: Tank, bottles: dict[int, BottleFor]) -> frozenset[str]:
    """Return the entries of a tank that have to come out of a trace bottle: all that share one with a tiny weight."""
    tiny = {content.entry_id for content in tank.contents if not fits_scale(content)}
    return frozenset(key for one in bottles.values() if tiny & set(one.entry_ids) for key in one.entry_ids)


def steps_of(tank: Tank, bottles: dict[int, BottleFor]) -> tuple[Step, ...]:
    """Return the steps that fill a tank."""
    return tank_steps(tank.contents, tank.volume_l, None, measured_out(tank, bottles))


def contents_in_order(tank: Tank, bottles: dict[int, BottleFor]) -> tuple[TankContent, ...]:
    """Return what a tank holds in the order its steps name it; whatever no step names comes last."""
    placed = _places(tank, bottles)
    return tuple(sorted(tank.contents, key=lambda content: placed.get(content.entry_id, (len(placed), 0))))


def _places(tank: Tank, bottles: dict[int, BottleFor]) -> dict[str, tuple[int, int]]:
    """Entry -> number of its step, and its place within it."""
    steps = enumerate(steps_of(tank, bottles))
    named = [(key, (number, at)) for number, step in steps for at, key in enumerate(step.entry_ids)]
    return dict(reversed(named))  # the first step that names it, not the one that closes its bag


def _of_tank(tank: Tank, bottles: dict[int, BottleFor]) -> list[ToWeigh]:
    poured, placed = measured_out(tank, bottles), _places(tank, bottles)
    numbers = {key: number for number, bottle in bottles.items() for key in bottle.entry_ids if key in poured}
    found: dict[object, list[ToWeigh]] = {}
    for content in contents_in_order(tank, bottles):
        number, step = numbers.get(content.entry_id, 0), placed.get(content.entry_id, (0, 0))[0]
        item = _item(tank, content, step) if not number else _pour(tank, content, number, bottles[number], step)
        found.setdefault(number or item.place, []).append(item)
    return [structs.replace(first, together=tuple(others)) for first, *others in found.values()]


def _pour(tank: Tank, content: TankContent, number: int, bottle: BottleFor, step: int) -> ToWeigh:
    """A product that is measured out of a bottle, exactly as much as is planned."""
    return ToWeigh(
        tank=tank.name,
        entry_id=content.entry_id,
        salt=content.salt,
        planned_g=content.grams,
        loads_g=(content.grams,),
        step_g=None,
        capacity_g=None,
        millilitres=bottle.bottle.aliquot_ml,
        from_bottle=number,
        step=step,
    )


def _item(tank: Tank, content: TankContent, step: int) -> ToWeigh:
    scale = content.scale
    return ToWeigh(
        tank=tank.name,
        entry_id=content.entry_id,
        salt=content.salt,
        planned_g=content.grams_to_weigh,
        loads_g=loads_of(content),
        step_g=None if scale is None else scale.readability_g,
        capacity_g=None if scale is None else scale.capacity_g,
        millilitres=content.millilitres,
        from_bottle=0,
        step=step,
    )
