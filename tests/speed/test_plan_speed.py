"""How long a plan takes: 40 salts, 15 nutrients, two tanks, written out as JSON inside the timer."""

from __future__ import annotations

import itertools

import msgspec
import numpy as np
import pytest
from msgspec.structs import replace
from scipy.optimize import nnls

from core.blend.nutrients import ROW
from core.blend.shelf import compile_shelf
from core.catalog import salts
from core.plan import plan
from core.recipe.records import Aim, Recipe, ShelfEntry, TankSetup, Target, Water, WaterContents
from tests.speed.timing import medians_ms, report

pytestmark = pytest.mark.speed

AIM = {
    "N": 150.0, "P": 40.0, "K": 210.0, "Ca": 150.0, "Mg": 35.0, "S": 55.0, "Fe": 2.0, "Mn": 0.6, "Zn": 0.3,
    "B": 0.3, "Cu": 0.05, "Mo": 0.05, "NH4-N": 8.0, "NO3-N": 142.0, "Cl": 25.0,
}  # fmt: skip
LEFT_OUT = ("acid", "base")
WATER = Water(mg_per_l=WaterContents(ca=61.0, mg=9.0, na=12.0, cl=20.0, s=9.0, hco3=150.0), ph=7.5)


def forty_salts() -> tuple[ShelfEntry, ...]:
    plain = [salt.id for salt in salts().values() if salt.kind not in LEFT_OUT]
    chosen = [*plain[:38], "sodium-molybdate-dihydrate", "nitric-acid"]
    assert len(chosen) == 40
    return tuple(ShelfEntry(salt=name, price_per_kg=1.0 + place / 10) for place, name in enumerate(chosen))


def recipe(potassium_mg_per_l: float = 210.0, temperature_c: float = 15.0) -> Recipe:
    wanted = AIM | {"K": potassium_mg_per_l}
    return Recipe(
        format="saltwright-recipe",
        schema=1,
        shelf=SHELF,
        aim=Aim(targets=tuple(Target(nutrient, amount) for nutrient, amount in wanted.items())),
        water=WATER,
        tanks=TankSetup(temperature_c=temperature_c, coldest_c=5.0),
    )


SHELF = forty_salts()


def test_plan_of_forty_salts() -> None:
    brings = compile_shelf(SHELF).brings
    rows = [(ROW[nutrient], amount) for nutrient, amount in AIM.items()]
    matrix = np.array([brings[row] / amount for row, amount in rows])
    ones = np.ones(len(rows))
    typed = itertools.cycle([200.0 + step / 7 for step in range(199)])
    cold = itertools.cycle([8.0 + step / 9 for step in range(97)])
    encode = msgspec.json.encode
    bare, same_room, other_room = medians_ms(
        lambda: nnls(matrix, ones),
        lambda: encode(plan(recipe(next(typed)))),
        lambda: encode(plan(recipe(next(typed), next(cold)))),
    )
    report(
        [
            ("bare nnls of the same matrix", bare * 1000, "us"),
            ("plan, tank temperature unchanged", same_room, "ms"),
            ("  as a multiple of the bare nnls", same_room / bare, "x"),
            ("plan after a change of temperature", other_room, "ms"),
        ]
    )
    assert same_room <= 5.0
    assert same_room <= 150 * bare
    assert other_room <= 8.0


def test_the_plan_of_a_full_shelf_is_complete() -> None:
    """What is timed is real: every tank has contents and nothing of the aim is missed."""
    made = plan(replace(recipe(), title="timed"))
    assert all(tank.contents for tank in made.tanks)
    assert [row.nutrient for row in made.rows if row.verdict == "short"] == []
