"""The command `solution`: what is dissolved in, conductivity, pH and ions out."""

from __future__ import annotations

import json
from math import isfinite
from typing import Annotated, Any

from msgspec import Meta, Struct, ValidationError, convert

from app.headless.input import STANDARD_INPUT, read
from app.headless.output import BadInput, write
from app.headless.table import aligned
from app.wording import format_decimals, format_number

IN_THE_BALANCE = "H"
"""Hydrogen may be listed but is not needed: pH follows from the charge that the other totals leave."""


class Solution(Struct, frozen=True, forbid_unknown_fields=True):
    """A solution by its contents; without a pH it is taken to be electrically neutral. `air`: open to the air."""

    mmol_per_kg: dict[str, float]
    temperature_c: float = 25.0
    ph: Annotated[float, Meta(ge=0, le=14)] | None = None
    air: bool = False


class Forecast(Struct, frozen=True):
    """What the chemistry makes of it."""

    temperature_c: float
    ec_ms_per_cm: float
    ph: float
    ionic_strength_mol_per_kg: float
    charge_error_percent: float
    species_mol_per_kg: dict[str, float]
    saturation_index: dict[str, float]


def solution_command(file: str, *, as_json: bool = False) -> int:
    """Write the forecast for the solution described in a file and return the exit status.

    Raises
    ------
    BadInput : the description cannot be read, or lies outside what the chemistry holds for.
    """
    forecast = _forecast(_described(file))
    write(_json(forecast) if as_json else _text(forecast))
    return 0


def _described(file: str) -> Solution:
    from core.recipe.errors import RecipeError
    from core.recipe.strict_json import MAX_BYTES, parse

    where = "standard input" if file == STANDARD_INPUT else file
    try:
        return convert(parse(read(file, MAX_BYTES)), Solution)
    except RecipeError as error:
        raise BadInput(f"{where}: {error.what}") from None
    except ValidationError as error:
        raise BadInput(f"{where}: {error}") from None


def _forecast(solution: Solution) -> Forecast:
    from core.chemistry.conductivity import conductivity_ms_per_cm
    from core.chemistry.equilibrium import NotConverged
    from core.chemistry.solids import saturation_indices
    from core.chemistry.speciation import AIR_CO2_ATM, OutOfRange, speciate

    try:
        ions = speciate(
            _totals(solution.mmol_per_kg),
            solution.temperature_c,
            ph=solution.ph,
            co2_atm=AIR_CO2_ATM if solution.air else None,
        )
        conductivity = conductivity_ms_per_cm(ions)
    except (OutOfRange, NotConverged) as error:
        raise BadInput(f"this solution cannot be forecast: {error}") from None
    return Forecast(
        temperature_c=solution.temperature_c,
        ec_ms_per_cm=float(conductivity[0]),
        ph=float(ions.ph[0]),
        ionic_strength_mol_per_kg=float(ions.ionic_strength_mol_per_kg[0]),
        charge_error_percent=float(ions.charge_error_percent[0]),
        species_mol_per_kg={name: float(m) for name, m in zip(ions.names, ions.molality[:, 0], strict=True) if m > 0},
        saturation_index={name: float(i[0]) for name, i in saturation_indices(ions).items() if isfinite(i[0])},
    )


def _totals(mmol_per_kg: dict[str, float]) -> Any:
    """Return the totals [mol/kg] in the order of the chemistry's components."""
    import numpy as np

    from core.chemistry.components import COMPONENTS

    unknown = sorted(mmol_per_kg.keys() - {*COMPONENTS, IN_THE_BALANCE})
    if unknown:
        raise BadInput(f"mmol_per_kg names {', '.join(unknown)}; it knows {' '.join(COMPONENTS)} {IN_THE_BALANCE}")
    return np.array([mmol_per_kg.get(name, 0.0) for name in COMPONENTS]) / 1000.0


def _json(forecast: Forecast) -> str:
    from msgspec import to_builtins

    return json.dumps(to_builtins(forecast), indent=1, allow_nan=False) + "\n"


def _text(forecast: Forecast) -> str:
    head = (
        ("EC at 25 °C", f"{forecast.ec_ms_per_cm:.3f} mS/cm"),
        ("pH", f"{forecast.ph:.2f}"),
        ("ionic strength", f"{format_number(forecast.ionic_strength_mol_per_kg * 1000)} mmol/kg"),
        ("charge error", f"{format_decimals(forecast.charge_error_percent, 2)} %"),
    )
    ions = sorted(forecast.species_mol_per_kg.items(), key=lambda species: -species[1])
    amounts = [(name, f"{amount * 1000:.3g} mmol/kg") for name, amount in ions]
    solids = [(name, format_decimals(index, 2)) for name, index in forecast.saturation_index.items()]
    tables = ["\n".join(aligned(rows)) for rows in (head, amounts, [("saturation index", ""), *solids]) if rows]
    return "\n\n".join(tables) + "\n"
