"""What is said of iron: chelates that let go, iron nothing holds, ligands nobody names."""

import pytest

from core.chemistry import chelation
from core.plan import plan
from tests.helpers.random_recipes import random_recipe
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

NITRIC = {"salt": "nitric-acid", "strength_percent": 60}
IRON = SIX | {"Fe": 2.0}
CODES = ("chelate-ph", "bare-iron", "ligand-unknown")
BOUGHT = {"salt": "blend:mine", "label_percent": {"NO3-N": 10, "K2O": 30, "Fe": 0.4}, "exactly_mg_per_l": 500}


def said(targets: dict, shelf: list, **rest) -> dict[str, dict]:
    """The data of the cautions about iron."""
    made = plan(recipe(targets, shelf, **rest))
    return {one.code: one.data for one in made.cautions if one.code in CODES}


def test_bare_iron_is_lost_from_a_feed_that_airs_and_not_from_a_sour_one():
    told = said(IRON, [*PLAIN, "iron-sulfate-heptahydrate"], water=HARD)
    assert told.keys() == {"bare-iron"}
    assert told["bare-iron"]["salts"] == ["iron-sulfate-heptahydrate"]
    assert told["bare-iron"]["share_percent"] > 90.0
    assert said(IRON, [*PLAIN, "iron-sulfate-heptahydrate"]) == {}


def test_ferric_iron_is_lost_even_from_a_sour_feed():
    assert said(IRON, [*PLAIN, "iron-chloride-hexahydrate"]).keys() == {"bare-iron"}


def test_bare_iron_beside_a_chelate_is_told_alone():
    shelf = [*PLAIN, "iron-eddha-6", {"salt": "iron-sulfate-heptahydrate", "exactly_mg_per_l": 5.0}]
    told = said(IRON, shelf, water=HARD)
    assert told.keys() == {"bare-iron"}
    assert told["bare-iron"]["salts"] == ["iron-sulfate-heptahydrate"]


@pytest.mark.parametrize(("chelate", "is_told"), [("iron-edta-13", True), ("iron-eddha-6", False)])
def test_the_chelate_decides_in_hard_water(chelate, is_told):
    assert (said(IRON, [*PLAIN, chelate], water=HARD).keys() == {"chelate-ph"}) == is_told


def test_of_a_bought_blend_no_ligand_is_claimed():
    assert said({}, [BOUGHT], water=HARD).keys() == {"ligand-unknown"}
    assert said({}, [BOUGHT], water=HARD)["ligand-unknown"]["entry_ids"] == ["blend:mine"]
    sour = said({}, [BOUGHT, NITRIC | {"exactly_mg_per_l": 570}], water=HARD)
    assert sour == {}


def test_a_blend_beside_a_chelate_changes_nothing_of_what_is_said_of_the_chelate():
    shelf = [*PLAIN, {"salt": "iron-eddha-6", "exactly_mg_per_l": 20.0}]
    assert said(SIX, [*shelf, BOUGHT], water=HARD).keys() == {"ligand-unknown"}


def test_a_bound_never_says_other_than_the_full_balance(monkeypatch):
    made = [random_recipe(seed) for seed in range(16)]
    asked: list[int] = []
    shared_out = chelation.shared_out
    monkeypatch.setattr(chelation, "shared_out", lambda *given: asked.append(1) or shared_out(*given))
    quick = [[one.code for one in plan(each).cautions if one.code in CODES] for each in made]
    seldom = len(asked)
    monkeypatch.setattr(chelation, "iron_surely_held", lambda _given, totals: [0.0] * totals.shape[1])
    assert quick == [[one.code for one in plan(each).cautions if one.code in CODES] for each in made]
    assert 0 < seldom < len(asked) - seldom
