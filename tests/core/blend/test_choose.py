"""The choice between equal fits: lexicographic, against programmes solved one by one with added rows."""

import numpy as np
import pytest
from scipy.optimize import linprog

from core.blend import programme
from core.blend.choose import Preference, choose, equally_good, is_only_one
from core.blend.fit import Problem, fit


def one_by_one(problem: Problem, reached: np.ndarray, preferences: list[np.ndarray]) -> list[float]:
    """Best value of each preference in turn, each kept by a row of its own in the next."""
    rows, bounds, values = [], [], []
    for costs in preferences:
        found = linprog(costs, A_eq=problem.a, b_eq=reached, A_ub=rows or None, b_ub=bounds or None)
        values.append(found.fun)
        rows.append(costs)
        bounds.append(found.fun + 1e-7 * (1.0 + abs(found.fun)))
    return values


@pytest.mark.parametrize("seed", range(30))
def test_each_preference_is_settled_before_the_next(seed):
    rng = np.random.default_rng(seed)
    brings = rng.random((6, 18)) * (rng.random((6, 18)) < 0.4) * 0.3
    target = rng.random(6) * 150.0 + 20.0
    problem = Problem(
        brings / target[:, None], np.ones(6), np.zeros((0, 18)), np.zeros(0), np.zeros((0, 18)), np.zeros(0)
    )
    found = fit(problem)
    costs = [np.where(rng.random(18) < 0.5, 0.0, rng.random(18)), rng.random(18), np.ones(18)]
    chosen = choose(problem, found, tuple(Preference(str(i), c) for i, c in enumerate(costs)))
    wanted = one_by_one(problem, problem.a @ found.x, costs)
    for value, cost in zip(wanted, costs, strict=True):
        assert cost @ chosen.x == pytest.approx(value, rel=1e-5, abs=1e-5)
    assert problem.a @ chosen.x == pytest.approx(problem.a @ found.x, abs=1e-6)


@pytest.mark.parametrize("seed", range(20))
def test_the_only_blend_is_known_without_a_search_and_equals_what_a_search_finds(seed, monkeypatch):
    """Few products on many targets: nothing to choose. With a second bag of one of them there is."""
    rng = np.random.default_rng(seed)
    brings = rng.random((7, 5)) * (rng.random((7, 5)) < 0.6) * 0.3 + np.eye(7, 5) * 0.05
    g = rng.random((1, 5)) * 0.1
    problem = Problem(brings / 100.0, np.ones(7), np.zeros((0, 5)), np.zeros(0), g, np.array([40.0]))
    found, costs = fit(problem), (Preference("mass", np.ones(5)),)
    assert is_only_one(problem, found)
    known = choose(problem, found, costs).x
    twice = Problem(
        np.hstack([problem.a, problem.a[:, :1]]),
        problem.b,
        np.zeros((0, 6)),
        np.zeros(0),
        g[:, [0, 1, 2, 3, 4, 0]],
        problem.g_rhs,
    )
    assert not is_only_one(twice, fit(twice)) or found.x[0] == 0.0
    monkeypatch.setattr("core.blend.choose.is_only_one", lambda *_: False)
    assert choose(problem, found, costs).x == pytest.approx(known, rel=1e-5, abs=1e-5)


@pytest.mark.parametrize("seed", range(30))
def test_what_is_settled_early_is_what_all_the_preferences_settle(seed, monkeypatch):
    """The search ends where a single blend is left; going on through every preference finds the same one."""
    rng = np.random.default_rng(seed)
    brings, bound = rng.random((5, 16)) * (rng.random((5, 16)) < 0.5), rng.random((2, 16))
    x = rng.random(16) * 100.0
    problem = Problem(brings, brings @ x, np.zeros((0, 16)), np.zeros(0), bound, bound @ x * 1.1)
    rows = equally_good(problem, x, problem.g_rhs)
    preferences = tuple(
        Preference(str(place), rng.random(16) * (rng.random(16) < share)) for place, share in enumerate((0.3, 1.0, 1.0))
    )
    ended = []
    freeze = programme.freeze
    monkeypatch.setattr(programme, "freeze", lambda *given: ended.append(freeze(*given)) or ended[-1])
    early = programme.settle(rows, preferences)
    assert ended[-1] is False
    monkeypatch.setattr(programme, "freeze", lambda *given: freeze(*given) or True)
    assert programme.settle(rows, preferences) == pytest.approx(early, abs=1e-6)
