"""What the shelf costs: known prices only, and which entries have none."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.blend.demands import Demands
from core.blend.nutrients import Array
from core.blend.shelf import Shelf


def cost_per_1000_l(shelf: Shelf, amounts_mg_per_l: Array) -> tuple[float | None, tuple[str, ...]]:
    """What the priced of these amounts cost for 1000 L of feed, None where none has a price; and what has no price.

    1 mg/L is 1 g per 1000 L, so an amount in mg/L times a price per kg, divided by 1000, is the cost of 1000 L.

    Parameters
    ----------
    amounts_mg_per_l : (n_sources,) ndarray
    """
    used = [(s.entry, x) for s, x in zip(shelf.sources, amounts_mg_per_l.tolist(), strict=True) if x > 0.0]
    priced = [x * entry.price_per_kg / 1000.0 for entry, x in used if entry.price_per_kg is not None]
    return sum(priced) if priced else None, tuple(entry.key for entry, _ in used if entry.price_per_kg is None)


@dataclass(frozen=True, eq=False)
class Prices:
    """Prices of the free columns.

    Attributes
    ----------
    per_kg : (n,) ndarray, zero where there is none
    known : (n,) ndarray of bool
    """

    per_kg: Array
    known: NDArray[np.bool_]

    @property
    def complete(self) -> bool:
        """True where every column has a price."""
        return bool(self.known.all()) and self.known.size > 0


def prices_of(demands: Demands, shelf: Shelf) -> Prices:
    """The prices of the columns that are solved for."""
    given = [shelf.sources[column].entry.price_per_kg for column in demands.free]
    known = np.array([price is not None for price in given], dtype=bool)
    return Prices(np.array([price or 0.0 for price in given], dtype=float), known)
