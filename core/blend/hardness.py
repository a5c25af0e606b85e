"""Total hardness of a water report: what calcium and magnesium make of it, and the one of them it leaves to be told."""

from __future__ import annotations

from msgspec import structs

from core.phrase import Phrase
from core.recipe.records import WaterContents
from core.units.substances import milligrams_per_milliequivalent

MG_PER_MEQ = {name: milligrams_per_milliequivalent(name) for name in ("Ca", "Mg")}

ROUND_OFF_MEQ_PER_L = 0.05
"""Calcium alone may stand this much above the hardness, as reports round both (own choice; 0.14 °dH)."""


class HardnessError(ValueError):
    """A hardness that fills nothing in; carries one sentence with what to do instead."""


def hardness_meq_per_l(contents: WaterContents) -> float | None:
    """Return the hardness calcium and magnesium make [meq/L]; None where not both are stated."""
    if contents.ca is None or contents.mg is None:
        return None
    return contents.ca / MG_PER_MEQ["Ca"] + contents.mg / MG_PER_MEQ["Mg"]


def with_hardness(contents: WaterContents, total_meq_per_l: float) -> WaterContents:
    """Return the contents with calcium or magnesium, whichever is not stated, as the rest of the hardness.

    Parameters
    ----------
    contents : of a report that states one of the two [mg/L]
    total_meq_per_l : its total hardness [meq/L]

    Raises
    ------
    HardnessError : neither is stated or both are, or the one that is makes more than the hardness.
    """
    if contents.ca is None and contents.mg is None:
        raise HardnessError(
            Phrase("Hardness alone does not say how much of it is calcium: enter calcium or magnesium first.")
        )
    if contents.ca is not None and contents.mg is not None:
        raise HardnessError(
            Phrase("Calcium and magnesium are both stated. Empty the one that hardness is to fill in, then type it.")
        )
    stated, missing = ("Ca", "Mg") if contents.mg is None else ("Mg", "Ca")
    known = contents.ca if contents.mg is None else contents.mg
    assert known is not None
    rest = total_meq_per_l - known / MG_PER_MEQ[stated]
    if rest < -ROUND_OFF_MEQ_PER_L:
        raise HardnessError(
            Phrase("The {stated} stated makes more than this hardness: look at both figures again.", stated=stated)
        )
    return structs.replace(contents, **{missing.lower(): float(f"{max(rest, 0.0) * MG_PER_MEQ[missing]:.4g}")})
