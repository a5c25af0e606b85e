"""Published recipes, from targets to grams: the worked examples other people printed.

Sources:
- Ikeda H. 1996, "Composition and preparation of various culture solutions", one-page table (READ): targets in me/L
  (phosphate counted as trivalent, N as nitrate alone) and grams per 1000 L.
- Hoagland D.R. & Arnon D.I. 1950, Calif. Agric. Exp. Sta. Circular 347, solution 1 (stock volumes READ in a teaching
  hand-out; the circular itself not seen).
- ARSIA 2004, "Uso razionale delle risorse nel florovivaismo: l'acqua", Quaderno 5/2004, tables 5 to 7, pp. 177-181
  (READ): a whole example from water and acid to the kilograms of two stocks.
"""

import pytest

from core.plan import plan
from core.recipe.records import Recipe
from tests.helpers.recipes import recipe

N, P, K, CA, MG, S = 14.007, 30.974, 39.098, 40.078, 24.305, 32.06
IKEDA_SHELF = [
    "potassium-nitrate",
    "calcium-nitrate-tetrahydrate",
    "magnesium-sulfate-heptahydrate",
    "monoammonium-phosphate",
]


def amounts(made: Recipe) -> dict[str, float]:
    return {amount.entry_id: amount.mg_per_l for amount in plan(made).amounts}


@pytest.mark.parametrize(
    ("me_per_l", "grams_per_1000_l"),
    [
        ((7, 2, 4, 3, 2), (404, 354, 246, 76)),
        ((13, 3, 6, 7, 4), (606, 826, 492, 114)),
        ((6, 1.5, 4, 2, 1), (404, 236, 123, 57)),
    ],
    ids=["tomato", "cucumber", "lettuce"],
)
def test_ikeda_1996_from_targets_to_grams(me_per_l, grams_per_1000_l):
    n, p, k, ca, mg = me_per_l
    aim = {"NO3-N": n * N, "P": p / 3 * P, "K": k * K, "Ca": ca / 2 * CA, "Mg": mg / 2 * MG}
    found = amounts(recipe(aim, IKEDA_SHELF))
    assert [found[key] for key in IKEDA_SHELF] == pytest.approx(grams_per_1000_l, rel=0.01)


HOAGLAND = {
    "monopotassium-phosphate": 136.1,
    "potassium-nitrate": 505.5,
    "calcium-nitrate-tetrahydrate": 1180.7,
    "magnesium-sulfate-heptahydrate": 492.9,
}
HOAGLAND_TRACES = {
    "boric-acid": 2.86,
    "manganese-chloride-tetrahydrate": 1.81,
    "zinc-sulfate-heptahydrate": 0.22,
    "copper-sulfate-pentahydrate": 0.08,
    "molybdic-acid-monohydrate": 0.02,
}


def test_hoagland_and_arnon_1950_from_targets_to_amounts():
    aim = {"N": 15 * N, "P": P, "K": 6 * K, "Ca": 5 * CA, "Mg": 2 * MG, "S": 2 * S}
    found = amounts(recipe(aim, [*HOAGLAND, "potassium-sulfate", "monoammonium-phosphate"]))
    assert found.keys() == HOAGLAND.keys()
    assert [found[key] for key in HOAGLAND] == pytest.approx(list(HOAGLAND.values()), rel=0.01)


def test_hoagland_and_arnon_1950_all_salts_give_the_printed_digits():
    shelf = [{"salt": salt, "exactly_mg_per_l": mg} for salt, mg in (HOAGLAND | HOAGLAND_TRACES).items()]
    feed = plan(recipe({}, shelf)).feed.mg_per_l
    macros = {"N": 210, "K": 235, "Ca": 200, "P": 31, "S": 64, "Mg": 48.6}
    assert [feed[name] for name in macros] == pytest.approx(list(macros.values()), rel=0.01)
    for nutrient, printed, decimals in (
        ("B", 0.5, 1),
        ("Mn", 0.5, 1),
        ("Zn", 0.05, 2),
        ("Cu", 0.02, 2),
        ("Mo", 0.01, 2),
    ):
        assert round(feed[nutrient], decimals) == printed


ARSIA_WATER = {"name": "well", "mg_per_l": {"HCO3": 150, "K": 3.5, "Ca": 61, "Mg": 18, "S": 10}}
ARSIA_SHELF = [
    {"salt": "calcium-nitrate-greenhouse", "label_percent": {"Ca": 19, "NO3-N": 14.5, "NH4-N": 1}},
    {"salt": "ammonium-nitrate", "label_percent": {"NO3-N": 17, "NH4-N": 17}},
    {"salt": "monopotassium-phosphate", "label_percent": {"P": 23, "K": 28}},
    {"salt": "magnesium-sulfate-heptahydrate", "label_percent": {"Mg": 9.9, "S": 13}},
    {"salt": "potassium-nitrate", "label_percent": {"NO3-N": 13, "K": 38.1}},
    {"salt": "potassium-sulfate", "label_percent": {"K": 43, "S": 17}},
    {"salt": "nitric-acid", "strength_percent": 66},
]
ARSIA_AIM = {"NO3-N": 130, "NH4-N": 10, "P": 40, "K": 180, "Ca": 160, "Mg": 30, "S": 50}
ARSIA_KG_PER_100_L = {
    "calcium-nitrate-greenhouse": (5.21, 0.01),
    "monopotassium-phosphate": (1.739, 0.01),
    "magnesium-sulfate-heptahydrate": (1.212, 0.01),
    "potassium-nitrate": (1.754, 0.01),
    "potassium-sulfate": (1.4186, 0.01),
    "ammonium-nitrate": (0.282, 0.01),
}


def arsia():
    tanks = {"tanks": {"count": 2, "ratio": 100}, "batch": {"tank_volume_l": 100}}
    return plan(recipe(ARSIA_AIM, ARSIA_SHELF, water=ARSIA_WATER, aim={"residual_alkalinity_meq_per_l": 0.54}, **tanks))


def test_arsia_2004_every_macro_within_one_per_cent():
    feed = arsia().feed.mg_per_l
    assert [feed[name] for name in ARSIA_AIM] == pytest.approx(list(ARSIA_AIM.values()), rel=0.01)


def test_arsia_2004_its_stock_kilograms_and_its_acid():
    made = arsia()
    kilograms = {}
    for tank in made.tanks:
        for content in tank.contents:
            kilograms[content.entry_id] = kilograms.get(content.entry_id, 0.0) + content.grams / 1000.0
    for entry, (kg, relative) in ARSIA_KG_PER_100_L.items():
        assert kilograms[entry] == pytest.approx(kg, rel=relative), entry
    nitric = next(amount for amount in made.amounts if amount.salt == "nitric-acid")
    assert nitric.brings_mg_per_l["N"] == pytest.approx(26.9, rel=0.02)
    assert nitric.ml_per_l == pytest.approx(0.132, rel=0.02)
