"""Equations may be written out by another thread: whoever waits for a solution never waits for them."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
import pytest

from core.chemistry import equilibrium_one, speciate
from tests.core.chemistry.feeds import column

FEED = {"Ca": 3.1, "Mg": 1.2, "K": 5.0, "NO3": 9.0, "P": 1.1, "S": 2.0, "Cl": 0.7, "B": 0.0301}


@pytest.fixture
def put_off(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[Callable[[], None]]]:
    """What was put off, of a chemistry that has written nothing yet."""
    jobs: list[Callable[[], None]] = []
    monkeypatch.setattr(equilibrium_one, "FREQUENT", -1)
    monkeypatch.setattr(equilibrium_one, "_written", set())
    equilibrium_one.write_behind(jobs.append)
    yield jobs
    equilibrium_one.write_behind(None)


def ph_of_feed() -> float:
    return float(speciate(column(FEED), 22.0, alkalinity_eq_per_kg=4e-4).ph[0])


def test_the_slower_way_answers_until_they_are_there(put_off: list[Callable[[], None]]) -> None:
    before = [ph_of_feed() for _ in range(3)]
    assert len(put_off) == 1  # asked for once, however often they would have served
    put_off[0]()
    after = ph_of_feed()
    assert len(put_off) == 1
    np.testing.assert_allclose(before, after, rtol=1e-8)
    assert len(equilibrium_one._written) == 1


def test_without_anybody_to_do_it_they_are_written_at_once(put_off: list[Callable[[], None]]) -> None:
    equilibrium_one.write_behind(None)
    assert ph_of_feed() > 0.0
    assert not put_off
