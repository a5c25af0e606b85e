"""How the sums over species are laid out for a batch of solutions, compiled once from a system.

A species is its constant times its ligands' activities times a power of the proton's over its activity coefficient;
few different factors make many species. A total with one form is left out of the sums: its amount is known. All
others stand group by group, so that a sum over a group runs over neighbours.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from core.chemistry.system import Array, Precision, Rows, System


@dataclass(frozen=True, eq=False)
class Layout:
    """Compiled layout; b species, g groups with several forms, i with one, k ligands, r sums, c unknowns asked for.

    Sums are the k ligands and the ionic strength, and where pH is asked for protons taken up, protons gained and lost;
    unknowns asked for are the k ligands, ln I and, where pH is asked for, the proton.

    `species` (b,): place in the system of those that are summed, group by group, those of no group last;
    `lone` (i,): of those that are the only form of their group; `groups` (g,), `lone_groups` (i,): place of the groups;
    `blocks`: the species of each group; `group_of` (species in groups,): their group;
    `powers` (factors, k + 2): how the unknowns enter the factors of the species, `classes` (classes,): places of the
    activity coefficients in use; a table of factors has a row for each of both;
    `ligands_of`, `protons_of`, `class_of` (b,): row in that table of each factor of a species, `slope_of` (b,): of its
    class alone; `protons` (b, 1): its power of the proton;
    `sums` (r, b); `lone_sums` (r, i); `summed` (r + x, b): sums, then sums times unknowns, each different row once;
    `crossed_at` (r, c): where those are; `weakened` (r + g, b): sums and members of groups;
    `held` (g r, b): sums over each group;
    `alone` (g, species in groups): forms free of ligands; `first` (k, b): forms holding a ligand once;
    `carbonate`: place among the ligands, -1 for none.
    """

    species: Rows
    lone: Rows
    groups: Rows
    lone_groups: Rows
    blocks: tuple[slice, ...]
    group_of: Rows
    powers: Array
    classes: Rows
    ligands_of: Rows
    protons_of: Rows
    class_of: Rows
    slope_of: Rows
    protons: Array
    sums: Array
    lone_sums: Array
    summed: Array
    crossed_at: Rows
    weakened: Array
    held: Array
    alone: Array
    first: Array
    carbonate: int

    @property
    def grouped(self) -> int:
        """How many of the species belong to a group."""
        return len(self.group_of)

    @property
    def members(self) -> Array:
        """Which species belong to each group (g, b)."""
        return self.weakened[len(self.crossed_at) :]

    @property
    def ligands(self) -> int:
        """How many ligands there are."""
        return len(self.first)

    @property
    def unknowns(self) -> int:
        """How many unknowns are asked for."""
        return len(self.crossed_at.T)

    def to(self, precision: Precision) -> Layout:
        """The same with its sums in another precision."""
        return _to(self, precision)


@lru_cache(maxsize=128)
def _to(told: Layout, precision: Precision) -> Layout:
    names = ("powers", "sums", "lone_sums", "summed", "weakened", "held", "alone", "first")
    return replace(told, **{name: getattr(told, name).astype(precision) for name in names})


@lru_cache(maxsize=128)
def layout(system: System, ph_known: bool) -> Layout:
    """Lay out the sums of a system."""
    species, lone, busy, ends = _order(system)
    grouped = ends[-1] if ends else 0
    k = len(system.ligands)
    sums = system.sums[: k + 1] if ph_known else system.sums
    stoich = system.stoich[species]
    powers, ligands_of, protons_of = _factors(stoich)
    classes, slope_of = np.unique(system.class_of[species], return_inverse=True)
    crossed, crossed_at = _crossed(sums[:, species], (stoich[:, : k + 1] if ph_known else stoich).T)
    members = system.members[np.ix_(busy, species)]
    return Layout(
        species=species,
        lone=lone,
        groups=busy,
        lone_groups=system.group_of[lone],
        blocks=tuple(slice(start, end) for start, end in zip([0, *ends], ends, strict=False)),
        group_of=np.searchsorted(busy, system.group_of[species[:grouped]]),
        powers=powers,
        classes=classes,
        ligands_of=ligands_of,
        protons_of=protons_of,
        class_of=slope_of + len(powers),
        slope_of=slope_of,
        protons=stoich[:, -1:].copy(),
        sums=sums[:, species],
        lone_sums=sums[:, lone],
        summed=np.vstack([sums[:, species], crossed]),
        crossed_at=crossed_at + len(sums),
        weakened=np.vstack([sums[:, species], members]),
        held=(members[:, None, :] * sums[:, species]).reshape(-1, len(species)),
        alone=system.alone[np.ix_(busy, species[:grouped])],
        first=system.first[:, species],
        carbonate=system.carbonate,
    )


def _order(system: System) -> tuple[Rows, Rows, Rows, list[int]]:
    """Species in the order of the layout, those that are alone in their group, groups of several, ends of these."""
    none = len(system.groups)
    forms = np.bincount(system.group_of, minlength=none + 1)[:none]
    is_lone = np.append(forms == 1, False)[system.group_of]
    busy, species = np.flatnonzero(forms > 1), np.flatnonzero(~is_lone)
    in_order = species[np.argsort(system.group_of[species], kind="stable")]
    return in_order, np.flatnonzero(is_lone), busy, np.cumsum(forms[busy]).tolist()


def _factors(stoich: Array) -> tuple[Array, Rows, Rows]:
    """Different powers of ligands, then of the proton, and which of them each species has."""
    of_ligands, of_protons = stoich.copy(), np.zeros_like(stoich)
    of_ligands[:, -1], of_protons[:, -1] = 0.0, stoich[:, -1]
    ligands, ligands_of = _different(of_ligands)
    protons, protons_of = _different(of_protons)
    return np.vstack([ligands, protons]), ligands_of, protons_of + len(ligands)


def _crossed(sums: Array, unknowns: Array) -> tuple[Array, Rows]:
    """Every sum times every unknown, each different row once, and which of them it is."""
    every = sums[:, None, :] * unknowns
    rows, which = _different(every.reshape(-1, sums.shape[1]))
    return rows, which.reshape(every.shape[:2])


def _different(rows: Array) -> tuple[Array, Rows]:
    """The different ones among rows, and which of them each row is."""
    keys = [row.tobytes() for row in rows + 0.0]  # no zero below zero
    place = {key: number for number, key in enumerate(dict.fromkeys(keys))}
    which = np.array([place[key] for key in keys], dtype=np.intp)
    found = np.empty((len(place), rows.shape[1]))
    found[which] = rows
    return found, which
