"""The fit on shelves drawn from the catalog, duplicates and bounds with them: optimal, and no wrong vertex."""

import itertools

import cvxpy
import numpy as np
import pytest

from core.blend.alkalinity import BY_FORMULA
from core.blend.demands import build
from core.blend.fit import Fit, Problem, fit, kkt_residual
from core.blend.shelf import compile_shelf
from core.blend.vertex import settle_on
from core.blend.waters import water_totals
from core.catalog import salts
from core.recipe.records import Aim, Limit, ShelfEntry, Target, Water, WaterContents

WATERS = (
    Water(),
    Water(mg_per_l=WaterContents(ca=61.0, mg=9.0, na=12.0, cl=20.0, s=9.0, hco3=150.0), ph=7.5),
    Water(mg_per_l=WaterContents(ca=118.0, mg=16.0, na=31.0, k=3.0, cl=48.0, s=24.0, hco3=329.0), ph=7.4),
)
USUAL = {"N": 150, "P": 40, "K": 210, "Ca": 150, "Mg": 35, "S": 55, "Fe": 2, "Mn": 0.6, "Zn": 0.3, "B": 0.3, "Cu": 0.05}


def _bags() -> list[ShelfEntry]:
    """Three bags of every product, so that duplicates are drawn; the third has a bound of its own."""
    bounds = itertools.cycle([{"at_most_mg_per_l": 90.0}, {"at_least_mg_per_l": 25.0}, {"exactly_mg_per_l": 60.0}])
    plain = [ShelfEntry(salt=name, entry_id=f"{name} {bag}") for name in salts() for bag in (1, 2)]
    return plain + [ShelfEntry(salt=name, entry_id=f"{name} 3", **next(bounds)) for name in salts()]


BAGS = _bags()
ODDS = np.array([0.9 / 2 if bag.entry_id[-1] != "3" else 0.1 for bag in BAGS]) / len(salts())


def a_problem(rng: np.random.Generator, most: int = 50) -> Problem:
    """The rows of an aim at a third to twice the usual, with limits now and then, on 12 to 50 products."""
    size = int(rng.integers(min(12, most - 1), most + 1))
    entries = tuple(BAGS[place] for place in rng.choice(len(BAGS), size, replace=False, p=ODDS))
    wanted = [Target(name, float(mg * rng.uniform(0.3, 2.0))) for name, mg in USUAL.items() if rng.random() < 0.85]
    limits = [Limit("Na", at_most_mg_per_l=float(rng.uniform(5.0, 60.0)))] if rng.random() < 0.5 else []
    limits += [Limit("Cl", at_most_mg_per_l=float(rng.uniform(1.0, 100.0)))] if rng.random() < 0.3 else []
    limits += [Limit("S", at_least_mg_per_l=float(rng.uniform(1.0, 100.0)))] if rng.random() < 0.15 else []
    aim = Aim(targets=tuple(wanted), limits=tuple(limits), urea=bool(rng.random() < 0.2))
    water = water_totals(WATERS[int(rng.integers(len(WATERS)))])
    shelf = compile_shelf(entries)
    return build(aim, shelf, water.totals, water.alkalinity, None, BY_FORMULA).problem


@pytest.mark.parametrize("seed", range(4))
def test_two_thousand_aims_on_shelves_of_the_catalog_meet_the_optimality_conditions(seed):
    rng = np.random.default_rng(seed)
    for _ in range(500):
        problem = a_problem(rng)
        assert kkt_residual(problem, fit(problem)) <= 1e-8


def misfit(problem: Problem, x: np.ndarray) -> float:
    return float(np.linalg.norm(problem.a @ x - problem.b))


@pytest.mark.filterwarnings("ignore::UserWarning:cvxpy")
def test_an_interior_point_method_finds_nothing_better():
    rng, compared = np.random.default_rng(11), 0
    for _ in range(40):
        problem = a_problem(rng)
        found = fit(problem)
        x = cvxpy.Variable(problem.a.shape[1], nonneg=True)
        rules = [problem.g @ x <= found.g_rhs] if len(found.g_rhs) else []
        rules += [problem.e @ x == found.e_rhs] if len(found.e_rhs) else []
        task = cvxpy.Problem(cvxpy.Minimize(cvxpy.sum_squares(problem.a @ x - problem.b)), rules)
        try:
            task.solve(solver=cvxpy.CLARABEL)
        except cvxpy.SolverError:  # limits kept exactly where they contradict leave an interior method no inside
            continue
        if task.status == cvxpy.OPTIMAL:
            compared += 1
            assert misfit(problem, found.x) <= misfit(problem, np.asarray(x.value)) + 1e-6
    assert compared >= 30


def best_of_all_vertices(problem: Problem) -> float:
    """Least misfit over every choice of used columns and kept limits; for a handful of columns only."""
    n, n_g, best = problem.a.shape[1], len(problem.g_rhs), np.inf
    for used in itertools.chain.from_iterable(itertools.combinations(range(n), size) for size in range(n + 1)):
        for kept in itertools.chain.from_iterable(itertools.combinations(range(n_g), k) for k in range(len(used) + 1)):
            h = np.vstack([problem.e, problem.g[list(kept)]])[:, list(used)]
            rhs = np.concatenate([problem.e_rhs, problem.g_rhs[list(kept)]])
            a = problem.a[:, list(used)]
            matrix = np.block([[a.T @ a, h.T], [h, np.zeros((len(h), len(h)))]])
            x = np.zeros(n)
            x[list(used)] = np.linalg.lstsq(matrix, np.concatenate([a.T @ problem.b, rhs]), rcond=None)[0][: len(used)]
            kept_all = np.all(problem.g @ x <= problem.g_rhs + 1e-7) and np.allclose(problem.e @ x, problem.e_rhs)
            if np.all(x >= -1e-9) and kept_all:
                best = min(best, misfit(problem, x))
    return best


def test_trying_every_vertex_of_small_shelves_finds_nothing_better():
    rng, compared = np.random.default_rng(5), 0
    while compared < 15:
        problem = a_problem(rng, most=6)
        found = fit(problem)
        if found.possible and 1 < problem.a.shape[1] <= 5 and len(problem.g_rhs) <= 6:
            compared += 1
            assert misfit(problem, found.x) <= best_of_all_vertices(problem) + 1e-7


def test_a_price_without_a_limit_reached_is_no_optimum():
    """Complementarity counts: a limit that is not reached has no price."""
    problem = Problem(np.eye(2), np.ones(2), np.zeros((0, 2)), np.zeros(0), np.array([[1.0, 0.0]]), np.array([5.0]))
    honest = fit(problem)
    assert kkt_residual(problem, honest) <= 1e-12
    a = np.array([[1.0, 0.0], [0.0, 1.0], [0.3, 0.0]])
    priced = Problem(a, np.array([1.0, 1.0, 0.3]), problem.e, problem.e_rhs, problem.g, problem.g_rhs)
    told = Fit(np.array([0.5, 1.0]), np.zeros(0), np.array([0.545]), priced.e_rhs, priced.g_rhs, possible=True)
    gradient = priced.a.T @ (priced.a @ told.x - priced.b) + priced.g.T @ told.g_price
    assert np.abs(gradient).max() < 1e-9
    assert kkt_residual(priced, told) > 0.1


def test_the_active_set_method_goes_from_any_amounts_that_keep_the_rows_to_the_optimum():
    rng = np.random.default_rng(2)
    for _ in range(60):
        a, b = rng.normal(size=(5, 9)), rng.normal(size=5)
        rows = rng.normal(size=(4, 9))
        start = np.where(rng.random(9) < 0.5, rng.random(9), 0.0)
        rhs = rows @ start + np.where(rng.random(4) < 0.5, 0.0, rng.random(4))
        rhs[0] = float(rows[0] @ start)
        found = settle_on(a, b, rows, rhs, 1, start)
        assert found is not None
        assert found.settled
        problem = Problem(a, b, rows[:1], rhs[:1], rows[1:], rhs[1:])
        assert kkt_residual(problem, Fit(found.x, found.price[:1], found.price[1:], rhs[:1], rhs[1:], True)) <= 1e-9


def test_amounts_that_keep_no_row_are_no_start():
    assert settle_on(np.eye(1), np.ones(1), np.ones((1, 1)), np.array([-1.0]), 1, np.ones(1)) is None
