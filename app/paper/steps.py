"""The steps of a tank, and of dosing, in words."""

from __future__ import annotations

from collections.abc import Collection

from app.paper.acid import acid_doses
from app.paper.job import Job
from app.wording import joined, tank_title
from app.wording import paper_steps as say
from core.bench.steps import Step, dosing_steps, tank_steps
from core.plan.records import Tank

TOGETHER = ("seal", "bottle", "silicate")
"""Steps whose products have no order."""


def tank_lines(job: Job, tank: Tank, from_bottle: Collection[str] = ()) -> tuple[str, ...]:
    """Return the steps that fill a tank, and only those it needs; `from_bottle` lists entries measured out of one."""
    judged_c = job.recipe.tanks.coldest_c if tank.cold_verdict == "clear" else None
    steps = tank_steps(tank.contents, tank.volume_l, judged_c, from_bottle)
    return tuple(_line(job, step) for step in steps)


def dosing_lines(job: Job) -> tuple[str, ...]:
    """Return the order in which the tanks make feed."""
    contents = [tank.content for tank in job.plan.tanks]
    steps = dosing_steps(contents, bool(job.outside("water")), bool(job.outside("reservoir")))
    return tuple(_dosing_line(job, step) for step in steps)


def _line(job: Job, step: Step) -> str:
    style, names = job.style, [job.within(key) for key in step.entry_ids]
    blanks = {
        "products": joined(names) if step.code in TOGETHER else say.in_turn(names),
        "level": "" if step.litres is None else style.volume(step.litres),
        "volume": "" if step.litres is None else style.volume(step.litres),
        "warm": "" if step.celsius is None else style.temperature(step.celsius),
    }
    remarks = [say.remark(mark) for mark in step.marks if say.remark(mark)]
    if step.code == "keep":
        cold = None if step.celsius is None else style.temperature(step.celsius)
        remarks = [say.keep_sentence(dark="dark" in step.marks, cold=cold)]
    sentence = say.step_sentence(step.code, **blanks)
    if step.code != "keep" and remarks:
        return f"{sentence.removesuffix('.')} {' '.join(remarks)}."
    return " ".join([sentence, *(remark for remark in remarks if remark)])


def _dosing_line(job: Job, step: Step) -> str:
    place = "reservoir" if step.code == "dose-acid-last" else "water"
    tanks = joined(list(dict.fromkeys(tank_title(content) for content in step.entry_ids)))
    return say.step_sentence(step.code, tanks=tanks, acids=joined(acid_doses(job, place)))
