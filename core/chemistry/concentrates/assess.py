"""Whether concentrates stay clear, for many tanks and temperatures in one call."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.chemistry.components import COMPONENTS
from core.chemistry.concentrates.equilibrium import Part, Rest, settle, settle_parts
from core.chemistry.concentrates.filling import fill
from core.chemistry.concentrates.floats import Floats
from core.chemistry.concentrates.forms import Forms, share_out
from core.chemistry.concentrates.solids import ABSENT, Reference, reference, saturation, solids
from core.chemistry.concentrates.species import CHARGE, INDEX, IONS
from core.chemistry.concentrates.verdict import VERDICTS, Judged, judge

MOST_STRENGTH_MOL_PER_KG = 15.0
"""Beyond this ionic strength Pitzer's equations are not asked."""
MOST_UNKNOWN_SHARE = 0.1
"""Largest share of the charge that may be ions of no known kind."""
MOST_BASE_MOL_PER_KG = 1e-3
MOST_SILICON_MOL_PER_KG = 1e-2
"""Hydroxide and silicate are not among the ions with parameters here; above this the product speaks alone."""
LEAST_WATER_KG_PER_L = 0.3
"""Fuller than this a tank is no solution; contents are judged as if it still held this much water."""


@dataclass(frozen=True, eq=False)
class ConcentrateState:
    """How concentrates stand; arrays are (n_temperatures, n_tanks) unless said otherwise.

    Attributes
    ----------
    temperatures_c : the temperatures asked for [degC]
    solids : ids of the candidate solids
    saturation_index : (n_temperatures, n_solids, n_tanks) by Pitzer [log10], ABSENT where an ion is missing
    product_index : (n_temperatures, n_solids, n_tanks) concentration product over its saturated value [log10]
    excess : (n_temperatures, n_solids, n_tanks) over the line where "clear" ends [log10]
    over : (n_temperatures, n_solids, n_tanks) bool, solids that are not clear
    rank : int, 0 clear, 1 doubtful, 2 settles (VERDICTS); never clear where the model ends before
    margin : distance to the line where "clear" ends, negative beyond it [log10]
    limiting : int, place in `solids` of the one nearest to coming out
    pitzer_valid : bool, False where the concentration product had to speak alone
    beyond_model : bool, True where the tank is stronger than the model was measured for
    ph, ionic_strength_mol_per_kg : of the tank
    water_kg_per_l, density_kg_per_l : (n_tanks,) of the filled concentrate [kg/L]
    """

    temperatures_c: tuple[float, ...]
    solids: tuple[str, ...]
    saturation_index: Floats
    product_index: Floats
    excess: Floats
    over: NDArray[np.bool_]
    rank: NDArray[np.int64]
    margin: Floats
    limiting: NDArray[np.int64]
    pitzer_valid: NDArray[np.bool_]
    beyond_model: NDArray[np.bool_]
    ph: Floats
    ionic_strength_mol_per_kg: Floats
    water_kg_per_l: Floats
    density_kg_per_l: Floats

    def verdict(self, temperature: int, tank: int) -> str:
        """Word for one tank at one temperature, both by place."""
        return VERDICTS[self.rank[temperature, tank]]

    def limited_by(self, temperature: int, tank: int) -> str | None:
        """Solid nearest to coming out, None where the tank holds the makings of none."""
        place = self.limiting[temperature, tank]
        return None if self.excess[temperature, place, tank] <= ABSENT else self.solids[place]

    def settling(self, temperature: int, tank: int) -> tuple[str, ...]:
        """Solids that are not clear, the worst first."""
        if not self.rank[temperature, tank]:
            return ()
        excess = self.excess[temperature, :, tank]
        worst_first = np.argsort(-excess, kind="stable")
        return tuple(self.solids[place] for place in worst_first if self.over[temperature, place, tank])


def assess(contents_mol_per_l: Floats, temperatures_c: Sequence[float]) -> ConcentrateState:
    """Judge filled concentrates by what a litre of them holds.

    contents_mol_per_l : (n_components, n_tanks) ndarray [mol per litre of filled concentrate] in the order of
    core.chemistry.components.COMPONENTS, the fill water's ions included, nothing negative; temperatures_c [degC],
    tabulated from 0 to 40 and held at the ends.
    Raises ValueError where the shape does not fit or a content is negative or not finite.
    Source: Pitzer 1991 with May et al. 2011 and pitzer.dat (USGS) parameters; CRC Handbook 98th ed. solubilities.
    """
    contents = checked(contents_mol_per_l)
    filling = fill(contents)
    water = np.maximum(filling.water_kg_per_l, LEAST_WATER_KG_PER_L)
    return _state(contents / water, tuple(map(float, temperatures_c)), filling.water_kg_per_l, filling.density_kg_per_l)


def assess_molal(contents_mol_per_kg: Floats, temperatures_c: Sequence[float]) -> ConcentrateState:
    """Judge solutions by what goes with a kilogram of water, their volume unknown (water and density are nan).

    contents_mol_per_kg : (n_components, n_tanks) ndarray [mol/kg water]; else as `assess`.
    """
    contents = checked(contents_mol_per_kg)
    unknown = np.full(contents.shape[1], np.nan)
    return _state(contents, tuple(map(float, temperatures_c)), unknown, unknown)


def checked(contents: Floats) -> Floats:
    """Contents as floats, or ValueError where they do not fit `assess`."""
    contents = np.asarray(contents, dtype=float)
    if contents.ndim != 2 or contents.shape[0] != len(COMPONENTS):
        raise ValueError(f"contents must be ({len(COMPONENTS)}, n_tanks), not {contents.shape}")
    if not (contents.min(initial=0.0) >= 0.0 and np.isfinite(contents).all()):
        raise ValueError("contents must be finite and not negative")
    return contents


def _state(totals: Floats, temperatures_c: tuple[float, ...], water: Floats, density: Floats) -> ConcentrateState:
    return state_of(look(share_out(totals), reference(temperatures_c)), temperatures_c, water, density)


def state_of(looked: Looked, temperatures_c: tuple[float, ...], water: Floats, density: Floats) -> ConcentrateState:
    """Put in one record how tanks that were looked at stand; water, density : (n_tanks,) ndarrays [kg/L]."""
    judged, rest = looked.judged, looked.rest
    beyond = rest.ionic_strength > MOST_STRENGTH_MOL_PER_KG
    return ConcentrateState(
        temperatures_c=temperatures_c,
        solids=tuple(row.id for row in solids()),
        saturation_index=looked.saturation_index,
        product_index=looked.product_index,
        excess=judged.excess,
        over=judged.over,
        rank=np.maximum(judged.rank, beyond),
        margin=-judged.excess.max(axis=1),
        limiting=judged.excess.argmax(axis=1),
        pitzer_valid=looked.pitzer_valid,
        beyond_model=beyond,
        ph=rest.ph,
        ionic_strength_mol_per_kg=rest.ionic_strength,
        water_kg_per_l=water,
        density_kg_per_l=density,
    )


class Looked(NamedTuple):
    """Tanks at rest, their indices (n_temperatures, n_solids, n_tanks) [log10] and what the rules make of them."""

    rest: Rest
    saturation_index: Floats
    product_index: Floats
    pitzer_valid: NDArray[np.bool_]
    judged: Judged

    def at(self, tanks: slice) -> Looked:
        """Some of the tanks."""
        return Looked(
            Rest(*(part[..., tanks] for part in self.rest)),
            self.saturation_index[..., tanks],
            self.product_index[..., tanks],
            self.pitzer_valid[..., tanks],
            self.judged.at(tanks),
        )


def look(tank: Forms, at: Reference, most_strength_mol_per_kg: float = MOST_STRENGTH_MOL_PER_KG) -> Looked:
    """Bring tanks to rest at the reference's temperatures and judge them, by Pitzer up to an ionic strength."""
    return _looked(tank, settle(tank, at.model), at, most_strength_mol_per_kg)


def look_at_parts(
    tank: Forms, at: Reference, most_strength_mol_per_kg: float, parts: tuple[Part, ...]
) -> Looked | None:
    """As `look`, but each part as if it were looked at by itself; None where that cannot be done at once."""
    rest = settle_parts(tank, at.model, parts)
    return None if rest is None else _looked(tank, rest, at, most_strength_mol_per_kg)


def _looked(tank: Forms, rest: Rest, at: Reference, most_strength_mol_per_kg: float) -> Looked:
    index, product = saturation(rest, at)
    valid = _pitzer_valid(tank, rest) & (rest.ionic_strength <= most_strength_mol_per_kg)
    return Looked(rest, index, product, valid, judge(index, product, valid))


def _pitzer_valid(tank: Forms, rest: Rest) -> NDArray[np.bool_]:
    """Whether the ions that matter all have parameters, (n_temperatures, n_tanks)."""
    ions = rest.molality[:, : len(IONS)]
    unknown = ions[:, INDEX["+"]] + ions[:, INDEX["-"]]
    known_enough = unknown <= MOST_UNKNOWN_SHARE * (np.abs(CHARGE) @ ions)
    no_base = (rest.hydroxide <= MOST_BASE_MOL_PER_KG) & (tank.silicon <= MOST_SILICON_MOL_PER_KG)
    valid: NDArray[np.bool_] = known_enough & no_base
    return valid
