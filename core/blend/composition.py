"""What a milligram of a product brings: from formula, label and strength to totals."""

from __future__ import annotations

import numpy as np

from core.blend.nutrients import ATOMS, CHARGE, COLUMN, Array, close_with_inert
from core.catalog import ATOMIC_WEIGHTS, Salt, molar_mass_g_per_mol
from core.chemistry.components import COMPONENTS
from core.recipe.checks_label import TWICE_STATED
from core.recipe.records import NITROGEN_FORMS, LabelPercent, TankContents
from core.units.substances import FORMULAS


def _element_share(element: str, oxide: str) -> float:
    """The mass fraction of an element in its oxide."""
    atoms = FORMULAS[oxide]
    return atoms[element] * ATOMIC_WEIGHTS[element] / molar_mass_g_per_mol(atoms)


OXIDES: dict[str, tuple[str, float]] = {
    oxide: (element, _element_share(element, oxide)) for element, oxide in TWICE_STATED
}
"""Printed oxide -> element and its mass fraction of the oxide (from atomic weights)."""


def elements_percent(printed: dict[str, float]) -> dict[str, float]:
    """Turn printed oxides into elements, in per cent by mass; elements and N forms stay as they are."""
    percent: dict[str, float] = {}
    for name, value in printed.items():
        element, fraction = OXIDES.get(name, (name, 1.0))
        percent[element] = value * fraction
    return percent


def split_nitrogen(percent: dict[str, float], usual: dict[str, float]) -> dict[str, float]:
    """Give a printed total N its forms.

    Where the forms are printed they stand, and a remainder of the total goes to what the label leaves open: to the
    forms the product usually has, in their usual proportion, else to nitrate before ammonium before urea. Where only
    the total is printed the product's usual forms are scaled to it, and a product without any counts as nitrate.

    Parameters
    ----------
    percent : dict [% by mass] as printed
    usual : dict [% by mass or any unit] forms the product has by its formula or grade; may be empty
    """
    if "N" not in percent:
        return percent
    forms = {name: value for name, value in percent.items() if name in NITROGEN_FORMS}
    rest = {name: value for name, value in percent.items() if name != "N" and name not in NITROGEN_FORMS}
    remainder = percent["N"] - sum(forms.values())
    if not forms or remainder > 1e-9:
        for form, share in _open_forms(forms, usual).items():
            forms[form] = forms.get(form, 0.0) + remainder * share
    return rest | forms


def _open_forms(forms: dict[str, float], usual: dict[str, float]) -> dict[str, float]:
    """Shares of a remainder of nitrogen over the forms it goes to, those not printed first."""
    missing = [form for form in NITROGEN_FORMS if form not in forms]
    for among in (missing, NITROGEN_FORMS):
        known = {form: usual[form] for form in among if usual.get(form)}
        if known:
            return {form: value / sum(known.values()) for form, value in known.items()}
    return {missing[0] if missing else NITROGEN_FORMS[-1]: 1.0}


def _total_of(nutrient: str, salt: Salt | None) -> tuple[str, float]:
    """The total a printed nutrient is counted in, and its mg per mmol."""
    parts = ATOMS[nutrient]
    component = next((c for c in parts if salt is not None and c in salt.ions), next(iter(parts)))
    element, atoms = parts[component]
    return component, atoms * ATOMIC_WEIGHTS[element]


def _formula_totals(salt: Salt) -> Array:
    """Totals of the pure compound [mmol/mg]."""
    totals = np.zeros(len(COMPONENTS))
    for component, count in salt.ions.items():
        totals[COLUMN[component]] = count / salt.molar_mass_g_per_mol
    return totals


def formula_percent(salt: Salt) -> dict[str, float]:
    """Nutrients of the pure compound, N by form, in per cent by mass."""
    percent: dict[str, float] = {}
    for nutrient, parts in ATOMS.items():
        if nutrient == "N":
            continue
        mass = sum(salt.ions.get(c, 0.0) * atoms * ATOMIC_WEIGHTS[e] for c, (e, atoms) in parts.items())
        if mass:
            percent[nutrient] = 100.0 * mass / salt.molar_mass_g_per_mol
    return percent


def salt_totals(salt: Salt, label: LabelPercent, strength_percent: float | None) -> tuple[Array, float]:
    """Totals and alkalinity of one milligram of a catalog product.

    A pure salt has its formula's contents; a grade its default label; a label on the shelf wins for what it
    states, and what it leaves out (a counter-ion, a ligand, an unprinted sulfur) follows the formula at the same
    purity. A solution's strength dilutes all.

    Parameters
    ----------
    salt : Salt
    label : LabelPercent [% by mass]
    strength_percent : float or None [% by mass], for acids

    Returns
    -------
    totals : (n_components,) ndarray [mmol/mg], closed with inert ions
    alkalinity : float [meq/mg], from the formula
    """
    pure = _formula_totals(salt)
    formula_alkalinity = float(CHARGE @ pure)
    base = elements_percent(dict(salt.label_percent))
    stated = elements_percent(dict(label.items()))
    usual = split_nitrogen(base, formula_percent(salt)) if base else formula_percent(salt)
    printed = split_nitrogen(base | stated if not _nitrogen(stated) else _without_nitrogen(base) | stated, usual)
    if not printed:
        share = 1.0 if strength_percent is None else strength_percent / 100.0
        return pure * share, formula_alkalinity * share
    return _labelled(salt, pure, formula_alkalinity, printed)


def _labelled(salt: Salt, pure: Array, formula_alkalinity: float, printed: dict[str, float]) -> tuple[Array, float]:
    formula = formula_percent(salt)
    ratios = _ratios(printed, formula)
    purity = float(np.mean([ratio for _, ratio in ratios])) if ratios else 1.0
    totals = pure * purity
    for nutrient, percent in printed.items():
        component, mg_per_mmol = _total_of(nutrient, salt)
        totals[COLUMN[component]] = percent / 100.0 / mg_per_mmol
    cation = next((ratio for name, ratio in _ratios(printed, formula) if name in ("K", "Ca", "Na")), purity)
    alkalinity = formula_alkalinity * cation
    close_with_inert(totals, alkalinity)
    return totals, alkalinity


def _ratios(printed: dict[str, float], formula: dict[str, float]) -> list[tuple[str, float]]:
    """Printed content over the formula's, per nutrient that both have."""
    return [(name, printed[name] / formula[name]) for name in printed if formula.get(name)]


def blend_totals(label: LabelPercent) -> tuple[Array, float]:
    """Totals of one milligram of a product known by its label alone.

    Phosphorus counts as H2PO4; the charge left over is an inert monovalent ion, never Na or Cl; no alkalinity.
    """
    totals = np.zeros(len(COMPONENTS))
    for nutrient, percent in split_nitrogen(elements_percent(dict(label.items())), {}).items():
        component, mg_per_mmol = _total_of(nutrient, None)
        totals[COLUMN[component]] = percent / 100.0 / mg_per_mmol
    _chelate_traces(totals)
    close_with_inert(totals, 0.0)
    return totals, 0.0


def mixed_totals(mixed: TankContents) -> tuple[Array, float]:
    """Totals [mmol/mg] and alkalinity [meq/mg] of a tank already mixed: the charge its totals carry."""
    totals = np.zeros(len(COMPONENTS))
    for component, mmol_per_g in mixed.items():
        totals[COLUMN[component]] = mmol_per_g / 1000.0
    return totals, float(CHARGE @ totals)


def _chelate_traces(totals: Array) -> None:
    """Iron of a bought soluble blend is chelated: count it as ferric, so that its charge closes with the rest."""
    iron = totals[COLUMN["Fe"]]
    totals[COLUMN["Fe"]], totals[COLUMN["Fe3"]], totals[COLUMN["EDTA"]] = 0.0, iron, iron


def _nitrogen(percent: dict[str, float]) -> bool:
    return "N" in percent or any(form in percent for form in NITROGEN_FORMS)


def _without_nitrogen(percent: dict[str, float]) -> dict[str, float]:
    return {name: value for name, value in percent.items() if name != "N" and name not in NITROGEN_FORMS}
