"""What a tank's own label has to warn of: hazards by the strength in the tank, not by the bag's.

The shares are by mass in a tank of water, each litre taken as a kilogram: concentrates weigh more, so a share is never
told too small. Limits for mixtures that the catalog does not hold are recalled (MEMORY) common rules, and the label
says that the suppliers' safety data sheets rule.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from core.bench.steps import Content
from core.catalog import HazardClass, hazard, salts

CUT_OFF_PERCENT = 0.1
"""Traces below this are not named, unless a limit of their own is lower (general cut-off of the EU's rules for
mixtures; MEMORY)."""

GENERAL_FROM_PERCENT = {"H318": 3.0, "H319": 10.0, "H315": 10.0, "H335": 20.0, "H302": 25.0}
"""Eye damage from 3 %, irritation of eyes and skin from 10 %, of the airways from 20 % (general limits; MEMORY, as the
catalog notes beside the entries that name them). Harmful if swallowed from 25 %: a salt of 500 mg/kg then reaches the
2000 mg/kg where the class ends (DERIVED from two recalled figures)."""

ONLY_DRY = ("H272",)
"""A solid that feeds fire does not do so in water; its dried residue does."""

DANGER = frozenset({"H314", "H318", "H330", "H331", "H360FD"})
OUTDONE_BY = {"H318": ("H314",), "H319": ("H314", "H318"), "H315": ("H314",), "H335": ("EUH071",)}
"""A lesser hazard is not told beside a graver one of its kind."""

Signal = Literal["Danger", "Warning", ""]


@dataclass(frozen=True)
class LabelHazards:
    """What a label says.

    Attributes
    ----------
    signal : "Danger", "Warning" or ""
    hazards : short hazard texts of the catalog, each once
    residue : True where dried splashes feed a fire
    unknown : entries the catalog holds no hazards for: only their own safety data sheet can say
    """

    signal: Signal
    hazards: tuple[str, ...]
    residue: bool
    unknown: tuple[str, ...]


def label_hazards(
    contents: Sequence[Content], volume_l: float, strength_percent: Mapping[str, float | None]
) -> LabelHazards:
    """Judge one tank.

    Parameters
    ----------
    contents : what is in it, for the whole tank
    volume_l : its volume [L]
    strength_percent : entry -> share of the compound in the product as bought [% by mass]; missing or None is pure
    """
    found: dict[str, HazardClass] = {}
    unknown = []
    for content in contents:
        known = hazard(content.salt) if content.salt in salts() else None
        if known is None:
            unknown.append(content.entry_id)
            continue
        share = content.grams / (10.0 * volume_l) * (strength_percent.get(content.entry_id) or 100.0) / 100.0
        for one in known.classes_at(share):
            if _told(one, share, is_liquid=salts()[content.salt].liquid):
                found.setdefault(one.code, one)
    codes = [code for code in found if not any(graver in found for graver in OUTDONE_BY.get(code, ()))]
    signal: Signal = "Danger" if DANGER & set(codes) else ("Warning" if codes else "")
    texts = tuple(dict.fromkeys(_plain(found[code].hazard) for code in sorted(codes, key=_gravest_first)))
    residue = any(content.salt in salts() and salts()[content.salt].oxidiser for content in contents)
    return LabelHazards(signal, texts, residue, tuple(unknown))


def product_hazards(salt_id: str, strength_percent: float | None) -> tuple[str, ...]:
    """Return the hazards of a product as it is bought, the gravest first; none for a product without an entry.

    Parameters
    ----------
    salt_id : of the catalog, or "blend:<own name>"
    strength_percent : share of the compound in the product [% by mass]; None is pure
    """
    known = hazard(salt_id) if salt_id in salts() else None
    if known is None:
        return ()
    found = {one.code: one for one in known.classes_at(100.0 if strength_percent is None else strength_percent)}
    codes = [code for code in found if not any(graver in found for graver in OUTDONE_BY.get(code, ()))]
    return tuple(dict.fromkeys(_plain(found[code].hazard) for code in sorted(codes, key=_gravest_first)))


def _told(one: HazardClass, share_percent: float, *, is_liquid: bool) -> bool:
    if one.from_percent > 0.0:
        return True
    if one.code in ONLY_DRY and not is_liquid:
        return False
    return share_percent >= GENERAL_FROM_PERCENT.get(one.code, CUT_OFF_PERCENT)


def _plain(text: str) -> str:
    """The hazard without its class in brackets: "damages eyes (Eye Dam. 1)" -> "damages eyes"."""
    return text.partition(" (")[0]


def _gravest_first(code: str) -> tuple[bool, str]:
    return code not in DANGER, code
