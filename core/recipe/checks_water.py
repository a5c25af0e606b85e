"""Water analyses that contradict themselves: nitrogen against its forms, alkalinity stated twice and differently."""

from __future__ import annotations

from core.phrase import Phrase
from core.recipe.errors import Path, RecipeError
from core.recipe.records import Water, WaterContents

MG_PER_MEQ = {"HCO3": 61.016, "CO3": 60.008 / 2, "CaCO3": 100.086 / 2}
"""Milligrams of each statement of alkalinity that are one milliequivalent; IUPAC abridged weights 2021."""

ALKALINITY_AGREEMENT = 0.05
"""Two statements of one alkalinity may differ by this share: a titration repeats to about 2-5 %."""

NITROGEN_ROUNDING_MG_PER_L = 0.3


def check_water(water: Water, path: Path) -> None:
    """Refuse an analysis in which two figures cannot both be true.

    Raises
    ------
    RecipeError : N below the sum of its forms, or HCO3/CO3 and CaCO3 more than 5 % apart.
    """
    contents, place = water.mg_per_l, (*path, "mg_per_l")
    forms = sum(form or 0.0 for form in (contents.no3_n, contents.nh4_n, contents.urea_n))
    if contents.n is not None and contents.n < forms - NITROGEN_ROUNDING_MG_PER_L:
        what = Phrase(
            "states N {total:.15g} mg/L, but its forms sum to {forms:.6g} mg/L", total=contents.n, forms=forms
        )
        raise RecipeError(what, "correct one of them or leave N out", place)
    _check_alkalinity(contents, place)


def _check_alkalinity(contents: WaterContents, path: Path) -> None:
    ions = [(contents.hco3, "HCO3"), (contents.co3, "CO3")]
    given = [(mg_per_l, name) for mg_per_l, name in ions if mg_per_l is not None]
    if contents.caco3 is None or not given:
        return
    from_ions = sum(mg_per_l / MG_PER_MEQ[name] for mg_per_l, name in given)
    from_caco3 = contents.caco3 / MG_PER_MEQ["CaCO3"]
    if abs(from_ions - from_caco3) > ALKALINITY_AGREEMENT * max(from_ions, from_caco3):
        names = Phrase("{first} and {second}", first="HCO3", second="CO3") if len(given) > 1 else given[0][1]
        what = Phrase(
            "states {from_ions:.3g} meq/L of alkalinity as {names}, but {from_caco3:.3g} as CaCO3",
            from_ions=from_ions,
            names=names,
            from_caco3=from_caco3,
        )
        raise RecipeError(what, "keep the one you trust, they are the same alkalinity", path)
