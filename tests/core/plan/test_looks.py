"""What the chemistry said of one arrangement of the tanks is never told of another."""

import gc
import random

import pytest
from msgspec.structs import replace

from core.blend.solve import solve
from core.plan import tanks
from tests.helpers.random_recipes import random_recipe

SEEDS = 60


def stressed(seed):
    """A random recipe in strong tanks of a cold room, where the first hope for them is often given up."""
    made, dice = random_recipe(seed), random.Random(seed)
    setup = replace(
        made.tanks,
        ratio=dice.choice((200.0, 300.0, 400.0)),
        count=dice.choice((2, 3, 4)),
        coldest_c=dice.choice((2.0, 5.0)),
        pins={},
    )
    return replace(made, tanks=setup)


def told(blend):
    found = tanks.split_blend(blend)
    return [(plan.name, plan.verdict, plan.cold_verdict) for plan in found.plans], [
        (standing.clear_ratio or 0.0, standing.ratio_limit or 0.0) for standing in found.standings
    ]


def test_looking_ahead_changes_nothing(monkeypatch):
    for seed in range(SEEDS):
        blend = solve(stressed(seed))
        words, figures = told(blend)
        with monkeypatch.context() as slow:
            slow.setattr(tanks, "stand_beside", lambda *_: None)
            slow_words, slow_figures = told(blend)
        assert words == slow_words, seed
        for one, other in zip(figures, slow_figures, strict=True):
            assert one == pytest.approx(other, rel=1e-6), seed


def test_an_arrangement_that_is_gone_lends_its_looks_to_nobody(monkeypatch):
    """Another one came to lie at its address and was told with its figures."""
    kept = []
    monkeypatch.setattr(tanks, "stand_beside", lambda others, _hoped, *_: (others, "looked"))
    monkeypatch.setattr(tanks, "stand", lambda *_: "fresh")
    looks = tanks._Looks(100.0, (20.0,), None)

    class Arranged:
        mol_per_l_feed = None

    for _ in range(50):
        looks.ahead(None, Arranged())
    gc.collect()
    for _ in range(50):
        kept.append(Arranged())
        assert looks.standing(kept[-1]) == "fresh"
