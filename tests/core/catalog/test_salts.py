"""The salts: every one is there, and its counts, charges and labels agree with one another."""

from __future__ import annotations

import pytest

from core.catalog import ATOMIC_WEIGHTS, Salt, UnknownSalt, molar_mass_g_per_mol, salt, salts
from core.chemistry.components import REFERENCE_CHARGE

IDS = [
    "calcium-nitrate-tetrahydrate", "calcium-nitrate-greenhouse", "calcium-nitrate-solution",
    "calcium-chloride-dihydrate", "calcium-sulfate-dihydrate", "calcium-hydroxide", "potassium-nitrate",
    "potassium-sulfate", "potassium-chloride", "monopotassium-phosphate", "dipotassium-phosphate",
    "potassium-bicarbonate", "potassium-carbonate", "potassium-hydroxide", "potassium-silicate-solution",
    "monoammonium-phosphate", "diammonium-phosphate", "magnesium-sulfate-heptahydrate",
    "magnesium-sulfate-monohydrate", "magnesium-sulfate-anhydrous", "magnesium-nitrate-hexahydrate",
    "magnesium-chloride-hexahydrate", "ammonium-nitrate", "ammonium-sulfate", "ammonium-chloride", "urea",
    "urea-phosphate", "nitric-acid", "phosphoric-acid", "sulfuric-acid", "citric-acid", "hydrochloric-acid",
    "iron-edta-13", "iron-dtpa-11", "iron-eddha-6", "iron-hbed-6", "iron-sulfate-heptahydrate",
    "iron-chloride-hexahydrate", "manganese-sulfate-monohydrate", "manganese-sulfate-tetrahydrate",
    "manganese-chloride-tetrahydrate", "manganese-edta-13", "zinc-sulfate-heptahydrate", "zinc-sulfate-monohydrate",
    "zinc-edta-15", "copper-sulfate-pentahydrate", "copper-edta-15", "boric-acid", "borax-decahydrate",
    "disodium-octaborate-tetrahydrate", "sodium-molybdate-dihydrate", "ammonium-heptamolybdate-tetrahydrate",
    "molybdic-acid-monohydrate", "sodium-chloride",
]  # fmt: skip

ALKALINITY = {
    "calcium-hydroxide": 2, "dipotassium-phosphate": 1, "diammonium-phosphate": 1, "potassium-bicarbonate": 1,
    "potassium-carbonate": 2, "potassium-hydroxide": 1, "potassium-silicate-solution": 2, "urea-phosphate": -1,
    "nitric-acid": -1, "phosphoric-acid": -1, "sulfuric-acid": -2, "citric-acid": -3, "hydrochloric-acid": -1,
    "iron-dtpa-11": -1, "borax-decahydrate": 2, "disodium-octaborate-tetrahydrate": 2,
    "ammonium-heptamolybdate-tetrahydrate": -8, "molybdic-acid-monohydrate": -2,
}  # fmt: skip
"""Equivalents of alkalinity per formula unit; whatever is not named here has none."""

ATOMS = {
    "NH4": {"N": 1}, "NO3": {"N": 1}, "Fe3": {"Fe": 1}, "urea": {"C": 1, "N": 2}, "citrate": {"C": 6},
    "EDTA": {"C": 10, "N": 2}, "DTPA": {"C": 14, "N": 3}, "EDDHA": {"C": 18, "N": 2}, "HBED": {"C": 20, "N": 2},
}  # fmt: skip
"""Total -> its atoms other than hydrogen and oxygen; any other total is one atom of its own name."""

GRADES = {
    "calcium-nitrate-greenhouse": {"NO3-N": 14.4, "NH4-N": 1.1, "Ca": 19.0},
    "calcium-nitrate-solution": {"NO3-N": 8.54, "Ca": 12.21},
    "potassium-silicate-solution": {"K": 6.9, "Si": 9.7},
    "iron-edta-13": {"Fe": 13}, "iron-dtpa-11": {"Fe": 11}, "iron-eddha-6": {"Fe": 6}, "iron-hbed-6": {"Fe": 6},
    "manganese-edta-13": {"Mn": 13}, "zinc-edta-15": {"Zn": 15}, "copper-edta-15": {"Cu": 15},
}  # fmt: skip

EVERY_SALT = pytest.mark.parametrize("item", salts().values(), ids=list(salts()))


def test_the_list_is_complete_and_in_order() -> None:
    assert list(salts()) == IDS
    assert [item.rank for item in salts().values()] == list(range(len(IDS)))


@EVERY_SALT
def test_charge_is_the_alkalinity(item: Salt) -> None:
    charge = sum(REFERENCE_CHARGE[ion] * count for ion, count in item.ions.items())
    assert charge == pytest.approx(ALKALINITY.get(item.id, 0), abs=1e-12)


@EVERY_SALT
def test_ions_hold_the_atoms_of_the_formula(item: Salt) -> None:
    atoms: dict[str, float] = {}
    for ion, count in item.ions.items():
        for element, number in ATOMS.get(ion, {ion: 1}).items():
            atoms[element] = atoms.get(element, 0) + number * count
    assert atoms == {element: n for element, n in item.elements.items() if element not in ("H", "O")}


@EVERY_SALT
def test_crystal_water_fits_into_the_formula(item: Salt) -> None:
    assert item.elements.get("H", 0) >= 2 * item.crystal_water
    assert item.elements.get("O", 0) >= item.crystal_water
    assert 0 < item.anhydrous_mass_fraction <= 1
    assert item.elements.keys() <= ATOMIC_WEIGHTS.keys()


@EVERY_SALT
def test_every_value_says_where_it_comes_from(item: Salt) -> None:
    values = {
        name
        for name in (
            "label_percent", "default_strength_percent", "solute_percent", "density_kg_per_l", "oxidiser",
            "hygroscopic", "critical_humidity_percent",
        )
        if getattr(item, name)
    }  # fmt: skip
    assert set(item.known) == values | {"composition"}


@EVERY_SALT
def test_only_grades_carry_a_label_and_none_promises_more_than_the_compound(item: Salt) -> None:
    assert item.label_percent == GRADES.get(item.id, {})
    if item.chelate is not None:
        ((metal, percent),) = item.label_percent.items()
        assert percent < 100 * ATOMIC_WEIGHTS[metal] * item.elements[metal] / item.molar_mass_g_per_mol


def test_a_chelate_holds_one_metal_and_one_ligand() -> None:
    for item in salts().values():
        assert (item.kind == "chelate") == (item.chelate is not None)
        if item.chelate is not None:
            assert item.ions[item.chelate] == 1
            assert sum(item.ions.get(metal, 0) for metal in ("Fe3", "Mn", "Zn", "Cu")) == 1
            assert item.ions["Na"] >= 1


def test_kinds() -> None:
    kinds = {kind: [item.id for item in salts().values() if item.kind == kind] for kind in ("acid", "base")}
    acids = ["urea-phosphate", "nitric-acid", "phosphoric-acid", "sulfuric-acid", "citric-acid", "hydrochloric-acid"]
    assert kinds["acid"] == acids
    bases = ["calcium-hydroxide", "potassium-bicarbonate", "potassium-carbonate", "potassium-hydroxide"]
    assert kinds["base"] == bases
    assert [item.id for item in salts().values() if item.strong_acid] == [a for a in acids if a != "citric-acid"]
    oxidisers = {item.id for item in salts().values() if item.oxidiser}
    assert oxidisers == {
        "calcium-nitrate-tetrahydrate", "potassium-nitrate", "magnesium-nitrate-hexahydrate", "ammonium-nitrate",
        "nitric-acid",
    }  # fmt: skip


@pytest.mark.parametrize("grade", ["calcium-nitrate-greenhouse", "calcium-nitrate-solution"])
def test_the_label_of_calcium_nitrate_closes_in_charge(grade: str) -> None:
    label = salt(grade).label_percent
    nitrate = label["NO3-N"] / ATOMIC_WEIGHTS["N"]
    cations = 2 * label["Ca"] / ATOMIC_WEIGHTS["Ca"] + label.get("NH4-N", 0) / ATOMIC_WEIGHTS["N"]
    assert cations == pytest.approx(nitrate, rel=2e-3)


def test_a_solution_label_is_what_its_solute_holds() -> None:
    for grade, labelled in (
        ("calcium-nitrate-solution", {"Ca": "Ca", "NO3-N": "N"}),
        ("potassium-silicate-solution", {"K": "K", "Si": "Si"}),
    ):
        item = salt(grade)
        assert item.solute_percent is not None
        for name, element in labelled.items():
            pure = item.elements[element] * ATOMIC_WEIGHTS[element] / item.molar_mass_g_per_mol
            assert item.label_percent[name] == pytest.approx(item.solute_percent * pure, rel=0.01)


def test_molar_mass_counts_the_crystal_water() -> None:
    hydrate, dry = salt("magnesium-sulfate-heptahydrate"), salt("magnesium-sulfate-anhydrous")
    water = molar_mass_g_per_mol({"H": 2, "O": 1})
    assert hydrate.molar_mass_g_per_mol == pytest.approx(dry.molar_mass_g_per_mol + 7 * water)
    assert hydrate.anhydrous_mass_fraction == pytest.approx(dry.molar_mass_g_per_mol / hydrate.molar_mass_g_per_mol)
    with pytest.raises(KeyError):
        molar_mass_g_per_mol({"Xx": 1})


def test_a_salt_is_found_by_its_id_and_passed_through() -> None:
    found = salt("potassium-nitrate")
    assert found.name == "Potassium nitrate"
    assert salt(found) is found


@pytest.mark.parametrize(
    ("text", "close"),
    [
        ("potasium-nitrate", "potassium-nitrate"),
        ("Calcium Nitrate", "calcium-nitrate-tetrahydrate"),
        ("zinc-sulfate", "zinc-sulfate-heptahydrate"),
        ("qqqqqqqq", None),
        ("x" * 10_000, None),
        ("", None),
    ],
)
def test_an_unknown_salt_is_refused_in_one_sentence(text: str, close: str | None) -> None:
    with pytest.raises(UnknownSalt) as refused:
        salt(text)
    message = str(refused.value)
    assert isinstance(refused.value, ValueError)
    assert len(message) < 250
    assert "\n" not in message
    assert len(refused.value.close) <= 3
    assert (close in message and close in refused.value.close) if close else refused.value.close == ()
