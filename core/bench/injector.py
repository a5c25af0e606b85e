"""Checking what an injector really gives, and how much of a closed loop must be let go."""

from __future__ import annotations

import math


def injector_share(hose_ms_per_cm: float, water_ms_per_cm: float, expected_rise_ms_per_cm: float) -> float:
    """Return what the injector delivers as a share of what it is set to (1.0 is right).

    Parameters
    ----------
    hose_ms_per_cm, water_ms_per_cm : EC behind and before the injector [mS/cm]
    expected_rise_ms_per_cm : EC that the concentrate adds at the set ratio, over 0 [mS/cm]
    """
    return (hose_ms_per_cm - water_ms_per_cm) / expected_rise_ms_per_cm


def ratio_from_share(set_ratio: float, share: float) -> float:
    """Return the ratio in use of an injector set to `set_ratio` that delivers `share` (over 0) of what it should."""
    return set_ratio / share


def bleed_share(inflow: float, uptake: float, most_allowed: float) -> float:
    """Return the share of the inflow to let go so that an ion the crop hardly takes stays at its limit.

    All three in the same unit (mmol/L, meq/L or mg/L): what comes in, what the crop takes up per litre it drinks, and
    the most the root zone may hold. 0 where the crop takes all of it; 1 or more (or infinite) means that no bleeding
    holds the limit.

    Derived: steady state of inflow = uptake + bleed, f = (c_in - u) / (c_max - u).
    """
    if inflow <= uptake:
        return 0.0
    return (inflow - uptake) / (most_allowed - uptake) if most_allowed > uptake else math.inf
