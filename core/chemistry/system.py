"""The equations for one set of totals, compiled once: who contains what, and which sums are needed.

Unknowns are the ligands (sulfate, phosphate, carbonate ... as logarithms of activity), the ionic strength and the
proton. Everything else, a cation, boron, silicon, a chelate, occurs at most once in a species, so its free
amount follows in closed form from its total; the compiled matrices hold what that elimination needs.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any, TypeAlias

import numpy as np

from core.chemistry.components import COMPONENTS, REFERENCE_CHARGE
from core.chemistry.species import CHELATORS, LIGANDS, NITRATE_PAIRS, Species, all_species, chelates
from core.chemistry.water import ZERO_CELSIUS_K, debye_hueckel

Array: TypeAlias = np.ndarray[Any, np.dtype[np.float64]]
Rows: TypeAlias = np.ndarray[Any, np.dtype[np.intp]]
Reals: TypeAlias = np.ndarray[Any, np.dtype[Any]]
"""Real numbers in single or double precision."""
Precision: TypeAlias = np.dtype[Any]
Flags: TypeAlias = np.ndarray[Any, np.dtype[np.bool_]]

SINGLE, DOUBLE = np.dtype(np.float32), np.dtype(np.float64)

LN10 = float(np.log(10.0))

GUESS_PH = np.linspace(0.0, 14.0, 141)
"""Where a first guess of pH is looked up."""

INNER = (*COMPONENTS, *(chelate.name for chelate in chelates()))
"""Totals as the solver counts them: a chelate, once formed, is a total of its own."""


@dataclass(frozen=True, eq=False)
class System:
    """Compiled structure; S species, k ligands, g groups, r = k + 4 sums, c = k + 2 unknowns.

    Sums are the k ligands, ionic strength, protons taken up, protons gained and lost against the reference forms;
    unknowns are the k ligands, ln I and the proton.

    `rows` (S,): place of each species in the full list; `group_of` (S,): its group, g for none;
    `group_rows` (g,), `ligand_rows` (k,): places in INNER; `stoich` (S, c): how the unknowns enter a species;
    `members` (g, S); `sums` (r, S); `alone` (g, S): forms of a group free of ligands;
    `first` (k, S): forms holding a ligand once; `own` (g + k, S): forms of one total only;
    `weight` (g + k,): ionic strength each total brings, about [mol/mol];
    `classes`: (charge, ion size or None, b) that share an activity coefficient; `class_of` (S,): a species' class.
    """

    species: tuple[Species, ...]
    ligands: tuple[str, ...]
    groups: tuple[str, ...]
    rows: Rows
    group_of: Rows
    group_rows: Rows
    ligand_rows: Rows
    stoich: Array
    members: Array
    sums: Array
    alone: Array
    first: Array
    own: Array
    weight: Array
    classes: tuple[tuple[int, float | None, float], ...]
    class_of: Rows
    carbonate: int


@lru_cache(maxsize=128)
def compile_system(active: frozenset[str], nitrate_pairs: bool) -> System:
    """Compile the system of the given totals (and chelates, by species name)."""
    listed = [(row, one) for row, one in enumerate(all_species()) if _present(one, active, nitrate_pairs)]
    species = tuple(one for _, one in listed)
    ligands = tuple(t for t in LIGANDS if t in active and (t == "C" or any(_pairs(one, t) for one in species)))
    names = [_group(one, ligands) for one in species]
    groups = tuple(dict.fromkeys(name for name in names if name))
    place = {name: number for number, name in enumerate(groups)} | {"": len(groups)}
    group_of = np.array([place[name] for name in names], dtype=np.intp)
    members = (group_of == np.arange(len(groups))[:, None]).astype(np.float64)
    stoich = np.array([[*(float(one.contains.get(t, 0)) for t in ligands), 0.0, float(one.protons)] for one in species])
    charge = np.array([float(one.charge) for one in species])
    gained = np.array([float(one.protons_gained) for one in species])
    once = stoich[:, : len(ligands)]
    sums = np.vstack([once.T, 0.5 * charge**2, stoich[:, -1], np.maximum(gained, 0.0), np.maximum(-gained, 0.0)])
    kinds = [activity_class(one) for one in species]
    classes = tuple(dict.fromkeys(kinds))
    return System(
        species=species,
        ligands=ligands,
        groups=groups,
        rows=np.array([row for row, _ in listed], dtype=np.intp),
        group_of=group_of,
        group_rows=np.array([INNER.index(name) for name in groups], dtype=np.intp),
        ligand_rows=np.array([INNER.index(name) for name in ligands], dtype=np.intp),
        stoich=stoich,
        members=members,
        sums=sums,
        alone=members * (once.sum(axis=1) == 0.0),
        first=(once * (once.sum(axis=1, keepdims=True) == 1.0)).T.copy(),
        own=_own_forms(species, names, (*groups, *ligands)),
        weight=np.array([_weight(total) for total in (*groups, *ligands)]),
        classes=classes,
        class_of=np.array([classes.index(kind) for kind in kinds], dtype=np.intp),
        carbonate=ligands.index("C") if "C" in ligands else -1,
    )


_SINGLE_THREADED = 250_000
"""Products of matrices with fewer multiplications than this are not spread over threads by the usual libraries:
threads cost more than they bring here, and fight other work."""

_SINGLE_THREADED_VECTOR = 9_000
"""The same for a product of a vector with a matrix."""


def product(left: Reals, right: Reals) -> Reals:
    """Matrix product, in blocks of columns too small to be spread over threads."""
    if left.size * right.shape[1] < _SINGLE_THREADED:
        return np.asarray(left.dot(right))
    out = np.empty((len(left), right.shape[1]), right.dtype)
    columns = max(1, _SINGLE_THREADED // max(1, left.size))
    for start in range(0, right.shape[1], columns):
        block = slice(start, start + columns)
        np.matmul(left, right[:, block], out=out[:, block])
    return out


def weighted(weights: Array, amounts: Array) -> Array:
    """Weighted sum over the first axis of (rows,) or (rows, n), likewise kept to one thread."""
    if amounts.size < _SINGLE_THREADED_VECTOR:
        return np.asarray(weights.dot(amounts))
    return np.asarray(np.einsum("r,rn->n", weights, amounts))


def _present(species: Species, active: frozenset[str], nitrate_pairs: bool) -> bool:
    if species.name in NITRATE_PAIRS and not nitrate_pairs:
        return False
    if species.contains.keys() & CHELATORS:
        return species.name in active
    return all(total in active for total in species.contains)


def _group(species: Species, ligands: tuple[str, ...]) -> str:
    """Name the total a species is eliminated with; empty for a ligand's own forms, H+ and OH-."""
    if species.contains.keys() & CHELATORS:
        return species.name
    others = [total for total in species.contains if total not in ligands]
    return others[0] if others else ""


def _pairs(species: Species, total: str) -> bool:
    return total in species.contains and len(species.contains) > 1


def _own_forms(species: tuple[Species, ...], names: list[str], totals: tuple[str, ...]) -> Array:
    rows = [[float(_is_own(one, name, total)) for one, name in zip(species, names, strict=True)] for total in totals]
    return np.array(rows).reshape(-1, len(species))


def _is_own(species: Species, group: str, total: str) -> bool:
    alone = len(species.contains) == 1 or group == species.name
    return alone and (group == total or (not group and total in species.contains))


def _weight(total: str) -> float:
    """Half the squared charge of the usual form."""
    if total in REFERENCE_CHARGE:
        return 0.5 * max(REFERENCE_CHARGE[total] ** 2, 1 if total == "C" else 0)
    return 0.5 * next(one.charge for one in all_species() if one.name == total) ** 2


@dataclass(frozen=True, eq=False)
class Constants:
    """What depends on temperature: ln K of the species (S, 1) and the activity coefficients of the classes.

    `slope`, `size`, `linear` (classes, 1): see `activity_columns`; `guess` (g + k + 2, points): see `_guess_table`;
    `ln_k_carbonic`: of CO2, or 0. Solutions with temperatures of their own have n columns, and `ln_k_carbonic` is (n,).
    """

    ln_k: Array
    slope: Array
    size: Array
    linear: Array
    guess: Array
    ln_k_carbonic: Array | float

    @cached_property
    def plain(self) -> tuple[list[float], list[float], list[float], list[float]]:
        """K, slope, size and linear as lists of numbers."""
        return (
            np.exp(self.ln_k[:, 0]).tolist(), self.slope[:, 0].tolist(), self.size[:, 0].tolist(),
            self.linear[:, 0].tolist(),
        )  # fmt: skip

    def log_gamma(self, strength: Array) -> tuple[Array, Array]:
        """Ln of the activity coefficient and its derivative by ln I, by class, (classes, n)."""
        root = np.sqrt(strength)
        below = 1.0 + self.size * root
        part = self.slope * (root / below)
        linear = self.linear * strength
        return linear - part, linear - part * (0.5 / below)


@lru_cache(maxsize=96)
def constants_at(system: System, temperature_c: float) -> Constants:
    """Equilibrium constants and activity parameters of a system at a temperature [degC]."""
    ln_k = _ln_k(system, np.array([temperature_c]))
    slope, size, linear = activity_columns(system.classes, np.array([temperature_c]))
    triples = np.hstack([slope, size, linear])[system.class_of]
    carbonic = _ln_k_carbonic(system, ln_k)
    return Constants(ln_k, slope, size, linear, _guess_table(system, ln_k, triples), float(carbonic[0]))


def constants_of_each(system: System, temperature_c: Array) -> Constants:
    """As `constants_at` for solutions with temperatures of their own (n,) [degC]; the guess is for their mean."""
    ln_k = _ln_k(system, temperature_c)
    guess = constants_at(system, float(np.round(temperature_c.mean()))).guess
    return Constants(ln_k, *activity_columns(system.classes, temperature_c), guess, _ln_k_carbonic(system, ln_k))


def _ln_k(system: System, temperature_c: Array) -> Array:
    kelvin = temperature_c + ZERO_CELSIUS_K
    powers = np.array([np.ones_like(kelvin), kelvin, 1.0 / kelvin, np.log10(kelvin), kelvin**-2, kelvin**2])
    return product(LN10 * np.array([one.log_k_terms for one in system.species]), powers)


def _ln_k_carbonic(system: System, ln_k: Array) -> Array:
    rows = [row for row, one in enumerate(system.species) if one.name == "CO2"]
    return ln_k[rows[0]] if rows else np.zeros(ln_k.shape[1])


def activity_class(species: Species) -> tuple[int, float | None, float]:
    """What a species' activity coefficient depends on: size of the charge, ion size, b."""
    return abs(species.charge), species.ion_size_angstrom, species.b_kg_per_mol


def activity_columns(
    classes: tuple[tuple[int, float | None, float], ...], temperature_c: Array
) -> tuple[Array, Array, Array]:
    """Return A z^2, B a, b of ln gamma = -A z^2 sqrt I / (1 + B a sqrt I) + b I, each (classes, n).

    temperature_c : (n,) ndarray [degC]
    An ion without its own size follows Davies (ion size 1/B, b = 0.3 A z^2), a molecule 0.1 I.
    """
    a, b = debye_hueckel(temperature_c)
    charge = np.array([[float(one[0])] for one in classes])
    davies = np.array([[float(one[1] is None)] for one in classes])
    size = np.array([[one[1] or 0.0] for one in classes])
    own_linear = LN10 * np.array([[one[2] if one[1] is not None else 0.0 if one[0] else 0.1] for one in classes])
    slope = LN10 * a * charge**2
    return slope, b * size + davies, own_linear + 0.3 * slope * davies


def _guess_table(system: System, ln_k: Array, triples: Array) -> Array:
    """Protons gained per mole of each total over GUESS_PH, without pairs, at I = 0.02: (g + k + 2, points).

    The last two rows are H+ less OH-, and the protons carbonate gains per unit of CO2 activity (open solutions).
    """
    root = 0.02**0.5
    gamma = 0.02 * triples[:, 2:] - triples[:, :1] * root / (1.0 + triples[:, 1:2] * root)
    form = np.exp(ln_k - system.stoich[:, -1:] * LN10 * GUESS_PH - gamma)
    gained = np.array([[float(one.protons_gained)] for one in system.species])
    rows = (system.own @ (form * gained)) / (system.own @ form)
    water = np.array([[float(not one.contains)] for one in system.species])
    open_row = np.zeros_like(GUESS_PH)
    for row, one in enumerate(system.species):
        if one.name == "CO2":
            own = system.own[len(system.groups) + system.carbonate]
            open_row = own @ (form * gained) / (form[row] * np.exp(gamma[row]))
    return np.vstack([rows, (water * gained * form).sum(axis=0), open_row])
