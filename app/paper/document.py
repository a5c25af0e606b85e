"""Everything that is printed of one plan."""

from __future__ import annotations

from typing import Literal

from app.paper.blocks import Document, Part
from app.paper.dosing_card import dosing_card
from app.paper.job import Job
from app.paper.labels import labels
from app.paper.sheet import sheet
from app.paper.summary import summary

PartName = Literal["sheet", "labels", "card", "summary"]
PARTS: tuple[PartName, ...] = ("sheet", "labels", "card", "summary")

_MAKERS = {"sheet": sheet, "labels": labels, "card": dosing_card, "summary": summary}


def document(job: Job, parts: tuple[PartName, ...] = PARTS, decimal_mark: str = ".") -> Document:
    """Return the parts asked for, in their order; those with nothing to say are left out."""
    made = [_MAKERS[name](job) for name in PARTS if name in parts]
    kept: tuple[Part, ...] = tuple(part for part in made if part is not None)
    return Document(job.title, kept, decimal_mark)
