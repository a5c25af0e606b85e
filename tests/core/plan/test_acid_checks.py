"""What is said of alkalinity and pH: both sides of a goal, why a pH was missed, what a crop is used to."""

import pytest

from core.catalog import crops
from core.plan import plan
from core.plan.cautions import REGISTRY
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

NITRIC = {"salt": "nitric-acid", "strength_percent": 60}
FEED = {"N": 154.0, "P": 31.0, "K": 195.5, "Ca": 150.3, "Mg": 36.5, "S": 56.1}
BICARBONATE = "potassium-bicarbonate"
WIDE = next(c for c in crops() if c.ph_low is not None and c.ph_high is not None and 0.6 < c.ph_high - c.ph_low < 1.5)
RANGE_ENDS = ((WIDE.ph_low, WIDE.id), (WIDE.ph_high, WIDE.id))


def said(code: str, *given, **rest) -> dict | None:
    """The data of a caution of a plan, None where it is not raised."""
    found = [one.data for one in plan(recipe(*given, **rest)).cautions if one.code == code]
    return found[0] if found else None


@pytest.mark.parametrize(
    ("shelf", "water", "aim", "why"),
    [
        (PLAIN, HARD, {"ph": 5.8}, "no-acid"),
        ([*PLAIN, NITRIC], {}, {"ph": 6.5}, "no-base"),
        ([*PLAIN, NITRIC], HARD, {"ph": 5.8, "residual_alkalinity_meq_per_l": 4.0}, "residual"),
        ([*PLAIN, NITRIC | {"at_most_mg_per_l": 50.0}], HARD, {"ph": 5.8}, "held-back"),
        ([*PLAIN, BICARBONATE, NITRIC | {"exactly_mg_per_l": 600.0}], HARD, {"ph": 5.8}, "no-base"),
    ],
)
def test_a_missed_ph_is_told_with_its_reason(shelf, water, aim, why):
    told = said("ph-aim-missed", FEED, shelf, water=water, aim=aim)
    assert told is not None
    assert told["why"] == why
    assert told["target_ph"] == aim["ph"]
    assert abs(told["ph"] - aim["ph"]) > 0.05


def test_rounds_that_run_out_are_told(monkeypatch):
    monkeypatch.setattr("core.blend.serving.ROUNDS", 0)
    told = said("ph-aim-missed", FEED, [*PLAIN, NITRIC], water=HARD, aim={"ph": 6.3})
    assert told is not None
    assert told["why"] == "rounds"


def test_a_ph_that_is_met_is_not_talked_about():
    assert said("ph-aim-missed", FEED, [*PLAIN, NITRIC], water=HARD, aim={"ph": 5.8}) is None
    assert said("ph-aim-missed", FEED, [*PLAIN, BICARBONATE], aim={"ph": 5.8}) is None


def test_too_little_alkalinity_is_told_as_well_as_too_much():
    def recipe_with(acid_mg_per_l: float) -> tuple:
        return FEED, [*PLAIN, NITRIC | {"exactly_mg_per_l": acid_mg_per_l}]

    aim = {"residual_alkalinity_meq_per_l": 0.5}
    short = said("alkalinity-short", *recipe_with(545.0), water=HARD, aim=aim)
    assert short is not None
    assert short["alkalinity_meq_per_l"] == pytest.approx(329 / 61.016 - 545 * 0.6 / 63.012, abs=0.01)
    assert said("alkalinity-left", *recipe_with(400.0), water=HARD, aim=aim) is not None
    assert said("alkalinity-short", *recipe_with(400.0), water=HARD, aim=aim) is None


@pytest.mark.parametrize(("ph", "is_told"), [(5.8, False), (5.2, False), (4.8, True)])
def test_a_feed_outside_the_crops_range_is_a_note(ph, is_told):
    """Tomato: 5.2 to 6.0 in its source, wide enough to need no leeway."""
    aim = {"ph": ph, "crop": "tomato-sonneveld-1994"}
    assert (said("crop-ph", FEED, [*PLAIN, NITRIC], water=HARD, aim=aim) is not None) == is_told
    assert said("crop-ph", FEED, [*PLAIN, NITRIC], water=HARD, aim={"ph": ph}) is None


def test_one_printed_figure_is_taken_with_the_leeway_growers_have():
    aim = {"crop": "lettuce-samarakoon-2020"}
    for ph, is_told in ((5.8, False), (6.05, False), (6.2, True)):
        told = said("crop-ph", FEED, [*PLAIN, NITRIC], water=HARD, aim=aim | {"ph": ph})
        assert (told is not None) == is_told


@pytest.mark.parametrize(
    ("product", "mg_per_l", "code"),
    [
        ("potassium-hydroxide", 200.0, "ph-extreme"),
        ("citric-acid", 100.0, "ph-out-of-range"),
        ("sulfuric-acid", 500.0, "ph-extreme"),
        ("potassium-bicarbonate", 60.0, "ph-out-of-range"),
    ],
)
def test_a_feed_that_burns_is_a_stop(product, mg_per_l, code):
    other = {"ph-extreme": "ph-out-of-range", "ph-out-of-range": "ph-extreme"}[code]
    given = {}, [{"salt": product, "exactly_mg_per_l": mg_per_l}]
    assert said(code, *given) is not None
    assert said(other, *given) is None
    assert (REGISTRY["ph-extreme"].level, REGISTRY["ph-out-of-range"].level) == ("stop", "check")


def test_base_that_nobody_asked_for_is_told_in_pure_water_too():
    assert said("base-not-asked", SIX, PLAIN, aim={"residual_alkalinity_meq_per_l": 0.8}) is not None


def test_an_acid_that_a_fixed_base_keeps_out_is_not_said_to_be_missing():
    shelf = [*PLAIN, NITRIC, {"salt": BICARBONATE, "exactly_mg_per_l": 50.0}]
    assert said("no-acid", FEED, shelf, water=HARD) is None
    assert said("alkalinity-left", FEED, shelf, water=HARD) is not None
    assert said("no-acid", FEED, shelf[:-2], water=HARD) is not None


@pytest.mark.parametrize(("ph", "crop"), [(4.5, None), *RANGE_ENDS])
def test_a_ph_steered_to_the_end_of_a_range_is_in_it(ph, crop):
    """What is asked for to the last digit is met within a thousandth, on either side."""
    made = plan(recipe(FEED, [*PLAIN, NITRIC], water=HARD, aim={"ph": ph, "crop": crop}))
    assert made.feed.ph == pytest.approx(ph, abs=0.002)
    assert not {"ph-out-of-range", "ph-aim-missed", "crop-ph"} & {one.code for one in made.cautions}
