"""The order of the house: who may import whom, what lies where, and how long a module may be."""

from __future__ import annotations

import ast
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[1]
SOURCES = sorted(path for room in ("app", "core", "resources") for path in (TOP / room).rglob("*.py"))
LONGEST_MODULE = 400

CORE_MAY_IMPORT = {
    "units": {"catalog"},  # for atomic weights: 1 mmol of calcium is 40.08 mg
    "catalog": set(),
    "recipe": {"catalog"},
    "chemistry": set(),
    "blend": {"catalog", "chemistry", "recipe", "units"},
    "tanks": {"blend", "catalog", "chemistry", "recipe", "units"},
    "bench": {"blend", "catalog", "chemistry", "recipe", "tanks", "units"},
    "plan": {"bench", "blend", "catalog", "chemistry", "recipe", "tanks", "units"},
    "logbook": {"bench", "blend", "catalog", "chemistry", "plan", "recipe", "tanks", "units"},
}
"""Room of core -> the rooms it may import. A room below never knows one above."""

CORE_OF_ALL = {"phrase"}
"""Modules that stand in no room of core and that every room may import; they import none of them."""

ONLY_IN = {
    "PySide6": ("app/window/", "app/surfaces/", "app/widgets/", "app/session/", "app/paper/pdf"),
    "shiboken6": ("app/window/", "app/surfaces/", "app/widgets/", "app/session/", "app/paper/pdf"),
    "pint": ("core/units/",),
    "scipy": ("core/",),
    "highspy": ("core/",),
}
"""Package -> the only places that may import it."""

OURS = {"app", "core", "resources", "tests"}
OUTSIDE_PACKAGES = {"PySide6", "shiboken6", "highspy", "msgspec", "numpy", "pint", "scipy"}
TOP_LEVEL = re.compile(r"README\.md|DEVELOPERS\.md|pyproject\.toml|app|core|resources|tests|\..+")


def name_of(path: Path) -> str:
    return path.relative_to(TOP).as_posix()


@cache
def tree_of(path: Path) -> ast.Module:
    """Return what a module says, read once for all the tests here."""
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


@cache
def imports(path: Path) -> tuple[str, ...]:
    """Return the dotted name of every import of a module, those inside functions and for types included."""
    return tuple(_imports(path))


def _imports(path: Path) -> Iterator[str]:
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{name_of(path)}: a relative import"
            assert node.module is not None
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def room_of(path: Path) -> str:
    parts = path.relative_to(TOP / "core").parts
    return parts[0] if len(parts) > 1 else ""


def breaks_an_arrow(path: Path, imported: str) -> bool:
    here, first, room = path.relative_to(TOP).parts[0], *f"{imported}.".split(".")[:2]
    if first in OURS and first not in {"app": {"app", "core"}, "core": {"core"}, "resources": {"resources"}}[here]:
        return True
    if here != "core" or first != "core" or not room_of(path) or room == room_of(path):
        return False
    return room not in CORE_MAY_IMPORT[room_of(path)] | CORE_OF_ALL


def is_out_of_place(path: Path, imported: str) -> bool:
    first = imported.partition(".")[0]
    if first not in OUTSIDE_PACKAGES | OURS | sys.stdlib_module_names:
        return True  # no dependency of ours
    return first in ONLY_IN and not name_of(path).startswith(ONLY_IN[first])


def test_imports_follow_the_arrows() -> None:
    assert [f"{name_of(p)} imports {one}" for p in SOURCES for one in imports(p) if breaks_an_arrow(p, one)] == []


def test_packages_from_outside_stay_in_their_places() -> None:
    assert [f"{name_of(p)} imports {one}" for p in SOURCES for one in imports(p) if is_out_of_place(p, one)] == []


@pytest.mark.parametrize(
    ("path", "imported", "broken"),
    [
        ("core/recipe/reader.py", "app.session", True),
        ("core/recipe/reader.py", "core.plan.plan", True),
        ("core/plan/plan.py", "core.recipe.load", False),
        ("app/headless/plan.py", "core.plan.plan", False),
        ("app/headless/plan.py", "tests.conftest", True),
        ("core/units/text.py", "core.units.words", False),
    ],
)
def test_the_arrows_themselves(path: str, imported: str, broken: bool) -> None:
    assert breaks_an_arrow(TOP / path, imported) is broken


def test_chemistry_knows_arrays_not_records() -> None:
    for path in (TOP / "core" / "chemistry").glob("*.py"):
        assert not any("records" in imported for imported in imports(path)), name_of(path)


def test_a_surface_knows_no_other_one() -> None:
    """What two of them need lies in widgets, wording, or beside them; only the sheets are opened from one place."""
    for path in (TOP / "app" / "surfaces").glob("*/*.py"):
        others = [one for one in imports(path) if one.startswith("app.surfaces.") and one.count(".") > 3]
        foreign = {one.split(".")[2] for one in others} - {path.parent.name}
        assert not foreign - ({"compare", "why"} if path.parent.name == "editors" else set()), name_of(path)


def test_no_private_module_of_scipy() -> None:
    for path in SOURCES:
        private = [one for one in imports(path) if one.startswith("scipy.") and "._" in one]
        assert not private, f"{name_of(path)} imports {private}"


def test_no_module_is_longer_than_four_hundred_lines() -> None:
    modules = [*SOURCES, *(TOP / "tests").rglob("*.py")]
    long = {name_of(path): count for path in modules if (count := path.read_bytes().count(b"\n")) > LONGEST_MODULE}
    assert not long


def test_every_module_begins_with_a_docstring() -> None:
    modules = [*SOURCES, *(TOP / "tests").rglob("*.py")]
    bare = [name_of(path) for path in modules if path.stat().st_size and not ast.get_docstring(tree_of(path))]
    assert not bare


def test_every_package_is_shipped_and_no_test() -> None:
    listed = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["setuptools"]["packages"]
    found = sorted(name_of(path.parent).replace("/", ".") for path in SOURCES if path.name == "__init__.py")
    assert listed == found


def test_every_folder_of_sources_is_a_package() -> None:
    folders = {path.parent for path in SOURCES}
    assert [name_of(folder) for folder in folders if not (folder / "__init__.py").exists()] == []


@pytest.mark.skipif(not (TOP / ".git").exists() or shutil.which("git") is None, reason="not a clone")
def test_nothing_else_stands_at_the_top() -> None:
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
        cwd=TOP, capture_output=True, text=True, check=True,
    ).stdout  # fmt: skip
    tops = {name.partition("/")[0] for name in listed.split("\0") if name}
    assert [top for top in sorted(tops) if not TOP_LEVEL.fullmatch(top)] == []
