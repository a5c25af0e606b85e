"""The Logbook surface: one reservoir's diary, what is read out of it, and the batches mixed."""

from app.surfaces.logbook.surface import LogbookSurface

__all__ = ["LogbookSurface"]
