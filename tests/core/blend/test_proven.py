"""Salts guessed and proven: what is proven is what fitting and choosing find, and nothing wrong is ever proven."""

import numpy as np
import pytest

from core.blend.choose import USED_MG_PER_L, Preference, choose
from core.blend.fit import Problem, fit, kkt_residual
from core.blend.proven import Salts, proven, salts_of

NONE = np.zeros((0, 16)), np.zeros(0)


def drawn(seed: int) -> tuple[Problem, tuple[Preference, ...]]:
    """Sixteen products for six targets, met exactly by some seeds and not by others, and limits that may bind."""
    rng = np.random.default_rng(seed)
    brings = rng.random((6, 16)) * (rng.random((6, 16)) < 0.5) * 0.3
    target = brings @ (rng.random(16) * 100.0) + 1.0 if seed % 2 else rng.random(6) * 150.0 + 20.0
    exact = (rng.random((1, 16)) - 0.5, np.array([5.0])) if seed % 3 == 0 else NONE
    limits = rng.random((2, 16)) * 0.2
    costs = (np.where(rng.random(16) < 0.5, 0.0, rng.random(16)), rng.random(16), rng.random(16))
    problem = Problem(brings / target[:, None], np.ones(6), *exact, limits, np.array([30.0, 15.0 + seed]))
    return problem, tuple(Preference(str(place), cost) for place, cost in enumerate(costs))


def slowly(problem: Problem, order: tuple[Preference, ...]) -> tuple[np.ndarray, list[Salts]]:
    found = choose(problem, fit(problem), order)
    return np.where(found.x > USED_MG_PER_L, found.x, 0.0), salts_of(problem, found)


def test_what_is_proven_is_what_the_slow_way_finds():
    """And for nearly all of such problems there is a proof."""
    told = 0
    for seed in range(80):
        problem, order = drawn(seed)
        x, salts = slowly(problem, order)
        quick = proven(problem, order, salts[0]) if salts else None
        if quick is not None:
            told += 1
            assert quick.x == pytest.approx(x, rel=1e-6, abs=1e-6)
            assert kkt_residual(problem, quick) < 1e-9
    assert told > 60


@pytest.mark.parametrize("seed", range(40))
def test_other_salts_are_not_proven(seed):
    """One left out, one too many, one in place of another, a limit thought to bind or not to."""
    problem, order = drawn(seed)
    x, salts = slowly(problem, order)
    if not salts:
        pytest.skip("the limits of this one cannot all be kept")
    columns, tight = salts[0]
    unused = np.flatnonzero(x == 0.0)
    for place in range(len(columns)):
        left = np.delete(columns, place)
        assert proven(problem, order, Salts(left, tight)) is None
        for other in unused:
            assert proven(problem, order, Salts(np.sort(np.append(left, other)), tight)) is None
    for other in unused:
        assert proven(problem, order, Salts(np.sort(np.append(columns, other)), tight)) is None
    for row in range(2):
        assert proven(problem, order, Salts(columns, np.setxor1d(tight, [row]))) is None


def test_salts_of_the_last_target_serve_the_next():
    problem, order = drawn(1)
    _, salts = slowly(problem, order)
    moved = Problem(problem.a, problem.b * np.linspace(1.0, 1.002, 6), *NONE, problem.g, problem.g_rhs)
    x, _ = slowly(moved, order)
    quick = proven(moved, order, salts[0])
    assert quick is not None
    assert quick.x == pytest.approx(x, rel=1e-6, abs=1e-6)


def test_between_two_bags_of_one_salt_nothing_is_proven():
    problem, order = drawn(1)
    _, salts = slowly(problem, order)
    bag = int(salts[0].columns[0])
    twice = [*range(16), bag]
    both = Problem(problem.a[:, twice], problem.b, np.zeros((0, 17)), np.zeros(0), problem.g[:, twice], problem.g_rhs)
    alike = tuple(Preference(one.name, one.per_mg[twice]) for one in order)
    assert proven(problem, order, salts[0]) is not None
    assert proven(both, alike, salts[0]) is None


def test_limits_that_cannot_be_kept_leave_nothing_to_guess():
    problem, order = drawn(1)
    hard = Problem(problem.a, problem.b, *NONE, problem.g, np.array([-1.0, 1.0]))
    assert slowly(hard, order)[1] == []
