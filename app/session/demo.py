"""The recipe shown at the first start, with its plan already made so that it stands there at once."""

from __future__ import annotations

from importlib.resources import files

import msgspec

from core.plan.records import Plan
from core.recipe import loads
from core.recipe.records import Recipe

NAME = "strawberry"


def demo_recipe() -> Recipe:
    """Return the demo's recipe."""
    name = f"{NAME}.saltwright"
    return loads(files("resources.demo").joinpath(name).read_bytes(), name)


def demo_plan() -> Plan | None:
    """Return the demo's plan as shipped, or None where it is missing or of another shape than this version's."""
    try:
        return msgspec.json.decode(files("resources.demo").joinpath(f"{NAME}.plan.json").read_bytes(), type=Plan)
    except (OSError, msgspec.MsgspecError):
        return None
