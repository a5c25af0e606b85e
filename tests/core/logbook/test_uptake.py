"""Uptake between two analyses: made-up diaries of crops whose appetite is known give that appetite back."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from core.logbook.records import Entry, Logbook
from core.logbook.uptake import Uptake, learned_uptake, moment, uptakes
from core.plan import plan
from core.recipe.records import Water, WaterContents
from tests.core.logbook.test_forecast import BATCH, SOFT
from tests.helpers.diaries import diary
from tests.helpers.recipes import SIX

BATAVIA = {"N": 187.7, "P": 53.3, "K": 398.8, "Ca": 125.4, "Mg": 20.9}
"""Batavia lettuce, mg per litre of water taken up: 13.4 N, 1.72 P, 10.2 K, 3.13 Ca, 0.86 Mg mmol/L (Neocleous 2024,
READ). Only a crop to make a diary of."""

PURE = Water("rain")

REFILL = {"N": 150.0, "P": 16.7, "K": 167.0, "Ca": 16.7, "Mg": 10.0}
"""Leaf 4.5 N, 0.5 P, 5 K, 0.5 Ca, 0.3 Mg % at 300 L of water per kg dry (Nemali, Purdue, READ; mg/L DERIVED)."""

FED = plan(SOFT).feed.mg_per_l
"""What a litre of the planned feed brings."""


class Crop:
    """Grows in a reservoir: uses water with a fixed appetite, and keeps count with sums of its own."""

    def __init__(self, appetite: dict[str, float], start_l: float, start: dict[str, float]) -> None:
        self.appetite, self.volume_l = appetite, start_l
        self.mg = {name: start_l * value for name, value in start.items()}
        self.entries = [Entry("2026-03-01T08:00", level_l=start_l, analysis_mg_per_l=dict(start))]

    def live(self, used_l: float, drained_l: float, water_l: float, feed_l: float) -> None:
        """A day: water used, some let out, water and feed of the planned strength put in."""
        left = self.volume_l - used_l
        for name in self.mg:
            held = self.mg[name] - used_l * self.appetite[name]
            self.mg[name] = held * (1 - drained_l / left) + feed_l * FED[name]
        self.volume_l = left - drained_l + water_l + feed_l
        each_ml = 10.0 * feed_l
        water = water_l + feed_l - 2 * each_ml / 1000.0
        parts = {"A": each_ml, "B": each_ml} if each_ml else {}
        self.entries.append(
            Entry(f"2026-03-{len(self.entries) + 1:02d}T08:00", drained_l=drained_l or None, water_l=water,
                  batch_id="1" if parts else "", parts_ml=parts, level_l=self.volume_l)
        )  # fmt: skip

    def analyse(self) -> Logbook:
        """The diary, with a laboratory's report of what is there at its end."""
        report = {name: mg / self.volume_l for name, mg in self.mg.items()}
        self.entries[-1] = structs.replace(self.entries[-1], analysis_mg_per_l=report)
        return diary(BATCH, *self.entries, water=PURE)


def balance(logbook: Logbook) -> Uptake:
    (one,) = uptakes(logbook, logbook.reservoirs[0])
    return one


days = st.lists(
    st.tuples(st.floats(20, 40), st.floats(0, 30), st.floats(0, 30), st.floats(0, 60)), min_size=1, max_size=9
)


@settings(max_examples=60)
@given(days, st.sampled_from([BATAVIA, REFILL, {**REFILL, "K": -20.0}]))
def test_the_appetite_comes_back(week: list[tuple[float, float, float, float]], appetite: dict[str, float]) -> None:
    crop = Crop(appetite, 800.0, {name: 3 * SIX[name] for name in appetite})
    for used_l, drained_l, water_l, feed_l in week:
        crop.live(used_l, drained_l, water_l, feed_l)
    found = balance(crop.analyse())
    assert found.missing == ()
    for one in found.taken:
        assert one.mg_per_l_used == pytest.approx(appetite[one.nutrient], rel=1e-9, abs=1e-6)
        assert one.mg_per_day == pytest.approx(one.mg_per_l_used * sum(day[0] for day in week) / len(week), rel=1e-9)


def test_what_is_told_of_a_week() -> None:
    crop = Crop(BATAVIA, 300.0, {name: SIX[name] for name in BATAVIA})
    for _ in range(5):
        crop.live(20.0, 0.0, 0.0, 20.0)
    found = balance(crop.analyse())
    assert (found.days, found.used_l, found.brought_l, found.drained_l) == pytest.approx((5.0, 100.0, 100.0, 0.0))
    rows = {one.nutrient: one for one in found.taken}
    assert rows["N"].brought_mg_per_l == pytest.approx(FED["N"], rel=1e-9)
    assert rows["K"].change_percent == pytest.approx(100 * (FED["K"] - 398.8) * 100 / 300 / 200, rel=1e-9)
    assert learned_uptake(diary(BATCH, *crop.entries), diary(BATCH, *crop.entries).reservoirs[0]) == pytest.approx(
        BATAVIA
    )


def test_nitrogen_that_falls_faster_than_ec_is_told_of() -> None:
    eats_nitrogen = {"N": 300.0, "P": 20.0, "K": 120.0, "Ca": 20.0, "Mg": 5.0}
    crop = Crop(eats_nitrogen, 300.0, {name: SIX[name] for name in eats_nitrogen})
    for _ in range(6):
        crop.live(15.0, 0.0, 15.0, 0.0)
    logbook = crop.analyse()
    first, *rest, last = logbook.reservoirs[0].entries
    lines = (structs.replace(first, ec_ms_per_cm=1.70), *rest, structs.replace(last, ec_ms_per_cm=1.36))
    found = balance(diary(BATCH, *lines, water=PURE))
    fallen = {one.nutrient: one for one in found.unseen}
    assert fallen["N"].change_percent == pytest.approx(-60.0)
    assert fallen["N"].ec_change_percent == pytest.approx(-20.0)
    assert found.unseen[0].nutrient == "N"
    assert "Mg" in fallen  # hardly taken, so it rises against the meter
    assert "K" not in fallen


def test_without_readings_the_reports_own_ec_is_compared() -> None:
    whole = {"N": 150.0, "K": 200.0, "Ca": 120.0, "Mg": 30.0, "S": 40.0}
    crop = Crop({"N": 300.0} | dict.fromkeys(("K", "Ca", "Mg", "S"), 1.0), 300.0, whole)
    crop.live(50.0, 0.0, 50.0, 0.0)
    found = balance(crop.analyse())
    assert found.unseen[0].nutrient == "N"  # it fell by a third, the EC by less: the rest stays
    assert -20.0 < found.unseen[0].ec_change_percent < 0.0  # an unnamed anion is taken to fill its place


def test_the_ec_of_a_report_of_two_nutrients_is_not_told() -> None:
    crop = Crop({"N": 300.0, "K": 10.0}, 300.0, {"N": 150.0, "K": 200.0})
    crop.live(50.0, 0.0, 50.0, 0.0)
    assert balance(crop.analyse()).unseen == ()


def test_nitrate_and_ammonium_make_a_total() -> None:
    report = {"NO3-N": 140.0, "NH4-N": 10.0}
    lines = (Entry("2026-03-01", level_l=300.0, analysis_mg_per_l=report),
             Entry("2026-03-03", level_l=200.0, analysis_mg_per_l=report))  # fmt: skip
    rows = {one.nutrient: one for one in balance(diary(BATCH, *lines)).taken}
    assert rows["N"].mg_per_l_used == pytest.approx(150.0)
    assert rows["NH4-N"].mg_per_day == pytest.approx(500.0)


REPORT = {"K": 200.0}
START, END = (
    Entry("2026-03-01", level_l=300.0, analysis_mg_per_l=REPORT),
    Entry("2026-03-04", level_l=250.0, analysis_mg_per_l=REPORT),
)


@pytest.mark.parametrize(
    ("lines", "missing"),
    [
        ((structs.replace(START, level_l=None), END), "level-at-start"),
        ((START, structs.replace(END, level_l=None)), "level-at-end"),
        ((START, structs.replace(END, level_l=299.0)), "no-water-used"),
        ((START, Entry("2026-03-02", fresh=True, water_l=300.0), END), "filled-anew"),
    ],
)
def test_what_is_missing_is_said_and_nothing_guessed(lines: tuple[Entry, ...], missing: str) -> None:
    found = balance(diary(BATCH, *lines))
    assert missing in found.missing
    assert found.taken == ()
    assert found.unseen == ()
    assert learned_uptake(diary(BATCH, *lines), diary(BATCH, *lines).reservoirs[0]) == {}


def test_an_unweighed_batch_and_an_unknown_water_are_said() -> None:
    poured = Entry("2026-03-02", batch_id="1", parts_ml={"A": 100.0})
    bare = structs.replace(BATCH, weighed=())
    assert balance(diary(bare, START, poured, END)).missing == ("batch-not-weighed",)
    watered = structs.replace(diary(BATCH, START, Entry("2026-03-02", water_l=30.0), END), batches=())
    assert balance(watered).missing == ("water-unknown",)
    lines = (START, Entry("2026-03-02", water_l=30.0), END)
    assert "Na" in balance(diary(BATCH, *lines, water=PURE)).water_silent
    told = Water("well", WaterContents(na=30, ca=100))
    assert {"Na", "Ca"} & set(balance(diary(BATCH, *lines, water=told)).water_silent) == set()


def test_pairs_follow_each_other_and_days_begin_at_noon() -> None:
    third = structs.replace(END, at="2026-03-05T18:00", level_l=200.0)
    logbook = diary(BATCH, START, END, third)
    assert [(one.start, one.end) for one in uptakes(logbook, logbook.reservoirs[0])] == [(0, 1), (1, 2)]
    assert uptakes(logbook, logbook.reservoirs[0])[1].days == pytest.approx(1.25)
    assert moment("2026-03-01").hour == 12
