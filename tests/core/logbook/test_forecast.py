"""The replay of a diary: a filling is the plan's own feed, water that leaves concentrates, an analysis sets right."""

from __future__ import annotations

import pytest
from msgspec import structs

from core.logbook.factors import factor_for
from core.logbook.forecast import Foretold, forecast
from core.logbook.moves import moves
from core.logbook.records import Entry, Logbook, MadeBatch, Reservoir
from core.plan import plan
from core.recipe.records import Water, WaterContents
from tests.helpers.diaries import batch_of, diary, with_weight
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

SOFT = recipe(SIX, PLAIN, tanks={"count": 2, "ratio": 100}, batch={"tank_volume_l": 20})
ACID = recipe(SIX, [*PLAIN, {"salt": "nitric-acid", "strength_percent": 60}], water=HARD,
              tanks={"count": 2, "ratio": 100}, batch={"tank_volume_l": 20}, acid_into="water")  # fmt: skip
BATCH = batch_of(SOFT)


def filling(litres: float = 300.0, strength: float = 1.0, batch: MadeBatch = BATCH, **rest) -> Entry:
    parts = {tank: 10.0 * litres * strength for tank in "AB"}
    water = litres - sum(parts.values()) / 1000.0
    return Entry("2026-03-01T08:00", fresh=True, batch_id=batch.batch_id, water_l=water, parts_ml=parts, **rest)


def told(*entries: Entry, batch: MadeBatch = BATCH, **rest) -> tuple[Foretold, ...]:
    logbook = diary(batch, *entries, **rest)
    return forecast(logbook, logbook.reservoirs[0])


def day(number: int, **fields) -> Entry:
    return Entry(f"2026-03-{number:02d}T08:00", **fields)


def test_a_filling_at_full_strength_is_the_plans_own_feed() -> None:
    """The plan is solved from the aim, the replay from the grams weighed: two ways to one feed."""
    feed = plan(SOFT).feed
    (one,) = told(filling())
    assert one.ec_ms_per_cm == pytest.approx(feed.ec_ms_per_cm, rel=1e-6)
    assert one.ph == pytest.approx(feed.ph, abs=1e-4)
    for nutrient in ("N", "P", "K", "Ca", "Mg", "S"):
        assert one.mg_per_l[nutrient] == pytest.approx(feed.mg_per_l[nutrient], rel=1e-9)


@pytest.mark.parametrize("temperature_c", [8.0, 30.0])
def test_a_filling_has_the_plans_ph_at_its_waters_temperature(temperature_c: float) -> None:
    made = structs.replace(SOFT, water=structs.replace(SOFT.water, temperature_c=temperature_c))
    feed, batch = plan(made).feed, batch_of(made)
    (one,) = told(filling(batch=batch), batch=batch)
    assert (one.ph, one.ph_aired) == (pytest.approx(feed.ph, abs=1e-4), pytest.approx(feed.ph_aired, abs=1e-4))
    (read,) = told(filling(batch=batch, temperature_c=25.0), batch=batch)
    assert read.ph == pytest.approx(plan(SOFT).feed.ph, abs=1e-3)


def test_acid_poured_into_hard_water_gives_the_plans_ph() -> None:
    planned = plan(ACID)
    acid = next(amount for amount in planned.amounts if amount.tank == "water")
    batch = batch_of(ACID)
    entry = filling(batch=batch, acid_ml={acid.entry_id: 300.0 * (acid.ml_per_l or 0.0)})
    (one,) = told(entry, batch=batch)
    assert one.ph == pytest.approx(planned.feed.ph, abs=1e-3)
    assert one.ec_ms_per_cm == pytest.approx(planned.feed.ec_ms_per_cm, rel=1e-4)


def test_weights_that_went_in_otherwise_are_what_counts() -> None:
    (right,), (short,) = told(filling()), told(filling(), batch=with_weight(BATCH, "potassium-nitrate", 0.5))
    assert short.mg_per_l["K"] < right.mg_per_l["K"]
    assert (short.ec_ms_per_cm or 9) < (right.ec_ms_per_cm or 0)
    assert short.mg_per_l["Mg"] == right.mg_per_l["Mg"]


def test_water_used_leaves_its_salts_and_water_added_thins_them() -> None:
    first, second, third = told(filling(), day(2, level_l=250.0), day(3, water_l=50.0, level_l=300.0))
    assert second.move.used_l == 50.0
    assert second.mg_per_l["K"] == pytest.approx(first.mg_per_l["K"] * 300 / 250)
    assert third.mg_per_l["K"] == pytest.approx(first.mg_per_l["K"])
    assert third.ec_ms_per_cm == pytest.approx(first.ec_ms_per_cm, rel=1e-9)


def test_draining_takes_salts_along() -> None:
    first, second = told(filling(), day(2, drained_l=100.0, water_l=100.0, level_l=300.0))
    assert second.mg_per_l["K"] == pytest.approx(first.mg_per_l["K"] * 2 / 3)


def test_known_uptake_is_taken_off() -> None:
    logbook = diary(BATCH, filling(), day(2, level_l=250.0))
    first, second = forecast(logbook, logbook.reservoirs[0], {"K": 200.0, "N": 150.0})
    assert second.mg_per_l["K"] == pytest.approx((300 * first.mg_per_l["K"] - 50 * 200) / 250)
    assert second.mg_per_l["N"] == pytest.approx((300 * first.mg_per_l["N"] - 50 * 150) / 250)


def test_an_analysis_sets_right_what_it_names() -> None:
    report = {"N": 100.0, "K": 150.0, "Ca": 160.0}
    first, second, third = told(filling(), day(2, analysis_mg_per_l=report, hco3_mg_per_l=30.5), day(3, water_l=100.0))
    assert (second.basis, second.anchored) == ("analysis", True)
    assert {name: second.mg_per_l[name] for name in report} == pytest.approx(report)
    assert second.mg_per_l["Mg"] == pytest.approx(first.mg_per_l["Mg"])
    assert second.ph is not None
    assert second.contents is not None
    assert second.contents.alkalinity == pytest.approx(0.5, abs=1e-3)
    assert third.mg_per_l["K"] == pytest.approx(150.0 * 300 / 400)


def test_no_ph_is_foretold_where_the_alkalinity_is_not_known() -> None:
    first, second, third = told(filling(), day(2, level_l=290.0), day(3, level_l=250.0))
    assert first.ph is not None
    assert second.ph is not None
    assert third.ph is None
    assert told(filling(), day(2, analysis_mg_per_l={"K": 100.0}))[1].ph is None
    with_ph = told(filling(), day(2, analysis_mg_per_l={"K": 100.0}, ph=6.2))[1]
    assert with_ph.ph == pytest.approx(6.2, abs=0.02)


def test_a_step_is_counted_from_the_reading_before() -> None:
    """A meter 5 % high at every reading surprises once, not every day."""
    bare = told(filling(), day(2, level_l=270.0), day(3, water_l=30.0, level_l=300.0))
    read = [1.05 * (one.ec_ms_per_cm or 0.0) for one in bare]
    lines = (filling(ec_ms_per_cm=read[0]), day(2, level_l=270.0, ec_ms_per_cm=read[1]),
             day(3, water_l=30.0, level_l=300.0, ec_ms_per_cm=read[2]))  # fmt: skip
    found = told(*lines)
    assert [one.residual_percent for one in found] == pytest.approx([5.0, 5.0, 5.0])
    steps = [one.step_residual_percent for one in found]
    assert steps[0] == pytest.approx(5.0)
    assert all(abs(step or 9.0) < 0.1 for step in steps[1:])


def test_a_reservoir_in_use_begins_at_its_first_reading() -> None:
    found = told(day(1, level_l=300.0), day(2, level_l=290.0, ec_ms_per_cm=1.5), day(3, water_l=10.0, batch_id="1"))
    assert [one.basis for one in found] == ["", "assumed", "assumed"]
    assert found[0].ec_ms_per_cm is None
    assert found[0].mg_per_l == {}
    assert found[1].ec_ms_per_cm == pytest.approx(1.5, rel=2e-3)
    assert found[2].ec_ms_per_cm == pytest.approx(1.5 * 290 / 300, rel=0.01)


def test_nothing_known_is_nothing_told() -> None:
    logbook = structs.replace(diary(BATCH, day(1, ec_ms_per_cm=1.5), day(2, water_l=20.0)), batches=())
    assert [one.ec_ms_per_cm for one in forecast(logbook, logbook.reservoirs[0])] == [None, None]
    assert forecast(logbook, Reservoir("empty", 100)) == ()


def test_the_reservoirs_own_water_goes_before_the_recipes() -> None:
    water = Water("well", WaterContents(ca=118, mg=16, hco3=329), ph=7.4)
    (one,) = told(Entry("2026-03-01", fresh=True, water_l=300.0), water=water)
    assert one.mg_per_l["Ca"] == pytest.approx(118.0)
    assert 0.5 < (one.ec_ms_per_cm or 0.0) < 0.7


def test_volumes_that_do_not_add_up_are_said() -> None:
    def doubts(*entries: Entry) -> list[tuple[str, ...]]:
        return [move.doubts for move in moves(Reservoir("one", 300.0, entries=entries))]

    assert doubts(Entry("2026-03-01", fresh=True)) == [("volume-assumed",)]
    assert doubts(Entry("2026-03-01", fresh=True, water_l=100.0, level_l=300.0)) == [("fill-differs",)]
    start = Entry("2026-03-01", fresh=True, water_l=200.0)
    assert doubts(start, day(2, level_l=300.0))[1] == ("unlogged-water",)
    assert doubts(start, day(2, water_l=150.0, level_l=100.0))[1] == ("level-too-low",)
    assert doubts(start, day(2, drained_l=250.0))[1] == ("drained-too-much",)
    assert doubts(day(1, ec_ms_per_cm=1.0)) == [("volume-assumed",)]
    assert doubts(start, day(2, level_l=190.0, drained_l=5.0)) == [(), ()]


def test_a_meters_factor_is_learned_from_fillings_not_from_the_crop() -> None:
    (full,) = told(filling())
    ec = full.ec_ms_per_cm or 0.0
    lines = [
        structs.replace(filling(ec_ms_per_cm=1.04 * ec, meter="pen"), at=f"2026-03-{number:02d}")
        for number in (1, 5, 9)
    ]
    late = Entry("2026-03-12", level_l=150.0, ec_ms_per_cm=9.0, meter="pen")
    other = structs.replace(filling(ec_ms_per_cm=1.5 * ec, meter="old"), at="2026-03-15")
    logbook = diary(BATCH, *lines, late, other)
    learned = factor_for(logbook, "1", SOFT.water.name, "pen")
    assert learned.factor == pytest.approx(1.04)
    assert (learned.readings, learned.trust) == (3, "good")
    assert factor_for(logbook, "1", SOFT.water.name).readings == 4
    assert factor_for(logbook, "1", "another water", "pen").trust == "none"
    assert factor_for(logbook, "2", SOFT.water.name, "pen").trust == "none"


def test_a_level_alone_does_not_say_what_a_reservoir_was_filled_with():
    """It was once forecast as plain water, three million per cent below the reading."""
    entry = Entry(at="2026-06-01", fresh=True, level_l=150.0, ec_ms_per_cm=1.84)
    reservoir = Reservoir(name="R", volume_l=150.0, entries=(entry,))
    (told,) = forecast(Logbook(reservoirs=(reservoir,)), reservoir)
    assert told.ec_ms_per_cm is None
    assert told.residual_percent is None
