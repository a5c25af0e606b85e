"""What importing the program loads, each time in a fresh process."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

HEAVY = {"scipy", "pint", "highspy", "PySide6", "shiboken6"}

IMPORT_CORE_WITHOUT_QT = """
import importlib, pkgutil, sys
sys.modules["PySide6"] = sys.modules["shiboken6"] = None
import core
names = [found.name for found in pkgutil.walk_packages(core.__path__, "core.")]
for name in names:
    importlib.import_module(name)
print(len(names))
"""

PLAN_THE_DEMO = """
import importlib, pkgutil, app.headless
for found in pkgutil.walk_packages(app.headless.__path__, "app.headless."):
    importlib.import_module(found.name)
from app.headless.plan import plan_json
demo = importlib.import_module("app.session.demo")
from core.plan import plan
plan_json(plan(demo.demo_recipe()))
"""


def run(code: str, top: Path) -> str:
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", code], cwd=top, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def loaded_by(statement: str, top: Path) -> set[str]:
    shown = run(f"import sys\n{statement}\nprint(*{{name.partition('.')[0] for name in sys.modules}})", top)
    return set(shown.split())


@pytest.mark.parametrize("statement", ["import app", "import app.__main__", "import app.wording"])
def test_the_start_loads_nothing_heavy(statement: str, repository: Path) -> None:
    assert loaded_by(statement, repository) & (HEAVY | {"numpy", "msgspec"}) == set()


def test_reading_recipes_and_the_catalog_loads_nothing_heavy(repository: Path) -> None:
    assert loaded_by("import core.recipe, core.catalog, core.plan.records", repository) & HEAVY == set()


def test_the_command_line_never_loads_qt(repository: Path) -> None:
    assert loaded_by(PLAN_THE_DEMO, repository) & {"PySide6", "shiboken6"} == set()


def test_core_needs_no_qt(repository: Path) -> None:
    assert int(run(IMPORT_CORE_WITHOUT_QT, repository)) > 20


def test_the_whole_window_is_there_before_the_solver(repository: Path) -> None:
    pytest.importorskip("PySide6.QtWidgets", exc_type=ImportError)
    assert loaded_by("import app.window", repository) & {"scipy", "pint", "highspy"} == set()
