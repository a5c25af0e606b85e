"""The balances of a batch of solutions: molalities, errors and derivatives as functions of the unknowns.

Arrays have species, sums or unknowns along their first axes and solutions along the last, where they are contiguous.
Each balance is the logarithm of a ratio, which keeps its slopes between bounds.
"""

from __future__ import annotations

import threading
from math import prod

import numpy as np

from core.chemistry.batch import LN_PROTON_ABOUT, Batch, Climate
from core.chemistry.layout import Layout
from core.chemistry.system import Precision, Reals, product

LEAST_TOTAL = 1e-30
"""What stands for an absent total where logarithms or divisions need one [mol/kg]."""

FEW = 48
"""With fewer solutions one large product is quicker than many that leave out what is zero."""

FEW_SYSTEMS = 16
"""Fewer systems of equations are quicker one after another."""

_DESK = threading.local()
"""Keeps large arrays for the next batch, some 6 MB at most: to hand memory back and forth costs as much as the sums."""


class Balances:
    """The balances of a layout; unknowns (k + 2, n) are ln of the ligands' activities, of I and of the proton's.

    Molalities and slopes lie in memory that the next call writes over.
    """

    def __init__(self, told: Layout, precision: Precision) -> None:
        self.told, self.precision = told.to(precision), precision
        self._rooms: dict[str, Reals] = _DESK.__dict__.setdefault(precision.name, {})

    def room(self, name: str, *shape: int) -> Reals:
        """An array to be written over, the same memory whenever this thread asks for it by this name."""
        size = prod(shape)
        held = self._rooms.get(name)
        if held is None or held.size < size:
            held = self._rooms[name] = np.empty(size, self.precision)
        return held[:size].reshape(shape)

    def at(self, unknowns: Reals, known: Batch, climate: Climate) -> tuple[Reals, Reals, Reals]:
        """Molalities (b, n), slopes of ln gamma by ln I (classes, n), and sums as told by `sums`."""
        ln_gamma, slope = climate.ln_gamma(np.exp(unknowns[-2]))
        molality = self.forms(unknowns, ln_gamma, climate)
        self.share_out(molality, known.groups)
        return molality, slope, self.sums(molality, known)

    def forms(self, unknowns: Reals, ln_gamma: Reals, climate: Climate) -> Reals:
        """Every species over the free amount of its group, (b, n); `ln_gamma` (classes, n)."""
        told, n = self.told, unknowns.shape[1]
        powers, shape = len(told.powers), (len(told.species), n)
        factors = self.room("factors", powers + len(told.classes), n)
        np.subtract(product(told.powers, unknowns), told.powers[:, -1:] * LN_PROTON_ABOUT, factors[:powers])
        np.negative(ln_gamma, factors[powers:])
        np.exp(factors, factors)
        forms = factors.take(told.ligands_of, 0, self.room("forms", *shape), "clip")
        for rows in (told.protons_of, told.class_of):
            forms *= factors.take(rows, 0, self.room("species", *shape), "clip")
        forms *= climate.factor
        return forms

    def share_out(self, forms: Reals, groups: Reals) -> None:
        """Turn forms into molalities: each group shares out its own total."""
        if groups.shape[1] < FEW:
            free = product(self.told.members, forms)
        else:
            free = np.empty_like(groups)
            for group, block in enumerate(self.told.blocks):
                np.add.reduce(forms[block], axis=0, out=free[group])
        np.divide(groups, free, free)
        grouped = forms[: self.told.grouped]
        grouped *= free.take(self.told.group_of, 0, self.room("species", *grouped.shape), "clip")

    def sums(self, molality: Reals, known: Batch) -> Reals:
        """Sums over all species (r, n), followed by those of sums times unknowns."""
        sums = product(self.told.summed, molality)
        sums[: len(known.lone_sums)] += known.lone_sums
        return sums

    def errors(self, unknowns: Reals, sums: Reals, known: Batch) -> Reals:
        """Relative errors of the balances: ligands, ionic strength and, if pH is asked, protons; (c, n)."""
        told, k = self.told, self.told.ligands
        ratio = np.empty((told.unknowns, sums.shape[1]), self.precision)
        np.divide(sums[:k], known.ligands, ratio[:k])
        np.divide(sums[k], np.exp(unknowns[k]), ratio[k])
        if known.alkalinity is not None:
            np.divide(*_proton_sides(sums, k, known.alkalinity), ratio[k + 1])
        error = np.log(ratio, ratio)
        if known.gas is not None:
            off = unknowns[told.carbonate] + 2.0 * unknowns[k + 1] - known.gas
            error[told.carbonate] = np.where(np.isnan(off), error[told.carbonate], off)
        return error

    def slopes(self, molality: Reals, slope: Reals, sums: Reals, known: Batch) -> Reals:
        """Derivatives of the errors by the unknowns asked for, (c, c, n); arguments as told by `at`."""
        told, k = self.told, self.told.ligands
        change = self._changes(molality, slope, sums, known)
        matrix = change[: told.unknowns]
        if known.alkalinity is not None:
            up, down = _proton_sides(sums, k, known.alkalinity)
            np.subtract(change[k + 2] / up, change[k + 3] / down, matrix[k + 1])
        matrix[: k + 1] /= sums[: k + 1, None]
        matrix[k, k] -= 1.0
        if known.gas is not None:
            is_open = ~np.isnan(known.gas)
            matrix[told.carbonate][:, is_open] = 0.0
            matrix[told.carbonate, told.carbonate, is_open] = 1.0
            matrix[told.carbonate, k + 1 :, is_open] = 2.0
        return matrix

    def _changes(self, molality: Reals, slope: Reals, sums: Reals, known: Batch) -> Reals:
        """Derivatives of the sums by the unknowns, with the groups eliminated, (r, c, n)."""
        told, k, n = self.told, self.told.ligands, molality.shape[1]
        rows, columns = told.crossed_at.shape
        faded = slope.take(told.slope_of, 0, self.room("species", *molality.shape), "clip")
        faded *= molality
        weakened = product(told.weakened, faded)
        change = sums.take(told.crossed_at, 0, self.room("change", rows, columns, n), "clip")
        np.negative(weakened[:rows], change[:, k])
        held = self._held(molality)
        share = self.room("share", len(held), columns, n)
        share[...] = held[:, :columns]
        np.negative(weakened[rows:], share[:, k])
        share /= np.maximum(known.groups, LEAST_TOTAL)[:, None]
        if n < FEW:
            change -= np.einsum("grn,gcn->rcn", held, share)
            return change
        for row in range(k):  # the ligands' own part is symmetric
            change[row, row:] -= np.einsum("gn,gcn->cn", held[:, row], share[:, row:])
            change[row + 1 : k, row] = change[row, row + 1 : k]
        for row in (k, *range(k + 2, rows)):
            change[row] -= np.einsum("gn,gcn->cn", held[:, row], share)
        return change

    def _held(self, molality: Reals) -> Reals:
        """Sums over each group, (g, r, n)."""
        told = self.told
        if molality.shape[1] < FEW:
            return product(told.held, molality).reshape(len(told.blocks), len(told.crossed_at), molality.shape[1])
        held = self.room("held", len(told.blocks), len(told.crossed_at), molality.shape[1])
        for group, block in enumerate(told.blocks):
            np.dot(told.sums[:, block], molality[block], held[group])
        return held


def _proton_sides(sums: Reals, k: int, alkalinity: Reals) -> tuple[Reals, Reals]:
    """Protons gained and lost, with the alkalinity on the side where it counts as positive."""
    return sums[k + 2] + np.maximum(alkalinity, 0.0), sums[k + 3] + np.maximum(-alkalinity, 0.0)


def eliminated(matrix: Reals, right: Reals) -> Reals:
    """Solve n systems of equations at once, by Gauss without exchange of rows.

    matrix : (c, c, n) ndarray; right, result : (c, n) ndarray
    Rows need no exchange, as the diagonal of `Balances.slopes` rules them: scaled rows of a positive definite matrix
    of ligands, then the ionic strength, which weakens itself, and the proton.
    """
    if matrix.shape[2] < FEW_SYSTEMS:
        swapped = np.ascontiguousarray(matrix.transpose(2, 0, 1))
        try:
            return np.linalg.solve(swapped, right.T[:, :, None])[:, :, 0].T
        except np.linalg.LinAlgError:
            return np.full_like(right, np.nan)  # which never arrives, and is told as such
    both = np.concatenate([matrix, right[:, None]], axis=1)
    for pivot in range(len(both) - 1):
        lower = both[pivot + 1 :, pivot] / both[pivot, pivot]
        both[pivot + 1 :, pivot + 1 :] -= lower[:, None] * both[pivot, pivot + 1 :]
    found = both[:, -1]
    for pivot in reversed(range(len(both))):
        found[pivot] /= both[pivot, pivot]
        if pivot:
            found[:pivot] -= both[:pivot, pivot] * found[pivot]
    return found
