"""Why: causes, prices equal to finite differences, entering prices that hold, remedies that help, salts to spare."""

import pytest
from msgspec.structs import replace

from core.blend.judge import cost_per_1000_l, misfit, misses
from core.blend.shelf import compile_shelf
from core.blend.solve import solve
from core.blend.steps import apply
from core.blend.why import why_of
from core.blend.why_records import Step
from core.recipe.records import Limit
from tests.core.blend.test_goals import AIM, PRICES, amounts, priced
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

AMMONIUM = ["ammonium-nitrate", "calcium-nitrate-tetrahydrate"]
AT_MOST = {"nutrient": "N", "at_most_mg_per_l": 20}
PHOSPHORIC = {"salt": "phosphoric-acid", "strength_percent": 85}


def why(made):
    return why_of(solve(made))


def reasons(found):
    return {reason.nutrient: reason for reason in found.reasons}


def codes(found, nutrient: str) -> list[str]:
    return [cause.code for cause in reasons(found)[nutrient].causes]


def test_a_blend_in_range_has_no_reasons_and_no_remedy():
    found = why(recipe(AIM, PLAIN))
    assert found.reasons == ()
    assert found.remedy is None


@pytest.mark.parametrize(
    ("made", "nutrient", "code"),
    [
        (lambda: recipe({"Ca": 60.0, "K": 100.0}, ["potassium-nitrate"], water=HARD), "Ca", "water"),
        (lambda: recipe({"K": 100.0}, [{"salt": "potassium-nitrate", "exactly_mg_per_l": 500}]), "K", "fixed"),
        (lambda: recipe({"K": 100.0, "Ca": 100.0}, ["potassium-nitrate"]), "Ca", "no-source"),
        (lambda: recipe({"N": 100.0, "K": 50.0}, ["urea", "potassium-sulfate"]), "N", "not-allowed"),
        (lambda: recipe({"Ca": 150.0}, ["calcium-chloride-dihydrate"]), "Ca", "chloride"),
        (lambda: recipe({"N": 200.0, "Ca": 80.0}, AMMONIUM), "N", "ammonium-share"),
        (lambda: recipe({"K": 200.0}, [{"salt": "potassium-nitrate", "at_most_mg_per_l": 100}]), "K", "entry"),
        (lambda: recipe({"K": 200.0}, ["potassium-nitrate"], aim={"limits": [AT_MOST]}), "K", "limit"),
        (lambda: recipe(SIX, [p for p in PLAIN if "phosphate" not in p] + [PHOSPHORIC], water=HARD), "P", "alkalinity"),
        (lambda: recipe({"K": 100.0, "N": 10.0}, ["potassium-nitrate"]), "N", "comes-with"),
        (lambda: recipe({"K": 100.0, "N": 100.0}, ["potassium-nitrate"]), "N", "at-odds"),
    ],
)  # fmt: skip
def test_what_holds_a_nutrient_is_found(made, nutrient, code):
    assert code in codes(why(made()), nutrient)


def test_reasons_come_worst_first():
    blend = solve(recipe(SIX, [p for p in PLAIN if "phosphate" not in p] + [PHOSPHORIC], water=HARD))
    found = misses(blend)
    assert [miss.off for miss in found] == sorted((miss.off for miss in found), reverse=True)
    assert found[0].row.nutrient == "P"


def test_nitric_acid_is_the_remedy_where_phosphoric_is_the_only_acid():
    made = recipe(SIX, [p for p in PLAIN if "phosphate" not in p] + [PHOSPHORIC], water=HARD)
    remedy = why(made).remedy
    assert remedy.step == Step("add-salt", "nitric-acid")
    assert (remedy.missed_before, remedy.missed_after) == (4, 0)
    assert misses(solve(apply(made, remedy.step))) == ()


def test_purer_water_is_the_remedy_for_what_the_water_brings():
    made = recipe({"Ca": 60.0, "K": 100.0, "N": 36.0}, ["potassium-nitrate"], water=HARD)
    remedy = why(made).remedy
    assert remedy.step.kind == "purer-water"
    assert remedy.step.value == pytest.approx(50.0)
    assert remedy.missed_after == 0


def test_the_price_of_a_bound_is_the_difference_of_solving_either_side():
    made = recipe(
        {"Ca": 150.0, "N": 60.0, "K": 80.0},
        priced(["calcium-chloride-dihydrate", "potassium-nitrate", "calcium-nitrate-tetrahydrate"]),
    )
    price = next(price for price in why(made).prices if price.kind == "chloride")
    here = solve(made)
    for side in (price.down, price.up):
        aim = replace(made.aim, limits=(Limit("Cl", at_most_mg_per_l=side.at),))
        other = solve(replace(made, aim=aim))
        assert side.misfit_change == pytest.approx(misfit(other) - misfit(here), rel=1e-6)
        assert side.cost_change_per_1000_l == pytest.approx(cost_per_1000_l(other) - cost_per_1000_l(here), rel=1e-6)


def test_the_price_of_a_bound_is_its_multiplier_where_both_sides_agree():
    made = recipe(
        {"Ca": 150.0, "N": 60.0, "K": 80.0},
        ["calcium-chloride-dihydrate", "potassium-nitrate", "calcium-nitrate-tetrahydrate"],
    )
    price = next(price for price in why(made).prices if price.kind == "chloride")
    from core.blend.fit import fit

    blend = solve(made)
    place = next(i for i, row in enumerate(blend.demands.limits) if row.code == "chloride")
    slope = (price.up.misfit_change - price.down.misfit_change) / (price.up.at - price.down.at)
    assert slope == pytest.approx(-2.0 * fit(blend.demands.problem).g_price[place], rel=1e-3)


@pytest.mark.parametrize("nutrient", ["N", "P", "K", "Ca", "Mg"])
def test_the_price_of_a_target_for_the_cheapest_is_the_difference_of_solving_either_side(nutrient):
    made = recipe(AIM, priced(), goal="cheapest")
    price = next(price for price in why(made).prices if price.about == nutrient and price.kind == "target")
    here = cost_per_1000_l(solve(made))
    for side in (price.down, price.up):
        targets = tuple(replace(t, mg_per_l=side.at) if t.nutrient == nutrient else t for t in made.aim.targets)
        other = cost_per_1000_l(solve(replace(made, aim=replace(made.aim, targets=targets))))
        assert side.cost_change_per_1000_l == pytest.approx(other - here, rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("nutrient", ["N", "P", "K"])
def test_the_price_of_a_tolerance_is_the_difference_of_solving_with_half_and_twice_of_it(nutrient):
    made = recipe(AIM, priced(), goal="cheapest")
    price = next(price for price in why(made).prices if price.about == nutrient and price.kind == "tolerance")
    here = cost_per_1000_l(solve(made))
    assert (price.at, price.down.at, price.up.at) == pytest.approx((5.0, 2.5, 10.0))
    for side in (price.down, price.up):
        targets = tuple(
            replace(t, tolerance_percent=side.at) if t.nutrient == nutrient else t for t in made.aim.targets
        )
        other = cost_per_1000_l(solve(replace(made, aim=replace(made.aim, targets=targets))))
        assert side.cost_change_per_1000_l == pytest.approx(other - here, rel=1e-6, abs=1e-9)
    assert price.up.cost_change_per_1000_l < 0.0 < price.down.cost_change_per_1000_l


def test_a_tolerance_has_no_price_where_the_closest_is_sought_or_its_ends_differ():
    assert all(price.kind != "tolerance" for price in why(recipe(AIM, priced())).prices)
    cheap = recipe(
        AIM, priced(), goal="cheapest", aim={"targets": [{"nutrient": "K", "mg_per_l": 200, "high_mg_per_l": 260}]}
    )
    assert all(price.kind != "tolerance" or price.about != "K" for price in why(cheap).prices)


@pytest.mark.parametrize("goal", ["closest", "cheapest"])
def test_a_salt_enters_just_below_its_price_and_not_above(goal):
    made = recipe(AIM, priced(), goal=goal)
    told = [unused for unused in why(made).unused if unused.enters_below_per_kg is not None]
    assert told
    for unused in told:
        for factor, used in ((0.97, True), (1.03, False)):
            prices = {unused.entry_id: unused.enters_below_per_kg * factor}
            other = solve(recipe(AIM, priced(PRICES, **prices), goal=goal))
            if used or unused.enters_below_per_kg * factor < PRICES[unused.entry_id]:
                assert (unused.entry_id in amounts(other)) is used, (unused, factor)


def test_what_may_not_be_used_says_so():
    found = {
        unused.entry_id: unused.reason for unused in why(recipe(AIM, [*priced(), "urea", "potassium-hydroxide"])).unused
    }
    assert found["urea"] == found["potassium-hydroxide"] == "not-allowed"


def test_prices_are_asked_for_and_never_assumed():
    found = why(recipe(AIM, [*PLAIN, "magnesium-nitrate-hexahydrate", "calcium-chloride-dihydrate"]))
    assert {unused.reason for unused in found.unused} == {"prices-missing"}
    assert all(
        side is None or side.cost_change_per_1000_l is None for price in found.prices for side in (price.down, price.up)
    )


def test_a_salt_to_spare_can_be_left_out_with_every_target_in_range():
    made = recipe(AIM | {"N": 150.0}, PLAIN)
    spare = {spare.entry_id: spare for spare in why(made).spare}
    assert "potassium-sulfate" in spare
    without = solve(apply(made, spare["potassium-sulfate"].step))
    assert misses(without) == ()
    assert len(amounts(without)) < len(amounts(solve(made)))
    sulfur = next(change for change in spare["potassium-sulfate"].changes if change.nutrient == "S")
    assert sulfur.in_range
    assert sulfur.after_mg_per_l < sulfur.before_mg_per_l


def test_a_salt_that_is_needed_is_not_offered():
    assert "monopotassium-phosphate" not in {spare.entry_id for spare in why(recipe(AIM | {"N": 150.0}, PLAIN)).spare}


def test_steps_refuse_what_is_not_there():
    made = recipe(AIM, PLAIN)
    with pytest.raises(ValueError, match="already"):
        apply(made, Step("add-salt", "potassium-nitrate"))
    with pytest.raises(ValueError, match="no urea"):
        apply(made, Step("drop-entry", "urea"))


def test_steps_change_one_thing():
    made = recipe(AIM, PLAIN, aim={"limits": [{"nutrient": "Cl", "at_most_mg_per_l": 10}]})
    raised = apply(made, Step("raise-limit", "Cl", 20.0))
    assert raised.aim.limits == (Limit("Cl", at_most_mg_per_l=20.0),)
    bounded = apply(made, Step("raise-limit", "potassium-nitrate", 300.0))
    assert bounded.shelf[1].at_most_mg_per_l == 300.0
    assert apply(made, Step("ammonium-share", "NH4-N", 15.0)).aim.ammonium_share_at_most_percent == 15.0
    assert apply(made, Step("residual-alkalinity", "", 1.0)).aim.residual_alkalinity_meq_per_l == 1.0
    assert len(compile_shelf(apply(made, Step("drop-entry", "potassium-sulfate")).shelf)) == 4


def test_why_of_the_fewest_is_asked_on_its_own_salts():
    found = why(recipe(AIM, priced(), goal="fewest"))
    assert found.reasons == found.spare == ()
    assert {unused.reason for unused in found.unused} == {"count"}
    assert found.prices
