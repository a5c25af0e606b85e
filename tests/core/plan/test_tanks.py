"""What the plan says of its tanks: water, density, pH, what is nearest to settling, the water they are filled with."""

from __future__ import annotations

from typing import Any

import pytest

from core.plan import plan
from core.plan.together import together
from core.tanks.compatibility import RULES
from core.tanks.placing import REASONS
from tests.helpers.make_demo_plan import DEMO
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

SHELF = [*PLAIN, "iron-dtpa-11", "manganese-sulfate-monohydrate", "boric-acid"]
AIM = SIX | {"Fe": 2.0, "Mn": 0.6, "B": 0.3}
PURE = {"name": "rain", "mg_per_l": {"HCO3": 0}}


def planned(**rest: Any):  # type: ignore[no-untyped-def]
    made = recipe(AIM, SHELF, **({"water": PURE} | rest))
    return made, plan(made)


def tank_of(made, content: str):  # type: ignore[no-untyped-def]
    return next(tank for tank in made.tanks if tank.content == content)


def test_a_tank_weighs_its_salts_and_its_water() -> None:
    _, made = planned(tanks={"ratio": 150}, batch={"tank_volume_l": 40})
    for tank in made.tanks:
        salts_kg = sum(content.grams for content in tank.contents) / 1000.0
        assert tank.density_kg_per_l is not None
        assert tank.water_kg is not None
        crystal_water_kg = tank.density_kg_per_l * 40 - salts_kg
        assert tank.water_kg >= crystal_water_kg - 0.01
        assert tank.density_kg_per_l * 40 == pytest.approx(tank.water_kg + salts_kg, rel=0.06)
        assert 1.0 < tank.density_kg_per_l < 1.4


def test_ph_is_told_where_something_holds_it() -> None:
    _, made = planned()
    assert tank_of(made, "phosphate").ph == pytest.approx(4.4, abs=0.3)
    assert tank_of(made, "calcium").ph is None


def test_solids_nearest_to_settling_come_worst_first() -> None:
    _, made = planned(tanks={"ratio": 150, "temperature_c": 15, "coldest_c": 5})
    near = tank_of(made, "phosphate").near
    assert 1 <= len(near) <= 3
    assert [one.ratio_limit for one in near] == sorted(one.ratio_limit for one in near)
    assert near[0].fullness == pytest.approx(150 / near[0].ratio_limit)
    assert near[0].ratio_limit == tank_of(made, "phosphate").ratio_limit


def test_a_salt_comes_out_sooner_in_a_colder_room() -> None:
    limits = []
    for coldest_c in (4, 10, 16):
        near = tank_of(planned(tanks={"coldest_c": coldest_c, "pins": {"potassium-nitrate": "A"}})[1], "phosphate").near
        limits.append(next(one.ratio_limit for one in near if one.solid == "potassium-sulfate"))
    assert limits == sorted(set(limits))


def test_reasons_and_rules_are_registered_codes() -> None:
    for count in (1, 2, 3):
        for tank in planned(tanks={"count": count})[1].tanks:
            assert set(tank.reasons) <= set(REASONS)
            assert set(tank.broken) <= set(RULES)
            assert len(tank.reasons) == len(tank.contents)


def test_fill_water_counts_only_where_the_recipe_says_so() -> None:
    unsaid, pure, own = (
        tank_of(planned(water=HARD, acid_into="reservoir", tanks=tanks)[1], "phosphate")
        for tanks in ({}, {"fill_water": "pure"}, {"fill_water": "recipe"})
    )
    assert unsaid == pure
    assert own.ph > pure.ph
    assert own.water_kg == pytest.approx(pure.water_kg, rel=0.01)


def test_acid_that_goes_first_is_in_the_fill_water() -> None:
    """With the alkalinity neutralised beforehand hard water no longer raises the tank's pH."""
    shelf = [*SHELF, "nitric-acid"]
    tanks = {"fill_water": "recipe", "ratio": 50}
    raw, eased = (
        tank_of(plan(recipe(AIM, shelf, water=HARD, tanks=tanks, acid_into=place)), "phosphate")
        for place in ("reservoir", "water")
    )
    assert eased.ph < raw.ph


def test_one_tank_for_all_drops_gypsum() -> None:
    made, shown = planned(batch={"tank_volume_l": 40})
    found = together(made, shown)
    assert found is not None
    assert found.one_tank.verdict == "settles"
    assert found.one_tank.settling[0] == "gypsum"
    assert found.one_tank.gypsum_g == pytest.approx(40 * found.one_tank.gypsum_g_per_l)
    assert 0.4 < found.one_tank.calcium_lost < 0.9
    assert 0.0 < found.poured.gypsum_g_per_l < found.one_tank.gypsum_g_per_l
    alone = plan(recipe(AIM, SHELF, water=PURE, tanks={"count": 1}))
    assert alone.tanks[0].verdict == "settles"
    assert together(made, alone) is None


def test_without_calcium_one_tank_does_no_harm() -> None:
    made = recipe({"K": 100.0, "Mg": 20.0}, ["potassium-nitrate", "magnesium-nitrate-hexahydrate"], water=PURE)
    shown = plan(made)
    found = together(made, shown)
    assert found is None or (found.one_tank.gypsum_g == 0.0 and found.one_tank.verdict == "clear")


def test_hard_fill_water_is_told_beside_a_base() -> None:
    """A bicarbonate tank filled up with hard water drops lime; with rain it does not."""
    shelf = [{"salt": "potassium-bicarbonate", "exactly_mg_per_l": 200}]
    hard, rain = (
        plan(recipe({}, shelf, water=HARD, tanks={"count": 1, "fill_water": fill})) for fill in ("recipe", "pure")
    )
    assert (hard.tanks[0].broken, hard.tanks[0].verdict) == (("base-hardness",), "settles")
    assert [c.data["salts"] for c in hard.cautions if c.code == "base-hardness"] == [["potassium-bicarbonate"]]
    assert (rain.tanks[0].broken, rain.tanks[0].verdict) == ((), "clear")


@pytest.mark.parametrize("name", ["potassium-bicarbonate", "borax-decahydrate", "ammonium-heptamolybdate-tetrahydrate"])
def test_no_ph_is_told_that_the_chemistry_does_not_know(name: str) -> None:
    shelf = [{"salt": name, "exactly_mg_per_l": 100}]
    assert plan(recipe({}, shelf, water=PURE)).tanks[0].ph is None


def test_a_coldest_night_warmer_than_now_counts_as_now() -> None:
    shelf = [{"salt": "potassium-nitrate", "exactly_mg_per_l": 1900}]
    told, plain = (
        plan(recipe({}, shelf, water=PURE, tanks={"temperature_c": 8, "coldest_c": coldest})) for coldest in (25, 8)
    )
    assert told.tanks == plain.tanks
    data = next(c.data for c in told.cautions if c.code == "coldest-warmer")
    assert data == {"coldest_c": 25, "temperature_c": 8}
    cold = [c.data["coldest_c"] for c in told.cautions if c.code == "cold-store"]
    assert cold in ([], [8])


def test_temperatures_without_solubilities_are_told() -> None:
    def told(**tanks: float) -> list[float]:
        made = plan(recipe({"K": 100.0}, ["potassium-nitrate"], water=PURE, tanks=tanks))
        return [c.data["temperature_c"] for c in made.cautions if c.code == "tank-temperature"]

    assert told(temperature_c=20, coldest_c=0) == []
    assert told(temperature_c=40) == []
    assert told(temperature_c=20, coldest_c=-5) == [-5]
    assert told(temperature_c=60, coldest_c=41) == [60, 41]


def test_every_broken_rule_has_its_caution() -> None:
    """Acid in the one tank keeps it clear, and still what does not go together is named."""
    shelf = [*PLAIN, {"salt": "nitric-acid", "strength_percent": 60}]
    made = plan(recipe(SIX, shelf, water=HARD, acid_into="tank", tanks={"count": 1, "ratio": 5}))
    (tank,) = made.tanks
    assert tank.verdict == "clear"
    assert tank.broken == ("calcium-phosphate", "calcium-sulfate")
    data = {c.code: c.data["salts"] for c in made.cautions if c.code in RULES}
    assert data["calcium-phosphate"] == ["calcium-nitrate-tetrahydrate", "monopotassium-phosphate"]
    assert set(data) == set(tank.broken)


def test_what_sets_the_clear_strength_is_told_apart_from_what_would_saturate_first() -> None:
    """The nearest solid of the phosphate side is another than the one that ends its being surely clear."""
    from core.recipe import load

    tanks = {tank.content: tank for tank in plan(load(DEMO / "strawberry.saltwright")).tanks}
    calcium, phosphate = tanks["calcium"], tanks["phosphate"]
    assert (calcium.clear_limited_by, calcium.limited_by) == ("potassium-nitrate", "potassium-nitrate")
    assert (phosphate.clear_limited_by, phosphate.limited_by) == ("potassium-sulfate", "newberyite")
    for tank in (calcium, phosphate):
        assert tank.clear_ratio is not None
        assert tank.ratio_limit is not None
        assert tank.clear_ratio < tank.ratio_limit


def test_a_tank_nothing_ends_names_nothing() -> None:
    _, made = planned(tanks={"ratio": 100})
    assert all((tank.clear_limited_by is None) == (tank.clear_ratio is None) for tank in made.tanks)
