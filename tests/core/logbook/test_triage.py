"""Twenty things that go wrong, and whether the search finds them.

The diaries are made by a grower (tests/helpers/grower.py) whose salts are real: what her meter shows is planned anew
from what is really in the water, with 2 % of scatter, and what she writes is what she believes. The search never sees
more than the diary.
"""

from __future__ import annotations

import pytest
from msgspec import structs

from core.logbook.forecast import forecast
from core.logbook.records import Entry
from core.logbook.triage import surprises, suspect, triage
from core.logbook.triage_tweaks import GALLONS, PLAUSIBLE, candidates, other_hydrates
from core.plan import plan
from core.recipe.records import Recipe
from tests.core.logbook.test_forecast import ACID, BATCH, SOFT, filling
from tests.helpers.diaries import batch_of, diary
from tests.helpers.grower import Faults, Grower
from tests.helpers.recipes import PLAIN, recipe

LETTUCE = recipe(
    {"N": 165.0, "P": 50.0, "K": 210.0, "Ca": 190.0, "Mg": 45.0, "S": 65.0},
    ["calcium-nitrate-greenhouse", *PLAIN[1:], "iron-dtpa-11"],
    water={"mg_per_l": {"Ca": 40, "Mg": 8, "HCO3": 90, "Na": 12, "Cl": 15}, "ph": 7.6},
    tanks={"count": 2, "ratio": 100},
    batch={"tank_volume_l": 20},
)
EPSOM = "magnesium-sulfate-heptahydrate"
NITRE = "potassium-nitrate"


def part(**factors: float):
    """Pours so much of each tank's share."""
    return lambda written: {tank: millilitres * factors.get(tank, 1.0) for tank, millilitres in written.items()}


def other_bottle(written: dict[str, float]) -> dict[str, float]:
    """Pours the first tank twice and the second never."""
    return {"A": sum(written.values()), "B": 0.0}


FAULTS: tuple[tuple[str, Recipe, Faults], ...] = (
    ("meter", SOFT, Faults(meter=0.82)),
    ("meter", LETTUCE, Faults(meter=1.2)),
    ("temperature", LETTUCE, Faults(compensated=False)),
    ("temperature", ACID, Faults(compensated=False)),
    ("scale", SOFT, Faults(meter=500 / 700)),
    ("scale", ACID, Faults(meter=700 / 500)),
    ("volume", SOFT, Faults(volume=1.35)),
    ("volume", LETTUCE, Faults(volume=0.72)),
    ("gallon", SOFT, Faults(volume=GALLONS)),
    ("dose-twice", ACID, Faults(pours=part(A=2.0, B=2.0))),
    ("dose-forgotten", LETTUCE, Faults(pours=part(A=0.0, B=0.0))),
    ("part-missing", SOFT, Faults(pours=part(A=0.0))),
    ("part-missing", LETTUCE, Faults(pours=part(B=0.0))),
    ("part-dose", SOFT, Faults(pours=part(B=0.5))),
    ("part-twice", ACID, Faults(pours=other_bottle)),
    ("salt-forgotten", LETTUCE, Faults(weights={NITRE: 0.0})),
    ("salt-doubled", SOFT, Faults(weights={NITRE: 2.0})),
    ("wrong-hydrate", LETTUCE, Faults(weights={EPSOM: 246.47 / 120.37})),
    ("tank-volume", SOFT, Faults(tanks={"A": 0.5})),
    ("water", ACID, Faults(water=2.0)),
)


def test_the_true_cause_is_among_the_first_two_and_mostly_the_first() -> None:
    """Every diary has a seed of its own; a fault whose readings are nowhere odd would count as missed."""
    found = []
    for seed, (code, made_from, faults) in enumerate(FAULTS):
        logbook = Grower(made_from, seed, faults).season()
        told = triage(logbook, logbook.reservoirs[0])
        found.append((code, [] if told is None else [cause.code for cause in told.causes]))
    assert len(found) == 20
    missed = [(code, causes) for code, causes in found if code not in causes[:2]]
    assert len(missed) <= 2, missed
    assert sum(code == causes[0] for code, causes in found if causes) >= 12, found


def test_after_one_odd_reading_the_cause_is_at_least_named() -> None:
    """One number cannot tell seventeen causes apart; what can be asked next is what counts then."""
    named = 0
    chosen = [
        fault for fault in FAULTS if fault[0] in ("meter", "part-missing", "salt-forgotten", "dose-twice", "water")
    ]
    for seed, (code, made_from, faults) in enumerate(chosen):
        logbook = Grower(made_from, seed, faults).first_days()
        told = triage(logbook, logbook.reservoirs[0])
        assert told is not None
        named += code in [cause.code for cause in told.causes]
        assert all(cause.ask.code for cause in told.causes)
    assert named >= len(chosen) - 1


def test_acid_that_was_poured_twice_is_known_by_its_ph() -> None:
    """Not among the faults above: there what is wrong with the acid stays wrong, which is a cause nobody looks for."""
    for seed in (0, 1):
        logbook = Grower(ACID, seed, Faults(acid=2.0)).first_days()
        told = triage(logbook, logbook.reservoirs[0])
        assert told is not None
        assert (told.causes[0].code, told.causes[0].factor) == ("acid", 2.0)


def first_filling(off: float, **fields):
    logbook = diary(BATCH, filling())
    ec = forecast(logbook, logbook.reservoirs[0])[0].ec_ms_per_cm or 0.0
    logbook = diary(BATCH, filling(ec_ms_per_cm=off * ec, **fields))
    return logbook, logbook.reservoirs[0]


def test_nothing_odd_is_nothing_to_search() -> None:
    assert triage(*first_filling(1.08)) is None
    assert triage(*first_filling(0.7)) is not None
    logbook = diary(BATCH, Entry("2026-03-01", ph=6.0))
    assert triage(logbook, logbook.reservoirs[0], 0) is None


def test_a_crop_brings_a_reading_down_but_never_up() -> None:
    """A twelfth of the water used: 15 % under what its salts make is a crop's, 12 % over is not."""
    start = filling(ec_ms_per_cm=1.71)
    for read, odd in ((1.60, None), (2.10, 1)):
        logbook = diary(BATCH, start, Entry("2026-03-04", level_l=275.0, ec_ms_per_cm=read))
        told = forecast(logbook, logbook.reservoirs[0])
        assert suspect(logbook.reservoirs[0], told) == odd
        assert surprises(logbook.reservoirs[0], told) == (() if odd is None else (odd,))


def test_a_scale_that_is_stated_is_not_suspected_of_being_another() -> None:
    """Typed in mS/cm, a reading was taken for no scale of ppm; typed as ppm-700 it may have been ppm-500."""
    batch = batch_of(ACID)
    slips = {
        meter: {
            (one.what, one.other)
            for one in candidates(batch, filling(batch=batch, meter=meter), ("A", "B"), False, 0.6, 0.0, (0,))
            if one.code == "scale"
        }
        for meter in ("mS/cm", "µS/cm", "ppm-700", "the blue pen")
    }
    assert slips["mS/cm"] == slips["µS/cm"] == {("mS/cm", "CF")}
    assert slips["ppm-700"] == {("ppm-700", "ppm-500"), ("ppm-700", "ppm-640")}
    assert len(slips["the blue pen"]) == 8


def test_what_a_crop_may_take_is_no_surprise() -> None:
    logbook = diary(BATCH, filling(ec_ms_per_cm=1.71), Entry("2026-03-04", level_l=240.0, ec_ms_per_cm=1.78))
    assert suspect(logbook.reservoirs[0], forecast(logbook, logbook.reservoirs[0])) is None


def test_a_reading_asked_about_is_looked_at_even_if_it_is_not_odd() -> None:
    logbook, reservoir = first_filling(0.95)
    told = triage(logbook, reservoir, 0)
    assert told is not None
    assert told.off_percent == pytest.approx(-5.0)


def test_one_part_missing_says_which_and_what_is_to_be_seen() -> None:
    planned = plan(SOFT)
    alone = Grower(SOFT, 1, Faults(pours=part(B=0.0)))
    alone.wrong = True
    alone.fill("1")
    logbook = alone.diary()
    told = triage(logbook, logbook.reservoirs[0])
    assert told is not None
    first = told.causes[0]
    assert (first.code, first.what, first.ask.code, first.ask.what) == ("part-missing", "B", "tank-level", "B")
    assert (first.ask.if_true, first.ask.if_not) == (0.0, pytest.approx(3000.0))
    assert told.off_percent < -30
    assert planned.feed.ec_ms_per_cm is not None


def test_the_part_alone_is_foretold_both_ways() -> None:
    """The jug: EC of the calcium side alone at 10 mL/L, right, and with the nitre forgotten, by plans of their own."""
    logbook = Grower(SOFT, 3, Faults(weights={NITRE: 0.0})).season()
    told = triage(logbook, logbook.reservoirs[0])
    assert told is not None
    cause = next(cause for cause in told.causes if cause.code == "salt-forgotten")
    assert (cause.what, cause.ask.code, cause.ask.dose) == (NITRE, "part-alone", 10.0)
    tank = cause.ask.what
    assert cause.ask.if_not == pytest.approx(_jug(tank), rel=1e-3)
    assert cause.ask.if_true == pytest.approx(_jug(tank, without=NITRE), rel=1e-3)


def _jug(letter: str, without: str = "") -> float:
    """EC of a litre with one planned tank alone, from a plan of just its amounts."""
    planned = plan(SOFT)
    (tank,) = (one for one in planned.tanks if one.name == letter)
    grams = {one.entry_id: one.grams for one in tank.contents if one.entry_id != without}
    shelf = tuple(
        structs.replace(one, exactly_mg_per_l=1000.0 * grams.get(one.key, 0.0) / tank.volume_l / tank.ratio)
        for one in SOFT.shelf
    )
    made = plan(structs.replace(SOFT, shelf=shelf, aim=structs.replace(SOFT.aim, targets=())))
    assert made.feed.ec_ms_per_cm is not None
    return made.feed.ec_ms_per_cm


def test_other_hydrates_weigh_what_their_water_weighs() -> None:
    others = other_hydrates(EPSOM)
    assert others["magnesium-sulfate-anhydrous"] == pytest.approx(246.47 / 120.37, rel=1e-4)
    assert NITRE not in others
    assert other_hydrates(NITRE) == {}
    assert other_hydrates("blend:mine") == {}


def test_plausibilities_are_shared_out_among_the_candidates_of_a_cause() -> None:
    acid = batch_of(ACID)
    entry = filling(batch=acid, acid_ml={"nitric-acid": 50.0})
    found = candidates(acid, entry, ("A", "B"), True, 0.6, 0.05, (3, 5))
    sums = dict.fromkeys(PLAUSIBLE, 0.0)
    for one in found:
        sums[one.code] += one.prior
    assert sums == pytest.approx(PLAUSIBLE)
    bare = {one.code for one in candidates(None, Entry("2026-03-01"), (), False, 0.0, 0.0, (0,))}
    assert bare == {"meter", "temperature", "scale", "water"}
