"""One solution given by hand: the question as plain data in, the answer as plain data out.

Without `ph` the solution is taken to be electrically neutral, and that fixes its pH. `H` then adds nothing; it
may be given as acid beyond the neutral salts (0.5 in K 1, P 1, Cl 0.5) or as hydrogen counted over the bare
anions (2 in K 1, P 1), and is only checked against the charges. With `ph`, the pH rules and what charge is left
over is told. Iron is iron(II). With `air` the carbon follows from the air and `C` is not used.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from difflib import get_close_matches
from typing import Any

import numpy as np

from core.chemistry.components import COMPONENTS, REFERENCE_CHARGE
from core.chemistry.conductivity import conductivity_ms_per_cm
from core.chemistry.errors import OutOfRange
from core.chemistry.solids import saturation_indices
from core.chemistry.speciation import AIR_CO2_ATM, speciate

TOTALS = ("Ca", "Mg", "K", "Na", "NH4", "NO3", "P", "S", "Cl", "C", "B", "Si", "Fe", "Mn", "Zn", "Cu", "Mo", "H")
"""Totals that may be given [mmol/kg water]."""

_KEYS = ("temperature_c", "mmol_per_kg", "ph", "air")
_BARE_HYDROGEN = {"P": 2, "C": 2}
"""Hydrogen that the reference form holds over the bare anion, PO4-3 or CO3-2."""


class SolutionError(ValueError):
    """The question cannot be answered; the message is one sentence for people."""


def solve_solution(question: Mapping[str, Any]) -> dict[str, Any]:
    """Answer a question of the shape {"temperature_c", "mmol_per_kg": {...}, "ph", "air"}.

    temperature_c : number [degC], 0-40, 25 if left out
    mmol_per_kg : totals [mmol/kg water], keys of `TOTALS`
    ph : number [-] or null
    air : true for a solution open to air

    Returns temperature_c, ec_ms_per_cm (at 25 degC), ph, ionic_strength_mol_per_kg, species_mol_per_kg and
    saturation_index (both at the temperature given), charge_error_percent. Raises SolutionError.
    """
    _refuse_unknown(question.keys(), _KEYS, "question")
    temperature_c = _number(question.get("temperature_c", 25.0), "temperature_c")
    totals = _totals(question.get("mmol_per_kg"))
    ph = None if question.get("ph") is None else _number(question["ph"], "ph")
    if ph is not None and not 0.0 <= ph <= 14.0:
        raise SolutionError(f"ph must lie between 0 and 14, not {ph:g}.")
    air = question.get("air", False)
    if not isinstance(air, bool):
        raise SolutionError("air must be true or false.")
    hydrogen = totals.pop("H", None)
    if ph is None and hydrogen is not None:
        _check_hydrogen(totals, hydrogen)
    return _answer(totals, temperature_c, ph, AIR_CO2_ATM if air else None)


def _answer(totals: dict[str, float], temperature_c: float, ph: float | None, co2_atm: float | None) -> dict[str, Any]:
    column = np.array([totals.get(name, 0.0) for name in COMPONENTS])
    try:
        found = speciate(column, temperature_c, ph=ph, co2_atm=co2_atm)
        conductivity = conductivity_ms_per_cm(found)
    except OutOfRange as error:
        raise SolutionError(str(error)) from None
    species = {name: float(m) for name, m in zip(found.names, found.molality[:, 0], strict=True) if m > 0.0}
    index = {name: float(value[0]) for name, value in saturation_indices(found).items() if math.isfinite(value[0])}
    return {
        "temperature_c": temperature_c,
        "ec_ms_per_cm": float(conductivity[0]),
        "ph": float(found.ph[0]),
        "ionic_strength_mol_per_kg": float(found.ionic_strength_mol_per_kg[0]),
        "species_mol_per_kg": species,
        "saturation_index": index,
        "charge_error_percent": float(found.charge_error_percent[0]),
    }


def _totals(given: object) -> dict[str, float]:
    if not isinstance(given, Mapping):
        raise SolutionError("mmol_per_kg is missing: it names the totals in mmol per kg of water.")
    _refuse_unknown(given.keys(), TOTALS, "mmol_per_kg")
    totals = {name: _number(amount, name) / 1000.0 for name, amount in given.items()}
    for name, amount in totals.items():
        if amount < 0.0:
            raise SolutionError(f"{name} must not be negative.")
    return totals


def _refuse_unknown(given: Any, known: tuple[str, ...], where: str) -> None:
    for key in given:
        if key not in known:
            same = [name for name in known if name.casefold() == str(key).casefold()]
            near = same or get_close_matches(str(key), known, n=1)
            hint = f" Did you mean {near[0]}?" if near else ""
            raise SolutionError(f"{str(key)!r} is not known in {where}.{hint}")


def _number(given: object, name: str) -> float:
    if isinstance(given, bool) or not isinstance(given, int | float) or not math.isfinite(given):
        raise SolutionError(f"{name} must be a finite number.")
    return float(given)


def _check_hydrogen(totals: dict[str, float], hydrogen: float) -> None:
    """Refuse an amount of H that the charges of the other totals contradict."""
    acid = -sum(REFERENCE_CHARGE[name] * amount for name, amount in totals.items())
    counted = acid + sum(count * totals.get(name, 0.0) for name, count in _BARE_HYDROGEN.items())
    size = sum(abs(REFERENCE_CHARGE[name]) * amount for name, amount in totals.items()) + hydrogen
    if min(abs(hydrogen - max(acid, 0.0)), abs(hydrogen - max(counted, 0.0))) > max(0.05 * size, 1e-5):
        room = 1000.0 * max(acid, 0.0)
        raise SolutionError(f"H {1000 * hydrogen:g} does not fit: the other totals leave room for {room:g} mmol/kg.")
