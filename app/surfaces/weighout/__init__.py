"""The Weigh-out surface: what to put on which scale for one batch, what went in, and what to do about it."""

from app.surfaces.weighout.surface import WeighoutSurface

__all__ = ["WeighoutSurface"]
