"""The tables of constants: charges add up, every row says where it comes from, nothing is left out."""

from __future__ import annotations

import csv
from importlib import resources

import numpy as np
import pytest

from core.chemistry import COMPONENTS, REFERENCE_CHARGE, species_index, species_names
from core.chemistry.solids import solids
from core.chemistry.species import CHELATORS, all_species, chelates

TABLES = (
    "feed_species.csv", "feed_chelates.csv", "feed_conductivity.csv", "feed_volumes.csv", "feed_solids.csv",
    "feed_iso7888.csv", "feed_chelate_constants.csv",
)  # fmt: skip


def rows(table: str) -> list[dict[str, str]]:
    text = resources.files("resources.thermodynamics").joinpath(table).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@pytest.mark.parametrize("table", TABLES)
def test_every_row_has_a_source_and_says_how_it_is_known(table: str) -> None:
    for row in rows(table):
        assert row["source"].strip(), row
        assert row["how_known"] in {"READ", "DERIVED", "MEMORY"}, row


@pytest.mark.parametrize("row", [r for r in rows("feed_species.csv") if not r["component"]], ids=lambda r: r["species"])
def test_charge_of_a_species_is_that_of_its_parts(row: dict[str, str]) -> None:
    if row["species"] == "H+":
        return
    charges = {one.name: one.charge for one in all_species()}
    parts = [item.rpartition("=") for item in row["formed_from"].split(";")]
    assert int(row["charge"]) == sum(int(count) * charges[name] for name, _, count in parts)


def test_charge_stands_in_the_name() -> None:
    for one in all_species():
        if one.name.startswith("inert"):
            continue
        head, sign, digits = one.name.rpartition("+" if one.charge > 0 else "-")
        told = (1 if sign == "+" else -1) * int(digits or 1) if head and not digits.strip("0123456789") else 0
        assert (told if one.charge else 0) == one.charge, one.name


def test_alkalinity_of_known_forms() -> None:
    gained = {one.name: one.protons_gained for one in all_species()}
    wanted = {
        "HCO3-": -1, "CO3-2": -2, "CO2": 0, "H2PO4-": 0, "HPO4-2": -1, "H3PO4": 1, "NH3": -1, "OH-": -1, "H+": 1,
        "H3BO3": 0, "H2BO3-": -1, "CaHPO4": -1, "FeEDTA-": 0, "FeEDDHA-": 0, "ZnEDTA-2": 0, "HSO4-": 1,
    }  # fmt: skip
    assert {name: gained[name] for name in wanted} == wanted


def test_every_total_has_a_species_and_a_volume() -> None:
    held = {total for one in all_species() for total in one.contains}
    assert held == set(COMPONENTS)
    assert {row["component"] for row in rows("feed_volumes.csv")} == set(COMPONENTS)


def test_every_ion_conducts() -> None:
    conducting = {row["species"]: float(row["lambda0_s_cm2_per_mol_25c"]) for row in rows("feed_conductivity.csv")}
    assert set(conducting) == {one.name for one in all_species() if one.charge}
    assert all(10.0 < value < 350.0 for value in conducting.values())


def test_index_matches_names() -> None:
    assert [species_names()[row] for row in species_index().values()] == list(species_names())
    assert len(set(species_names())) == len(species_names())


def test_log_k_at_25_degrees_is_the_printed_one() -> None:
    """Fitted polynomials and printed log K of the same row agree to 0.02."""
    kelvin = 298.15
    powers = np.array([1.0, kelvin, 1.0 / kelvin, np.log10(kelvin), kelvin**-2, kelvin**2])
    for row in rows("feed_species.csv"):
        if row["log_k_25c"] and row["log_k_of_temperature"]:
            terms = np.array([float(text) for text in row["log_k_of_temperature"].split()])
            assert powers[: len(terms)] @ terms == pytest.approx(float(row["log_k_25c"]), abs=0.02), row["species"]


def test_chelates_are_neutral_to_alkalinity_and_every_ligand_can_stay_alone() -> None:
    assert {one.ligand for one in chelates() if not one.metal} == CHELATORS
    for one in chelates():
        if one.metal:
            assert one.charge == REFERENCE_CHARGE[one.metal] + REFERENCE_CHARGE[one.ligand]


def test_solids_that_cry_wolf_are_left_out() -> None:
    names = {solid.name for solid in solids()}
    assert {"gypsum", "brushite", "calcite", "struvite", "newberyite"} <= names
    assert not any("apatite" in name or "mn" in name for name in names)
    charges = {one.name: one.charge for one in all_species()}
    for solid in solids():
        assert sum(count * charges[ion] for ion, count in solid.ions.items()) == 0
