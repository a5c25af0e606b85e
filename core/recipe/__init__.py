"""The recipe document: its frozen records, its file format and every reason to refuse a file."""

from __future__ import annotations

from core.recipe.checks import check
from core.recipe.errors import RecipeError
from core.recipe.reader import load, loads
from core.recipe.records import Recipe
from core.recipe.writer import dumps

__all__ = ["Recipe", "RecipeError", "check", "dumps", "load", "loads"]
