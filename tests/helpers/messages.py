"""Every text a translator is given: what stands in `_()` and `marked()`, in the engine's phrases and in the catalog."""

from __future__ import annotations

import ast
import string
from functools import cache
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
IN_APP = {"_", "marked", "gettext"}
IN_CORE = {"Phrase": 1, "RecipeError": 2, "DamagedFile": 2, "UnitError": 1, "AmbiguousText": 1}
"""Whose first arguments, and how many of them, are texts for people."""


def calls(folder: str, names: set[str]) -> list[tuple[Path, ast.Call]]:
    """Return the calls of these names anywhere in a folder."""
    found = []
    for path in sorted((TOP / folder).rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in names:
                found.append((path, node))
    return found


@cache
def messages() -> frozenset[str]:
    """Return all of them."""
    return frozenset((*_of_app(), *_of_core(), *_of_catalog()))


def _of_app() -> list[str]:
    return [_literal(node) for _path, call in calls("app", IN_APP) for node in call.args[:1] if _literal(node)]


def _of_core() -> list[str]:
    found = []
    for _path, call in calls("core", set(IN_CORE)):
        assert isinstance(call.func, ast.Name)
        found += [_literal(node) for node in call.args[: IN_CORE[call.func.id]]]
    for _path, named in _assigned_phrases():
        found.append(named)
    return [text for text in found if text]


def _assigned_phrases() -> list[tuple[Path, str]]:
    """Return plain phrases that reach a refusal by a name, as in `what = "is given, but no second_water"`."""
    found = []
    for path in sorted((TOP / "core" / "recipe").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            named = isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") in {"what", "mend", "hint"}
            if isinstance(node, ast.Assign) and named:
                found += [(path, _literal(part)) for part in ast.walk(node.value) if _literal(part)]
    return found


def _of_catalog() -> list[str]:
    from core.catalog import crops, hazard, incompatible_pairs, salts, waters

    texts = [salt.name for salt in salts().values()]
    texts += [water.name for water in waters()]
    for profile in crops():
        texts += [profile.crop, profile.stage, profile.known.note]
    for group in (hazard(salt_id) for salt_id in salts()):
        if group is not None:
            texts += [part for one in group.classes for part in (one.hazard, one.hazard.split(" (")[0])]
            told = (group.wear, group.keep_apart_from, group.first_aid, group.storage, group.more)
            texts += [one.text for statements in told for one in statements]
    texts += [pair.result for pair in incompatible_pairs()]
    return [text for text in texts if text]


def _literal(node: ast.AST) -> str:
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


def blanks(template: str) -> set[str]:
    """Return the names of a sentence's blanks."""
    return {name for _text, name, _spec, _conversion in string.Formatter().parse(template) if name}
