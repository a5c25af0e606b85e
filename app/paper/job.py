"""What is printed from: a recipe, its blend and plan, and the names and marks the paper uses for them."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from msgspec.structs import replace

from app.paper.amounts import Style, Units, style_for
from app.paper.text import foreign
from app.wording import caution_text, salt_name, tank_title
from app.wording import paper as say
from app.wording.figures import capital, name_parts, strength, within
from core.bench.quantities import feed_from_tank_l
from core.blend.shelf import Source
from core.blend.solve import Blend
from core.plan.records import Amount, Caution, Plan, Tank
from core.recipe import dumps
from core.recipe.records import Recipe

MARK_LETTERS = 8
OUTSIDE = ("water", "reservoir")
"""Places of acid that are no tank."""


@dataclass(frozen=True)
class Job:
    """One printing; frozen, so that every page tells of the same plan."""

    recipe: Recipe
    blend: Blend
    plan: Plan
    style: Style

    @cached_property
    def title(self) -> str:
        """The recipe's title, harmless."""
        return foreign(self.recipe.title) or say.untitled()

    @cached_property
    def mark(self) -> str:
        """A short mark that is the same for the same recipe and for no other, to tell versions apart."""
        digest = hashlib.sha256(dumps(self.recipe)).hexdigest()[:MARK_LETTERS].upper()
        return f"{digest[:4]}-{digest[4:]}"

    @cached_property
    def sources(self) -> dict[str, Source]:
        """Every product of the shelf by its key."""
        return {source.key: source for source in self.blend.shelf.sources}

    @cached_property
    def feed_l(self) -> float:
        """How much feed the batch makes [L]."""
        tanks = self.plan.tanks
        return min((feed_from_tank_l(tank.volume_l, tank.ratio) for tank in tanks), default=0.0)

    def name(self, entry_id: str) -> str:
        """Return a product's name with grade, strength and its own name on the shelf where it has one."""
        source = self.sources[entry_id]
        main, grade = name_parts(salt_name(source.entry.salt)) if source.salt is not None else ("", "")
        name = f"{main} {grade}" if grade.endswith("hydrate") else ", ".join(part for part in (main, grade) if part)
        if source.salt is None:
            name = foreign(salt_name(source.entry.salt))
        elif source.strength_percent is not None and source.density_kg_per_l is not None:
            name = f"{name} {strength(source.strength_percent)}"
        if entry_id in (source.entry.salt, name):
            return name
        return f"{name} ({foreign(entry_id)})"

    def within(self, entry_id: str) -> str:
        """Return a product's name as it stands within a sentence; what its owner named it keeps its letters."""
        return self.name(entry_id) if self.sources[entry_id].salt is None else within(self.name(entry_id))

    def tank(self, tank: Tank) -> str:
        """Return what a tank is called in capitals."""
        return self.tank_in_sentence(tank.name).upper()

    def tank_in_sentence(self, name: str) -> str:
        """Return what the tank of this name is called: "calcium side", with its letter where several are alike."""
        tank = next(tank for tank in self.plan.tanks if tank.name == name)
        title = tank_title(tank.content)
        alike = sum(other.content == tank.content for other in self.plan.tanks)
        return f"{title} {foreign(name)}" if alike > 1 else title

    def outside(self, place: str) -> tuple[Amount, ...]:
        """Return what goes straight into the water or the reservoir."""
        return tuple(amount for amount in self.plan.amounts if amount.tank == place)

    def is_acid(self, entry_id: str) -> bool:
        """Tell whether a product is an acid."""
        return self.sources[entry_id].kind == "acid"

    def caution(self, caution: Caution) -> str:
        """Return a caution's sentence, with everything from outside in it made harmless."""
        return capital(
            caution_text(replace(caution, data={key: _harmless(value) for key, value in caution.data.items()}))
        )


def job_for(recipe: Recipe, blend: Blend, plan: Plan, units: Units = "auto") -> Job:
    """Return the printing of a plan; "auto" units are those of the scales."""
    return Job(recipe, blend, plan, style_for(units, (scale.readability_g for scale in recipe.batch.scales)))


def _harmless(value: Any) -> Any:
    if isinstance(value, str):
        return foreign(value)
    return [_harmless(one) for one in value] if isinstance(value, (list, tuple)) else value
