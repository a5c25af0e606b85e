"""Recipes turned into others: another crop, another water, another strength, and tanks already mixed."""

import pytest
from msgspec.structs import replace

from core.blend.adapt import aim_from_profile, for_crop, for_water, from_tanks
from core.blend.judge import misses
from core.blend.nutrients import COLUMN
from core.blend.solve import solve
from core.catalog import UnknownCrop, crop
from core.chemistry.components import COMPONENTS
from core.plan import derive, plan
from core.plan.ready_tanks import ready_tanks
from core.recipe import dumps, loads
from core.recipe.records import NUTRIENTS, Aim, Limit, ShelfEntry, TankContents, Target, Water, WaterContents
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

FULL = SIX | {"N": 150.0, "Fe": 2.0, "B": 0.3}
SHELF = [*PLAIN, "iron-dtpa-11", "boric-acid", "ammonium-nitrate", {"salt": "nitric-acid", "strength_percent": 60}]


def parent(**rest):
    return recipe(FULL, SHELF, title="strawberry", **rest)


def tanks_of(made):
    blend = solve(made)
    planned = derive(made, blend)
    return ready_tanks(blend, planned, [f"{tank.content} side" for tank in planned.tanks])


def test_another_crop_takes_the_profiles_targets_and_keeps_traces_and_limits():
    made = parent(aim={"limits": [{"nutrient": "Na", "at_most_mg_per_l": 46}], "ammonium_share_at_most_percent": 5})
    adapted = for_crop(made, "cucumber-ikeda-1996")
    wanted = {target.nutrient: target.mg_per_l for target in adapted.recipe.aim.targets}
    assert wanted["K"] == 234.4
    assert adapted.kept_traces == ("Fe", "B")
    assert wanted["Fe"] == 2.0
    assert adapted.recipe.aim.limits == made.aim.limits
    assert adapted.recipe.aim.ammonium_share_at_most_percent is None
    assert adapted.recipe.shelf == made.shelf
    assert adapted.parent == "strawberry"
    assert adapted.in_range


def test_an_unknown_crop_and_one_without_targets_are_refused():
    with pytest.raises(UnknownCrop):
        for_crop(parent(), "cucumbre")
    from core.catalog import crops

    bare = next(profile.id for profile in crops() if not profile.targets)
    with pytest.raises(ValueError, match="no targets"):
        for_crop(parent(), bare)


def test_another_water_changes_amounts_and_not_the_aim():
    water = Water(name="well", mg_per_l=WaterContents(ca=61.0, s=9.0, hco3=150.0))
    adapted = for_water(parent(), water)
    assert adapted.recipe.aim == parent().aim
    amounts = dict(zip((s.key for s in adapted.blend.shelf.sources), adapted.blend.amounts_mg_per_l, strict=True))
    assert amounts["nitric-acid"] > 0.0
    assert adapted.in_range


def test_a_recipes_own_tanks_meet_its_own_aim_as_they_were_meant():
    made = recipe(FULL, PLAIN + ["iron-dtpa-11", "boric-acid"])
    adapted = from_tanks(made, tanks_of(made), ())
    assert adapted.in_range
    for dose in adapted.doses:
        assert dose.ml_per_l == pytest.approx(dose.meant_ml_per_l, rel=0.06)


def test_a_tank_brings_what_its_salts_bring():
    made = recipe(FULL, PLAIN + ["iron-dtpa-11", "boric-acid"])
    blend, tanks = solve(made), tanks_of(made)
    shelf = [{"salt": t.entry.salt, "label_percent": dict(t.entry.label_percent.items())} for t in tanks]
    doses = [t.ml_per_l * t.g_per_l for t in tanks]
    again = plan(recipe({}, [entry | {"exactly_mg_per_l": mg} for entry, mg in zip(shelf, doses, strict=True)]))
    for name in ("N", "P", "K", "Ca", "Mg", "S", "Fe", "B"):
        own = plan(made).feed.mg_per_l[name]
        assert again.feed.mg_per_l[name] == pytest.approx(own, rel=1e-4), name
    assert again.feed.ec_ms_per_cm == pytest.approx(plan(made).feed.ec_ms_per_cm, rel=0.01)
    assert sum(mg for mg in doses) == pytest.approx(float(blend.amounts_mg_per_l.sum()))


def test_supplements_are_as_few_as_bring_every_target_into_range():
    made = parent()
    other = recipe(FULL | {"K": 260.0, "N": 190.0, "S": 60.0}, SHELF)
    adapted = from_tanks(other, tanks_of(made), tuple(ShelfEntry(salt=name) for name in PLAIN))
    assert adapted.in_range
    assert len(adapted.supplements) == 1
    assert misses(adapted.blend) == ()
    assert not from_tanks(other, tanks_of(made), ()).in_range


def test_acid_serves_the_alkalinity_and_does_not_count_as_a_supplement():
    acid = ShelfEntry(salt="nitric-acid", strength_percent=60.0)
    adapted = from_tanks(recipe(FULL, SHELF, water=HARD), tanks_of(parent(water=HARD)), (acid,))
    assert adapted.supplements == ()
    assert adapted.blend.alkalinity == pytest.approx(0.5, abs=0.01)


def test_where_no_supplement_helps_the_nearest_is_shown():
    adapted = from_tanks(recipe({"K": 300.0, "Mg": 10.0}, PLAIN), tanks_of(parent()), (ShelfEntry(salt="boric-acid"),))
    assert not adapted.in_range
    assert len(adapted.doses) == 2


def test_what_is_adapted_can_be_saved_and_read_again():
    for adapted in (for_crop(parent(), "cucumber-ikeda-1996"), from_tanks(parent(), tanks_of(parent()), ())):
        assert loads(dumps(adapted.recipe)) == adapted.recipe


SOUR = {"water": HARD, "acid_into": "tank", "tanks": {"count": 3}}


def test_a_tank_with_acid_and_chelates_brings_its_alkalinity_and_its_ligand():
    made = recipe(FULL, SHELF, **SOUR)
    blend, tanks = solve(made), tanks_of(made)
    shelf = tuple(replace(t.entry, exactly_mg_per_l=t.ml_per_l * t.g_per_l) for t in tanks)
    again = solve(replace(recipe({}, PLAIN, water=HARD), shelf=shelf))
    assert blend.alkalinity == pytest.approx(0.5, abs=1e-4)
    assert again.alkalinity == pytest.approx(blend.alkalinity, abs=1e-6)
    assert again.totals == pytest.approx(blend.totals, rel=1e-6, abs=1e-9)
    assert again.totals[COLUMN["DTPA"]] > 0.01
    assert plan(replace(made, shelf=shelf, aim=again.aim)).feed.ph == pytest.approx(plan(made).feed.ph, abs=0.01)


def test_what_a_tank_holds_lives_on_in_the_saved_recipe():
    made = recipe(FULL, SHELF, **SOUR)
    adapted = from_tanks(made, tanks_of(made), ())
    reread = loads(dumps(adapted.recipe))
    assert reread == adapted.recipe
    assert solve(reread).alkalinity == pytest.approx(0.5, abs=0.1)  # as a label alone the acid was lost: 5 meq/L
    assert "label-only" not in {caution.code for caution in plan(reread).cautions}


def test_the_totals_a_recipe_can_name_are_those_of_the_chemistry():
    assert TankContents.__struct_encode_fields__ == COMPONENTS


def test_an_aim_from_a_profile_stands_in_the_order_shown_to_people():
    old = Aim(targets=(Target("Mo", 0.05), Target("K", 200.0)), limits=(Limit("Na", at_most_mg_per_l=46.0),))
    aim, kept = aim_from_profile(old, crop("cucumber-ikeda-1996"))
    named = [target.nutrient for target in aim.targets]
    assert named == sorted(named, key=NUTRIENTS.index)
    assert aim.crop == "cucumber-ikeda-1996"
    assert aim.limits == old.limits
    assert ("Mo" in kept) is ("Mo" not in {target.nutrient for target in crop("cucumber-ikeda-1996").targets})


def test_a_tank_already_mixed_is_dosed_by_volume_and_claims_no_density():
    made = recipe(FULL, PLAIN + ["iron-dtpa-11", "boric-acid"])
    adapted = from_tanks(made, tanks_of(made), ())
    mixed = [amount for amount in plan(adapted.recipe).amounts if amount.salt.startswith("blend:")]
    doses = sorted(dose.ml_per_l for dose in adapted.doses)
    assert sorted(amount.ml_per_l for amount in mixed) == pytest.approx(doses, rel=1e-4)
    assert [amount.density_kg_per_l for amount in mixed] == [None] * len(doses)
