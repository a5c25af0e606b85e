"""The weights as CSV with plain numbers, for spreadsheets and programs."""

from __future__ import annotations

import csv
import io

from app.paper.job import Job
from app.paper.text import shown
from app.wording.words import tank_title
from core.bench.quantities import feed_from_tank_l
from core.plan.records import Amount, Tank, TankContent

HEAD = (
    "place", "tank", "entry_id", "salt", "product", "mg_per_l_of_feed", "grams", "grams_to_weigh", "scale_capacity_g",
    "scale_readability_g", "millilitres", "tank_volume_l", "ratio", "ml_per_l_of_feed", "makes_feed_l",
)  # fmt: skip
"""Amounts of what goes into the water or the reservoir are for all the feed the batch makes."""

FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\N{FULLWIDTH EQUALS SIGN}", "\N{FULLWIDTH PLUS SIGN}",
                 "\N{FULLWIDTH HYPHEN-MINUS}", "\N{FULLWIDTH COMMERCIAL AT}")  # fmt: skip


def to_csv(job: Job) -> str:
    """Return one line per product and place; numbers have a point and no grouping, missing ones are empty."""
    written = io.StringIO()
    writer = csv.writer(written)
    writer.writerow(HEAD)
    for tank in job.plan.tanks:
        for content in tank.contents:
            writer.writerow(_in_tank(job, tank, content))
    for place in ("water", "reservoir"):
        for amount in job.outside(place):
            writer.writerow(_outside(job, place, amount))
    return written.getvalue()


def _in_tank(job: Job, tank: Tank, content: TankContent) -> list[str]:
    amount = next(amount for amount in job.plan.amounts if amount.entry_id == content.entry_id)
    capacity, step = (None, None) if content.scale is None else (content.scale.capacity_g, content.scale.readability_g)
    share = amount.shares.get(tank.name, 1.0)
    return [
        *_texts(tank_title(tank.content), tank.name, content.entry_id, content.salt, job.name(content.entry_id)),
        *_numbers(amount.mg_per_l * share, content.grams, content.grams_to_weigh, capacity, step, content.millilitres),
        *_numbers(tank.volume_l, tank.ratio, tank.ml_per_l, feed_from_tank_l(tank.volume_l, tank.ratio)),
    ]


def _outside(job: Job, place: str, amount: Amount) -> list[str]:
    grams, ml = amount.grams_in(job.feed_l), amount.ml_in(job.feed_l)
    return [
        *_texts(place, "", amount.entry_id, amount.salt, job.name(amount.entry_id)),
        *_numbers(amount.mg_per_l, grams, grams, None, None, ml, None, None, amount.ml_per_l, job.feed_l),
    ]


def _texts(*texts: str) -> list[str]:
    return [guarded(shown(text)) for text in texts]


def guarded(text: str) -> str:
    """Return a text that no spreadsheet takes for a formula: one that begins like one gets an apostrophe."""
    return f"'{text}" if text.lstrip().startswith(FORMULA_SIGNS) else text


def _numbers(*numbers: float | None) -> list[str]:
    return ["" if number is None else f"{number:.10g}" for number in numbers]
