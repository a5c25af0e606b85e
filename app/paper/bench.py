"""What is otherwise at the bench than in the plan that is printed: weights that went in, what a repair asked for."""

from __future__ import annotations

from dataclasses import replace

from app.paper.job import Job
from app.wording import paper as say
from app.wording.figures import capital
from core.logbook.progress import Progress, filled_volumes_l, to_add_g, wanted_g, weighed_g
from core.logbook.worklist import ToWeigh, each, volume_of, worklist


def on_the_bench(job: Job, progress: Progress) -> Job:
    """Return the printing of a plan with what the weighing of its batch has come to, where that differs from it."""
    items = each(worklist(job.blend, job.plan))
    lines = [line for item in items if (line := _line(job, item, progress))]
    filled = filled_volumes_l(progress, job.recipe.batch.tank_volume_l)
    lines += [
        say.bench_fill(
            capital(job.tank_in_sentence(tank.name)),
            job.style.volume(filled[tank.name]),
            job.style.volume(tank.volume_l),
        )
        for tank in job.plan.tanks
        if tank.name in filled
    ]
    return replace(job, bench=tuple(lines))


def _line(job: Job, item: ToWeigh, progress: Progress) -> str:
    inside, wanted, more = weighed_g(progress, item), wanted_g(progress, item), to_add_g(progress, item)
    product, planned = capital(job.within(item.entry_id)), _weight(job, item, item.planned_g)
    if inside is None:
        other = abs(wanted - item.planned_g) >= item.half_step_g
        return say.bench_other(product, _weight(job, item, wanted), planned) if other else ""
    if more > 0.0:
        return say.bench_more(product, _weight(job, item, inside), _weight(job, item, more))
    off = abs(inside - item.planned_g) >= item.half_step_g
    return say.bench_line(product, _weight(job, item, inside), planned) if off else ""


def _weight(job: Job, item: ToWeigh, grams: float) -> str:
    poured = volume_of(item, grams)
    return job.style.weight(grams, item.step_g) if poured is None else job.style.millilitres(poured)
