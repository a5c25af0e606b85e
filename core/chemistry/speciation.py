"""From totals to ions and pairs: the chemistry of a feed, for one solution or a batch."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from core.chemistry.components import COMPONENTS, REFERENCE_CHARGE
from core.chemistry.equilibrium import Equilibrium, Problem, solve_into
from core.chemistry.equilibrium_one import FEW, solve_few
from core.chemistry.errors import OutOfRange
from core.chemistry.species import CHELATORS, all_species, chelates, species_index, species_names
from core.chemistry.system import (
    INNER,
    LN10,
    Array,
    Flags,
    System,
    activity_class,
    activity_columns,
    compile_system,
    constants_at,
    constants_of_each,
    weighted,
)
from core.chemistry.water import ZERO_CELSIUS_K, Temperature
from core.phrase import Phrase

AIR_CO2_ATM = 420e-6
"""Pressure of carbon dioxide in open air [atm]; about 420 ppm by volume, 2022 (NOAA Mauna Loa, MEMORY)."""

STRONGEST_IONIC_STRENGTH = 0.1
"""Up to here activities are trustworthy [mol/kg]; up to twice this the answer is given and flagged."""

COLDEST_C, WARMEST_C = 0.0, 40.0

_CARBON = COMPONENTS.index("C")
_CHELATOR_ROWS = [COMPONENTS.index(name) for name in sorted(CHELATORS)]
_CHARGES = np.array([float(REFERENCE_CHARGE[name]) for name in COMPONENTS])
_CLAIMS = [
    (INNER.index(one.name), INNER.index(one.ligand), INNER.index(one.metal) if one.metal else None)
    for one in chelates()
]


_CHARGE = np.array([float(one.charge) for one in all_species()])
_GAINED = np.array([float(one.protons_gained) for one in all_species()])
_CARBON_HELD = np.array([float(one.contains.get("C", 0)) for one in all_species()])
_CLASSES = tuple(dict.fromkeys(activity_class(one) for one in all_species()))
_CLASS_OF = np.array([_CLASSES.index(activity_class(one)) for one in all_species()], dtype=np.intp)


_ACTIVITIES = ("log10_gamma", "log10_activity")
"""What of a `Speciation` is worked out once it is asked for, by species and solution."""


@dataclass(frozen=True, eq=False)
class Speciation:
    """The forms present in n solutions, `temperature_c` being that of all or of each (n,).

    `totals_mol_per_kg` (components, n): as given, carbon as reached where the solution is open to air;
    `molality` (species, n) [mol/kg water]: rows as `names`, 0 where a species is absent.
    """

    temperature_c: Array | float
    totals_mol_per_kg: Array
    ph: Array
    ionic_strength_mol_per_kg: Array
    molality: Array

    @property
    def names(self) -> tuple[str, ...]:
        """Species names in row order."""
        return species_names()

    @cached_property
    def log10_gamma(self) -> Array:
        """Log10 of the activity coefficient of every species, present or not, (species, n)."""
        told = self.temperature_c
        columns = _by_class(told) if isinstance(told, float) else activity_columns(_CLASSES, told)
        slope, size, linear = columns
        strength = self.ionic_strength_mol_per_kg
        root = np.sqrt(strength)
        ln_gamma = linear * strength - slope * root / (1.0 + size * root)
        gamma: Array = ln_gamma[_CLASS_OF] / LN10
        return gamma

    @cached_property
    def log10_activity(self) -> Array:
        """Log10 of the activity of every species, (species, n); -inf where it is absent."""
        with np.errstate(divide="ignore"):
            activity: Array = np.log10(self.molality) + self.log10_gamma
        return activity

    @cached_property
    def alkalinity_eq_per_kg(self) -> Array:
        """Protons the forms lack against the reference forms, (n,)."""
        alkalinity: Array = -weighted(_GAINED, self.molality)
        return alkalinity

    @cached_property
    def charge_error_percent(self) -> Array:
        """Cations less anions over their sum, (n,)."""
        error: Array = 100.0 * weighted(_CHARGE, self.molality) / weighted(np.abs(_CHARGE), self.molality)
        return error

    @cached_property
    def beyond_range(self) -> Flags:
        """Whether the ionic strength is over 0.1 mol/kg, so that all is less exact than told, (n,)."""
        beyond: Flags = self.ionic_strength_mol_per_kg > STRONGEST_IONIC_STRENGTH
        return beyond

    def take(self, columns: slice) -> Speciation:
        """Some of the solutions, with what is already known of their activities."""
        some = Speciation(
            self.temperature_c if isinstance(self.temperature_c, float) else self.temperature_c[columns],
            self.totals_mol_per_kg[:, columns],
            self.ph[columns],
            self.ionic_strength_mol_per_kg[columns],
            self.molality[:, columns],
        )
        known = {name: self.__dict__[name][:, columns] for name in _ACTIVITIES if name in self.__dict__}
        some.__dict__.update(known)
        return some

    @property
    def one_temperature_c(self) -> float:
        """The temperature [degC] where all share it; ValueError where each solution has its own."""
        if isinstance(self.temperature_c, float):
            return self.temperature_c
        raise ValueError("These solutions have temperatures of their own; take one of them, or all at one.")

    def of(self, species: str) -> Array:
        """Molality of one species [mol/kg], (n,)."""
        row: Array = self.molality[species_index()[species]]
        return row


@lru_cache(maxsize=64)
def _by_class(temperature_c: float) -> tuple[Array, Array, Array]:
    """What `activity_columns` says of every class, three (classes, 1) ndarrays."""
    return activity_columns(_CLASSES, np.array([temperature_c]))


def henry_log10_mol_per_kg_atm(temperature_c: Temperature) -> Temperature:
    """Log10 of the CO2 activity in water per atm of CO2 gas.

    temperature_c : float or (n,) ndarray [degC], valid 0-40.
    Source: USGS PHREEQC phreeqc.dat 3.7.3, CO2(g) (READ); -1.468 at 25 degC.
    """
    t = temperature_c + ZERO_CELSIUS_K
    return 10.5624 - 2.3547e-2 * t - 3972.8 / t + 5.8746e5 / t**2 + 1.9194e-5 * t**2


def charge_of(totals_mol_per_kg: Array) -> Array:
    """Charge of totals in their reference forms, (n,) [eq/kg]: the alkalinity of an electrically neutral solution."""
    charge: Array = weighted(_CHARGES, totals_mol_per_kg)
    return charge


def speciate(
    totals_mol_per_kg: Array,
    temperature_c: Array | float,
    *,
    ph: Array | float | None = None,
    alkalinity_eq_per_kg: Array | float | None = None,
    co2_atm: Array | float | None = None,
    nitrate_pairs: bool = False,
) -> Speciation:
    """Distribute totals over ions, pairs and molecules.

    totals_mol_per_kg : (components, n) or (components,) ndarray [mol/kg water], rows as `components.COMPONENTS`
    temperature_c : float or (n,) ndarray [degC], 0-40
    ph : float or (n,) ndarray [-], if known
    alkalinity_eq_per_kg : float or (n,) ndarray [eq/kg]; without it and without pH the totals' own charge, that is
        an electrically neutral solution
    co2_atm : float or (n,) ndarray [atm]; carbon then follows from the gas, NaN keeps that solution closed
    nitrate_pairs : count KNO3 and CaNO3+ as well; they lower the conductivity of feeds by 0.4 to 0.7 %

    Raises OutOfRange for temperatures outside 0-40 degC, ionic strength over 0.2 mol/kg, bad numbers.
    Valid for ionic strength up to 0.1 mol/kg.
    Source: constants of USGS PHREEQC phreeqc.dat 3.7.3 but for those marked in feed_species.csv.
    """
    totals = _checked(totals_mol_per_kg)
    count = totals.shape[1]
    temperature_c = _temperature(temperature_c, count)
    if ph is not None and alkalinity_eq_per_kg is not None:
        raise ValueError("Give either pH or alkalinity, not both.")
    ln_proton = alkalinity = None
    if ph is None:
        given = charge_of(totals) if alkalinity_eq_per_kg is None else alkalinity_eq_per_kg
        alkalinity = _column(given, count, "alkalinity")
    else:
        ln_proton = -LN10 * _column(ph, count, "pH")
    ln_carbonic = None if co2_atm is None else _ln_carbonic(co2_atm, temperature_c, count)
    inner = _claim_chelates(totals)
    system = compile_system(_active(inner, ln_carbonic is not None), nitrate_pairs)
    found = _solve(system, temperature_c, inner, ln_proton, alkalinity, ln_carbonic)
    return _report(totals, temperature_c, found, ln_carbonic)


def _checked(totals: Array) -> Array:
    array = np.array(totals, dtype=np.float64)
    array = array[:, None] if array.ndim == 1 else array
    if array.ndim != 2 or len(array) != len(COMPONENTS) or not array.shape[1]:
        raise ValueError(f"Totals need {len(COMPONENTS)} rows and at least one column.")
    if not 0.0 <= array.min() <= array.max() < np.inf:
        raise OutOfRange(Phrase("Totals must be finite and not negative."))
    return array


def _temperature(given: Array | float, count: int) -> Array | float:
    """The temperature of all solutions, or the checked temperatures of each (n,)."""
    if not isinstance(given, np.ndarray) or given.ndim == 0:
        return _in_range(float(given))
    each = _column(given, count, "temperature")
    _in_range(float(each.min()))
    _in_range(float(each.max()))
    return each if count > 1 else float(each[0])


def _in_range(temperature_c: float) -> float:
    if not COLDEST_C <= temperature_c <= WARMEST_C:
        raise OutOfRange(
            Phrase(
                "The chemistry holds from {coldest:g} to {warmest:g} degC, not at {given:g}.",
                coldest=COLDEST_C,
                warmest=WARMEST_C,
                given=temperature_c,
            )
        )
    return temperature_c


def _column(given: Array | float, count: int, name: str) -> Array:
    array = np.asarray(given, dtype=np.float64)
    array = np.full(count, float(array)) if array.ndim == 0 else array
    if array.shape != (count,) or not np.isfinite(array).all():
        raise OutOfRange(Phrase("One finite {name} is needed for each solution.", name=name))
    return array


def _ln_carbonic(co2_atm: Array | float, temperature_c: Array | float, count: int) -> Array | None:
    pressure = np.broadcast_to(np.asarray(co2_atm, dtype=np.float64), (count,))
    if (pressure <= 0.0).any() or np.isinf(pressure).any():
        raise OutOfRange(Phrase("A pressure of carbon dioxide must be above zero."))
    if np.isnan(pressure).all():
        return None
    ln_carbonic: Array = np.log(pressure) + LN10 * henry_log10_mol_per_kg_atm(temperature_c)
    return ln_carbonic


def _claim_chelates(totals: Array) -> Array:
    """Let metals claim synthetic ligands, strongest first: (INNER, n), chelates in rows of their own."""
    if totals.shape[1] <= FEW:
        return np.array([_claimed(column) for column in totals.T.tolist()]).T
    inner = np.zeros((len(INNER), totals.shape[1]))
    inner[: len(totals)] = totals
    if totals[_CHELATOR_ROWS].any():
        for chelate, ligand, metal in _CLAIMS:
            taken = inner[ligand] if metal is None else np.minimum(inner[metal], inner[ligand])
            inner[chelate] = taken
            inner[ligand] = inner[ligand] - taken
            if metal is not None:
                inner[metal] -= taken
    return inner


def _claimed(totals: list[float]) -> list[float]:
    """As `_claim_chelates`, for one solution: few numbers, so plain ones."""
    inner = totals + [0.0] * (len(INNER) - len(totals))
    for chelate, ligand, metal in _CLAIMS:
        if left := inner[ligand]:
            taken = left if metal is None else min(inner[metal], left)
            inner[chelate] = taken
            inner[ligand] = left - taken
            if metal is not None:
                inner[metal] -= taken
    return inner


def _active(inner: Array, is_open: bool) -> frozenset[str]:
    """Names of the totals present in any solution."""
    present: list[float] = (inner[:, 0] if inner.shape[1] == 1 else inner.max(axis=1)).tolist()
    names = [name for name, held in zip(INNER, present, strict=True) if held]
    return frozenset([*names, "C"] if is_open else names)


def _solve(
    system: System,
    temperature_c: Array | float,
    inner: Array,
    ln_proton: Array | None,
    alkalinity: Array | None,
    ln_carbonic: Array | None,
) -> Equilibrium:
    """Solve a few solutions in the quick way, a batch in pieces small enough to stay quick."""
    count = inner.shape[1]
    whole = Problem(inner[system.group_rows], inner[system.ligand_rows], ln_proton, alkalinity, ln_carbonic)
    if not isinstance(temperature_c, float):
        return solve_into(system, constants_of_each(system, temperature_c), whole, np.zeros((len(_CHARGE), count)))
    constants = constants_at(system, temperature_c)
    if count <= FEW:
        found = solve_few(system, constants, whole)
        molality = np.zeros((len(_CHARGE), count))
        molality[system.rows] = found.molality
        return Equilibrium(molality, found.ln_proton, found.strength)
    return solve_into(system, constants, whole, np.zeros((len(_CHARGE), count)))


def _report(totals: Array, temperature_c: Array | float, found: Equilibrium, ln_carbonic: Array | None) -> Speciation:
    """Spread the solved species over the full list."""
    strongest = found.strength.max()
    if strongest > 2.0 * STRONGEST_IONIC_STRENGTH:
        raise OutOfRange(
            Phrase(
                "Ionic strength {strongest:.3g} mol/kg is too high for the chemistry of a feed.", strongest=strongest
            )
        )
    if ln_carbonic is not None:
        totals = totals.copy()
        totals[_CARBON] = np.where(np.isnan(ln_carbonic), totals[_CARBON], weighted(_CARBON_HELD, found.molality))
    return Speciation(temperature_c, totals, found.ln_proton / -LN10, found.strength, found.molality)
