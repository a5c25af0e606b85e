"""The salts, acids, bases and chelates a grower can buy, each with what a formula unit is made of."""

from __future__ import annotations

from difflib import get_close_matches
from functools import cache
from typing import Literal

import msgspec

from core.catalog.atomic_weights import WATER_G_PER_MOL, molar_mass_g_per_mol
from core.catalog.resource import Known, read

Kind = Literal["salt", "acid", "base", "chelate", "silicate", "boron", "urea"]
Chelate = Literal["EDTA", "DTPA", "EDDHA", "HBED"]


_LONGEST_ID = 60


class UnknownSalt(ValueError):
    """A salt id the catalog does not hold; `close` lists up to three ids that look like it."""

    def __init__(self, salt_id: str) -> None:
        self.salt_id = salt_id
        self.close = _close_to(salt_id)
        shown = salt_id if len(salt_id) <= _LONGEST_ID else salt_id[:_LONGEST_ID] + "…"
        hint = f"; did you mean {' or '.join(self.close)}?" if self.close else "."
        super().__init__(f'The catalog holds no salt "{shown}"{hint}')


def _close_to(salt_id: str) -> tuple[str, ...]:
    """Return up to three ids that begin with this text or else resemble it."""
    if len(salt_id) > _LONGEST_ID:
        return ()
    text = "-".join(salt_id.lower().split())
    begun = [known for known in salts() if text and known.startswith(text)]
    alike = get_close_matches(text, tuple(salts()), n=3, cutoff=0.6)
    return tuple(dict.fromkeys(begun + alike))[:3]


class Salt(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """One product as it is bought.

    `elements` and `ions` count the atoms and the totals (core.chemistry.components) of one formula unit; a solution
    counts its solute without the water. `label_percent` is the default label of a grade, in % by mass, and then rules
    over the formula; it is empty for everything else. `rank` is the catalog order, commonest first. `known` says where
    each value comes from ("composition" stands for formula, elements, ions and crystal water).
    """

    id: str
    rank: int
    name: str
    formula: str
    kind: Kind
    elements: dict[str, float]
    ions: dict[str, float]
    known: dict[str, Known]
    crystal_water: float = 0.0
    label_percent: dict[str, float] = {}
    liquid: bool = False
    default_strength_percent: float | None = None
    solute_percent: float | None = None
    density_kg_per_l: float | None = None
    oxidiser: bool = False
    strong_acid: bool = False
    chelate: Chelate | None = None
    hygroscopic: bool = False
    critical_humidity_percent: float | None = None

    @property
    def molar_mass_g_per_mol(self) -> float:
        """Molar mass of the formula unit, crystal water included [g/mol]."""
        return molar_mass_g_per_mol(self.elements)

    @property
    def anhydrous_mass_fraction(self) -> float:
        """Share of the formula unit's mass that is not crystal water; of a ready solution, the share of its solute."""
        if self.solute_percent is not None:
            return self.solute_percent / 100.0
        return 1.0 - self.crystal_water * WATER_G_PER_MOL / self.molar_mass_g_per_mol


@cache
def salts() -> dict[str, Salt]:
    """Return every salt by id, in catalog order (commonest first). The dict is shared: do not change it."""
    return {salt.id: salt for salt in read("salts.json", tuple[Salt, ...])}


def salt(product: str | Salt) -> Salt:
    """Return the salt with this id (a Salt is passed through); raises UnknownSalt, naming close matches."""
    if isinstance(product, Salt):
        return product
    try:
        return salts()[product]
    except KeyError:
        raise UnknownSalt(product) from None
