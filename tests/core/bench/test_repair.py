"""Repairs: nothing while all is in range, the least change that mends, never anything taken out of a tank."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.bench.repair import propose, round_up_l
from core.bench.repair_records import MOST_LARGER, Bench, Filling, Wanted, step_of

N, K, P = range(3)
SALTS = {
    "nitrate": ("A", 1000.0, (10.0, 30.0, 0.0)),
    "calcium": ("A", 2000.0, (40.0, 0.0, 0.0)),
    "phosphate": ("B", 500.0, (0.0, 20.0, 25.0)),
    "sulfate": ("B", 300.0, (0.0, 50.0, 0.0)),
}
"""Tank, planned grams, what they bring of three nutrients: N 50, K 100, P 25 mg/L in all."""

FIVE_PERCENT = Wanted(np.array([47.5, 95.0, 23.75]), np.array([52.5, 105.0, 26.25]))


def bench(**weighed: float) -> Bench:
    fillings = tuple(
        Filling(tank, name, grams, weighed.get(name), weighed.get(name, grams), 1.0, np.array(brings))
        for name, (tank, grams, brings) in SALTS.items()
    )
    volumes = {"A": 50.0, "B": 50.0}
    return Bench(fillings, volumes, volumes, np.zeros(3))


def test_nothing_is_changed_while_all_is_in_range() -> None:
    assert propose(bench(), FIVE_PERCENT) is None
    assert propose(bench(nitrate=1160.0), FIVE_PERCENT) is None  # K 104.8, N 51.6


def test_a_weight_still_to_come_takes_up_an_overweight() -> None:
    """K is 115 with 1500 g for 1000: 10 too much, and 60 g of the 300 g of sulfate bring 10."""
    mended = propose(bench(nitrate=1500.0), Wanted(FIVE_PERCENT.low_mg_per_l, np.array([60.0, 105.0, 26.25])))
    assert mended is not None
    assert mended.worst == K
    assert [(new.entry_id, new.grams, new.added_g) for new in mended.weights] == [("sulfate", 240.0, None)]
    assert mended.volumes == ()
    assert mended.mended


def test_too_little_is_added_to() -> None:
    """P is 20 with 400 g for 500; 23.75 want 475 g, 75 more."""
    mended = propose(bench(phosphate=400.0), FIVE_PERCENT)
    assert mended is not None
    assert [(new.entry_id, new.grams, new.added_g) for new in mended.weights] == [("phosphate", 475.0, 75.0)]


def test_where_all_is_in_only_water_helps() -> None:
    """P is 27.5 with 550 g: 50 L hold 4.76 % too much, 52.38 L are enough, told as 52.4."""
    mended = propose(bench(nitrate=1000.0, calcium=2000.0, phosphate=550.0, sulfate=300.0), FIVE_PERCENT)
    assert mended is not None
    assert mended.weights == ()
    assert [(new.tank, new.litres) for new in mended.volumes] == [("B", 52.4)]
    assert mended.mended


def test_a_tank_filled_further_is_counted_from_there() -> None:
    done = bench(phosphate=550.0, sulfate=300.0)
    further = replace(done, filled_l={"A": 50.0, "B": 52.4})
    assert propose(further, FIVE_PERCENT) is None


def test_twice_a_salt_wants_more_of_the_rest_and_a_larger_vessel() -> None:
    mended = propose(bench(nitrate=2000.0), FIVE_PERCENT)
    assert mended is not None
    assert mended.mended
    assert {new.tank for new in mended.volumes} <= {"A"}
    assert {new.entry_id for new in mended.weights} >= {"sulfate"}


def test_what_cannot_be_mended_is_said() -> None:
    narrow = Wanted(np.array([-math.inf, -math.inf, -math.inf]), np.array([52.5, 105.0, 0.5]))
    hopeless = bench(nitrate=1000.0, calcium=2000.0, phosphate=500.0, sulfate=300.0)
    assert propose(hopeless, narrow) is None  # the plan itself is out: it only has to stay as it was planned
    over = propose(bench(phosphate=5000.0), FIVE_PERCENT)
    assert over is not None
    assert not over.mended


def test_a_nutrient_the_plan_leaves_out_of_range_only_comes_back_to_the_plan() -> None:
    wanted = Wanted(np.array([60.0, 95.0, 23.75]), np.array([70.0, 105.0, 26.25]))
    assert propose(bench(), wanted) is None
    short = propose(bench(calcium=1900.0), wanted)
    assert short is not None
    assert short.worst == N
    assert [(new.entry_id, new.added_g) for new in short.weights] in ([("calcium", 100.0)], [("nitrate", None)])


def test_a_weight_from_a_trace_bottle_is_left_alone() -> None:
    fixed = bench(nitrate=1500.0)
    fillings = tuple(replace(f, movable=f.entry_id != "sulfate") for f in fixed.fillings)
    mended = propose(replace(fixed, fillings=fillings), FIVE_PERCENT)
    assert mended is not None
    assert "sulfate" not in {new.entry_id for new in mended.weights}


def test_marks_and_steps() -> None:
    assert [round_up_l(litres) for litres in (52.381, 50.0, 9.991, 214.2)] == [52.4, 50.0, 10.0, 215.0]
    assert step_of(replace(bench().fillings[0], step_g=None)) == 1.0
    assert step_of(replace(bench().fillings[0], step_g=0.01)) == 0.01


@given(factors=st.lists(st.floats(0.3, 2.0), min_size=4, max_size=4), weighed=st.sets(st.sampled_from(sorted(SALTS))))
@settings(max_examples=50)
def test_every_repair_is_true(factors: list[float], weighed: set[str]) -> None:
    """Nothing is taken out, every weight is whole steps, and a batch said to be mended is in range by the scale."""
    real = {
        name: round(SALTS[name][1] * factor) for name, factor in zip(SALTS, factors, strict=True) if name in weighed
    }
    before = bench(**real)
    repair = propose(before, FIVE_PERCENT)
    miss = FIVE_PERCENT.miss(before.feed_mg_per_l())
    if repair is None:
        assert not miss.any()
        return
    assert miss.argmax() == repair.worst
    for new in repair.weights:
        assert new.grams == pytest.approx(round(new.grams))
        assert new.grams >= real.get(new.entry_id, 0.0)
        assert (new.added_g is None) == (new.entry_id not in real)
    assert all(before.filled_l[new.tank] < new.litres <= 1.01 * MOST_LARGER * 50.0 for new in repair.volumes)
    after = FIVE_PERCENT.miss(before.after(repair).feed_mg_per_l())
    assert repair.mended == (not after.any())
    assert after.max() <= miss.max()


@pytest.mark.parametrize("grams", [1190, 1210, 1230, 1245])
def test_one_weight_is_changed_by_the_least_that_mends(grams: int) -> None:
    """Against trying every whole gram of every weight that is still to come."""
    before = bench(nitrate=float(grams), calcium=2000.0)
    repair = propose(before, FIVE_PERCENT)
    assert repair is not None
    assert len(repair.weights) == 1
    assert not repair.volumes
    found = []
    for number, filling in enumerate(before.fillings):
        if filling.weighed_g is not None:
            continue
        for trial in range(0, 900, 2):
            fillings = list(before.fillings)
            fillings[number] = replace(filling, asked_g=float(trial))
            if not FIVE_PERCENT.miss(replace(before, fillings=tuple(fillings)).feed_mg_per_l()).any():
                found.append(abs(trial - filling.planned_g) / filling.planned_g)
    new = repair.weights[0]
    planned = SALTS[new.entry_id][1]
    assert abs(new.grams - planned) / planned <= min(found) + 2.01 / planned
