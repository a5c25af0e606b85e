"""Acids, bases and alkalinity: what a mole delivers, which pH follows, how pH answers a dose."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

import numpy as np

from core.chemistry.components import COMPONENTS
from core.chemistry.errors import OutOfRange
from core.chemistry.speciation import AIR_CO2_ATM, Speciation, charge_of, speciate
from core.chemistry.species import all_species
from core.chemistry.system import LN10, Array, Constants, System, compile_system, constants_at
from core.phrase import Phrase

ACIDS_AND_BASES: dict[str, dict[str, float]] = {
    "nitric-acid": {"NO3": 1.0},
    "phosphoric-acid": {"P": 1.0},
    "sulfuric-acid": {"S": 1.0},
    "hydrochloric-acid": {"Cl": 1.0},
    "citric-acid": {"citrate": 1.0},
    "urea-phosphate": {"P": 1.0, "urea": 1.0},
    "potassium-hydroxide": {"K": 1.0},
    "calcium-hydroxide": {"Ca": 1.0},
    "potassium-bicarbonate": {"K": 1.0, "C": 1.0},
    "potassium-carbonate": {"K": 2.0, "C": 1.0},
    "dipotassium-phosphate": {"K": 2.0, "P": 1.0},
}
"""Catalog id -> totals per mole."""


def vector_of(totals: Mapping[str, float]) -> Array:
    """Totals by name as a column in `COMPONENTS` order, (components,)."""
    return np.array([float(totals.get(name, 0.0)) for name in COMPONENTS])


def _totals_of(acid: str | Mapping[str, float]) -> Mapping[str, float]:
    totals = ACIDS_AND_BASES.get(acid, {acid: 1.0}) if isinstance(acid, str) else acid
    unknown = sorted(totals.keys() - set(COMPONENTS))
    if unknown:
        raise KeyError(f"no acid, base or total is called {unknown[0]}")
    return totals


@lru_cache(maxsize=256)
def _forms(total: str, temperature_c: float) -> tuple[System, Constants]:
    system = compile_system(frozenset({total}), False)
    return system, constants_at(system, temperature_c)


def protons_gained_per_mol(
    total: str, ph: Array | float, temperature_c: float = 25.0, ionic_strength_mol_per_kg: float = 0.0
) -> Array:
    """Mean number of protons a total holds beyond its reference form at a pH, without pairs, (n,) [mol/mol].

    total : name of one of `COMPONENTS`
    ph : float or (n,) ndarray [-]
    temperature_c : float [degC], 0-40
    ionic_strength_mol_per_kg : float [mol/kg], 0-0.1
    Source: acid constants of feed_species.csv.
    """
    system, constants = _forms(total, float(temperature_c))
    ln_gamma, _ = constants.log_gamma(np.array([float(ionic_strength_mol_per_kg)]))
    ln_proton = -LN10 * np.atleast_1d(np.asarray(ph, dtype=np.float64))
    forms = np.exp(constants.ln_k + system.stoich[:, -1:] * ln_proton - ln_gamma[system.class_of])
    gained = np.array([[float(one.protons_gained)] for one in system.species])
    held = np.array([[float(total in one.contains)] for one in system.species])
    mean: Array = (forms * gained * held).sum(axis=0) / (forms * held).sum(axis=0)
    return mean


def protons_held_per_mol(total: str, found: Speciation) -> Array:
    """Mean number of protons a total holds beyond its reference form in solved feeds, pairs with metals and all, (n,).

    total : name of one of `COMPONENTS`
    found : the solved feeds, [mol/mol] of what each holds; NaN where there is none
    Source: constants of feed_species.csv.
    Example: 1 mmol/kg citrate beside 4 mmol/kg calcium holds 0.07 at pH 5.8, beside sodium alone 0.80.
    """
    rows = [row for row, one in enumerate(all_species()) if total in one.contains]
    gained = np.array([float(all_species()[row].protons_gained) for row in rows])
    amount = found.totals_mol_per_kg[COMPONENTS.index(total)]
    with np.errstate(divide="ignore", invalid="ignore"):
        mean: Array = gained.dot(found.molality[rows]) / amount
    return mean


def equivalents_per_mol(
    acid: str | Mapping[str, float],
    ph: Array | float,
    temperature_c: float = 25.0,
    ionic_strength_mol_per_kg: float = 0.0,
    aired: bool = False,
) -> Array:
    """Alkalinity one mole of an acid takes away at a target pH, (n,) [eq/mol]; negative for a base.

    acid : catalog id of `ACIDS_AND_BASES`, one total ("P" is phosphoric acid), or totals per mole [mol/mol]
    ph : float or (n,) ndarray [-], the pH reached
    temperature_c : float [degC], 0-40
    ionic_strength_mol_per_kg : float [mol/kg], 0-0.1
    aired : carbon dioxide leaves, so carbonates count in full
    Source: acid constants of feed_species.csv; metal binding left out.
    Example: phosphoric acid delivers 1.037 at pH 5.8, citric acid 2.12.
    """
    totals = _totals_of(acid)
    taken = np.full(np.atleast_1d(np.asarray(ph)).shape, -float(charge_of(vector_of(totals))))
    for total, amount in totals.items():
        if total != "C" or not aired:
            taken -= amount * protons_gained_per_mol(total, ph, temperature_c, ionic_strength_mol_per_kg)
    return taken


def share_neutralised(
    start_ph: float, target_ph: float, temperature_c: float = 20.0, ionic_strength_mol_per_kg: float = 0.0
) -> float:
    """Share of a water's carbonate alkalinity that acid must take for a target pH, closed to air [-].

    start_ph, target_ph : float [-]
    temperature_c : float [degC], 0-40
    ionic_strength_mol_per_kg : float [mol/kg], 0-0.1
    Source: carbonic acid constants of feed_species.csv.
    Example: 0.777 from pH 7.5 to 5.8 at 20 degC.
    """
    pair = np.array([start_ph, target_ph])
    start, target = protons_gained_per_mol("C", pair, temperature_c, ionic_strength_mol_per_kg)
    return float(1.0 - target / start)


def carbonate_from(
    alkalinity_eq_per_kg: Array | float,
    ph: Array | float,
    temperature_c: float = 25.0,
    totals_mol_per_kg: Array | None = None,
) -> Array:
    """Total dissolved carbonate of a water of known alkalinity and pH, (n,) [mol/kg].

    alkalinity_eq_per_kg : float or (n,) ndarray [eq/kg]
    ph : float or (n,) ndarray [-]
    temperature_c : float [degC], 0-40
    totals_mol_per_kg : (components, n) ndarray [mol/kg], what else the water holds; its carbon is not used

    What other bases hold (phosphate, borate, silicate, ammonia) is taken off first; never negative.
    Raises OutOfRange where the alkalinity and the pH cannot both be true.
    """
    wanted, given_ph = (np.atleast_1d(np.asarray(x, dtype=np.float64)) for x in (alkalinity_eq_per_kg, ph))
    count = max(len(wanted), len(given_ph))
    wanted, given_ph = np.broadcast_to(wanted, (count,)), np.broadcast_to(given_ph, (count,))
    if totals_mol_per_kg is None:
        totals = np.zeros((len(COMPONENTS), count))
        totals[COMPONENTS.index("inert+")] = np.maximum(wanted, 0.0)
    else:
        totals = np.array(totals_mol_per_kg, dtype=np.float64).reshape(len(COMPONENTS), -1)
    return _fit_carbonate(totals, wanted, given_ph, float(temperature_c))


def _fit_carbonate(totals: Array, wanted: Array, ph: Array, temperature_c: float) -> Array:
    row = COMPONENTS.index("C")
    slope = -protons_gained_per_mol("C", ph, temperature_c, 0.005)
    carbon = np.maximum(wanted / slope, 0.0)
    for _ in range(20):
        if (carbon > 0.1).any():
            raise OutOfRange(
                Phrase("This alkalinity cannot hold at this pH: no natural water has that much carbonic acid.")
            )
        totals[row] = carbon
        short = wanted - speciate(totals, temperature_c, ph=ph).alkalinity_eq_per_kg
        better = np.maximum(carbon + short / slope, 0.0)
        if np.abs(better - carbon).max() < 1e-13:
            break
        carbon = better
    return carbon


def ph_closed_and_aired(
    totals_mol_per_kg: Array,
    temperature_c: float,
    alkalinity_eq_per_kg: Array | float | None = None,
    co2_atm: float = AIR_CO2_ATM,
) -> tuple[Array, Array]:
    """Forecast pH twice: with its carbonic acid kept, and after it has come to rest with the air, both (n,).

    Arguments as `speciate`; without alkalinity the totals' own charge.
    """
    totals = np.asarray(totals_mol_per_kg, dtype=np.float64).reshape(len(COMPONENTS), -1)
    count = totals.shape[1]
    alkalinity = charge_of(totals) if alkalinity_eq_per_kg is None else alkalinity_eq_per_kg
    alkalinity = np.broadcast_to(np.asarray(alkalinity, dtype=np.float64), (count,))
    gas = np.repeat([np.nan, co2_atm], count)
    both = speciate(
        np.hstack([totals, totals]), temperature_c, alkalinity_eq_per_kg=np.tile(alkalinity, 2), co2_atm=gas
    )
    return both.ph[:count], both.ph[count:]


def titrate(
    totals_mol_per_kg: Array,
    temperature_c: float,
    acid: str | Mapping[str, float],
    doses_mol_per_kg: Array,
    alkalinity_eq_per_kg: float | None = None,
    co2_atm: float | None = None,
) -> Array:
    """PH of a solution after each dose of an acid or base, (doses,) [-].

    totals_mol_per_kg : (components,) ndarray [mol/kg]
    temperature_c : float [degC], 0-40
    acid : catalog id of `ACIDS_AND_BASES`, one total, or totals per mole [mol/mol]
    doses_mol_per_kg : (doses,) ndarray [mol/kg], each counted from the start
    alkalinity_eq_per_kg : float [eq/kg] before the first dose; without it the totals' own charge
    co2_atm : float [atm]; given, the solution is open to that pressure; else closed
    """
    brought = vector_of(_totals_of(acid))
    start = np.asarray(totals_mol_per_kg, dtype=np.float64).reshape(len(COMPONENTS))
    before = float(charge_of(start)) if alkalinity_eq_per_kg is None else alkalinity_eq_per_kg
    doses = np.asarray(doses_mol_per_kg, dtype=np.float64)
    totals = start[:, None] + brought[:, None] * doses
    alkalinity = before + float(charge_of(brought)) * doses
    return speciate(totals, temperature_c, alkalinity_eq_per_kg=alkalinity, co2_atm=co2_atm).ph
