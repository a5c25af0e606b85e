"""Solubility against the handbook's own points and the values worked between them."""

from __future__ import annotations

import pytest

from core.catalog import ATOMIC_WEIGHTS, salt, solubility_g_per_100g_water, solubility_g_per_l

TEMPERATURES_C = (0, 5, 10, 15, 20, 25, 30, 40)

ANHYDROUS_G_PER_100_G = {
    "potassium-nitrate": (13.64, 17.21, 21.36, 26.27, 31.93, 38.31, 45.56, 62.87),
    "monopotassium-phosphate": (13.30, 15.35, 17.52, 19.85, 22.32, 24.95, 27.83, 33.83),
    "monoammonium-phosphate": (21.65, 24.81, 28.21, 31.86, 35.87, 40.45, 45.35, 56.74),
    "potassium-sulfate": (7.65, 8.42, 9.24, 10.13, 11.05, 11.98, 12.87, 14.81),
    "magnesium-sulfate-heptahydrate": (22.25, 24.94, 27.71, 30.70, 33.51, 35.69, 39.28, 44.72),
    "magnesium-nitrate-hexahydrate": (62.34, 63.74, 65.29, 66.99, 68.92, 71.23, 73.61, 78.89),
    "calcium-nitrate-tetrahydrate": (100.40, 106.31, 113.22, 121.23, 130.95, 143.90, 155.75, 189.02),
    "ammonium-nitrate": (117.39, 133.32, 150.63, 169.32, 189.86, 212.50, 236.70, 289.11),
    "ammonium-sulfate": (70.36, 71.53, 72.71, 73.91, 75.13, 76.37, 77.94, 80.83),
    "manganese-sulfate-monohydrate": (52.91, 56.63, 59.49, 61.47, 62.87, 63.67, 63.67, 60.51),
    "zinc-sulfate-heptahydrate": (41.04, 43.96, 47.06, 50.33, 53.85, 57.73, 61.81, 70.36),
    "copper-sulfate-pentahydrate": (14.16, 15.43, 16.82, 18.36, 20.05, 21.95, 23.92, 28.53),
    "iron-sulfate-heptahydrate": (15.61, 17.94, 20.48, 23.25, 26.26, 29.53, 32.98, 40.45),
    "boric-acid": (2.68, 3.16, 3.70, 4.32, 5.01, 5.80, 6.69, 8.81),
    "borax-decahydrate": (1.25, 1.46, 1.74, 2.10, 2.56, 3.17, 3.97, 6.41),
    "calcium-sulfate-dihydrate": (0.17, 0.18, 0.19, 0.20, 0.20, 0.21, 0.21, 0.21),
}

PRODUCT_G_PER_L = {
    "potassium-nitrate": (130, 161, 197, 237, 282, 329, 380, 489),
    "monopotassium-phosphate": (128, 146, 166, 186, 207, 229, 252, 300),
    "potassium-sulfate": (75, 83, 91, 99, 108, 116, 124, 142),
    "magnesium-sulfate-heptahydrate": (447, 499, 552, 608, 660, 699, 764, 859),
    "magnesium-nitrate-hexahydrate": (904, 918, 934, 952, 971, 994, 1018, 1069),
    "calcium-nitrate-tetrahydrate": (1082, 1123, 1170, 1222, 1282, 1357, 1420, 1577),
    "ammonium-nitrate": (678, 726, 773, 817, 859, 900, 938, 1005),
    "potassium-chloride": (251, 263, 275, 286, 298, 308, 319, 339),
    "zinc-sulfate-heptahydrate": (711, 759, 808, 860, 915, 975, 1037, 1162),
    "calcium-sulfate-dihydrate": (2, 2, 2, 2, 3, 3, 3, 3),
}


@pytest.mark.parametrize("salt_id", ANHYDROUS_G_PER_100_G)
def test_per_100_g_of_water(salt_id: str) -> None:
    """CRC Handbook, 98th edition (2017), mass % at 0 to 40 °C; 5 and 15 °C by monotone cubic between the points."""
    for temperature_c, expected in zip(TEMPERATURES_C, ANHYDROUS_G_PER_100_G[salt_id], strict=True):
        assert solubility_g_per_100g_water(salt_id, temperature_c) == pytest.approx(expected, abs=0.006)


@pytest.mark.parametrize("salt_id", PRODUCT_G_PER_L)
def test_product_per_litre(salt_id: str) -> None:
    """The same points with the density of Laliberté 2009 and the hydrate ratio, printed to 1 g/L."""
    for temperature_c, expected in zip(TEMPERATURES_C, PRODUCT_G_PER_L[salt_id], strict=True):
        assert solubility_g_per_l(salt_id, temperature_c) == pytest.approx(expected, abs=0.6)


@pytest.mark.parametrize(
    ("salt_id", "water_free", "molality"),
    [
        ("calcium-nitrate-tetrahydrate", {"Ca": 1, "N": 2, "O": 6}, {10: 6.896, 15: 7.398, 20: 7.986}),
        ("magnesium-nitrate-hexahydrate", {"Mg": 1, "N": 2, "O": 6}, {10: 4.403, 15: 4.523, 20: 4.656, 25: 4.8}),
        ("ammonium-nitrate", {"N": 2, "H": 4, "O": 3}, {10: 18.809, 15: 21.163, 20: 23.721, 25: 26.496}),
        ("ammonium-sulfate", {"N": 2, "H": 8, "S": 1, "O": 4}, {10: 5.494, 15: 5.589, 20: 5.688, 25: 5.79, 30: 5.896}),
        ("copper-sulfate-pentahydrate", {"Cu": 1, "S": 1, "O": 4}, {10: 1.055, 15: 1.153, 20: 1.26, 25: 1.376}),
        ("iron-sulfate-heptahydrate", {"Fe": 1, "S": 1, "O": 4}, {10: 1.352, 15: 1.533, 20: 1.729, 25: 1.94}),
        ("zinc-sulfate-heptahydrate", {"Zn": 1, "S": 1, "O": 4}, {10: 2.911, 15: 3.116, 20: 3.336, 25: 3.573}),
    ],
)
def test_the_handbooks_other_table(salt_id: str, water_free: dict[str, int], molality: dict[int, float]) -> None:
    """CRC Handbook, 98th edition (2017), solubility of common salts at ambient temperatures, mol/kg water: 1 %.

    At 25 °C and above the handbook's two tables part by 1.1 % and more for calcium nitrate, so that is left out.
    """
    anhydrous_g_per_mol = sum(ATOMIC_WEIGHTS[element] * count for element, count in water_free.items())
    item = salt(salt_id)
    assert anhydrous_g_per_mol == pytest.approx(item.molar_mass_g_per_mol * item.anhydrous_mass_fraction)
    for temperature_c, expected in molality.items():
        dissolved = solubility_g_per_100g_water(salt_id, temperature_c)
        assert dissolved is not None
        assert 10 * dissolved / anhydrous_g_per_mol == pytest.approx(expected, rel=0.01)
