"""A plan does not depend on how often its shelf was asked for before: the solver's quick and slow ways agree."""

from pathlib import Path

import msgspec
import pytest
from msgspec.structs import replace

import core.plan.tanks as plan_tanks
from app.session.demo import demo_recipe
from core.blend import solve
from core.chemistry import equilibrium_one
from core.plan import Plan, plan
from core.recipe import loads
from core.recipe.records import Recipe
from tests.helpers.random_recipes import random_recipe
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

STORIES = sorted((Path(__file__).parents[2] / "outside/stories").glob("*.saltwright"))
SEEDS = 40


def told(value: object, at: str = "") -> dict[str, object]:
    """Every single word and figure of a plan by its place."""
    if isinstance(value, dict):
        return {place: one for key, part in value.items() for place, one in told(part, f"{at}.{key}").items()}
    if isinstance(value, list | tuple):
        return {place: one for i, part in enumerate(value) for place, one in told(part, f"{at}[{i}]").items()}
    return {at: value}


def asked_for(made: Recipe, monkeypatch: pytest.MonkeyPatch) -> tuple[Plan, Plan]:
    """A plan by the slow way, as asked for once, and by the written-out equations, as asked for often."""
    plans = []
    for frequent in (10**9, -1):
        monkeypatch.setattr(equilibrium_one, "FREQUENT", frequent)
        plans.append(plan(made))
    return plans[0], plans[1]


def differing(first: Plan, second: Plan) -> list[str]:
    """Places where two plans say different words, or figures further apart than a millionth."""
    one, other = (told(msgspec.to_builtins(made)) for made in (first, second))
    apart = []
    for place in sorted(one.keys() | other.keys()):
        a, b = one.get(place), other.get(place)
        if isinstance(a, float) and isinstance(b, float):
            if abs(a - b) > 1e-6 * max(abs(a), abs(b), 1e-3):
                apart.append(place)
        elif a != b:
            apart.append(place)
    return apart


@pytest.mark.parametrize("path", STORIES, ids=lambda path: path.stem)
def test_a_story_is_told_the_same_every_time(path, monkeypatch):
    assert not differing(*asked_for(loads(path.read_bytes(), path.name), monkeypatch))


@pytest.mark.parametrize("goal", ["closest", "cheapest", "fewest"])
def test_the_demo_is_planned_the_same_every_time(goal, monkeypatch):
    assert not differing(*asked_for(replace(demo_recipe(), goal=goal), monkeypatch))


def test_random_recipes_are_planned_the_same_every_time(monkeypatch):
    goals = ("closest", "closest", "cheapest", "fewest")
    plans = [asked_for(replace(random_recipe(seed), goal=goals[seed % 4]), monkeypatch) for seed in range(SEEDS)]
    assert not {seed: places for seed, pair in enumerate(plans) for places in [differing(*pair)] if places}


@pytest.mark.parametrize("residual", [0.0, 0.3, 0.5])
@pytest.mark.parametrize("acid", ["nitric-acid", "phosphoric-acid", "citric-acid"])
def test_what_is_left_exactly_at_a_bound_says_the_same_every_time(acid, residual, monkeypatch):
    """Nothing left shows no bicarbonate, and 0.3 meq/L is not under 0.3."""
    salts = [salt for salt in PLAIN if acid != "phosphoric-acid" or "phosphate" not in salt]
    for meq in (1.0, 3.0, 5.5):
        water = {"mg_per_l": {"Ca": 14.0 * meq, "HCO3": 61.017 * meq}, "ph": 7.5}
        made = recipe(SIX, [*salts, acid], water=water, aim={"residual_alkalinity_meq_per_l": residual})
        first, second = asked_for(made, monkeypatch)
        assert not differing(first, second)
        assert ("soft-water" in {one.code for one in first.cautions}) == (residual < 0.3)
        assert any(share.ion == "HCO3" for share in first.feed.ions) == (residual > 0.0)


def test_asked_for_twenty_times_it_is_the_same_plan():
    made = recipe(SIX, [*PLAIN, "citric-acid"], water=HARD, aim={"ph": 5.8})
    equilibrium_one._uses.cache_clear()
    first = plan(made)
    for _ in range(20):
        last = plan(made)
    assert not differing(first, last)


def test_what_was_planned_before_changes_nothing(monkeypatch):
    """Salts that served the last plan are taken on proof alone, tanks hoped for only where they are chosen."""
    made = [replace(random_recipe(seed), goal="cheapest" if seed % 8 == 0 else "closest") for seed in range(12)]
    with monkeypatch.context() as slowly:
        slowly.setattr(solve, "proven", lambda *_: None)
        slowly.setattr(plan_tanks, "stand_beside", lambda *_: None)
        fresh = [plan(one) for one in made]
    solve._last_salts.cache_clear()
    first = [plan(one) for one in made]
    for one in made:
        moved = [replace(target, mg_per_l=1.03 * target.mg_per_l) for target in one.aim.targets[:2]]
        plan(replace(one, aim=replace(one.aim, targets=(*moved, *one.aim.targets[2:]))))
    again = [plan(one) for one in made]
    for seed, plans in enumerate(zip(fresh, first, again, strict=True)):
        assert not differing(plans[0], plans[1]), seed
        assert not differing(plans[1], plans[2]), seed
