"""Where the catalog's figures for the products of a recipe come from, and how each is known."""

from __future__ import annotations

from app.paper.job import Job
from app.paper.text import foreign
from app.wording import joined
from app.wording import paper_parts as say
from app.wording.figures import capital
from core.catalog import Known, hazard, sources


def source_lines(job: Job) -> tuple[str, ...]:
    """Return one line per source and purpose, with the products it serves; typed labels last."""
    found: dict[tuple[str, str, str], list[str]] = {}
    for entry_id, what, known in _known(job):
        found.setdefault((known.source, what, known.how_known), []).append(job.within(entry_id))
    lines = [
        capital(say.source_of(_source(key), what, joined(list(dict.fromkeys(names))), say.known_how(how)))
        for (key, what, how), names in sorted(found.items(), key=lambda one: (one[0][1], one[0][0]))
    ]
    return (*lines, *_labels(job), *(foreign(line) for line in say.model_sources()))


def _known(job: Job) -> list[tuple[str, str, Known]]:
    told = []
    for amount in job.plan.amounts:
        source = job.sources[amount.entry_id]
        if source.salt is None:
            continue
        entered = {"label_percent"} if source.entry.label_percent else set()
        entered |= {"default_strength_percent"} if source.entry.strength_percent is not None else set()
        for field, known in source.salt.known.items():
            if say.what_known(field) and field not in entered:
                told.append((amount.entry_id, say.what_known(field), known))
        hazards = hazard(source.salt)
        classes = () if hazards is None else hazards.classes
        told += [(amount.entry_id, say.what_known("hazards"), one.known) for one in classes]
    return told


def _source(key: str) -> str:
    source = sources()[key]
    year = "" if source.year is None else f" {source.year}"
    return foreign(", ".join(part for part in (f"{source.author}{year}", source.title, source.where) if part))


def _labels(job: Job) -> list[str]:
    lines = []
    for amount in job.plan.amounts:
        label = job.sources[amount.entry_id].entry.label_percent
        contents = ", ".join(f"{name} {percent:g} %" for name, percent in label.items())
        if contents:
            lines.append(say.label_entered(job.within(amount.entry_id), contents))
    return lines
