"""Variants of a recipe side by side."""

from app.surfaces.compare.surface import CompareSurface

__all__ = ["CompareSurface"]
