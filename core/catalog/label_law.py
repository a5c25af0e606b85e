"""How far a bag may fall short of its label before the law calls it deficient.

A label is a promise with a legal slack: an inspector's limit for a lot that fails, not the usual error of a bag. All
of these laws are one-sided, only a shortfall counts. Points are percentage points of the product's mass.
"""

from __future__ import annotations

from functools import cache

import msgspec

from core.catalog.resource import Known, read

BLEND = "blend"
"""Stands for every bought blend among the products of an allowance."""


class Allowance(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """The shortfall allowed of one printed nutrient, for products named in `salts` or, where that is empty, for all.

    Either `rows` of (guarantee, points), interpolated and constant beyond both ends, or `points` and `share_percent`
    of the guarantee together, at most `at_most_points`. It holds for guarantees above `above_percent` up to
    `up_to_percent`.
    """

    printed: str
    known: Known
    salts: tuple[str, ...] = ()
    rows: tuple[tuple[float, float], ...] = ()
    points: float = 0.0
    share_percent: float = 0.0
    at_most_points: float | None = None
    above_percent: float = 0.0
    up_to_percent: float = 100.0

    def holds_for(self, product: str, printed: str, guarantee_percent: float) -> bool:
        """Tell whether this allowance is about a product's nutrient at this guarantee [% by mass]."""
        named = not self.salts or (BLEND if product.startswith(f"{BLEND}:") else product) in self.salts
        return named and printed == self.printed and self.above_percent < guarantee_percent <= self.up_to_percent

    def points_at(self, guarantee_percent: float) -> float:
        """Return the shortfall allowed at a guarantee [percentage points], never more than the guarantee itself."""
        if self.rows:
            return min(_interpolated(self.rows, guarantee_percent), guarantee_percent)
        points = self.points + self.share_percent / 100.0 * guarantee_percent
        most = guarantee_percent if self.at_most_points is None else self.at_most_points
        return min(points, most, guarantee_percent)


@cache
def label_laws() -> dict[str, tuple[Allowance, ...]]:
    """Return the laws by id: "us", "virginia", "eu-2003". The dict is shared: do not change it."""
    return read("label_law.json", dict[str, tuple[Allowance, ...]])


def shortfall_points(law: str, product: str, printed: str, guarantee_percent: float) -> float | None:
    """Return how far a product may fall short of a printed nutrient [percentage points].

    Parameters
    ----------
    law : an id of `label_laws`
    product : a catalog id or "blend:<own name>"
    printed : as labels have it: N, P2O5, K2O, else the element
    guarantee_percent : what the label promises [% by mass]

    Returns
    -------
    None where no limit for this was read: that is not the same as no slack.
    """
    found = (one for one in label_laws()[law] if one.holds_for(product, printed, guarantee_percent))
    first = next(found, None)
    return None if first is None else first.points_at(guarantee_percent)


def _interpolated(rows: tuple[tuple[float, float], ...], at: float) -> float:
    if at <= rows[0][0]:
        return rows[0][1]
    for (low, below), (high, above) in zip(rows, rows[1:], strict=False):
        if at <= high:
            return below + (above - below) * (at - low) / (high - low)
    return rows[-1][1]
