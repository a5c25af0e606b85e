"""Weights go to the right scale, at the nearest step, and none is lost on the way."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.bench.weighing import choose_scale, weigh
from core.recipe.records import Scale

OUNCE_G = 28.349523125
BENCH = Scale(5000, 2.834952)
FINE = Scale(200, 0.01)
weights = st.floats(0.0, 60_000.0, allow_nan=False)
shelves = st.lists(
    st.builds(Scale, st.sampled_from([50.0, 200.0, 5000.0]), st.sampled_from([0.001, 0.01, 0.1, 1.0, 2.834952])),
    max_size=4,
)


def test_the_finest_scale_that_carries_the_weight_is_taken():
    assert choose_scale(375.5, (BENCH, FINE)) == BENCH
    assert choose_scale(200.0, (BENCH, FINE)) == FINE
    assert choose_scale(43.61, (FINE, BENCH)) == FINE
    assert choose_scale(9000, (FINE, BENCH)) == BENCH
    assert choose_scale(1, ()) is None


def test_a_weight_lands_on_the_nearest_step():
    (ounces,) = weigh([629.89], [BENCH])
    assert ounces.grams_to_weigh / OUNCE_G == pytest.approx(22.2, abs=1e-4)
    (grams,) = weigh([43.607879], [FINE])
    assert grams.grams_to_weigh == 43.61
    assert grams.advice == "good"


def test_half_way_between_two_steps_goes_up():
    assert [w.grams_to_weigh for w in weigh([0.315, 0.31495, 0.325, 0.3148], [FINE])] == [0.32, 0.32, 0.33, 0.31]


def test_without_a_scale_the_weight_stays_as_it_is():
    (weighing,) = weigh([12.3456], [])
    assert weighing.grams_to_weigh == 12.3456
    assert weighing.scale is None
    assert weighing.advice == "good"


@pytest.mark.parametrize(
    ("grams", "advice"), [(0.50, "good"), (0.49, "check"), (0.20, "check"), (0.19, "trace-bottle"), (0.0, "good")]
)
def test_advice_follows_the_number_of_steps(grams, advice):
    assert weigh([grams], [FINE])[0].advice == advice


def test_a_weight_under_half_a_step_is_neither_dropped_nor_raised():
    (weighing,) = weigh([0.004], [FINE])
    assert weighing.grams_to_weigh == 0.004
    assert not weighing.fits_scale
    assert weighing.advice == "trace-bottle"


def test_a_weight_over_capacity_goes_in_equal_parts():
    (weighing,) = weigh([12_001.0], [Scale(5000, 1.0), FINE])
    assert weighing.loads_g == (4001.0, 4000.0, 4000.0)
    assert weighing.grams_to_weigh == 12_001.0


@given(st.lists(weights, max_size=6), shelves)
def test_what_is_weighed_is_within_half_a_step_and_no_go_is_too_heavy(grams, scales):
    weighings = weigh(grams, scales)
    assert len(weighings) == len(grams)
    for weight, weighing in zip(grams, weighings, strict=True):
        if weighing.scale is None:
            assert weighing.grams_to_weigh == weight
            continue
        step = weighing.scale.readability_g
        assert abs(weighing.grams_to_weigh - weight) <= 0.51 * step * (1 + 1e-9) + 1e-9 * weight
        assert (weighing.grams_to_weigh > 0) == (weight > 0)
        assert all(load <= weighing.scale.capacity_g + 1e-6 for load in weighing.loads_g)


@given(weights, shelves)
def test_no_finer_scale_that_could_carry_it_is_passed_over(grams, scales):
    chosen = choose_scale(grams, scales)
    for scale in scales:
        assert chosen is not None
        if scale.capacity_g >= grams:
            assert chosen.readability_g <= scale.readability_g
