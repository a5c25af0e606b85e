"""Two windows write into one logbook: what both wrote is kept, what contradicts itself is refused."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from core.logbook.merge import Conflict, in_order, merged, with_entry
from core.logbook.records import Entry, Logbook, MadeBatch, Reservoir
from tests.helpers.recipes import recipe

BASE = Logbook(reservoirs=(Reservoir("one", 300, entries=(Entry("2026-03-01", ph=6.0), Entry("2026-03-02"))),))
PLAIN = recipe({"N": 150.0}, ["potassium-nitrate"])


def changed(logbook: Logbook, **fields) -> Logbook:
    return structs.replace(logbook, reservoirs=(structs.replace(logbook.reservoirs[0], **fields),))


def entries(*days: int) -> tuple[Entry, ...]:
    return in_order([Entry(f"2026-03-{day:02d}") for day in days])


@settings(max_examples=80)
@given(*[st.lists(st.integers(1, 9), max_size=5)] * 3)
def test_both_sides_entries_are_there(base: list[int], mine: list[int], theirs: list[int]) -> None:
    sides = [changed(BASE, entries=entries(*days)) for days in (base, base + mine, base + theirs)]
    assert merged(*sides).reservoirs[0].entries == entries(*base, *mine, *theirs)
    assert merged(sides[0], sides[1], sides[0]) == sides[1]
    assert merged(sides[0], sides[0], sides[2]) == sides[2]


def test_one_takes_an_entry_out_while_the_other_adds_one() -> None:
    mine = changed(BASE, entries=BASE.reservoirs[0].entries[1:])
    theirs = changed(BASE, entries=(*BASE.reservoirs[0].entries, Entry("2026-03-03")))
    assert [one.at for one in merged(BASE, mine, theirs).reservoirs[0].entries] == ["2026-03-02", "2026-03-03"]


def test_an_entry_both_changed_stays_in_both_versions() -> None:
    first, second = BASE.reservoirs[0].entries
    mine = changed(BASE, entries=(structs.replace(first, ph=5.8), second))
    theirs = changed(BASE, entries=(structs.replace(first, ph=5.9), second))
    assert sorted(one.ph or 0 for one in merged(BASE, mine, theirs).reservoirs[0].entries) == [0, 5.8, 5.9]


def test_batches_and_reservoirs_of_both_sides() -> None:
    mine = structs.replace(BASE, batches=(MadeBatch("1", "2026-03-01", PLAIN),))
    theirs = structs.replace(BASE, reservoirs=(*BASE.reservoirs, Reservoir("two", 40)), title="ours")
    whole = merged(BASE, mine, theirs)
    assert (whole.title, len(whole.batches), len(whole.reservoirs)) == ("ours", 1, 2)


def test_a_reservoir_one_took_out_goes_unless_the_other_wrote_into_it() -> None:
    gone = structs.replace(BASE, reservoirs=())
    assert merged(BASE, gone, structs.replace(BASE, title="x")).reservoirs == ()
    with pytest.raises(Conflict, match="one"):
        merged(BASE, gone, changed(BASE, entries=entries(1, 2, 3)))


def test_what_contradicts_itself_is_refused_by_name() -> None:
    with pytest.raises(Conflict, match="one"):
        merged(BASE, changed(BASE, volume_l=200), changed(BASE, volume_l=400))
    with pytest.raises(Conflict, match="title"):
        merged(BASE, structs.replace(BASE, title="a"), structs.replace(BASE, title="b"))
    assert merged(BASE, changed(BASE, volume_l=200), changed(BASE, volume_l=200)).reservoirs[0].volume_l == 200


def test_entries_of_one_time_stay_as_they_stood() -> None:
    one = with_entry(BASE.reservoirs[0], Entry("2026-03-01", note="later"))
    assert [entry.note for entry in one.entries] == ["", "later", ""]
