"""What rounding does to the feed is told per nutrient, and chosen together only where it would do much."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.bench.rounding import change_percent, weigh_together
from core.bench.weighing import weigh
from core.recipe.records import Scale

COARSE = (Scale(1000, 1.0),)


def excess(weighings, brings, feed):
    total = np.abs(change_percent(weighings, brings, feed).sum(axis=0))
    return np.maximum(total - 1.0, 0.0).sum()


def test_the_change_is_told_against_the_whole_feed():
    brings, feed = np.array([[40.0, 0.0], [60.0, 30.0]]), np.array([125.0, 30.0])
    change = change_percent(weigh([10.4, 20.3], COARSE), brings, feed)
    assert change[0] == pytest.approx([100 * (10 / 10.4 - 1) * 40 / 125, 0.0])
    assert change[1] == pytest.approx([100 * (20 / 20.3 - 1) * 60 / 125, 100 * (20 / 20.3 - 1)])


def test_a_nutrient_the_feed_does_not_hold_changes_by_nothing():
    change = change_percent(weigh([10.4], COARSE), np.array([[0.0]]), np.array([0.0]))
    assert change.tolist() == [[0.0]]


def test_small_changes_leave_every_weight_at_its_nearest_step():
    grams, brings, feed = [100.4, 200.4], np.array([[50.0], [50.0]]), np.array([100.0])
    assert weigh_together(grams, COARSE, brings, feed) == weigh(grams, COARSE)


def test_a_weight_stays_at_its_nearest_step_where_the_other_is_hardly_better():
    fine, brings, feed = (Scale(200, 0.01),), np.array([[0.05]]), np.array([0.05])
    assert weigh_together([0.31495], fine, brings, feed) == weigh([0.31495], fine)


def test_errors_that_add_up_are_set_against_each_other():
    grams, brings, feed = [20.45, 20.45, 20.45], np.array([[40.0], [30.0], [30.0]]), np.array([100.0])
    nearest, together = weigh(grams, COARSE), weigh_together(grams, COARSE, brings, feed)
    assert abs(change_percent(nearest, brings, feed).sum()) > 2.0
    assert abs(change_percent(together, brings, feed).sum()) < 1.0
    assert sorted(weighing.grams_to_weigh for weighing in together) == [20.0, 20.0, 21.0]


@given(st.lists(st.floats(3.0, 60.0), min_size=1, max_size=5), st.integers(0, 10_000))
def test_the_joint_choice_is_the_best_of_all_ups_and_downs(grams, seed):
    rng = np.random.default_rng(seed)
    brings = rng.uniform(0.0, 50.0, (len(grams), 3)) * (rng.random((len(grams), 3)) < 0.6)
    feed = brings.sum(axis=0) + rng.uniform(0.0, 20.0, 3)
    chosen = weigh_together(grams, COARSE, brings, feed)
    steps = [sorted({int(np.floor(weight)), int(np.ceil(weight))}) for weight in grams]
    share = np.divide(brings, feed, out=np.zeros_like(brings), where=feed > 0)
    least = min(
        np.maximum(np.abs(100 * ((np.array(combo) / grams - 1) @ share)) - 1, 0).sum()
        for combo in itertools.product(*steps)
    )
    assert least - 1e-6 <= excess(chosen, brings, feed) <= least + 0.1 + 1e-6
    assert all(abs(weighing.grams_to_weigh - weighing.grams) < 1.0 for weighing in chosen)
