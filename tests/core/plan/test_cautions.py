"""Every caution: a recipe that brings it up, and plain recipes that do not."""

import pytest

from core.blend.adapt import from_tanks
from core.plan import plan
from core.plan.cautions import LOUDNESS, REGISTRY, caution, worst_first
from tests.core.blend.test_adapt import tanks_of
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

NITRIC = {"salt": "nitric-acid", "strength_percent": 60}
SCALES = {"batch": {"tank_volume_l": 50, "scales": [{"capacity_g": 5000, "readability_g": 1}]}}
FEED = {"N": 154.0, "P": 31.0, "K": 195.5, "Ca": 150.3, "Mg": 36.5, "S": 56.1}
QUIET = {"water": {"name": "RO", "ec_ms_per_cm": 0.02}, "tanks": {"coldest_c": 10}} | SCALES


def one_tank(*entries, **rest):
    """A recipe of exact amounts whose products all stand in one tank, acid too."""
    shelf = [{"salt": salt, "exactly_mg_per_l": amount} for salt, amount in entries]
    return recipe({}, shelf, **({"tanks": {"count": 1}, "acid_into": "tank"} | rest))


CALCIUM, KOH, IRON = ("calcium-nitrate-tetrahydrate", 600), ("potassium-hydroxide", 20), ("iron-dtpa-11", 18)
OTHERS = ["magnesium-nitrate-hexahydrate", "calcium-nitrate-greenhouse", "potassium-chloride", "ammonium-nitrate"]
GREENHOUSE = ["calcium-nitrate-greenhouse", *PLAIN[1:]]

TANK_CASES = {
    "calcium-phosphate": lambda: one_tank(CALCIUM, ("monopotassium-phosphate", 10), ("nitric-acid", 400)),
    "calcium-sulfate": lambda: one_tank(
        CALCIUM, ("magnesium-sulfate-heptahydrate", 20), tanks={"count": 1, "ratio": 5}
    ),
    "magnesium-phosphate": lambda: one_tank(("diammonium-phosphate", 20), ("magnesium-nitrate-hexahydrate", 20)),
    "silicate-alone": lambda: one_tank(("potassium-silicate-solution", 100), ("potassium-nitrate", 300)),
    "base-hardness": lambda: one_tank(KOH, CALCIUM),
    "base-metals": lambda: one_tank(KOH, ("manganese-sulfate-monohydrate", 2)),
    "base-chelate": lambda: one_tank(KOH, IRON),
    "base-phosphate": lambda: one_tank(KOH, ("monopotassium-phosphate", 150)),
    "base-acid": lambda: one_tank(KOH, ("nitric-acid", 100)),
    "base-ammonium": lambda: one_tank(KOH, ("ammonium-nitrate", 50)),
    "tank-temperature": lambda: one_tank(CALCIUM, tanks={"temperature_c": 20, "coldest_c": -3}),
    "coldest-warmer": lambda: one_tank(CALCIUM, tanks={"temperature_c": 5, "coldest_c": 12}),
    "solubility-unknown": lambda: one_tank(("molybdic-acid-monohydrate", 0.1)),
}
"""What is said of tanks whose products do not go together, of the store, and of what nobody knows."""

CASES = {
    "bound-missed": lambda: recipe({"N": 100.0}, [{"salt": "urea", "at_least_mg_per_l": 100.0}, "potassium-nitrate"]),
    "acid-late": lambda: recipe(SIX, [*PLAIN, NITRIC], water=HARD, acid_into="reservoir"),
    "memory-value": lambda: recipe({"Mn": 0.5}, ["manganese-edta-13"]),
    "memory-crop": lambda: recipe({"K": 100.0}, ["potassium-nitrate"], aim={"crop": "tomato-sonneveld-1994"}),
    "limit-impossible": lambda: recipe(
        {"K": 100.0}, ["potassium-nitrate"], water=HARD, aim={"limits": [{"nutrient": "Na", "at_most_mg_per_l": 20}]}
    ),
    "limit-missed": lambda: recipe(
        {},
        [{"salt": "potassium-chloride", "exactly_mg_per_l": 300}],
        aim={"limits": [{"nutrient": "Cl", "at_most_mg_per_l": 50}]},
    ),
    "toxic": lambda: recipe({"B": 3.0}, ["boric-acid"]),
    "target-short": lambda: recipe({"N": 300.0, "Ca": 100.0}, ["calcium-nitrate-tetrahydrate"]),
    "target-over": lambda: recipe(
        SIX,
        [p for p in PLAIN if "phosphate" not in p] + [{"salt": "phosphoric-acid", "strength_percent": 85}],
        water=HARD,
    ),
    "water-over-target": lambda: recipe({"Ca": 60.0, "K": 100.0}, ["potassium-nitrate"], water=HARD),
    "alkalinity-left": lambda: recipe(SIX, PLAIN, water=HARD, aim={"residual_alkalinity_meq_per_l": 0.5}),
    "no-acid": lambda: recipe(SIX, PLAIN, water=HARD),
    "acid-needed": lambda: recipe(SIX, [*PLAIN, NITRIC], water=HARD),
    "acid-first": lambda: recipe(SIX, [*PLAIN, NITRIC], water=HARD),
    "acid-handling": lambda: recipe(SIX, [*PLAIN, NITRIC], water=HARD),
    "keep-apart": lambda: recipe(
        {"Ca": 150.0, "K": 200.0},
        [
            "calcium-nitrate-greenhouse",
            "potassium-nitrate",
            {"salt": "potassium-silicate-solution", "exactly_mg_per_l": 50},
        ],
    ),
    "acid-strength-assumed": lambda: recipe(SIX, [*PLAIN, "nitric-acid"], water=HARD),
    "oxidiser-handling": lambda: recipe({"K": 100.0}, ["potassium-nitrate"]),
    "ammonium-share": lambda: recipe({}, [{"salt": "ammonium-nitrate", "exactly_mg_per_l": 200}]),
    "urea-used": lambda: recipe({}, [{"salt": "urea", "exactly_mg_per_l": 100}]),
    "chloride-high": lambda: recipe({}, [{"salt": "potassium-chloride", "exactly_mg_per_l": 400}]),
    "sodium-high": lambda: recipe({}, [{"salt": "sodium-chloride", "exactly_mg_per_l": 300}]),
    "water-assumed-pure": lambda: recipe(SIX, PLAIN),
    "water-ec-only": lambda: recipe(SIX, PLAIN, water={"name": "w", "ec_ms_per_cm": 0.4}),
    "water-ec-contradiction": lambda: recipe(SIX, PLAIN, water=HARD | {"ec_ms_per_cm": 0.5}),
    "alkalinity-unknown": lambda: recipe(SIX, PLAIN, water={"name": "w", "mg_per_l": {"Ca": 40, "Cl": 71}}),
    "water-charge-gap": lambda: recipe(SIX, PLAIN, water={"name": "w", "mg_per_l": {"Ca": 80, "HCO3": 60}}),
    "water-ph-contradiction": lambda: recipe(
        SIX, PLAIN, water={"name": "w", "mg_per_l": {"Ca": 100, "HCO3": 305}, "ph": 3.5}
    ),
    "aim-nitrogen-contradiction": lambda: recipe({"N": 100.0, "NO3-N": 120.0}, ["potassium-nitrate"]),
    "aim-charge-gap": lambda: recipe(SIX | {"N": 250.0}, PLAIN),
    "label-only": lambda: recipe(
        {}, [{"salt": "blend:mine", "label_percent": {"N": 10, "K2O": 20}, "exactly_mg_per_l": 500}]
    ),
    "exact-only": lambda: recipe({}, [{"salt": "potassium-nitrate", "exactly_mg_per_l": 100}]),
    "nothing-to-do": lambda: recipe({}, ["potassium-nitrate"]),
    "soft-water": lambda: recipe(SIX, PLAIN),
    "base-not-asked": lambda: recipe(
        SIX, PLAIN, aim={"residual_alkalinity_meq_per_l": 0.8}, water={"name": "w", "mg_per_l": {"Ca": 6, "HCO3": 18.3}}
    ),
    "alkalinity-short": lambda: recipe(
        SIX,
        [*PLAIN, NITRIC | {"exactly_mg_per_l": 540}],
        water=HARD,
        aim={"residual_alkalinity_meq_per_l": 0.5},
    ),
    "ph-out-of-range": lambda: recipe({}, [{"salt": "potassium-bicarbonate", "exactly_mg_per_l": 60}]),
    "ph-extreme": lambda: recipe({}, [{"salt": "potassium-hydroxide", "exactly_mg_per_l": 200}]),
    "ph-aim-missed": lambda: recipe(SIX, PLAIN, water=HARD, aim={"ph": 5.8}),
    "crop-ph": lambda: recipe(SIX, [*PLAIN, NITRIC], water=HARD, aim={"crop": "celery-oklahoma-2016", "ph": 5.8}),
    "bare-iron": lambda: recipe(SIX | {"Fe": 2.0}, [*PLAIN, "iron-sulfate-heptahydrate"], water=HARD),
    "ligand-unknown": lambda: recipe(
        {},
        [{"salt": "blend:mine", "label_percent": {"NO3-N": 10, "K2O": 30, "Fe": 0.2}, "exactly_mg_per_l": 500}],
        water=HARD,
    ),
    "above-published": lambda: recipe({"Fe": 15.0}, ["iron-dtpa-11"]),
    "label-of-other-salt": lambda: recipe(
        {"Mg": 35.0}, [{"salt": "magnesium-sulfate-heptahydrate", "label_percent": {"Mg": 16}}]
    ),
    "label-unlike-salt": lambda: recipe({"K": 100.0}, [{"salt": "potassium-nitrate", "label_percent": {"K": 46}}]),
    "label-strength": lambda: recipe(SIX, [*PLAIN, NITRIC | {"label_percent": {"NO3-N": 12.0}}], water=HARD),
    "chelate-ph": lambda: recipe(SIX | {"Fe": 2.0}, [*PLAIN, "iron-edta-13"], water=HARD),
    "phosphate-clouds": lambda: recipe(
        {},
        [
            {"salt": "dipotassium-phosphate", "exactly_mg_per_l": 300},
            {"salt": "calcium-nitrate-tetrahydrate", "exactly_mg_per_l": 900},
        ],
    ),
    "ec-aim-missed": lambda: recipe(
        {}, [{"salt": "potassium-nitrate", "exactly_mg_per_l": 500}], aim={"ec_ms_per_cm": 2.0}
    ),
    "out-of-range": lambda: recipe({}, [{"salt": "potassium-nitrate", "exactly_mg_per_l": 60000}]),
    "settles": lambda: recipe(SIX, PLAIN, tanks={"count": 1}),
    "cold-store": lambda: recipe(
        {},
        [{"salt": "potassium-nitrate", "exactly_mg_per_l": 1000}],
        tanks={"count": 1, "ratio": 200, "temperature_c": 25, "coldest_c": 2},
    ),
    "doubtful-tank": lambda: recipe(
        {},
        [
            {"salt": "potassium-sulfate", "exactly_mg_per_l": 450},
            {"salt": "potassium-nitrate", "exactly_mg_per_l": 500},
        ],
        tanks={"count": 1, "ratio": 150, "temperature_c": 25, "coldest_c": 20},
    ),
    "tank-beyond-model": lambda: recipe(
        {},
        [{"salt": "ammonium-nitrate", "exactly_mg_per_l": 3000}],
        tanks={"count": 1, "ratio": 250, "temperature_c": 25, "coldest_c": 20},
    ),
    "strength-too-high": lambda: recipe(
        {}, [{"salt": "potassium-sulfate", "exactly_mg_per_l": 400}], tanks={"count": 1, "ratio": 400}
    ),
    "chelate-acid": lambda: recipe(
        SIX | {"Fe": 2.0}, [*PLAIN, NITRIC, "iron-dtpa-11"], water=HARD, acid_into="tank", tanks={"count": 1}
    ),
    **TANK_CASES,
    "ammonium-holds": lambda: recipe(SIX, [*(s for s in PLAIN if "phosphate" not in s), "monoammonium-phosphate"]),
    "ammonium-forced": lambda: recipe(SIX, [*GREENHOUSE, {"salt": "monoammonium-phosphate", "at_least_mg_per_l": 120}]),
    "urea-left-out": lambda: recipe(
        SIX, [*PLAIN, {"salt": "blend:leaf", "label_percent": {"N": 10, "urea-N": 0.5, "K2O": 20}}]
    ),
    "acid-pin": lambda: recipe(SIX, [*PLAIN, NITRIC], water=HARD, tanks={"pins": {"nitric-acid": "B"}}),
    "pin-beyond": lambda: recipe(SIX, PLAIN, tanks={"count": 2, "pins": {"potassium-nitrate": "C"}}),
    "ready-mixed": lambda: from_tanks(recipe(SIX, PLAIN), tanks_of(recipe(SIX, PLAIN)), ()).recipe,
    "pin-unknown": lambda: recipe(SIX, PLAIN, tanks={"pins": {"ammonium-sulfate": "A"}}),
    "silicate-first": lambda: recipe({"Si": 10.0, "K": 50.0}, ["potassium-silicate-solution", "potassium-nitrate"]),
    "coldest-assumed": lambda: recipe(SIX, PLAIN),
    "scale-assumed": lambda: recipe(SIX, PLAIN),
    "scale-trace": lambda: recipe({"Cu": 0.05}, ["copper-sulfate-pentahydrate"], **SCALES),
    "scale-coarse": lambda: recipe({"Fe": 1.0}, ["iron-dtpa-11"], **SCALES),
    "scale-capacity": lambda: recipe(
        {"K": 500.0},
        ["potassium-nitrate"],
        batch={"tank_volume_l": 200, "scales": [{"capacity_g": 5000, "readability_g": 1}]},
    ),
    "price-missing": lambda: recipe(
        {"K": 100.0, "Ca": 100.0}, [{"salt": "potassium-nitrate", "price_per_kg": 1.5}, "calcium-nitrate-tetrahydrate"]
    ),
    "water-iron-not-counted": lambda: recipe(SIX, PLAIN, water={"mg_per_l": {"Fe": 0.8, "HCO3": 100, "Ca": 33}}),
    "cheapest-out-of-range": lambda: recipe(
        SIX, [{"salt": "potassium-nitrate", "price_per_kg": 1.0}, "calcium-nitrate-tetrahydrate"], goal="cheapest"
    ),
    "fewest-out-of-range": lambda: recipe({"K": 100.0, "N": 10.0}, ["potassium-nitrate"], goal="fewest"),
    "cheapest-no-prices": lambda: recipe(SIX, PLAIN, goal="cheapest"),
    "unpriced-aside": lambda: recipe(
        {"K": 100.0}, [{"salt": "potassium-nitrate", "price_per_kg": 1.0}, "potassium-sulfate"], goal="cheapest"
    ),
}

OWN_TEST = {"fewest-unproven", "fewest-cost-unproven"}
"""Raised only when the search is ended early, which their own tests see to."""


def codes(made) -> set[str]:
    return {found.code for found in plan(made).cautions}


@pytest.mark.parametrize("code", CASES)
def test_the_caution_is_raised(code):
    assert code in codes(CASES[code]())


def test_every_registered_code_has_a_case():
    assert CASES.keys() == REGISTRY.keys() - OWN_TEST


def test_a_count_that_was_not_proven_when_the_search_ended_is_told(monkeypatch):
    monkeypatch.setattr("core.blend.fewest.WORK", 0)
    assert "fewest-unproven" in codes(recipe(FEED, PLAIN, goal="fewest"))


def test_a_cost_that_was_not_proven_when_the_search_ended_is_told(monkeypatch):
    priced = [{"salt": salt, "price_per_kg": 1.0 + place} for place, salt in enumerate([*PLAIN, *OTHERS])]
    made = recipe(FEED, priced, goal="fewest")
    assert "fewest-cost-unproven" not in codes(made)
    monkeypatch.setattr("core.blend.fewest.LEAST_WORK", 0)
    told = set()
    for work in range(12):
        monkeypatch.setattr("core.blend.fewest.WORK", work)
        told |= codes(made)
    assert "fewest-cost-unproven" in told


def test_a_plain_recipe_raises_nothing_to_stop_or_check():
    loud = {found.code for found in plan(recipe(FEED, PLAIN, **QUIET)).cautions if found.level != "note"}
    assert loud == set()


def test_cautions_come_worst_first():
    for make in CASES.values():
        levels = [LOUDNESS[found.level] for found in plan(make()).cautions]
        assert levels == sorted(levels)


def test_a_caution_takes_only_its_own_data():
    with pytest.raises(KeyError):
        caution("settles", nutrient="N")
    assert worst_first([caution("exact-only"), caution("settles")])[0].code == "settles"
