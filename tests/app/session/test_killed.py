"""The program killed at random moments while somebody types and saves: no file is broken, little typing is lost."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from app.session.slot import leftovers
from core.recipe import dumps, load

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="the runs are forked from one warm process")

RUNS, AT_ONCE, SEED = 50, 25, 20261125
MOST_LOST_S = 2.0


class Run(NamedTuple):
    """What one killed session left."""

    folder: Path
    killed_s: float
    edits_s: dict[int, float]
    saved: int

    @property
    def file(self) -> Path:
        return self.folder / "mine.saltwright"

    @property
    def last(self) -> int:
        return max(self.edits_s, default=0)


@pytest.fixture
def runs(tmp_path: Path, repository: Path) -> list[Run]:
    folder = tmp_path / "runs"
    folder.mkdir()
    typist = [sys.executable, "-m", "tests.app.session.typist", str(folder), str(SEED), str(RUNS), str(AT_ONCE)]
    done = subprocess.run(typist, cwd=repository, capture_output=True, text=True, check=False, timeout=60)
    assert done.returncode == 0, done.stderr
    return [read(folder / str(number)) for number in range(RUNS)]


def read(folder: Path) -> Run:
    lines = [line.split() for line in (folder / "typed").read_text(encoding="utf-8").splitlines()]
    edits = {int(number): float(at) for what, number, at in lines if what == "edit"}
    saved = max((int(number) for what, number, _at in lines if what == "save"), default=0)
    return Run(folder, float((folder / "killed").read_text(encoding="utf-8")), edits, saved)


def number_in(path: Path) -> int:
    """Return how far a recipe had come, having checked that every byte of its file is there."""
    recipe = load(path)
    assert path.read_bytes() == dumps(recipe)
    number = int(recipe.title.removeprefix("edit "))
    assert number == 0 or f'"K", "mg_per_l": {number}' in path.read_text(encoding="utf-8")
    return number


def newest(run: Run) -> Iterator[int]:
    """Yield how far the file and the copies offered at the next start had come."""
    yield number_in(run.file)
    for slot in leftovers(run.folder / "state" / "recovery"):
        assert slot.origin() == run.file
        yield number_in(slot.copy)
        slot.release()


def test_killed_at_random_moments(runs: list[Run]) -> None:
    assert sum(run.last > 0 for run in runs) >= RUNS * 0.5, "killed before they typed"
    assert sum(run.saved > 0 for run in runs) > RUNS * 0.2, "killed before they saved"
    assert max(run.last for run in runs) > 50
    broken = [run.folder.name for run in runs if not run.saved <= number_in(run.file) <= run.last + 1]
    assert broken == [], "a file that does not hold the last save"
    ours = {"mine.saltwright", "state", "typed", "killed"}
    assert [left for run in runs for left in os.listdir(run.folder) if left not in ours] == []
    lost_s = {run.folder.name: lost(run) for run in runs}
    assert {name: seconds for name, seconds in lost_s.items() if seconds > MOST_LOST_S} == {}


def lost(run: Run) -> float:
    """Return how much typing is gone [s]: from the first edit in neither file nor copy to the end."""
    first = max(newest(run)) + 1
    return run.killed_s - run.edits_s[first] if first in run.edits_s else 0.0
