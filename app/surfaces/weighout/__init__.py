"""The Weigh-out surface: what to put on which scale for one batch."""

from app.surfaces.weighout.surface import WeighoutSurface

__all__ = ["WeighoutSurface"]
