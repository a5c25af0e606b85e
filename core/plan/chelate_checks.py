"""Whether the iron stays with its chelate once the feed has aired."""

from __future__ import annotations

from collections.abc import Iterator

from core.blend.nutrients import COLUMN
from core.blend.solve import Blend
from core.plan.cautions import caution
from core.plan.feed import Forecast
from core.plan.records import Caution

LEAST_CHELATED_PERCENT = 80.0
"""Share of the iron that should stay chelated (this program's own choice: a fifth lost is what a trace element's usual
tolerance allows)."""


def chelate_cautions(blend: Blend, told: Forecast) -> Iterator[Caution]:
    """Chelated iron that settles as hydroxide, or that other metals push out, at the pH the feed comes to rest at."""
    share_percent = told.iron_chelated_percent
    if share_percent is None or share_percent >= LEAST_CHELATED_PERCENT:
        return
    used = zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True)
    salts = [source.entry.salt for source, x in used if x > 0.0 and source.totals[COLUMN["Fe3"]] > 0.0]
    yield caution("chelate-ph", ph=told.ph_aired, salts=salts, share_percent=share_percent)
