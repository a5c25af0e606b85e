"""The temperature of the water, where pH is told at it."""

import pytest
from msgspec import structs

from core.blend.waters import REFERENCE_C, recipe_water
from core.plan import plan
from core.plan.feed_contents import look
from core.plan.feed_tanks import feed_tanks
from core.plan.feeding_ph import ph_forecast
from core.plan.feeding_records import Asked
from core.recipe.records import Water
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe


def at(temperature_c):
    return recipe(SIX, PLAIN, water=HARD | {"temperature_c": temperature_c})


@pytest.mark.parametrize("temperature_c", [2.0, 12.0, 30.0])
def test_plan_and_dosing_tell_one_ph(temperature_c):
    made = at(temperature_c)
    tanks = feed_tanks(made)
    full = tanks.poured(tanks.of_water(0.98), tanks.dose_l(1.0, 1.0))
    assert look((full,)).ph[0] == pytest.approx(plan(made).feed.ph, abs=2e-3)


@pytest.mark.parametrize("temperature_c", [0.0, 2.0, 25.0])
def test_a_feed_just_over_its_range_is_given_acid_in_the_cold_too(temperature_c):
    """The dose was once looked for as if the feed were warm, where nothing was to be taken away."""
    tanks = feed_tanks(at(temperature_c))
    full = tanks.poured(tanks.of_water(0.98), tanks.dose_l(1.0, 1.0))
    seen = look((full,))
    asked = Asked(100.0, 1.6, wanted_ph=seen.ph[0] - 0.21)
    found = ph_forecast(tanks, asked, full, seen, None, sour=False)
    assert found.drop is not None
    assert found.drop.amount > 0.0


def test_a_water_that_states_no_temperature_is_as_warm_as_the_other():
    mixed = structs.replace(at(8.0), second_water=Water("rain"), second_water_share_percent=50.0)
    assert recipe_water(mixed).temperature_c == 8.0
    both = structs.replace(mixed, second_water=Water("rain", temperature_c=16.0))
    assert recipe_water(both).temperature_c == 12.0
    neither = structs.replace(recipe(SIX, PLAIN), second_water=Water("rain"), second_water_share_percent=50.0)
    assert recipe_water(neither).temperature_c == REFERENCE_C


def test_ec_is_told_at_25_whatever_the_water():
    # the same report stands for a little less carbonic acid in the warm, which is what is left between them
    cold, warm = (plan(at(temperature_c)).feed.ec_ms_per_cm for temperature_c in (5.0, 30.0))
    assert cold == pytest.approx(warm, rel=2e-3)
