"""A day at the reservoir against answers worked out by hand, and what growers see at the bench.

The recipes are invented. "Common practice" marks what is known from many benches and no one source.
"""

import pytest

from core.bench.injector import bleed_share
from core.bench.meter import Meter
from core.blend.nutrients import ROW, nutrients_mg_per_l
from core.catalog.closed_loop import closed_loops
from core.plan.feed_contents import look
from core.plan.feed_tanks import feed_tanks, ph_product
from core.plan.feeding import feeding
from core.plan.feeding_ph import trim
from core.plan.feeding_records import Asked, Done
from core.plan.topping import TopUpAsked, top_up
from tests.helpers.recipes import recipe, two_jugs

US_GAL_L = 3.785411784
FL_OZ_ML = 1000.0 * US_GAL_L / 128
PEN = Meter("ppm-700")
POURED = Done({"A": 33.4 * FL_OZ_ML, "B": 33.4 * FL_OZ_ML})


@pytest.fixture(scope="module")
def jugs():
    return feed_tanks(two_jugs())


@pytest.fixture(scope="module")
def asked():
    return Asked(40 * US_GAL_L, 1.6, PEN.ms_per_cm(245))


def fl_oz(told):
    return [pour.ml / FL_OZ_ML for pour in told.step.pours]


def test_two_fluid_ounces_of_each_in_five_gallons(jugs):
    """By hand: 2 fl oz of each in 5 US gal of finished feed hold N 48.7 mg/L and read 0.80 mS/cm (0.5 and 2 %)."""
    litres = 2 * FL_OZ_ML / 1000.0
    feed = jugs.poured(jugs.of_water(5 * US_GAL_L - 2 * litres), {"A": litres, "B": litres})
    assert nutrients_mg_per_l(feed.totals)[ROW["N"]] == pytest.approx(48.7, rel=0.005)
    assert look((feed,)).ec_ms_per_cm[0] == pytest.approx(0.80, rel=0.02)


def test_the_first_pour(jugs, asked):
    """40 US gal of town water, 245 on the 700 scale, 1.6 wanted: 41.8 fl oz of each, first 33.4, then 1.35 (3 %)."""
    told = feeding(jugs, asked)
    assert fl_oz(told) == pytest.approx([33.4, 33.4], rel=0.03)
    assert told.curve.wanted[0] / FL_OZ_ML == pytest.approx(41.8, rel=0.03)
    assert told.step.expected_ms_per_cm == pytest.approx(1.35, rel=0.03)


def test_the_rest_after_910(jugs, asked):
    told = feeding(
        jugs, asked, (Done({"A": 33.4 * FL_OZ_ML, "B": 33.4 * FL_OZ_ML}), Done(ec_ms_per_cm=PEN.ms_per_cm(910)))
    )
    assert told.factor == pytest.approx(0.95, rel=0.03)
    assert fl_oz(told) == pytest.approx([10.6, 10.6], rel=0.03)


def test_water_after_1344(jugs, asked):
    told = feeding(
        jugs, asked, (Done({"A": 33.4 * FL_OZ_ML, "B": 33.4 * FL_OZ_ML}), Done(ec_ms_per_cm=PEN.ms_per_cm(1344)))
    )
    assert told.step.kind == "add-water"
    assert told.step.water_l / US_GAL_L == pytest.approx(10.2, rel=0.03)


def test_three_customs_of_topping_up(jugs):
    """By hand: 300 L grown to 2.2, filled to 400 L with water of 0.3, half, or full feed of 1.8."""
    told = top_up(jugs, TopUpAsked(300.0, 2.2, 400.0, 1.8, water_ms_per_cm=0.3))
    after = {one.refill: one.after_ms_per_cm for one in told.options}
    assert [round(after[name], 2) for name in ("water", "half", "full")] == pytest.approx(
        [1.73, 1.91, 2.10], abs=0.0051
    )


def test_what_lettuce_takes_per_litre(jugs):
    """Nemali, Purdue, slides: 300 L per kg dry weight; leaf 4.5 N, 0.5 P, 5 K, 0.5 Ca, 0.3 Mg, 0.3 S %."""
    told = top_up(jugs, TopUpAsked(300.0, 1.8, 400.0, 1.8))
    taken = {row.nutrient: row.taken_mg_per_l for row in told.left}
    expected = {"N": 150, "P": 16.7, "K": 167, "Ca": 16.7, "Mg": 10, "S": 10}
    assert {name: taken[name] for name in expected} == pytest.approx(expected, rel=0.004)


@pytest.mark.parametrize(("crop", "percent"), [("tomato", 11), ("pepper", 17), ("rose", 30)])
def test_bleed_for_two_millimoles_of_sodium(crop, percent):
    """Steady state with the uptake and maxima of Agri Kultuur, March 2016, table 1."""
    row = next(one for one in closed_loops() if one.crop == crop)
    share = bleed_share(2.0, row.uptake_meq_per_l["Na"], row.most_meq_per_l["Na"])
    assert 100 * share == pytest.approx(percent, abs=0.5)


def jug_mg_per_l(ounces_per_gallon):
    return 1000.0 * ounces_per_gallon * 28.349523 / US_GAL_L / 100.0


STRONG = 1.28
"""The jugs of a feed of about 2.5 mS/cm: 2 fl oz of weaker ones in 5 US gal add 0.55 rather than 0.7."""


@pytest.fixture(scope="module")
def strong_jugs():
    """Common practice: 100x jugs of 12.6 and 10.1 oz per US gallon, made for a strong feed."""
    label = {"NO3-N": 7, "P2O5": 9, "K2O": 29, "Mg": 3.2, "S": 4.1, "Fe": 0.28}
    water = {"Ca": 32, "Mg": 8, "Na": 15, "K": 2, "Cl": 18, "S": 13.6, "HCO3": 97.6}
    shelf = [
        {"salt": "blend:all but calcium", "label_percent": label, "exactly_mg_per_l": jug_mg_per_l(12.6 * STRONG)},
        {"salt": "calcium-nitrate-greenhouse", "exactly_mg_per_l": jug_mg_per_l(10.1 * STRONG)},
    ]
    return feed_tanks(recipe({}, shelf, water={"name": "town", "mg_per_l": water, "ph": 7.6}))


def two_fl_oz_more(tanks):
    """Common practice: 5 US gal that stand at 0.7 and pH 7.1, and 2 fl oz of each part stirred in."""
    asked = Asked(5 * US_GAL_L, 1.8, 0.7, holds="feed", start_ph=7.1)
    return feeding(tanks, asked, (Done({"A": 2 * FL_OZ_ML, "B": 2 * FL_OZ_ML}),))


def test_two_fluid_ounces_read_about_1_4_and_two_more_would_overshoot(strong_jugs):
    """Common practice: 0.7 becomes about 1.4, and another 2 fl oz would pass 1.8."""
    told = two_fl_oz_more(strong_jugs)
    assert told.step.expected_ms_per_cm == pytest.approx(1.4, abs=0.1)
    rest = next(step for step in told.steps if step.kind == "pour-rest")
    assert 0.0 < rest.pours[0].ml < 2 * FL_OZ_ML


def test_the_feed_itself_pulls_the_ph_down(strong_jugs):
    """Common practice: pH 7.1 becomes 6.8 to 6.9."""
    contents = start_and_two_fl_oz(strong_jugs)
    assert 6.75 <= look((contents,)).ph[0] <= 6.95


def start_and_two_fl_oz(tanks):
    from core.plan.feeding import walk

    asked = Asked(5 * US_GAL_L, 1.8, 0.7, holds="feed", start_ph=7.1)
    return walk(tanks, asked).after(Done({"A": 2 * FL_OZ_ML, "B": 2 * FL_OZ_ML})).state.contents


@pytest.mark.parametrize(
    ("acid", "strength"), [("phosphoric-acid", 85.0), ("phosphoric-acid", 10.0), ("nitric-acid", 60.0)]
)
def test_three_equal_steps_of_acid(strong_jugs, acid, strength):
    """Common practice: three equal small steps pass near 6.4 and 6.1 to 5.6-5.7, each as large as the one before."""
    contents = start_and_two_fl_oz(strong_jugs)
    way = trim(contents, look((contents,)).ph[0], 5.65, ph_product(strong_jugs.recipe, acid, strength))
    assert way.count == 3
    assert [ph for _, ph in way.steps] == pytest.approx([6.4, 6.1, 5.65], abs=0.12)
