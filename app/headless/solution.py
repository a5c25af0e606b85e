"""The command `solution`: what is dissolved in, conductivity, pH and ions out."""

from __future__ import annotations

import json
from typing import Any

from app.headless.input import STANDARD_INPUT, read
from app.headless.output import BadInput, write
from app.headless.table import aligned
from app.wording import format_decimals, format_number


def solution_command(file: str, *, as_json: bool = False) -> int:
    """Write the forecast for the solution described in a file and return the exit status.

    Raises
    ------
    BadInput : the description cannot be read, or lies outside what the chemistry holds for.
    """
    forecast = _forecast(file)
    write(json.dumps(forecast, indent=1, allow_nan=False) + "\n" if as_json else _text(forecast))
    return 0


def _forecast(file: str) -> dict[str, Any]:
    from core.recipe.errors import RecipeError
    from core.recipe.strict_json import MAX_BYTES, parse

    where = "standard input" if file == STANDARD_INPUT else file
    try:
        described = parse(read(file, MAX_BYTES))
    except RecipeError as error:
        raise BadInput(f"{where}: {error.what}") from None
    if not isinstance(described, dict):
        raise BadInput(f'{where}: a solution is an object such as {{"temperature_c": 25, "mmol_per_kg": {{"K": 5}}}}')
    from core.chemistry import SolutionError, solve_solution

    try:
        return solve_solution(described)
    except SolutionError as error:
        raise BadInput(f"{where}: {error}") from None


def _text(forecast: dict[str, Any]) -> str:
    head = (
        ("EC at 25 °C", f"{forecast['ec_ms_per_cm']:.3f} mS/cm"),
        ("pH", f"{forecast['ph']:.2f}"),
        ("ionic strength", f"{format_number(forecast['ionic_strength_mol_per_kg'] * 1000)} mmol/kg"),
        ("charge error", f"{format_decimals(forecast['charge_error_percent'], 2)} %"),
    )
    ions = sorted(forecast["species_mol_per_kg"].items(), key=lambda species: -species[1])
    amounts = [(name, f"{amount * 1000:.3g} mmol/kg") for name, amount in ions]
    solids = [(name, format_decimals(index, 2)) for name, index in forecast["saturation_index"].items()]
    tables = ["\n".join(aligned(rows)) for rows in (head, amounts, [("saturation index", ""), *solids]) if rows]
    return "\n\n".join(tables) + "\n"
