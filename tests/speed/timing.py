"""Taking times: medians of many, the thing and what it is compared with in turn, so that drift hits both alike."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]


def medians_ms(*jobs: Callable[[], object], rounds: int = 60, repeats: int = 1) -> list[float]:
    """Return the median time of each job [ms], taken in turn over many rounds after one that does not count."""
    times: list[list[float]] = [[] for _job in jobs]
    for job in jobs:
        job()
    for _round in range(rounds):
        for place, job in enumerate(jobs):
            began = time.perf_counter_ns()
            for _repeat in range(repeats):
                job()
            times[place].append((time.perf_counter_ns() - began) / repeats / 1e6)
    return [statistics.median(taken) for taken in times]


def process_ms(*arguments: str, environment: dict[str, str] | None = None) -> Callable[[], object]:
    """Return a job that runs a fresh Python with these arguments in the repository and waits for its end."""

    def run() -> None:
        subprocess.run(
            [sys.executable, *arguments],
            cwd=TOP,
            check=True,
            capture_output=True,
            env={**os.environ, **(environment or {})},
        )

    return run


def report(rows: Sequence[tuple[str, float, str]]) -> None:
    """Print one line per figure: what, number, unit."""
    print()
    for what, number, unit in rows:
        print(f"  {what:<58} {number:>9.2f} {unit}")
