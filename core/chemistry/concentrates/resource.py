"""Reads the tables of this room: interaction parameters, solids, molar volumes."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Literal, TypeVar

import msgspec

T = TypeVar("T")
HowKnown = Literal["READ", "READ-2", "DERIVED", "MEMORY"]


class Binary(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Pitzer parameters of one cation with one anion; each a list of temperature coefficients."""

    ions: tuple[str, str]
    beta0: tuple[float, ...]
    beta1: tuple[float, ...]
    beta2: tuple[float, ...]
    cphi: tuple[float, ...]
    max_molality: float | None
    source: str
    how_known: HowKnown


class Mixing(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Pitzer theta of two ions of like sign, or psi of three ions; a list of temperature coefficients."""

    ions: tuple[str, ...]
    value: tuple[float, ...]
    source: str
    how_known: HowKnown


class Alike(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A pair without published parameters that is given those of another pair, and why."""

    ions: tuple[str, str]
    like: tuple[str, str]
    why: str


class PitzerTable(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """concentrate_pitzer.json."""

    about: str
    sources: dict[str, str]
    binary: tuple[Binary, ...]
    theta: tuple[Mixing, ...]
    psi: tuple[Mixing, ...]
    alike: tuple[Alike, ...]


class Saturation(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Solubility of a pure compound in water [mass % of the anhydrous compound] by temperature [degC]."""

    molar_mass_g_per_mol: float
    temperature_c: tuple[float, ...]
    mass_percent: tuple[float, ...]


class SolidRow(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A solid: what one formula unit gives to the solution, and where it saturates."""

    id: str
    family: Literal["salt", "mineral", "phosphate", "neutral"]
    ions: dict[str, int]
    water: int
    source: str
    how_known: HowKnown
    saturation: Saturation | None = None
    log_k: tuple[float, ...] | None = None
    log_k_25c: float | None = None
    enthalpy_kj_per_mol: float = 0.0
    note: str = ""


class SolidTable(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """concentrate_solids.json."""

    about: str
    sources: dict[str, str]
    solids: tuple[SolidRow, ...]


class Volume(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Molar mass and apparent molar volume of one total in its reference form."""

    component: str
    molar_mass_g_per_mol: float
    v0_cm3_per_mol: float
    slope: float
    source: str
    how_known: HowKnown


class VolumeTable(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """concentrate_volumes.json."""

    about: str
    bound_proton_cm3_per_mol: float
    sources: dict[str, str]
    components: tuple[Volume, ...]


def _read(name: str, shape: type[T]) -> T:
    return msgspec.json.decode(files("resources.thermodynamics").joinpath(name).read_bytes(), type=shape)


@cache
def pitzer_table() -> PitzerTable:
    """The interaction parameters; raises msgspec.ValidationError where the file does not fit."""
    return _read("concentrate_pitzer.json", PitzerTable)


@cache
def solid_table() -> SolidTable:
    """The candidate solids; raises msgspec.ValidationError where the file does not fit."""
    return _read("concentrate_solids.json", SolidTable)


@cache
def volume_table() -> VolumeTable:
    """Molar masses and volumes; raises msgspec.ValidationError where the file does not fit."""
    return _read("concentrate_volumes.json", VolumeTable)
