"""The most of a nutrient or ballast ion a feed should hold: one-sided, as published."""

from __future__ import annotations

from functools import cache
from typing import Literal

import msgspec

from core.catalog.resource import Known, read


class FeedLimit(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The most a feed should hold of one nutrient [mg/L].

    `harm`: "toxic" where more may poison the crop; "accumulates" where plants leave most of it behind, so that it
    builds up wherever drain is used again.
    """

    nutrient: str
    at_most_mg_per_l: float
    harm: Literal["toxic", "accumulates"]
    known: Known


@cache
def feed_limits() -> tuple[FeedLimit, ...]:
    """Return every limit, those of poisonous nutrients first."""
    return read("limits.json", tuple[FeedLimit, ...])
