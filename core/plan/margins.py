"""Thresholds that round-off cannot cross: a figure that is the bound itself is neither over nor under it."""

from __future__ import annotations

ROUND_OFF = 1e-6
"""Share of a bound, or distance from one below 1, by which a computed figure may be off it and still be the same; the
solver ends its rounds that close (`core.blend.serving`)."""


def over(value: float, bound: float, margin: float = ROUND_OFF) -> bool:
    """True where a figure is over a bound by more than the margin."""
    return value > bound + margin * max(1.0, abs(bound))


def under(value: float, bound: float, margin: float = ROUND_OFF) -> bool:
    """True where a figure is under a bound by more than the margin."""
    return value < bound - margin * max(1.0, abs(bound))
