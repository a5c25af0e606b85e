"""Labels that cannot be: an element stated twice, more than the whole product, nitrogen against its own forms."""

from __future__ import annotations

from core.phrase import Phrase
from core.recipe.errors import Path, RecipeError
from core.recipe.records import NITROGEN_FORMS, LabelPercent

TWICE_STATED = (
    ("P", "P2O5"), ("K", "K2O"), ("Ca", "CaO"), ("Mg", "MgO"), ("S", "SO3"), ("Si", "SiO2"), ("Na", "Na2O"),
)  # fmt: skip
OXIDES = frozenset(oxide for _, oxide in TWICE_STATED)

HIGHEST_SUM_PERCENT = 101.0
"""One per cent over the whole: printed figures are rounded, K2SO4 as K2O 54 + SO3 46.5 is an honest label."""

OXYGEN_PER_CHLORINE = 15.999 / (2 * 35.45)
"""Oxygen an oxide figure counts too much beside chlorine (KCl prints K2O 63 + Cl 48); IUPAC abridged weights 2021."""

NITROGEN_ROUNDING_PERCENT = 0.3
"""Total N may print this much below the sum of its forms: three figures rounded to 0.1 each."""


def check_label(label: LabelPercent, path: Path) -> None:
    """Refuse a label that no product can carry.

    Raises
    ------
    RecipeError : an element and its oxide both given, N below the sum of its forms, or over 100 % in sum.
    """
    stated = dict(label.items())
    for element, oxide in TWICE_STATED:
        if element in stated and oxide in stated:
            what = Phrase("states both {element} and {oxide}, the same thing twice", element=element, oxide=oxide)
            raise RecipeError(what, "keep the one the label prints", path)
    forms = sum(stated.get(form, 0.0) for form in NITROGEN_FORMS)
    if stated.get("N", forms) < forms - NITROGEN_ROUNDING_PERCENT:
        what = Phrase("states N {total:.15g} %, but its forms sum to {forms:.6g} %", total=stated["N"], forms=forms)
        raise RecipeError(what, "correct one of them or leave N out", path)
    total = _sum_percent(stated)
    if total > HIGHEST_SUM_PERCENT:
        raise RecipeError(Phrase("sums to {total:.5g} %, over 100 %", total=total), "correct it", path)


def _sum_percent(stated: dict[str, float]) -> float:
    """Return the least share of the product the label claims; nitrogen counts once, as N or its forms."""
    forms = sum(stated.get(form, 0.0) for form in NITROGEN_FORMS)
    nitrogen = max(stated.get("N", 0.0), forms)
    others = {name: percent for name, percent in stated.items() if name not in ("N", *NITROGEN_FORMS)}
    as_elements = nitrogen + sum(percent for name, percent in others.items() if name not in OXIDES)
    as_stated = nitrogen + sum(others.values()) - OXYGEN_PER_CHLORINE * stated.get("Cl", 0.0)
    return max(as_elements, as_stated)
