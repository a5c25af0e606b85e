"""The chemistry of the feed, looked at in place of the recipe: forms, what carries the EC, a titration."""

from app.surfaces.chemistry.panel import ChemistryPanel

__all__ = ["ChemistryPanel"]
