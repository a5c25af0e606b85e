"""The boxes about acid: how much, where, and what to mind; only where the recipe holds acid."""

from __future__ import annotations

from collections.abc import Iterable

from app.paper.amounts import PER_100_GAL_L, grouped
from app.paper.blocks import Box
from app.paper.job import OUTSIDE, Job
from app.wording import format_number, joined, safety, tank_title
from app.wording import paper as say
from core.catalog import hazard
from core.plan.records import Amount
from core.units.factors import US_FL_OZ_L

PER_L = 1000.0
"""Litres of feed an acid's dose is told for."""


def acid_boxes(job: Job, places: tuple[str, ...] = (*OUTSIDE, "tank")) -> tuple[Box, ...]:
    """Return one box per place acid goes to, of these places."""
    outside = [place for place in OUTSIDE if place in places and job.outside(place)]
    boxes = [_box(job, place, acid_doses(job, place), job.outside(place)) for place in outside]
    held = [amount for amount in job.plan.amounts if amount.shares and job.is_acid(amount.entry_id)]
    if held and "tank" in places:
        boxes.append(_box(job, "tank", [_in_tank(job, amount) for amount in held], ()))
    return tuple(boxes)


def acid_doses(job: Job, place: str) -> list[str]:
    """Return what goes into the water or the reservoir, each with its dose."""
    return [say.acid_dose(job.within(amount.entry_id), *_dose(job, amount)) for amount in job.outside(place)]


def wear(entry_ids: Iterable[str], job: Job) -> str:
    """Return what to wear for some products, each thing once; "" where nothing is known."""
    salts = [job.sources[key].salt for key in entry_ids]
    return safety.things_to_wear([salt for salt in salts if salt is not None])


def _dose(job: Job, amount: Amount) -> tuple[str, str]:
    per_1000_l = f"{grouped('1000')} L"
    ml = amount.ml_in(PER_L)
    if ml is None:
        return job.style.weight(amount.grams_in(PER_L), None), per_1000_l
    metric = f"{grouped(format_number(ml))} mL"
    if not job.style.us_volumes:
        return metric, per_1000_l
    fl_oz = (amount.ml_in(PER_100_GAL_L) or 0.0) / 1000.0 / US_FL_OZ_L
    return f"{format_number(fl_oz)} fl oz", f"100 US gal ({metric} per {per_1000_l})"


def _in_all(job: Job, amount: Amount) -> str:
    ml = amount.ml_in(job.feed_l)
    return job.style.weight(amount.grams_in(job.feed_l), None) if ml is None else job.style.millilitres(ml)


def _in_tank(job: Job, amount: Amount) -> str:
    titles = [tank_title(tank.content) for tank in job.plan.tanks if tank.name in amount.shares]
    return f"{job.within(amount.entry_id)} ({joined(titles)})"


def _box(job: Job, place: str, acids: list[str], outside: tuple[Amount, ...]) -> Box:
    entries = [a.entry_id for a in outside] or [
        a.entry_id for a in job.plan.amounts if a.shares and job.is_acid(a.entry_id)
    ]
    lines = [say.acid_in_all(_in_all(job, one), job.style.volume(job.feed_l)) for one in outside if job.feed_l]
    things = wear(entries, job)
    lines += [say.acid_wear(things)] if things else []
    sold = [salt for key in entries if (salt := job.sources[key].salt) is not None]
    known = [found for salt in sold if (found := hazard(salt)) is not None]
    aid = safety.first_aid(*known)
    return Box(say.acid_title(place, joined(acids)), (*lines, *([aid] if aid else []), " ".join(say.acid_rules())))
