"""Where the search for an equilibrium starts: nothing is known but the totals."""

from __future__ import annotations

import numpy as np

from core.chemistry.balances import LEAST_TOTAL, Balances
from core.chemistry.batch import Batch, Climate
from core.chemistry.system import GUESS_PH, LN10, SINGLE, Constants, Reals, System, product

MOST_CORRECTION = 1.0
"""Largest correction of a ligand's ln activity."""


def first_guess(balances: Balances, known: Batch, climate: Climate, strength: Reals, ln_proton: Reals) -> Reals:
    """Guess the unknowns (k + 2, n): pairs as if cations were free, then one round of correction.

    strength : (n,) [mol/kg], about; ln_proton : (n,), ln of the H+ activity, known or about
    """
    told, k = balances.told, balances.told.ligands
    unknowns = np.zeros((k + 2, len(strength)), balances.precision)
    unknowns[k + 1] = ln_proton
    forms = balances.forms(unknowns, climate.ln_gamma(strength)[0], climate)
    free = np.maximum(known.groups, LEAST_TOTAL) / product(told.alone, forms[: told.grouped])
    paired = balances.room("species", *forms.shape)
    paired[told.grouped :] = forms[told.grouped :]
    np.multiply(forms[: told.grouped], free.take(told.group_of, axis=0), paired[: told.grouped])
    unknowns[:k] = np.log(known.ligands / product(told.first, paired))
    if known.gas is not None:
        carbonate = known.gas - 2.0 * ln_proton
        unknowns[told.carbonate] = np.where(np.isnan(carbonate), unknowns[told.carbonate], carbonate)
    forms *= np.exp(product(told.powers[:, :k], unknowns[:k])).take(told.ligands_of, axis=0)
    balances.share_out(forms, known.groups)
    _correct(unknowns, balances.sums(forms, known), known, told.carbonate)
    return unknowns


def _correct(unknowns: Reals, sums: Reals, known: Batch, carbonate: int) -> None:
    """Correct the guess by how far its sums are off, ligands where they are closed, and the ionic strength."""
    k = len(known.ligands)
    correction = np.clip(np.log(known.ligands / sums[:k]), -MOST_CORRECTION, MOST_CORRECTION)
    if known.gas is not None:
        correction[carbonate] = np.where(np.isnan(known.gas), correction[carbonate], 0.0)
    unknowns[:k] += correction
    unknowns[k] = np.log(sums[k])


def guess_ln_proton(
    system: System, constants: Constants, totals: Reals, alkalinity: Reals, ln_carbonic: Reals | None
) -> Reals:
    """Look up where the protons gained balance the alkalinity, (n,), ln of the H+ activity.

    totals : (g + k, n) [mol/kg]; alkalinity : (n,) [eq/kg]; ln_carbonic : (n,) as in `Problem`
    """
    table, ph = constants.guess[:, ::2].astype(SINGLE), GUESS_PH[::2]
    totals = totals.astype(SINGLE)
    if ln_carbonic is None:
        balance = product(table[:-2].T, totals)
    else:
        is_open = ~np.isnan(ln_carbonic)
        totals[len(system.groups) + system.carbonate, is_open] = 0.0
        balance = product(table[:-2].T, totals)
        balance[:, is_open] += table[-1][:, None] * np.exp(ln_carbonic[is_open])
    balance += table[-2][:, None]
    balance += alkalinity.astype(SINGLE)
    after = np.clip(np.count_nonzero(balance > 0.0, axis=0), 1, len(ph) - 1)
    column = np.arange(len(after))
    high, low = balance[after - 1, column], balance[after, column]
    share = np.clip(high / np.where(high == low, 1.0, high - low), 0.0, 1.0)
    guess: Reals = -LN10 * (ph[after - 1] + share * (ph[after] - ph[after - 1]))
    return guess
