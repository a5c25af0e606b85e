"""The fit: optimal on thousands of random problems, against its own conditions and against another solver."""

import cvxpy
import numpy as np
import pytest

from core.blend.fit import Fit, Problem, fit, kkt_residual

TARGETS = 12


def random_problem(rng: np.random.Generator, *, limits: int, exact: int) -> Problem:
    """A shelf of sparse products with duplicates, targets from 1 to 200 mg/L, and a few limits."""
    n = int(rng.integers(12, 51))
    brings = rng.random((TARGETS, n)) * (rng.random((TARGETS, n)) < 0.3) * 0.3
    if rng.random() < 0.5:
        brings[:, n // 2] = brings[:, 0]
    target = rng.random(TARGETS) * 200.0 + 1.0
    weight = rng.choice([1.0, 0.2, 0.1], TARGETS)
    g = rng.random((limits, n)) * 0.3 * (rng.random((limits, n)) < 0.3)
    e = rng.normal(size=(exact, n)) * 0.01 * (rng.random((exact, n)) < 0.3)
    return Problem(
        brings / target[:, None] * weight[:, None], weight.copy(), e, -rng.random(exact), g, rng.random(limits) * 30.0
    )


def misfit(problem: Problem, x: np.ndarray) -> float:
    return float(np.linalg.norm(problem.a @ x - problem.b))


@pytest.mark.parametrize("seed", range(4))
def test_two_thousand_random_aims_meet_the_optimality_conditions(seed):
    rng = np.random.default_rng(seed)
    worst = 0.0
    for _ in range(500):
        problem = random_problem(rng, limits=2, exact=0)
        worst = max(worst, kkt_residual(problem, fit(problem)))
    assert worst <= 1e-8


@pytest.mark.parametrize("seed", range(2))
def test_an_exact_row_such_as_alkalinity_meets_them_where_it_can_be_kept(seed):
    rng = np.random.default_rng(100 + seed)
    for _ in range(300):
        problem = random_problem(rng, limits=2, exact=1)
        found = fit(problem)
        if found.possible:
            assert kkt_residual(problem, found) <= 1e-8


def another_way(problem: Problem) -> float:
    """Least misfit by an interior-point solver that shares no code with ours."""
    columns = problem.a.shape[1]
    x = cvxpy.Variable(columns, nonneg=True)
    rules = [problem.g @ x <= problem.g_rhs] + ([problem.e @ x == problem.e_rhs] if len(problem.e_rhs) else [])
    cvxpy.Problem(cvxpy.Minimize(cvxpy.sum_squares(problem.a @ x - problem.b)), rules).solve(solver=cvxpy.CLARABEL)
    return misfit(problem, np.asarray(x.value))


@pytest.mark.filterwarnings("ignore::UserWarning:cvxpy")
def test_no_other_solver_fits_better():
    rng = np.random.default_rng(7)
    compared = 0
    for _ in range(60):
        problem = random_problem(rng, limits=3, exact=int(rng.random() < 0.5))
        found = fit(problem)
        if found.possible:
            compared += 1
            assert misfit(problem, found.x) <= another_way(problem) + 1e-6
    assert compared >= 30


def tiny(g_rhs: float = 10.0) -> Problem:
    return Problem(
        np.array([[0.01, 0.0], [0.0, 0.02]]),
        np.ones(2),
        np.zeros((0, 2)),
        np.zeros(0),
        np.array([[0.2, 0.0]]),
        np.array([g_rhs]),
    )


def test_a_limit_that_binds_has_the_price_of_the_slope_of_the_misfit():
    def half_square(problem: Problem) -> float:
        return 0.5 * misfit(problem, fit(problem).x) ** 2

    price = fit(tiny()).g_price[0]
    slope = (half_square(tiny(10.001)) - half_square(tiny(9.999))) / 0.002
    assert price == pytest.approx(-slope, rel=1e-4)
    assert fit(tiny()).x[0] == pytest.approx(50.0)


def test_limits_that_contradict_each_other_are_missed_by_as_little_as_possible():
    problem = Problem(
        np.array([[0.01]]),
        np.ones(1),
        np.zeros((0, 1)),
        np.zeros(0),
        np.array([[1.0], [-1.0]]),
        np.array([40.0, -60.0]),
    )
    found = fit(problem)
    assert not found.possible
    assert found.x[0] == pytest.approx(50.0)


def test_an_empty_shelf_or_an_empty_aim_has_an_answer():
    no_columns = Problem(np.zeros((2, 0)), np.ones(2), np.zeros((0, 0)), np.zeros(0), np.zeros((0, 0)), np.zeros(0))
    no_rows = Problem(np.zeros((0, 3)), np.zeros(0), np.zeros((0, 3)), np.zeros(0), np.zeros((0, 3)), np.zeros(0))
    assert fit(no_columns).x.shape == (0,)
    assert isinstance(fit(no_rows), Fit)
    assert not fit(no_rows).x.any()
