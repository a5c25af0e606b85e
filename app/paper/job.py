"""What is printed from: a recipe, its blend and plan, and the names and marks the paper uses for them."""

from __future__ import annotations

import hashlib
from collections import Counter
from dataclasses import dataclass
from dataclasses import replace as dataclass_replace
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
from core.logbook.records import MadeBatch
from core.plan.records import Amount, Caution, Plan, Tank
from core.recipe import dumps
from core.recipe.records import Recipe

MARK_LETTERS = 8
OUTSIDE = ("water", "reservoir")
"""Places of acid that are no tank."""


@dataclass(frozen=True)
class Job:
    """One printing; frozen, so that every page tells of the same plan.

    `made`: of a batch that was mixed from it. `bench`: what is otherwise at the bench than in this plan, in words.
    """

    recipe: Recipe
    blend: Blend
    plan: Plan
    style: Style
    made: MadeBatch | None = None
    bench: tuple[str, ...] = ()

    @cached_property
    def title(self) -> str:
        """The recipe's title, harmless."""
        return foreign(self.recipe.title) or say.untitled()

    @cached_property
    def mark(self) -> str:
        """A short mark that is the same for the same recipe and for no other, to tell versions apart."""
        if self.made is not None and self.made.mark:
            return self.made.mark
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

    @cached_property
    def _plain_names(self) -> Counter[str]:
        """How many used products go by each plain name."""
        return Counter(self._plain(amount.entry_id) for amount in self.plan.amounts)

    def name(self, entry_id: str) -> str:
        """Return a product's name with grade, strength and its own name on the shelf where it has one."""
        return self._full(entry_id, ", {grade}")

    def full_within(self, entry_id: str) -> str:
        """Return the whole name as it stands within a list: "calcium nitrate (greenhouse grade)"."""
        return self._small(entry_id, self._full(entry_id, " ({grade})"))

    def within(self, entry_id: str) -> str:
        """Return a product's plain name within a sentence, or the whole one where two used products share it."""
        plain = self._plain(entry_id)
        return self._small(entry_id, plain) if self._plain_names[plain] < 2 else self.full_within(entry_id)

    def _small(self, entry_id: str, name: str) -> str:
        """The name with a small letter; what its owner named it keeps its letters."""
        return name if self.sources[entry_id].salt is None else within(name)

    def _plain(self, entry_id: str) -> str:
        source = self.sources[entry_id]
        if source.salt is None:
            return foreign(salt_name(source.entry.salt))
        return f"{name_parts(salt_name(source.entry.salt))[0]}{_strength(source)}"

    def _full(self, entry_id: str, graded: str) -> str:
        source = self.sources[entry_id]
        name = self._plain(entry_id)
        if source.salt is not None:
            main, grade = name_parts(salt_name(source.entry.salt))
            how = " {grade}" if grade.endswith("hydrate") else graded
            name = f"{main}{how.format(grade=grade) if grade else ''}{_strength(source)}"
        return name if entry_id == source.entry.salt else f"{name} ({foreign(entry_id)})"

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


def job_for_batch(batch: MadeBatch, units: Units = "auto") -> Job:
    """Return the printing of a batch as it was mixed: its own recipe and mark, the weights and volumes that went in."""
    from core.blend.solve import solve
    from core.logbook.batches import mixed_plan

    job = job_for(batch.recipe, solve(batch.recipe), mixed_plan(batch), units)
    return dataclass_replace(job, made=batch)


def _strength(source: Source) -> str:
    """The strength of a liquid that is bought at several, after its name."""
    if source.strength_percent is None or source.density_kg_per_l is None:
        return ""
    return f" {strength(source.strength_percent)}"


def _harmless(value: Any) -> Any:
    if isinstance(value, str):
        return foreign(value)
    return [_harmless(one) for one in value] if isinstance(value, (list, tuple)) else value
