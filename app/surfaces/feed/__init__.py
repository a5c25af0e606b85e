"""Feed: one EC reading in, how much to pour out; topping up; the injector and the bleed of a closed loop."""

from app.surfaces.feed.surface import FeedSurface

__all__ = ["FeedSurface"]
