"""Printings of the demos and of the stories, planned once."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from app.paper.job import Job

TOP = Path(__file__).resolve().parents[3]
FOLDERS = (TOP / "tests" / "outside" / "stories", TOP / "resources" / "demo")
RECIPES = {path.stem: path for folder in FOLDERS for path in sorted(folder.glob("*.saltwright"))}


@cache
def _job(name: str, units: str) -> Job:
    from core.recipe import load

    return _printing(load(RECIPES[name]), units)


def _printing(recipe: Any, units: str = "auto") -> Job:
    from app.paper.job import job_for
    from core.plan import derive, solve

    blend = solve(recipe)
    return job_for(recipe, blend, derive(recipe, blend), units)  # type: ignore[arg-type]


@pytest.fixture
def job() -> Callable[..., Job]:
    """The printing of a demo or story by name."""
    return lambda name, units="auto": _job(name, units)


@pytest.fixture
def printing() -> Callable[..., Job]:
    """The printing of any recipe."""
    return _printing


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run a test that takes a `name` over every demo and story."""
    if "name" in metafunc.fixturenames:
        metafunc.parametrize("name", sorted(RECIPES))
