"""Concentrates against measured saturated mixtures and a stock that is known to work."""

from __future__ import annotations

import numpy as np
import pytest

from core.chemistry.components import COMPONENTS
from core.chemistry.concentrates import assess, assess_molal, saturation_mol_per_kg

KNO3, KH2PO4, NH4H2PO4 = 101.103, 136.086, 115.026


def column(contents: dict[str, float]) -> np.ndarray:
    totals = np.zeros((len(COMPONENTS), 1))
    for name, amount in contents.items():
        totals[COMPONENTS.index(name)] += amount
    return totals


CO_SATURATED = ((10.0, 13.34, 9.33), (25.0, 22.16, 9.07), (40.0, 33.22, 7.50))
"""degC, mass % of KNO3 and of KH2PO4 in solutions saturated with both."""


def test_nitrate_with_dihydrogen_phosphate_saturates_where_it_was_measured() -> None:
    """Wan & Wang 2018, J. Chem. 2018, 8749345, table 2, the invariant points: 0.05 log10 rms, none over 0.05."""
    errors = []
    for temperature_c, nitrate_percent, phosphate_percent in CO_SATURATED:
        water = 100.0 - nitrate_percent - phosphate_percent
        nitrate, phosphate = (1000.0 * p / water / m for p, m in ((nitrate_percent, KNO3), (phosphate_percent, KH2PO4)))
        contents = column({"K": nitrate + phosphate, "NO3": nitrate, "P": phosphate})
        state = assess_molal(contents, (temperature_c,))
        errors += [
            state.saturation_index[0, state.solids.index(solid), 0]
            for solid in ("potassium-nitrate", "monopotassium-phosphate")
        ]
    assert np.sqrt(np.mean(np.square(errors))) < 0.05
    assert np.abs(errors).max() < 0.05


def test_nitrate_with_ammonium_phosphate_is_told_as_full() -> None:
    """Bergman et al. 1967 in IUPAC-NIST Solubility Database SRD 106, system 66_142.

    16 % KNO3 and 16 % NH4H2PO4 at 5.5 degC, saturated with both: the phosphate is met within 0.05, the nitrate comes
    out 0.12 too high, which is on the safe side.
    """
    nitrate, phosphate = (1000.0 * 16.0 / 68.0 / m for m in (KNO3, NH4H2PO4))
    contents = column({"K": nitrate, "NO3": nitrate, "NH4": phosphate, "P": phosphate})
    state = assess_molal(contents, (5.5,))
    indices = {name: state.saturation_index[0, state.solids.index(name), 0] for name in state.solids}
    assert indices["monoammonium-phosphate"] == pytest.approx(0.0, abs=0.05)
    assert 0.0 <= indices["potassium-nitrate"] < 0.15
    assert state.verdict(0, 0) != "clear"


def test_a_published_acid_stock_is_not_called_settling() -> None:
    """Rice hydroponics nutrient solution, protocols.io: a stock at 1000 times with acid, in use at room temperature.

    The plain product over all sulfur would be 2.5 times its saturated value; most of that sulfur is HSO4-.
    """
    state = assess(column({"K": 1.02, "S": 1.53, "NH4": 1.35}), (20.0,))
    potassium_sulfate = state.solids.index("potassium-sulfate")
    assert state.saturation_index[0, potassium_sulfate, 0] < -0.2
    assert state.verdict(0, 0) != "settles"


@pytest.mark.parametrize(
    ("solid", "molality"),
    [
        ("calcium-nitrate-tetrahydrate", {10: 6.896, 20: 7.986, 25: 8.675, 30: 9.48}),
        ("magnesium-nitrate-hexahydrate", {10: 4.403, 20: 4.656, 25: 4.80, 30: 4.958, 40: 5.314}),
        ("ammonium-nitrate", {10: 18.809, 20: 23.721, 25: 26.496}),
        ("ammonium-sulfate", {10: 5.494, 20: 5.688, 25: 5.79, 30: 5.896}),
        ("copper-sulfate-pentahydrate", {10: 1.055, 20: 1.26, 25: 1.376, 30: 1.502}),
        ("iron-sulfate-heptahydrate", {10: 1.352, 20: 1.729, 25: 1.94, 30: 2.165}),
        ("zinc-sulfate-heptahydrate", {10: 2.911, 20: 3.336, 25: 3.573, 30: 3.827}),
    ],
)
def test_solubilities_agree_with_the_other_table_of_the_handbook(solid: str, molality: dict[int, float]) -> None:
    """CRC Handbook, 98th ed., "Solubility of common salts at ambient temperatures" [mol/kg water]."""
    for temperature_c, expected in molality.items():
        assert saturation_mol_per_kg(solid, temperature_c) == pytest.approx(expected, rel=0.015)
