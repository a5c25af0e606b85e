"""A solution described by hand: right answers, and one clear sentence for what cannot be answered."""

from __future__ import annotations

import json

import pytest

from core.chemistry import SolutionError, solve_solution

KEYS = {
    "temperature_c",
    "ec_ms_per_cm",
    "ph",
    "ionic_strength_mol_per_kg",
    "species_mol_per_kg",
    "saturation_index",
    "charge_error_percent",
}


@pytest.mark.parametrize(
    ("mmol_per_kg", "ph"),
    [
        ({}, 7.00),
        ({"H": 1, "Cl": 1}, 3.01),
        ({"K": 1, "P": 1}, 5.12),
        ({"K": 1, "P": 1, "H": 2}, 5.12),
        ({"K": 1, "P": 1, "Cl": 0.5, "H": 0.5}, 3.37),
        ({"K": 1, "C": 1}, 8.27),
        ({"K": 1, "C": 1, "H": 1}, 8.27),
        ({"Ca": 1, "C": 2}, 8.13),
        ({"Ca": 1, "C": 2, "H": 2}, 8.13),
        ({"NH4": 2, "S": 1, "H": 0}, 6.0),
        ({"K": 1}, 10.98),
    ],
)
def test_neutral_solutions(mmol_per_kg: dict[str, float], ph: float) -> None:
    """By hand from the acid constants; hydrogen may be left out or given either way."""
    answer = solve_solution({"mmol_per_kg": mmol_per_kg})
    assert answer["ph"] == pytest.approx(ph, abs=0.03)
    assert abs(answer["charge_error_percent"]) < 1e-6
    assert answer.keys() == KEYS
    json.dumps(answer, allow_nan=False)


def test_given_ph_tells_the_charge_left_over() -> None:
    answer = solve_solution({"temperature_c": 25, "mmol_per_kg": {"K": 2, "Cl": 1}, "ph": 7.0})
    assert answer["ph"] == 7.0
    assert answer["charge_error_percent"] == pytest.approx(100.0 / 3.0, rel=1e-3)


def test_open_to_air() -> None:
    closed, aired = (solve_solution({"mmol_per_kg": {"Na": 2, "C": 2}, "air": air}) for air in (False, True))
    assert closed["ph"] == pytest.approx(8.25, abs=0.05)
    assert aired["ph"] == pytest.approx(8.48, abs=0.05)


def test_saturation_and_species() -> None:
    answer = solve_solution({"mmol_per_kg": {"Ca": 20, "S": 20}, "ph": 7})
    assert answer["saturation_index"]["gypsum"] > 0.0
    assert "calcite" not in answer["saturation_index"]
    assert answer["species_mol_per_kg"]["CaSO4"] + answer["species_mol_per_kg"]["Ca+2"] == pytest.approx(0.02, rel=1e-6)
    assert all(amount > 0.0 for amount in answer["species_mol_per_kg"].values())


def test_conductivity_is_told_for_25_degrees() -> None:
    cold, warm = (
        solve_solution({"temperature_c": t, "mmol_per_kg": {"K": 10, "Cl": 10}, "ph": 7})["ec_ms_per_cm"]
        for t in (5, 25)
    )
    assert cold == pytest.approx(warm, rel=1e-4)


@pytest.mark.parametrize(
    ("question", "told"),
    [
        ({}, "mmol_per_kg is missing"),
        ({"mmol_per_kg": [1]}, "mmol_per_kg is missing"),
        ({"mmol_per_kg": {"K": 1}, "pH": 7}, "Did you mean ph"),
        ({"mmol_per_kg": {"HCO3": 1}}, "'HCO3' is not known in mmol_per_kg"),
        ({"mmol_per_kg": {"K": -1}}, "K must not be negative"),
        ({"mmol_per_kg": {"K": "1"}}, "K must be a finite number"),
        ({"mmol_per_kg": {"K": True}}, "K must be a finite number"),
        ({"mmol_per_kg": {"K": float("nan")}}, "K must be a finite number"),
        ({"mmol_per_kg": {"K": 1}, "ph": float("inf")}, "ph must be a finite number"),
        ({"mmol_per_kg": {"K": 1}, "ph": 15}, "ph must lie between 0 and 14"),
        ({"mmol_per_kg": {"K": 1}, "air": "yes"}, "air must be true or false"),
        ({"mmol_per_kg": {"K": 1}, "temperature_c": 80}, "from 0 to 40"),
        ({"mmol_per_kg": {"K": 500, "Cl": 500}}, "too high"),
        ({"mmol_per_kg": {"K": 1, "NO3": 1, "H": 1}}, "H 1 does not fit"),
        ({"mmol_per_kg": {"Cl": 1, "H": 3}}, "leave room for 1 mmol/kg"),
    ],
)
def test_what_cannot_be_answered_is_told_in_one_sentence(question: dict[str, object], told: str) -> None:
    with pytest.raises(SolutionError) as caught:
        solve_solution(question)
    assert told in str(caught.value)
    assert "\n" not in str(caught.value)
