"""Dissociation of the acids that matter in a concentrate, and the balance of protons that gives its pH."""

from __future__ import annotations

from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.forms import Forms
from core.chemistry.concentrates.species import INDEX, IONS
from core.chemistry.water import ZERO_CELSIUS_K

Places: TypeAlias = NDArray[np.intp]

_LN10 = float(np.log(10.0))
_VAN_T_HOFF = 1000.0 / (8.314462 * _LN10)
_COARSE = np.linspace(1.0, -12.5, 28) * _LN10
_FINE = np.linspace(0.0, 0.5, 33) * _LN10
"""Grids of ln h: the whole range from 10 mol/kg down, and one interval of it."""
_COARSE_H = np.exp(_COARSE)[:, None, None]
_FINE_H = np.exp(_COARSE[:-1] - _FINE[:, None])
"""h at their points, (n_points, 1, 1) and (n_points, n_intervals) [mol/kg]."""
_HSO4 = (-5.3585, 0.0183412, 557.2461)
"""log10 of the association constant, a + b T + c/T: pitzer.dat of PHREEQC (USGS, public domain; READ)."""
_OTHERS = (
    (-2.168, -8.8),
    (-7.207, 4.14),
    (-6.352, 12.0),
    (-13.995, 57.7),
    (-3.128, 0.0),
    (-4.761, 0.0),
    (-6.396, 0.0),
)
"""log10 K at 25 degC and enthalpy [kJ/mol] of H3PO4, H2PO4-, CO2, H2O (phreeqc.dat of PHREEQC, USGS; differences of
READ values, the enthalpies of the last two from its constants at 10 and 25 degC) and of citric acid (minteq.v4, USEPA;
DERIVED, taken as independent of temperature)."""


_NEUTRAL: tuple[dict[str, float], ...] = (
    {"HSO4-": 1.0, "H+": -1.0, "SO4-2": -1.0},
    {"H+": -1.0, "H2PO4-": -1.0},
    {"H2PO4-": 1.0, "H+": -1.0, "HPO4-2": -1.0},
    {"H+": -1.0, "-": -1.0},
    {"H+": -1.0, "-": -1.0},
    {"H+": -1.0, "-": -1.0},
    {"H+": -1.0, "-": -3.0},
    {"H+": -1.0, "-": -5.0},
)
"""How often ln gamma of each ion enters the constants, in the order of `constants`; citrate's three are taken for
charges of -1, -2 and -3 of an ion of no known kind."""
_SHIFTS = np.array([[row.get(ion, 0.0) for ion in IONS] for row in _NEUTRAL])


def constants(temperatures_c: tuple[float, ...]) -> Floats:
    """Dissociation constants at some temperatures [degC], (n_temperatures, 8, 1) [mol/kg; water mol2/kg2].

    Of HSO4-, H3PO4, H2PO4-, CO2, H2O and of citric acid's three protons; source with the values.
    """
    t = np.array(temperatures_c)[:, None] + ZERO_CELSIUS_K
    warmed = _VAN_T_HOFF * (1.0 / 298.15 - 1.0 / t)
    first = 10.0 ** -(_HSO4[0] + _HSO4[1] * t + _HSO4[2] / t)
    others = [10.0 ** (log_k + enthalpy * warmed) for log_k, enthalpy in _OTHERS]
    return np.stack([first, *others], axis=1)


class Protons(NamedTuple):
    """Where the protons are, each (n_temperatures, n_tanks) [mol/kg]: free, on sulfate, on and off H2PO4-, bases.

    bicarbonate : None where there is no carbon; interval : where among the coarse grid the free ones were found.
    """

    hydrogen: Floats
    on_sulfate: Floats
    phosphoric: Floats
    monohydrogen: Floats
    bicarbonate: Floats | None
    hydroxide: Floats
    interval: Places


class Takers(NamedTuple):
    """What takes and gives protons in tanks, as in `Forms`; citrate and carbon None where no tank has any."""

    sulfur: Floats
    phosphorus: Floats
    acid: Floats
    citrate: Floats | None
    carbon: Floats | None


def takers(tank: Forms) -> Takers:
    """What of tanks takes part in the balance of protons."""
    return Takers(
        tank.molality[..., INDEX["SO4-2"], :],
        tank.molality[..., INDEX["H2PO4-"], :],
        tank.acid,
        tank.citrate if tank.citrate.any() else None,
        tank.carbon if tank.carbon.any() else None,
    )


class _Constants(NamedTuple):
    """Constants on molalities, activity coefficients worked in; (n_temperatures, n_tanks), p1 the inverse of one."""

    s: Floats
    p1: Floats
    p2: Floats
    c: Floats
    w: Floats
    cit: Floats


def _constants(ln_gamma: Floats, given: Floats) -> _Constants:
    """Only neutral combinations of ln gamma (n_temperatures, n_ions, n_tanks) enter, H3PO4 counted as ideal."""
    k = np.exp(_SHIFTS @ ln_gamma)
    k *= given
    s, p1, p2, c, w = k[:, :5].swapaxes(0, 1)
    return _Constants(s, 1.0 / p1, p2, c, w, k[:, 5:].swapaxes(0, 1))


def _balance(h: Floats, tank: Takers, k: _Constants) -> Floats:
    """Protons the forms hold at hydrogen molality h, less the acid there is; rises with h."""
    inverse = 1.0 / h
    up, down = h * k.p1, k.p2 * inverse
    held = tank.phosphorus * (up - down) / (1.0 + up + down)
    held += tank.sulfur / (1.0 + k.s * inverse)
    held += h - k.w * inverse
    held -= tank.acid
    if tank.citrate is not None:
        held += tank.citrate * _citrate_protons(h, k.cit)
    if tank.carbon is not None:
        held -= tank.carbon / (1.0 + h / k.c)
    return held


def _citrate_protons(h: Floats, k: Floats) -> Floats:
    """Mean number of protons on a citrate at hydrogen molality h; k (3, n_temperatures, n_tanks)."""
    one = h / k[2]
    two = one * h / k[1]
    three = two * h / k[0]
    mean: Floats = (one + 2.0 * two + 3.0 * three) / (1.0 + one + two + three)
    return mean


def solve(tank: Takers, ln_gamma: Floats, given: Floats, near: Places | None = None) -> Protons:
    """Share the acid out at given activity coefficients (n_temperatures, n_ions, n_tanks): two grids, then a chord.

    near : the interval where protons of nearly the same tanks were found, looked into first
    """
    k = _constants(ln_gamma, given)
    ln_h, interval = _root(tank, k, near)
    h = np.exp(ln_h)
    up, down = h * k.p1, k.p2 / h
    phosphorus = tank.phosphorus / (1.0 + up + down)
    on_sulfate = tank.sulfur / (1.0 + k.s / h)
    bicarbonate = None if tank.carbon is None else tank.carbon / (1.0 + h / k.c)
    return Protons(h, on_sulfate, phosphorus * up, phosphorus * down, bicarbonate, k.w / h, interval)


def _root(tank: Takers, k: _Constants, near: Places | None) -> tuple[Floats, Places]:
    """Logarithm of the hydrogen molality at which the protons balance, within 0.0002, and its interval."""
    interval = near
    held = None if interval is None else _balance(_FINE_H.take(interval, axis=1), tank, k)
    if interval is None or held is None or not (held[0].min() > 0.0 >= held[-1].max()):
        interval = _passed(_balance(_COARSE_H, tank, k))
        held = _balance(_FINE_H.take(interval, axis=1), tank, k)
    step = _passed(held).ravel()
    held, column = held.reshape(len(_FINE), -1), np.arange(step.size)
    over, under = held[step, column], held[step + 1, column]
    chord = np.minimum(np.maximum(over / np.maximum(over - under, 1e-300), 0.0), 1.0)
    root: Floats = _COARSE[interval] - (_FINE[step] + chord * _FINE[1]).reshape(interval.shape)
    return root, interval


def _passed(held: Floats) -> Places:
    """The step of a grid (its first axis) in which what falls along it passes zero, else the first or the last."""
    passed = np.add.reduce(held > 0.0, axis=0, dtype=np.intp)
    step: Places = np.minimum(np.maximum(passed, 1), len(held) - 1) - 1
    return step
