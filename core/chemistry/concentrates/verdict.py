"""Two models, three words: clear, doubtful, settles.

A salt's tank is clear when the plain concentration product and Pitzer both lie under saturation, and settles when
Pitzer is over by more than its own error; anything between is doubtful. Measured on 36 saturated mixtures of KNO3 and
KH2PO4 (Wan & Wang 2018): the product errs by 0.042 log10 rms and never by more than +0.11; but without a common ion,
or with acid, it errs by 0.4 and more, always calling a tank fuller than it is. Where Pitzer has no answer the product
speaks, and it takes both, or a product beyond its own error, for "settles".
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.solids import ABSENT, makeup, solids

VERDICTS = ("clear", "doubtful", "settles")
"""Worded by rank 0, 1, 2."""

PITZER_ERROR = 0.1
"""A Pitzer saturation index above this is beyond doubt [log10]."""
PHOSPHATE_DOUBT = 0.3
"""Phosphates of calcium and magnesium start slowly: below this they are no concern [log10]."""
PHOSPHATE_BEYOND_DOUBT = {"brushite": 0.5}
"""Brushite at 0.5 is about 0.2 g of sludge a litre: 50 mmol/L of monopotassium phosphate in a usual calcium tank."""
ROUGH_BEYOND_DOUBT = 0.8
"""For the others: the line of doubt and the 0.5 by which their constants and the tank's pH may be off [log10]."""
PRODUCT_ERROR = 0.6
"""The most the product has been seen to call a tank too full, without a common ion [log10 of the product]."""
MINERAL_PRODUCT_ERROR = 1.5
"""As much for gypsum, whose solubility in 2 mol/kg calcium nitrate is 28 times that in water [log10 of the product]."""


class Judged(NamedTuple):
    """What the rules make of each tank.

    excess : (n_temperatures, n_solids, n_tanks) ndarray [log10] over the line where "clear" ends, below 0 within it;
    by_pitzer, by_product : what of it each model says, where Pitzer has no answer all of it in the first;
    rank : (n_temperatures, n_tanks) ints, places in VERDICTS; over : (n_temperatures, n_solids, n_tanks) bools, the
    solids that are not clear.
    """

    excess: Floats
    by_pitzer: Floats
    by_product: Floats
    rank: NDArray[np.int64]
    over: NDArray[np.bool_]

    def at(self, tanks: slice) -> Judged:
        """Some of the tanks."""
        excess, by_pitzer, by_product = (part[..., tanks] for part in (self.excess, self.by_pitzer, self.by_product))
        return Judged(excess, by_pitzer, by_product, self.rank[..., tanks], self.over[..., tanks])


def judge(index: Floats, product: Floats, pitzer_valid: NDArray[np.bool_]) -> Judged:
    """Rank tanks by their solids.

    index, product : (n_temperatures, n_solids, n_tanks) ndarrays [log10], product nan where not measured;
    pitzer_valid : (n_temperatures, n_tanks) bools: where not, the product alone speaks.
    """
    rules = _rules()
    measured = np.where(np.isnan(product), index, product)
    by_pitzer, settles, counted = index - rules.line, index > rules.sure, rules.salt
    if not pitzer_valid.all():
        valid = pitzer_valid[:, None]
        alone = np.where(rules.neutral, index, measured)
        by_pitzer = np.where(valid, index, alone) - rules.line
        agreed = np.minimum(index, alone)
        settles = np.where(valid, index, np.maximum(agreed, alone - rules.product_error + rules.sure)) > rules.sure
        counted = rules.salt & valid
    by_pitzer = np.maximum(by_pitzer, ABSENT)
    by_product = np.where(counted, measured, ABSENT)
    excess = np.maximum(by_pitzer, by_product)
    over = excess > 0.0
    rank = np.add(over.any(axis=1), settles.any(axis=1), dtype=np.int64)
    return Judged(excess, by_pitzer, by_product, rank, over)


class _Rules(NamedTuple):
    """What holds for each solid, (n_solids, 1) ndarrays.

    line, sure : where "clear" ends and where "settles" begins by Pitzer [log10]; product_error : how far the product
    errs [log10]; salt, neutral : its family.
    """

    line: Floats
    sure: Floats
    product_error: Floats
    salt: NDArray[np.bool_]
    neutral: NDArray[np.bool_]


@cache
def _rules() -> _Rules:
    family = makeup().family[:, None]
    beyond = np.array([[PHOSPHATE_BEYOND_DOUBT.get(row.id, ROUGH_BEYOND_DOUBT)] for row in solids()])
    return _Rules(
        np.where(family == "phosphate", PHOSPHATE_DOUBT, 0.0),
        np.where(family == "phosphate", beyond, PITZER_ERROR),
        np.where(family == "mineral", MINERAL_PRODUCT_ERROR, PRODUCT_ERROR),
        family == "salt",
        family == "neutral",
    )
