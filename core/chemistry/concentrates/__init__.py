"""Concentrates: whether tanks of 1 to 8 mol/kg ionic strength stay clear, how strong they may be, what they weigh."""

from core.chemistry.concentrates.assess import ConcentrateState, assess, assess_molal
from core.chemistry.concentrates.bounds import Bounds, Fullness, bounded, bounded_limit, fullness
from core.chemistry.concentrates.filling import Filling, fill
from core.chemistry.concentrates.solids import ABSENT, saturation_mol_per_kg
from core.chemistry.concentrates.strength import (
    INJECTOR_RATIOS,
    Standing,
    StrengthLimit,
    injector_step,
    stand,
    stand_beside,
    strength_limit,
)
from core.chemistry.concentrates.verdict import VERDICTS

__all__ = [
    "ABSENT",
    "INJECTOR_RATIOS",
    "VERDICTS",
    "Bounds",
    "ConcentrateState",
    "Filling",
    "Fullness",
    "Standing",
    "StrengthLimit",
    "assess",
    "assess_molal",
    "bounded",
    "bounded_limit",
    "fill",
    "fullness",
    "injector_step",
    "saturation_mol_per_kg",
    "stand",
    "stand_beside",
    "strength_limit",
]
