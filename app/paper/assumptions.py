"""What the figures on paper rest on, said where they stand."""

from __future__ import annotations

from app.paper.job import Job
from app.paper.text import foreign
from app.wording import joined
from app.wording import paper as say


def assumed(job: Job) -> list[str]:
    """Return the assumptions of a plan, the water first."""
    return [_water(job), *_contents(job), *_strengths(job), say.assumption("no-acid")]


def _water(job: Job) -> str:
    water = job.recipe.water
    if not water.mg_per_l and job.recipe.second_water is None:
        return say.assumption("pure")
    return say.assumption("water", name=foreign(water.name)) if water.name else say.assumption("water-unnamed")


def _contents(job: Job) -> list[str]:
    used = [job.sources[amount.entry_id] for amount in job.plan.amounts]
    entered = [source for source in used if source.entry.label_percent]
    usual = [s for s in used if s.salt is not None and s.salt.label_percent and not s.entry.label_percent]
    told = [say.assumption("labels")] if entered else []
    if usual:
        told.append(say.assumption("usual", products=joined([job.full_within(source.key) for source in usual])))
    return told


def _strengths(job: Job) -> list[str]:
    used = [job.sources[amount.entry_id] for amount in job.plan.amounts]
    return [
        say.assumption("strength", product=job.within(s.key))
        for s in used
        if s.strength_percent is not None and s.entry.strength_percent is None and s.density_kg_per_l is not None
    ]
