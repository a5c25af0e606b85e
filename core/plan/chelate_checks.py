"""Whether the iron stays with its chelate once the feed has aired."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from core.blend.nutrients import COLUMN
from core.blend.solve import Blend
from core.chemistry import AIR_CO2_ATM, kg_water_per_l, speciate
from core.chemistry.chelation import SYNTHETIC, iron_chelation
from core.plan.cautions import caution
from core.plan.records import Caution, Feed

LEAST_CHELATED_PERCENT = 80.0
"""Share of the iron that should stay chelated (this program's own choice: a fifth lost is what a trace element's usual
tolerance allows)."""

_LIGANDS = [COLUMN[name] for name in SYNTHETIC]


def chelate_cautions(blend: Blend, feed: Feed) -> Iterator[Caution]:
    """Chelated iron that settles as hydroxide, or that other metals push out, at the pH the feed comes to rest at."""
    iron = float(blend.totals[COLUMN["Fe3"]])
    if feed.ph_aired is None or iron <= 0.0 or not blend.totals[_LIGANDS].any():
        return
    column = blend.totals[:, None] * 1e-3
    aired = speciate(column / kg_water_per_l(column), 25.0, ph=feed.ph_aired, co2_atm=AIR_CO2_ATM)
    share_percent = 100.0 * float(np.nan_to_num(iron_chelation(aired).iron_chelated[0]))
    if share_percent < LEAST_CHELATED_PERCENT:
        used = zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True)
        salts = [source.entry.salt for source, x in used if x > 0.0 and source.totals[COLUMN["Fe3"]] > 0.0]
        yield caution("chelate-ph", ph=feed.ph_aired, salts=salts, share_percent=share_percent)
