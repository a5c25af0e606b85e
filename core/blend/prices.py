"""What the shelf costs: known prices only, and which entries have none."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.blend.demands import Demands
from core.blend.nutrients import Array
from core.blend.shelf import Shelf


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
