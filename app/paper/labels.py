"""Labels for the jugs: what is in it in the largest type, how to dose it, what to mind."""

from __future__ import annotations

from app.paper.blocks import Label, Part, Together
from app.paper.job import Job
from app.paper.sheet import doses
from app.paper.text import foreign
from app.wording import joined
from app.wording import paper_parts as say
from app.wording.words import catalog_words
from core.bench.label_hazards import LabelHazards, label_hazards
from core.plan.records import Tank


def labels(job: Job) -> Part | None:
    """Return a label for every tank, or None where there is none."""
    if not job.plan.tanks:
        return None
    return Part("labels", say.labels_title(job.title), tuple(Together((_label(job, tank),)) for tank in job.plan.tanks))


def _label(job: Job, tank: Tank) -> Label:
    strengths = {key: source.strength_percent for key, source in job.sources.items()}
    judged = label_hazards(tank.contents, tank.volume_l, strengths)
    dose, also = doses(job, tank)
    return Label(
        title=job.tank(tank),
        dose=dose,
        also=also,
        recipe=_recipe(job),
        blanks=say.label_blanks(made=job.made is not None),
        holds=say.label_holds(", ".join(job.full_within(content.entry_id) for content in tank.contents)),
        signal=say.signal_word(judged.signal),
        hazards=_hazards(job, judged),
        care=say.label_care(parts_apart=len(job.plan.tanks) > 1),
    )


def _recipe(job: Job) -> str:
    if job.made is None:
        return say.label_for(job.title, job.mark)
    return say.label_for_batch(job.title, job.mark, foreign(job.made.mixed_on[:10]), foreign(job.made.batch_id))


def _hazards(job: Job, judged: LabelHazards) -> tuple[str, ...]:
    lines = [say.label_hazards(", ".join(map(catalog_words, judged.hazards)))] if judged.hazards else []
    lines += [say.residue()] if judged.residue else []
    if judged.unknown:
        lines.append(say.not_judged(joined([job.within(key) for key in judged.unknown])))
    return tuple(lines or [say.no_hazard_known()])
