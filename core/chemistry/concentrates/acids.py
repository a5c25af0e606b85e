"""Dissociation of the acids that matter in a concentrate, and the balance of protons that gives its pH."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.forms import Forms
from core.chemistry.concentrates.species import INDEX
from core.chemistry.water import ZERO_CELSIUS_K

_LN10 = float(np.log(10.0))
_VAN_T_HOFF = 1000.0 / (8.314462 * _LN10)
_COARSE = np.linspace(1.0, -12.5, 28) * _LN10
_FINE = np.linspace(0.0, 0.5, 33) * _LN10
"""Grids of ln h: the whole range from 10 mol/kg down, and one interval of it."""
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


class Constants(NamedTuple):
    """Dissociation constants at some temperatures, each (n_temperatures, 1) [mol/kg; water mol2/kg2]."""

    hydrogen_sulfate: Floats
    phosphoric: Floats
    dihydrogen_phosphate: Floats
    carbonic: Floats
    water: Floats
    citric1: Floats
    citric2: Floats
    citric3: Floats


def constants(temperatures_c: tuple[float, ...]) -> Constants:
    """Dissociation constants at some temperatures [degC]; source with the values."""
    t = np.array(temperatures_c)[:, None] + ZERO_CELSIUS_K
    warmed = _VAN_T_HOFF * (1.0 / 298.15 - 1.0 / t)
    first = 10.0 ** -(_HSO4[0] + _HSO4[1] * t + _HSO4[2] / t)
    return Constants(first, *(10.0 ** (log_k + enthalpy * warmed) for log_k, enthalpy in _OTHERS))


class Protons(NamedTuple):
    """Where the protons are, each (n_temperatures, n_tanks) [mol/kg]: free, on sulfate, on and off H2PO4-, bases."""

    hydrogen: Floats
    on_sulfate: Floats
    phosphoric: Floats
    monohydrogen: Floats
    bicarbonate: Floats
    hydroxide: Floats


class _Conditional(NamedTuple):
    """Constants on molalities, activity coefficients worked in; (n_temperatures, n_tanks)."""

    s: Floats
    p1: Floats
    p2: Floats
    c: Floats
    w: Floats
    cit: tuple[Floats, Floats, Floats] | None


def _conditional(ln_gamma: Floats, given: Constants, citrate: bool) -> _Conditional:
    """Only neutral combinations of ln gamma (n_temperatures, n_ions, n_tanks) enter, H3PO4 counted as ideal."""
    h, other = ln_gamma[:, INDEX["H+"]], ln_gamma[:, INDEX["-"]]
    so4, hso4 = ln_gamma[:, INDEX["SO4-2"]], ln_gamma[:, INDEX["HSO4-"]]
    h2po4, hpo4 = ln_gamma[:, INDEX["H2PO4-"]], ln_gamma[:, INDEX["HPO4-2"]]
    single = np.exp(-h - other)
    citric = None
    if citrate:
        second, third = np.exp(-h - 3.0 * other), np.exp(-h - 5.0 * other)
        citric = (given.citric1 * single, given.citric2 * second, given.citric3 * third)
    return _Conditional(
        given.hydrogen_sulfate * np.exp(hso4 - h - so4),
        given.phosphoric * np.exp(-h - h2po4),
        given.dihydrogen_phosphate * np.exp(h2po4 - h - hpo4),
        given.carbonic * single,
        given.water * single,
        citric,
    )


def _citrate_protons(h: Floats, k: tuple[Floats, Floats, Floats]) -> Floats:
    """Mean number of protons on a citrate at hydrogen molality h."""
    one = h / k[2]
    two = one * h / k[1]
    three = two * h / k[0]
    return (one + 2.0 * two + 3.0 * three) / (1.0 + one + two + three)


def _balance(h: Floats, tank: Forms, k: _Conditional) -> Floats:
    """Protons the forms hold at hydrogen molality h, less the acid there is; rises with h."""
    sulfur, phosphorus = tank.molality[..., INDEX["SO4-2"], :], tank.molality[..., INDEX["H2PO4-"], :]
    up, down = h / k.p1, k.p2 / h
    held = h - k.w / h + sulfur / (1.0 + k.s / h) + phosphorus * (up - down) / (1.0 + up + down) - tank.acid
    if k.cit is not None:
        held += tank.citrate * _citrate_protons(h, k.cit)
    if tank.carbon.any():
        held -= tank.carbon / (1.0 + h / k.c)
    return held


def solve(tank: Forms, ln_gamma: Floats, given: Constants) -> Protons:
    """Share the acid out at given activity coefficients (n_temperatures, n_ions, n_tanks): two grids, then a chord."""
    k = _conditional(ln_gamma, given, citrate=bool(tank.citrate.any()))
    h = np.exp(_root(tank, k))
    up, down = h / k.p1, k.p2 / h
    phosphorus = tank.molality[..., INDEX["H2PO4-"], :] / (1.0 + up + down)
    on_sulfate = tank.molality[..., INDEX["SO4-2"], :] / (1.0 + k.s / h)
    return Protons(h, on_sulfate, phosphorus * up, phosphorus * down, tank.carbon / (1.0 + h / k.c), k.w / h)


def _root(tank: Forms, k: _Conditional) -> Floats:
    """Logarithm of the hydrogen molality at which the protons balance, within 0.0002."""
    shape = k.s.shape
    coarse = _COARSE[:, None, None]
    above = (_balance(np.exp(coarse), tank, k) > 0.0).sum(axis=0)
    above = np.minimum(np.maximum(above, 1), len(_COARSE) - 1)
    fine = _COARSE[above - 1] - _FINE[:, None, None]
    balance = _balance(np.exp(fine), tank, k).reshape(len(_FINE), -1)
    above = (balance > 0.0).sum(axis=0)
    above = np.minimum(np.maximum(above, 1), len(_FINE) - 1)
    column = np.arange(above.size)
    over, under = balance[above - 1, column], balance[above, column]
    chord = np.minimum(np.maximum(over / np.maximum(over - under, 1e-300), 0.0), 1.0).reshape(shape)
    root: Floats = fine.reshape(len(_FINE), -1)[above - 1, column].reshape(shape) - chord * _FINE[1]
    return root
