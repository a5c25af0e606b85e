"""Which scale, what it will show, in how many goes, and whether it can be weighed well at all.

The thresholds of 50 divisions (2 %) and 20 divisions (5 %) are this program's own rule. Background: the smallest load
for class II scales of e up to 2 g is 50 divisions and for class III 25 (NIST, Office of Weights and Measures,
guidance on weighing; read).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from core.recipe.records import Scale

GOOD_DIVISIONS = 50.0
"""Below this many scale steps a weight is worth a check: one step is more than 2 % of it."""

LEAST_DIVISIONS = 20.0
"""Below this many scale steps a trace bottle is advised: one step is more than 5 % of the weight."""

HALF_WAY = 0.49
"""From here on a part of a step counts as half and goes up: 31.495 steps are 31.5 to anyone at a bench, and both
neighbours are equally near to within a fiftieth of a step."""

Advice = Literal["good", "check", "trace-bottle"]


@dataclass(frozen=True)
class Weighing:
    """One product's weight as it will be weighed.

    Attributes
    ----------
    grams : what the plan asks for [g]
    loads_g : what the scale shows, one number per go [g]; several where the weight is over the scale's capacity
    scale : the scale to use, or None where none is known
    advice : "check" under 50 scale steps a go, "trace-bottle" under 20
    """

    grams: float
    loads_g: tuple[float, ...]
    scale: Scale | None
    advice: Advice

    @property
    def grams_to_weigh(self) -> float:
        """All goes together [g]."""
        return self.loads_g[0] if len(self.loads_g) == 1 else math.fsum(self.loads_g)

    @property
    def fits_scale(self) -> bool:
        """False for a weight under half a scale step (see HALF_WAY): `grams_to_weigh` stays as planned."""
        return self.scale is None or self.grams == 0 or _steps(self.grams, self.scale.readability_g) > 0


def weigh(grams: Sequence[float], scales: Sequence[Scale]) -> tuple[Weighing, ...]:
    """Give each weight [g] to the finest scale that carries it, at the nearest step.

    A weight over every capacity goes onto the scale that carries most, in equal goes. A weight that would round to
    nothing keeps its grams, is marked "trace-bottle" and does not fit the scale: it is never dropped and never raised.

    Parameters
    ----------
    grams : (n_items,) each finite and at least 0 [g]
    scales : the scales at hand; none leaves the weights as they are
    """
    return tuple(_weigh_one(weight, choose_scale(weight, scales)) for weight in grams)


def choose_scale(grams: float, scales: Sequence[Scale]) -> Scale | None:
    """Return the finest scale that carries `grams` [g], else the one that carries most, else None."""
    if not scales:
        return None
    carrying = [scale for scale in scales if scale.capacity_g >= grams]
    if carrying:
        return min(carrying, key=lambda scale: (scale.readability_g, scale.capacity_g))
    return min(scales, key=lambda scale: (-scale.capacity_g, scale.readability_g))


def at_steps(grams: float, scale: Scale, steps: int) -> Weighing:
    """Return `grams` [g] weighed as `steps` whole scale steps (at least 1), in as few equal goes as the scale needs."""
    most_steps = max(1, math.floor(scale.capacity_g / scale.readability_g + 1e-9))
    goes = math.ceil(steps / most_steps)
    each, extra = divmod(steps, goes)
    loads = tuple(_shown(each + (1 if go < extra else 0), scale.readability_g) for go in range(goes))
    return Weighing(grams, loads, scale, _advice(grams / goes / scale.readability_g))


def _weigh_one(grams: float, scale: Scale | None) -> Weighing:
    if scale is None or grams == 0:
        return Weighing(grams, (grams,), scale, "good")
    steps = _steps(grams, scale.readability_g)
    if steps == 0:
        return Weighing(grams, (grams,), scale, "trace-bottle")
    return at_steps(grams, scale, steps)


def _steps(grams: float, readability_g: float) -> int:
    """Nearest whole number of steps; half-way goes up."""
    return math.floor(grams / readability_g + (1.0 - HALF_WAY))


def _shown(steps: int, readability_g: float) -> float:
    """Steps as grams, without the binary dust of 4361 x 0.01."""
    return float(f"{steps * readability_g:.12g}")


def _advice(divisions: float) -> Advice:
    """Whether so many scale steps are enough; twenty less the round-off of a solver are twenty."""
    told = round(divisions, 6)
    if told < LEAST_DIVISIONS:
        return "trace-bottle"
    return "check" if told < GOOD_DIVISIONS else "good"
