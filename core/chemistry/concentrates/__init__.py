"""Concentrates: whether tanks of 1 to 8 mol/kg ionic strength stay clear, how strong they may be, what they weigh."""

from core.chemistry.concentrates.assess import ConcentrateState, assess, assess_molal
from core.chemistry.concentrates.filling import Filling, fill
from core.chemistry.concentrates.solids import ABSENT, saturation_mol_per_kg
from core.chemistry.concentrates.verdict import VERDICTS

__all__ = [
    "ABSENT",
    "VERDICTS",
    "ConcentrateState",
    "Filling",
    "assess",
    "assess_molal",
    "fill",
    "saturation_mol_per_kg",
]
