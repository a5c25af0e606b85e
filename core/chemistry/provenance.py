"""Where a species' numbers come from, for those who want to see it."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources


@dataclass(frozen=True)
class Provenance:
    """A source in words and how it is known: READ, DERIVED or MEMORY; the value told, where there is one."""

    source: str
    how_known: str
    value: float | None = None
    plus_minus: float | None = None


@cache
def _table(name: str) -> dict[str, dict[str, str]]:
    text = resources.files("resources.thermodynamics").joinpath(name).read_text(encoding="utf-8")
    return {row["species"]: row for row in csv.DictReader(text.splitlines())}


def _number(text: str) -> float | None:
    return float(text) if text else None


def formation_of(species: str) -> Provenance | None:
    """Log10 K at 25 degC by which a species forms, with its source; None for a plain ion, which is not formed."""
    row = _table("feed_species.csv").get(species) or _table("feed_chelates.csv").get(species)
    if row is None or row.get("component"):
        return None
    return Provenance(row["source"], row["how_known"], _number(row.get("log_k_25c", "")))


def conductivity_of(species: str) -> Provenance | None:
    """Limiting conductivity of an ion at 25 degC [S cm2/mol] with its source; None for what carries no charge."""
    row = _table("feed_conductivity.csv").get(species)
    if row is None:
        return None
    value, doubt = _number(row["lambda0_s_cm2_per_mol_25c"]), _number(row["plus_minus"])
    at_25_c = row["source"].partition("; change with temperature")[0]
    return Provenance(at_25_c, row["how_known"], value, doubt)
