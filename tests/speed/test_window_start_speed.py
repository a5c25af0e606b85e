"""From nothing to the painted window and the solved demo, beside a bare window of the same library, and the memory."""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.speed.timing import TOP, report
from tests.speed.window_start import STARTED

pytestmark = pytest.mark.speed

ROUNDS = 9


def started(which: str, home: Path) -> dict[str, float]:
    """Start one process, under the screen there is, with a home of its own, compiled as at a user's second start."""
    real = "DISPLAY" in os.environ
    inherited = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    done = subprocess.run(
        [sys.executable, "-m", "tests.speed.window_start", which],
        cwd=TOP,
        check=True,
        capture_output=True,
        text=True,
        env={
            **inherited,
            "PYTHONPYCACHEPREFIX": str(home / "compiled"),
            "QT_QPA_PLATFORM": "xcb" if real else "offscreen",
            "HOME": str(home),
            "XDG_CONFIG_HOME": str(home / "config"),
            "XDG_DATA_HOME": str(home / "data"),
            STARTED: str(time.monotonic_ns()),
        },
    )
    told: dict[str, float] = json.loads(done.stdout.splitlines()[-1])
    return told


def test_start(tmp_path: Path) -> None:
    bare, demo = [], []
    started("bare", tmp_path)
    started("demo", tmp_path)
    for _round in range(ROUNDS):
        bare.append(started("bare", tmp_path))
        demo.append(started("demo", tmp_path))
    first_bare, first, solved = (
        statistics.median(one[name] for one in runs)
        for runs, name in ((bare, "first_ms"), (demo, "first_ms"), (demo, "solved_ms"))
    )
    report(
        [
            ("first painted window, bare library", first_bare, "ms"),
            ("first painted window", first, "ms"),
            ("  as a multiple of the bare one", first / first_bare, "x"),
            ("solved demo on screen", solved, "ms"),
            ("memory, bare library", statistics.median(one["memory_mb"] for one in bare), "MB"),
            ("memory, demo open and engine loaded", statistics.median(one["memory_mb"] for one in demo), "MB"),
        ]
    )
    assert first <= 2.0 * first_bare
    assert solved <= 1000.0
    assert max(one["memory_mb"] for one in demo) <= 220.0
