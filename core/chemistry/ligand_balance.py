"""The balances of a few strong ligands that share a few metals, solved from any start."""

from __future__ import annotations

import math

from core.chemistry.errors import NotConverged
from core.chemistry.system import Array

_STEPS, _CLOSE, _LONGEST_STEP = 200, 1e-9, 8.0

_SURE_STEP = 0.25
"""Newton steps up to here need no looking after: the slope of the slope changes by no more than exp(2 steps) = 1.65 on
their way, and below 2 the function falls."""


class LigandBalance:
    """The balances of the ligands of one solution: few numbers, so plain ones.

    They are the slope of a convex function of the logarithms of the bare forms, so Newton steps that are cut until
    the function falls always arrive.
    """

    def __init__(
        self, linear: list[float], ligands: list[float], constants: list[list[float]], metals: Array, side: Array
    ) -> None:
        """Take the balances of one solution.

        linear : per ligand, its forms without a metal whose balance counts, over its bare form [-]
        ligands : per ligand, its total, above zero [mol/kg]
        constants : per metal and ligand, what is held over bare ligand times free metal [kg/mol]
        metals, side : (metals,) ndarray, totals [mol/kg] and unchelated metal over free metal [-]
        """
        self._linear = linear
        self._ligands = ligands
        every = zip(constants, metals.tolist(), side.tolist(), strict=True)
        self._metals = [(of_ligand, metal, free) for of_ligand, metal, free in every if metal > 0.0 and any(of_ligand)]

    def solved(self) -> list[float]:
        """Return the logarithm of the bare form of every ligand [ln mol/kg].

        Raises NotConverged; never seen in range.
        """
        alone = [line + sum(k[j] * m / s for k, m, s in self._metals) for j, line in enumerate(self._linear)]
        ln_bare = [math.log(total / held) for total, held in zip(self._ligands, alone, strict=True)]
        for _ in range(_STEPS):
            bare = [math.exp(x) for x in ln_bare]
            excess, slope = self._at(bare)
            if max(abs(x) / total for x, total in zip(excess, self._ligands, strict=True)) < _CLOSE:
                return ln_bare
            step = _newton_step(slope, excess)
            while max(map(abs, step)) > _SURE_STEP and not self._falls(bare, step, excess):
                step = [0.5 * by for by in step]
            ln_bare = [x + by for x, by in zip(ln_bare, step, strict=True)]
        raise NotConverged((0,))

    def _falls(self, bare: list[float], step: list[float], excess: list[float]) -> bool:
        """Tell whether a step lowers the function by a fair part of what its slope promises.

        The change is summed from changes, as the function itself is too large beside it to be compared.
        """
        growth = [x * math.expm1(by) for x, by in zip(bare, step, strict=True)]
        change = sum(line * more for line, more in zip(self._linear, growth, strict=True))
        for constants, metal, side in self._metals:
            whole = side + sum(k * x for k, x in zip(constants, bare, strict=True))
            change += metal * math.log1p(sum(k * more for k, more in zip(constants, growth, strict=True)) / whole)
        change -= sum(total * by for total, by in zip(self._ligands, step, strict=True))
        downhill = sum(x * by for x, by in zip(excess, step, strict=True))
        noise = 1e-14 * sum(total * abs(by) for total, by in zip(self._ligands, step, strict=True))
        return change <= 1e-4 * downhill + noise

    def _at(self, bare: list[float]) -> tuple[list[float], list[list[float]]]:
        """Return the slope of the function, what the ligands hold too much, and its curvature."""
        taken = [line * x for line, x in zip(self._linear, bare, strict=True)]
        curve = [[0.0] * len(bare) for _ in bare]
        for constants, metal, side in self._metals:
            parts = [k * x for k, x in zip(constants, bare, strict=True)]
            each = metal / (side + sum(parts))
            for i, part in enumerate(parts):
                held = each * part
                taken[i] += held
                for j in range(i + 1):
                    curve[i][j] -= held * parts[j] * each / metal
        for i, held in enumerate(taken):
            curve[i][i] += held
        return [held - total for held, total in zip(taken, self._ligands, strict=True)], curve


def _newton_step(curve: list[list[float]], excess: list[float]) -> list[float]:
    """Return the step to where the excess would vanish, no component longer than `_LONGEST_STEP`.

    curve : its lower triangle; symmetric and positive, so it is eliminated from the last row up, without exchanges
    """
    rows, left = [row[: place + 1] for place, row in enumerate(curve)], [-x for x in excess]
    for p in reversed(range(len(rows))):
        pivot = rows[p]
        pivot[p] = max(pivot[p], 1e-12 * curve[p][p] + 1e-300)
        for i in range(p):
            share = pivot[i] / pivot[p]
            left[i] -= share * left[p]
            for j in range(i + 1):
                rows[i][j] -= share * pivot[j]
    steps: list[float] = []
    for row, rest in zip(rows, left, strict=True):
        steps.append((rest - sum(k * x for k, x in zip(row, steps, strict=False))) / row[-1])
    longest = max(map(abs, steps))
    return [by * min(1.0, _LONGEST_STEP / longest) for by in steps] if longest > _LONGEST_STEP else steps
