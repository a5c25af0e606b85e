"""Every way to fill tanks is listed once, and only ways that are allowed."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.tanks.partitions import TooManyWays, halved_ways, tanks_used, ways

STIRLING = {(5, 1): 1, (5, 2): 15, (5, 3): 25, (5, 4): 10, (7, 4): 350, (9, 3): 3025}


@pytest.mark.parametrize(("groups", "tanks"), STIRLING)
def test_without_rules_there_are_as_many_as_the_stirling_number(groups, tanks):
    masks = ways([0] * groups, tanks, 10**6)
    assert (tanks_used(masks) == tanks).sum() == STIRLING[groups, tanks]


@st.composite
def rules(draw):
    groups = draw(st.integers(1, 5))
    pairs = [pair for pair in itertools.combinations(range(groups), 2) if draw(st.booleans())]
    return [sum(1 << b for a, b in [*pairs, *((b, a) for a, b in pairs)] if a == group) for group in range(groups)]


def brute(forbidden, tanks, halved=None):
    """Every allowed way as a set of sets of groups, with `halved` in exactly two tanks."""
    found = set()
    for homes in itertools.product(range(tanks), repeat=len(forbidden)):
        extras = [None] if halved is None else [tank for tank in range(tanks) if tank != homes[halved]]
        for extra in extras:
            filled = [{g for g, home in enumerate(homes) if home == tank} for tank in range(tanks)]
            if extra is not None:
                filled[extra].add(halved)
                if filled[extra] == filled[homes[halved]] == {halved}:
                    continue
            if all(not forbidden[a] >> b & 1 for tank in filled for a in tank for b in tank):
                found.add(tuple(sorted(tuple(sorted(tank)) for tank in filled if tank)))
    return found


def as_sets(masks):
    listed = [tuple(sorted(tuple(g for g in range(8) if m >> g & 1) for m in row if m)) for row in masks.tolist()]
    assert len(listed) == len(set(listed))
    return set(listed)


@given(rules(), st.integers(1, 4))
def test_the_list_is_complete_and_has_no_doubles(forbidden, tanks):
    assert as_sets(ways(forbidden, tanks, 10**6)) == brute(forbidden, tanks)


@given(rules(), st.integers(2, 4))
def test_halves_stand_in_exactly_two_tanks(forbidden, tanks):
    masks = halved_ways(forbidden, 0, tanks, 10**6)
    assert as_sets(masks) == brute(forbidden, tanks, halved=0)
    assert ((masks & 1).sum(axis=1) == 2).all()


def test_too_many_ways_are_refused():
    with pytest.raises(TooManyWays):
        ways([0] * 12, 4, 1000)
