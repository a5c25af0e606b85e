"""The demo: invented, marked so, and its shipped plan is what the engine says today."""

import json
from pathlib import Path

import msgspec
import pytest

from core.plan import plan
from core.plan.records import Plan
from core.recipe import load
from tests.helpers.make_demo_plan import DEMO, demo_plan_bytes


@pytest.mark.parametrize("file", sorted(DEMO.glob("*.saltwright")), ids=lambda path: path.stem)
def test_a_demo_recipe_is_marked_as_invented_and_meets_its_aim(file: Path):
    recipe = load(file)
    planned = plan(recipe)
    assert "invented" in recipe.title
    assert "invented" in recipe.water.name
    assert {row.verdict for row in planned.rows} <= {"met", "fine"}
    assert {tank.cold_verdict for tank in planned.tanks} == {"clear"}
    assert not [caution for caution in planned.cautions if caution.level == "stop"]


def close(found, shipped) -> bool:
    if isinstance(shipped, dict):
        return found.keys() == shipped.keys() and all(close(found[k], shipped[k]) for k in shipped)
    if isinstance(shipped, list):
        return len(found) == len(shipped) and all(map(close, found, shipped))
    return found == (pytest.approx(shipped, rel=1e-6, abs=1e-9) if isinstance(shipped, float) else shipped)


def test_the_shipped_plan_is_what_the_engine_says_today():
    """When it is not: `python -m tests.helpers.make_demo_plan`."""
    shipped = (DEMO / "strawberry.plan.json").read_bytes()
    assert close(json.loads(demo_plan_bytes()), json.loads(shipped))
    assert isinstance(msgspec.json.decode(shipped, type=Plan), Plan)
