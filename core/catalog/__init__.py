"""The catalog: salts, acids, crops, waters and hazards, read from resources/catalog when first asked for."""

from core.catalog.acids import concentration_mol_per_l, density_kg_per_l, is_liquid
from core.catalog.atomic_weights import ATOMIC_WEIGHTS, molar_mass_g_per_mol
from core.catalog.closed_loop import ClosedLoop, closed_loops
from core.catalog.crops import CropProfile, CropTarget, UnknownCrop, crop, crops, crops_of
from core.catalog.hazards import (
    Hazard,
    HazardClass,
    Pair,
    Statement,
    handling_rules,
    hazard,
    hazard_groups,
    incompatible_pairs,
    pairs_among,
)
from core.catalog.limits import FeedLimit, feed_limits
from core.catalog.resource import HowKnown, Known, Source, sources
from core.catalog.salts import Salt, UnknownSalt, salt, salts
from core.catalog.solubility import practical_limits, solubility_g_per_100g_water, solubility_g_per_l
from core.catalog.waters import WaterProfile, waters

__all__ = [
    "ATOMIC_WEIGHTS",
    "ClosedLoop",
    "CropProfile",
    "CropTarget",
    "FeedLimit",
    "Hazard",
    "HazardClass",
    "HowKnown",
    "Known",
    "Pair",
    "Salt",
    "Source",
    "Statement",
    "UnknownCrop",
    "UnknownSalt",
    "WaterProfile",
    "closed_loops",
    "concentration_mol_per_l",
    "crop",
    "crops",
    "crops_of",
    "density_kg_per_l",
    "feed_limits",
    "handling_rules",
    "hazard",
    "hazard_groups",
    "incompatible_pairs",
    "is_liquid",
    "molar_mass_g_per_mol",
    "pairs_among",
    "practical_limits",
    "salt",
    "salts",
    "solubility_g_per_100g_water",
    "solubility_g_per_l",
    "sources",
    "waters",
]
