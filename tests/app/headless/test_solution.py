"""The command `solution`: contents in, forecast out, refusals in one sentence."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.__main__ import main


def answer(described: object, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, object]:
    file = tmp_path / "solution.json"
    file.write_text(json.dumps(described))
    assert main(["solution", str(file), "--json"]) == 0
    shown = capsys.readouterr()
    assert shown.err == ""
    return json.loads(shown.out)


def test_a_neutral_salt_leaves_water_neutral(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer({"mmol_per_kg": {"K": 10, "Cl": 10}}, tmp_path, capsys)
    assert found["ph"] == pytest.approx(7.0, abs=0.02)
    assert found["ionic_strength_mol_per_kg"] == pytest.approx(0.01, rel=1e-3)
    assert found["species_mol_per_kg"]["K+"] == pytest.approx(0.01, rel=1e-6)


def test_listed_hydrogen_changes_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with_h = answer({"mmol_per_kg": {"NO3": 1, "H": 1}}, tmp_path, capsys)
    assert with_h == answer({"mmol_per_kg": {"NO3": 1}}, tmp_path, capsys)
    assert with_h["ph"] == pytest.approx(3.0, abs=0.05)


def test_a_given_ph_is_kept(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer({"temperature_c": 20, "mmol_per_kg": {"K": 2, "P": 2}, "ph": 5.8}, tmp_path, capsys)
    assert found["ph"] == pytest.approx(5.8)
    assert found["temperature_c"] == 20


def test_open_to_the_air_takes_up_carbon_dioxide(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    closed = answer({"mmol_per_kg": {"K": 1, "Cl": 1}}, tmp_path, capsys)
    aired = answer({"mmol_per_kg": {"K": 1, "Cl": 1}, "air": True}, tmp_path, capsys)
    assert "CO2" not in closed["species_mol_per_kg"]
    assert aired["ph"] == pytest.approx(5.6, abs=0.1)  # rain water in equilibrium with air


def test_supersaturation_is_told_as_text(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "gypsum.json"
    file.write_text(json.dumps({"mmol_per_kg": {"Ca": 30, "S": 30}}))
    assert main(["solution", str(file)]) == 0
    shown = capsys.readouterr().out
    assert "EC at 25 °C" in shown
    assert "saturation index" in shown
    assert "gypsum" in shown


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "is empty"),
        ("[]", "a solution is an object"),
        ("{}", "mmol_per_kg is missing"),
        ('{"mmol_per_kg": {"K": 1}, "colour": 3}', "'colour' is not known"),
        ('{"mmol_per_kg": {"K": "1"}}', "K must be a finite number"),
        ('{"mmol_per_kg": {"K": 1, "K": 2}}', '"K"'),
        ('{"mmol_per_kg": {"Kryptonite": 1}}', "'Kryptonite' is not known in mmol_per_kg"),
        ('{"mmol_per_kg": {"K": -1}}', "K must not be negative"),
        ('{"mmol_per_kg": {"K": 1e999}}', "finite"),
        ('{"mmol_per_kg": {"K": 5000, "Cl": 5000}}', "too high"),
        ('{"mmol_per_kg": {"K": 1}, "temperature_c": 95}', "0 to 40"),
        ('{"mmol_per_kg": {"K": 1, "Cl": 1}, "ph": 1e30}', "between 0 and 14"),
        ('{"mmol_per_kg": {}, "temperature_c"', "not valid JSON"),
    ],
)
def test_refusals(text: str, reason: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "solution.json"
    file.write_text(text)
    assert main(["solution", str(file)]) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.count("\n") == 1
    assert reason in shown.err
