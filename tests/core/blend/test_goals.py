"""Cheapest and fewest: the same limits as the closest fit, against trying every small shelf, and aims gone wrong."""

import itertools
import threading

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from scipy.optimize import linprog

from core.blend.choose import USED_MG_PER_L
from core.blend.fewest import fewest
from core.blend.judge import cost_per_1000_l, misses
from core.blend.prices import prices_of
from core.blend.ranges import ranges_of
from core.blend.solve import Blend, preferences, solve
from core.blend.stopping import stopping
from tests.helpers.recipes import HARD, PLAIN, recipe

AIM = {"N": 140.0, "P": 40.0, "K": 200.0, "Ca": 150.0, "Mg": 35.0, "S": 55.0}
NITRIC = {"salt": "nitric-acid", "strength_percent": 60, "price_per_kg": 0.6}
PRICES = {
    "calcium-nitrate-tetrahydrate": 0.7, "potassium-nitrate": 1.4, "potassium-sulfate": 1.1,
    "monopotassium-phosphate": 2.2, "magnesium-sulfate-heptahydrate": 0.5, "magnesium-nitrate-hexahydrate": 1.6,
    "monoammonium-phosphate": 2.0, "potassium-chloride": 0.8, "ammonium-nitrate": 0.9,
    "calcium-nitrate-greenhouse": 0.8, "diammonium-phosphate": 1.1, "calcium-chloride-dihydrate": 0.4,
}  # fmt: skip


BAGS = [{"salt": "potassium-nitrate", "entry_id": f"bag {i}", "price_per_kg": 1.0 + i} for i in range(6)]


def priced(names=tuple(PRICES), **changed):
    return [{"salt": name, "price_per_kg": changed.get(name, PRICES[name])} for name in names]


def amounts(blend: Blend) -> dict[str, float]:
    return {s.key: float(x) for s, x in zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True) if x > 0}


def feasible_on(blend: Blend, columns: tuple[int, ...]):
    """Least cost with these columns alone, by another solver; None where they cannot be in range."""
    rows = ranges_of(blend.aim, blend.demands, blend.shelf).rows()
    matrix = rows.matrix[:, list(columns)]
    upper, lower = np.isfinite(rows.upper), np.isfinite(rows.lower)
    cost = [blend.shelf.sources[blend.demands.free[c]].entry.price_per_kg or 0.0 for c in columns]
    found = linprog(
        cost, np.vstack([matrix[upper], -matrix[lower]]), np.concatenate([rows.upper[upper], -rows.lower[lower]])
    )
    return found.fun if found.status == 0 else None


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("water", [None, HARD], ids=["pure", "hard"])
def test_every_small_shelf_tried_equals_the_solver(seed, water):
    rng = np.random.default_rng(seed)
    names = rng.choice(list(PRICES), size=7, replace=False)
    shelf = priced(names, **{name: PRICES[name] * rng.uniform(0.5, 2.0) for name in names}) + (
        [NITRIC] if water else []
    )
    aim = {name: value * rng.uniform(0.9, 1.1) for name, value in AIM.items() if name != "S"}
    made = recipe(aim, shelf, goal="fewest", **({"water": water} if water else {}))
    few, cheap = solve(made), solve(replace(made, goal="cheapest"))
    n = len(few.demands.free)
    costs = {
        size: [c for columns in itertools.combinations(range(n), size) if (c := feasible_on(few, columns)) is not None]
        for size in range(1, n + 1)
    }
    possible = [size for size in costs if costs[size]]
    if not possible:
        assert few.outcome.missed == cheap.outcome.missed == "ranges"
        return
    assert few.outcome.count == few.outcome.at_least == possible[0]
    assert len(amounts(few)) <= possible[0]
    assert cost_per_1000_l(few) * 1000.0 == pytest.approx(min(costs[possible[0]]), rel=1e-6)
    best = min(min(found) for found in costs.values() if found)
    assert best * (1 - 1e-6) <= cost_per_1000_l(cheap) * 1000.0 <= best * 1.003 + 1e-6
    unreachable = set(ranges_of(few.aim, few.demands, few.shelf).beyond)
    assert {miss.row.nutrient for blend in (few, cheap) for miss in misses(blend)} <= unreachable


def test_cheapest_keeps_the_limits_of_the_closest_fit():
    cheap = solve(recipe(AIM, priced(), goal="cheapest"))
    feed = dict(zip(("N", "NO3-N", "NH4-N", "urea-N"), cheap.nutrients_mg_per_l, strict=False))
    assert feed["NH4-N"] / feed["N"] <= 0.1 + 1e-6
    assert cheap.nutrients_mg_per_l[17] <= 70.0 + 1e-4
    assert cost_per_1000_l(cheap) < cost_per_1000_l(solve(recipe(AIM, priced())))


def test_salts_that_add_alkalinity_are_used_only_where_nothing_else_will_do():
    assert "diammonium-phosphate" not in amounts(solve(recipe(AIM, priced(), goal="cheapest")))
    others = [name for name in PRICES if "phosphate" not in name or name == "diammonium-phosphate"]
    assert "diammonium-phosphate" in amounts(solve(recipe(AIM, priced(others), goal="cheapest")))


def test_bounds_on_entries_hold_for_every_goal():
    shelf = priced()
    shelf[1] = shelf[1] | {"at_most_mg_per_l": 50.0}
    shelf[2] = shelf[2] | {"at_least_mg_per_l": 120.0}
    for goal in ("cheapest", "fewest"):
        made = amounts(solve(recipe(AIM, shelf, goal=goal)))
        assert made.get("potassium-nitrate", 0.0) <= 50.0 + 1e-6
        assert made["potassium-sulfate"] >= 120.0 - 1e-6


def test_what_has_no_price_is_left_aside_and_named():
    shelf = [*priced(), "calcium-nitrate-solution"]
    cheap = solve(recipe(AIM, shelf, goal="cheapest"))
    assert "calcium-nitrate-solution" not in amounts(cheap)
    assert cheap.outcome.unpriced == ("calcium-nitrate-solution",)


def test_what_has_no_price_is_used_where_nothing_else_will_do():
    shelf = [entry for entry in priced() if "phosph" not in entry["salt"]] + ["monopotassium-phosphate"]
    cheap = solve(recipe(AIM, shelf, goal="cheapest"))
    assert cheap.outcome.missed == ""
    assert amounts(cheap)["monopotassium-phosphate"] == pytest.approx(38.0 / 0.22761, rel=1e-3)


def test_no_prices_at_all_give_the_closest_blend_and_say_so():
    cheap, closest = (solve(recipe(AIM, PLAIN, goal=goal)) for goal in ("cheapest", "closest"))
    assert cheap.outcome.missed == "no-prices"
    assert cheap.amounts_mg_per_l == pytest.approx(closest.amounts_mg_per_l)


def test_fewest_without_prices_takes_the_amounts_nearest_to_the_targets():
    few = solve(recipe(AIM | {"N": 150.0}, PLAIN, goal="fewest"))
    assert few.outcome.count == 4
    assert misses(few) == ()
    assert "potassium-sulfate" not in amounts(few)


@pytest.mark.parametrize("goal", ["closest", "cheapest", "fewest"])
@pytest.mark.parametrize(
    ("aim", "shelf", "rest"),
    [
        ({"K": 100.0}, BAGS, {}),
        ({"K": 100.0}, priced(), {"aim": {"targets": [{"nutrient": "K", "mg_per_l": 100, "tolerance_percent": 0}]}}),
        ({"K": 100.0}, priced(), {"water": HARD, "aim": {"limits": [{"nutrient": "Na", "at_most_mg_per_l": 5}]}}),
        (AIM, [entry | {"at_most_mg_per_l": 10.0} for entry in priced()], {}),
        (AIM, [entry | {"exactly_mg_per_l": 10.0} for entry in priced()], {}),
        ({}, priced(), {}),
        ({"Mo": 0.05}, priced(), {}),
        ({"Ca": 50.0}, priced(), {"water": HARD}),
    ],
    ids=["identical", "no tolerance", "limit under water", "bounded", "fixed", "no aim", "no source", "water over"],
)  # fmt: skip
def test_any_aim_has_an_answer_for_any_goal(goal, aim, shelf, rest):
    blend = solve(recipe(aim, shelf, goal=goal, **{key: dict(value) for key, value in rest.items()}))
    assert np.all(np.isfinite(blend.amounts_mg_per_l))
    assert np.all(blend.amounts_mg_per_l >= 0.0)
    if goal != "closest" and aim:
        assert blend.outcome is not None
        unreachable = set(ranges_of(blend.aim, blend.demands, blend.shelf).beyond)
        assert blend.outcome.missed or {miss.row.nutrient for miss in misses(blend)} <= unreachable


@settings(max_examples=60, deadline=None)
@given(
    st.dictionaries(st.sampled_from(["N", "NH4-N", "P", "K", "Ca", "Mg", "S"]), st.floats(0.01, 400.0), max_size=6),
    st.lists(st.sampled_from([*PRICES, "urea", "boric-acid"]), min_size=1, max_size=9, unique=True),
    st.booleans(),
    st.sampled_from(["cheapest", "fewest"]),
)  # fmt: skip
def test_any_aim_on_any_shelf_keeps_the_limits_and_is_in_range_unless_it_says_otherwise(aim, shelf, hard, goal):
    entries = [{"salt": name, "price_per_kg": PRICES.get(name)} for name in shelf] + ([NITRIC] if hard else [])
    blend = solve(recipe(aim, entries, goal=goal, **({"water": HARD} if hard else {})))
    assert np.all(np.isfinite(blend.amounts_mg_per_l))
    assert np.all(blend.amounts_mg_per_l >= 0.0)
    if blend.outcome is None or blend.outcome.missed:
        return
    problem, x = blend.demands.problem, blend.amounts_mg_per_l[blend.demands.free]
    assert np.all(problem.g @ x <= problem.g_rhs + 1e-5 * (1.0 + np.abs(problem.g_rhs)))
    unreachable = set(ranges_of(blend.aim, blend.demands, blend.shelf).beyond)
    assert {miss.row.nutrient for miss in misses(blend)} <= unreachable


def test_identical_bags_count_as_one():
    few = solve(recipe({"K": 100.0}, BAGS, goal="fewest"))
    assert list(amounts(few)) == ["bag 0"]


def test_a_search_can_be_stopped():
    blend = solve(recipe(AIM, priced()))
    ranges, order = ranges_of(blend.aim, blend.demands, blend.shelf), preferences(blend.demands, blend.shelf)
    found = fewest(ranges, blend.demands, blend.shelf, order, stop=lambda: True)
    assert found is not None
    assert found.at_least <= found.count == np.sum(found.x > USED_MG_PER_L)


def test_a_search_can_be_stopped_from_outside_by_whoever_waits_for_it():
    made, asked = recipe(AIM, priced(), goal="fewest"), []
    with stopping(lambda: asked.append(1) is None):
        ended = solve(made)
    assert asked
    assert ended.outcome.at_least < ended.outcome.count
    whole = solve(made)
    assert whole.outcome.at_least == whole.outcome.count <= ended.outcome.count


def test_how_far_a_search_goes_is_the_same_every_time(monkeypatch):
    """Work is counted, not time: an answer that is not proven is still the same answer again."""
    blend = solve(recipe(AIM, priced()))
    ranges, order = ranges_of(blend.aim, blend.demands, blend.shelf), preferences(blend.demands, blend.shelf)
    monkeypatch.setattr("core.blend.fewest.LEAST_WORK", 0)
    ended = []
    for work in (0, 1, 2, 3, 5, 8, 150):
        monkeypatch.setattr("core.blend.fewest.WORK", work)
        one, other = (fewest(ranges, blend.demands, blend.shelf, order) for _ in range(2))
        assert np.array_equal(one.x, other.x)
        assert (one.count, one.at_least, one.cost_gap) == (other.count, other.at_least, other.cost_gap)
        ended.append(one)
    assert [one.at_least for one in ended] == sorted(one.at_least for one in ended)
    assert ended[0].at_least < ended[-1].at_least == ended[-1].count
    assert ended[-1].cost_gap == 0.0


def test_a_proven_gap_of_the_cost_holds(monkeypatch):
    """What another set of as few salts could save at most, against what the whole search then finds."""
    blend = solve(recipe(AIM, priced()))
    ranges, order = ranges_of(blend.aim, blend.demands, blend.shelf), preferences(blend.demands, blend.shelf)
    per_kg = prices_of(blend.demands, blend.shelf).per_kg
    best = fewest(ranges, blend.demands, blend.shelf, order)
    monkeypatch.setattr("core.blend.fewest.LEAST_WORK", 0)
    gaps = []
    for work in range(12):
        monkeypatch.setattr("core.blend.fewest.WORK", work)
        ended = fewest(ranges, blend.demands, blend.shelf, order)
        if ended.count == best.count:
            gaps.append(ended.cost_gap)
            assert per_kg @ ended.x * (1.0 - ended.cost_gap) <= per_kg @ best.x * (1.0 + 1e-6)
    assert max(gaps) > 0.0


def test_threads_do_not_disturb_each_other():
    made = recipe(AIM, priced(), goal="fewest")
    alone, found = solve(made).amounts_mg_per_l, []
    threads = [threading.Thread(target=lambda: found.append(solve(made).amounts_mg_per_l)) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(found) == 3
    for one in found:
        assert one == pytest.approx(alone)


def test_the_solvers_print_nothing(capfd):
    for goal in ("cheapest", "fewest"):
        solve(recipe(AIM, priced(), goal=goal))
    out, err = capfd.readouterr()
    assert out == err == ""
