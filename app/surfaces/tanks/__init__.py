"""The Tanks surface: what each concentrate holds and whether it stays clear."""

from app.surfaces.tanks.surface import TanksSurface

__all__ = ["TanksSurface"]
