"""The answers to "why these amounts?", worst first, and the arithmetic behind any figure."""

from app.surfaces.why.sheet import WhySheet

__all__ = ["WhySheet"]
