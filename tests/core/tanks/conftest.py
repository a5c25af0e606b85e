"""Products from the catalog as tank items, and a chemistry simple enough to follow by hand."""

import numpy as np
import pytest

from core.catalog import salt
from core.chemistry.components import COMPONENTS
from core.tanks.items import INDEX, item_of

SOLIDS = {
    "potassium-nitrate": ({"K": 1, "NO3": 1}, 0.65),
    "potassium-sulfate": ({"K": 2, "S": 1}, -0.22),
    "monopotassium-phosphate": ({"K": 1, "P": 1}, 0.22),
    "gypsum": ({"Ca": 1, "S": 1}, -2.2),
    "brushite": ({"Ca": 1, "P": 1}, -3.0),
}
"""Solid -> its ions and log10 of the product of concentrations [mol/L] at saturation and 10 °C; rounded, for tests."""


class Products:
    """Plain concentration products: clear below saturation, in doubt up to 0.1 above, then settling."""

    def __init__(self, over):
        self.over = over
        self.solids, self.excess = tuple(SOLIDS), np.moveaxis(over, 0, 1)
        self.margin = np.minimum(-over.max(axis=0), 99.0)
        self.rank = (self.margin < 0).astype(np.int64) + (self.margin < -0.1)

    def limited_by(self, temperature, tank):
        return list(SOLIDS)[self.over[:, temperature, tank].argmax()]

    def settling(self, temperature, tank):
        over = dict(zip(SOLIDS, self.over[:, temperature, tank], strict=True))
        return tuple(name for name in sorted(over, key=over.get, reverse=True) if over[name] > 0)


def concentration_products(totals_mol_per_l, temperatures_c):
    logs = np.log10(np.maximum(totals_mol_per_l, 1e-30))
    over = [
        [sum(n * logs[INDEX[ion]] for ion, n in ions.items()) - log_k - 0.02 * (t - 10) for t in temperatures_c]
        for ions, log_k in SOLIDS.values()
    ]
    return Products(np.array(over))


def make_item(salt_id, mg_per_l, key=None):
    """A catalog product as pure formula at this amount [mg per litre of finished feed]."""
    product = salt(salt_id)
    ions = np.zeros(len(COMPONENTS))
    for component, count in product.ions.items():
        ions[INDEX[component]] = count * mg_per_l / 1000 / product.molar_mass_g_per_mol
    return item_of(key or salt_id, product, mg_per_l / 1000, ions)


def make_blend(name, mg_per_l, **mmol_per_g):
    """A product known by its label alone, with the totals it holds [mmol/g]."""
    ions = np.zeros(len(COMPONENTS))
    for component, amount in mmol_per_g.items():
        ions[INDEX[component]] = amount * mg_per_l * 1e-6
    return item_of(f"blend:{name}", None, mg_per_l / 1000, ions)


@pytest.fixture
def item():
    return make_item


@pytest.fixture
def blend():
    return make_blend
