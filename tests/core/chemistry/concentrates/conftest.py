"""Makes columns of totals from what is written by name."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import NDArray

from core.chemistry.components import COMPONENTS

Totals = Callable[..., NDArray[np.float64]]


@pytest.fixture(scope="session")
def totals() -> Totals:
    """One column per mapping of total to amount, (n_components, n)."""

    def make(*contents: dict[str, float]) -> NDArray[np.float64]:
        columns = np.zeros((len(COMPONENTS), len(contents)))
        for column, content in enumerate(contents):
            for name, amount in content.items():
                columns[COMPONENTS.index(name), column] += amount
        return columns

    return make
