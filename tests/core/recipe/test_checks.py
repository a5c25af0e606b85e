"""Ranges and contradictions: each refused with its place, and the honest neighbour accepted."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest

from core.recipe import Recipe, RecipeError, check, loads
from core.recipe.records import Aim, ShelfEntry, TankSetup, Target, Water

KNO3 = {"salt": "potassium-nitrate"}


def document(**fields: Any) -> bytes:
    return json.dumps({"format": "saltwright-recipe", "schema": 1, "shelf": [KNO3], **fields}).encode()


def entry(**fields: Any) -> dict[str, Any]:
    return {"shelf": [{**KNO3, **fields}]}


def label(**percent: float) -> dict[str, Any]:
    return entry(label_percent={name.replace("_", "-"): value for name, value in percent.items()})


def target(**fields: Any) -> dict[str, Any]:
    return {"aim": {"targets": [{"nutrient": "Ca", "mg_per_l": 100, **fields}]}}


def limit(**fields: Any) -> dict[str, Any]:
    return {"aim": {"limits": [{"nutrient": "Na", **fields}]}}


def water(**mg_per_l: float) -> dict[str, Any]:
    return {"water": {"mg_per_l": {name.replace("_", "-"): value for name, value in mg_per_l.items()}}}


REFUSED: list[tuple[dict[str, Any], str]] = [
    # ranges: each field has its own, see test_schema for completeness
    (target(mg_per_l=20_001), "target 1 (aim.targets[0].mg_per_l) is 20001, outside 0 to 20000 mg/L"),
    (target(mg_per_l=-1), "target 1 (aim.targets[0].mg_per_l) is -1, outside"),
    (target(tolerance_percent=101), "tolerance_percent) is 101, outside 0 to 100 %"),
    (water(Ca=-0.5), "water.mg_per_l.Ca is -0.5, outside 0 to 20000 mg/L"),
    ({"water": {"ec_ms_per_cm": 450}}, "water.ec_ms_per_cm is 450, outside 0 to 100 mS/cm"),
    ({"water": {"ph": 14.5}}, "water.ph is 14.5, outside 0 to 14; correct"),
    ({"water": {"temperature_c": -6}}, "water.temperature_c is -6, outside -5 to 60 °C"),
    (entry(exactly_mg_per_l=1_000_001), "shelf entry 1 (shelf[0].exactly_mg_per_l) is 1000001, outside"),
    (entry(price_per_kg=-1), "shelf[0].price_per_kg) is -1, outside"),
    (entry(pack_kg=0), "shelf[0].pack_kg) is 0, outside"),
    ({"tanks": {"count": 5}}, "tanks.count is 5, outside 1 to 4"),
    ({"tanks": {"count": 0}}, "tanks.count is 0, outside 1 to 4"),
    ({"tanks": {"ratio": 0.5}}, "tanks.ratio is 0.5, outside 1 to 5000"),
    ({"tanks": {"coldest_c": 61}}, "tanks.coldest_c is 61, outside"),
    ({"batch": {"tank_volume_l": 0}}, "batch.tank_volume_l is 0, outside"),
    ({"batch": {"tank_volume_l": 1e7}}, "batch.tank_volume_l is 10000000, outside"),
    ({"second_water_share_percent": 101, "second_water": {}}, "second_water_share_percent is 101, outside"),
    # the aim
    (target(tolerance_percent=5, low_mg_per_l=90), "target 1 (aim.targets[0]) states both a tolerance and a range"),
    (target(low_mg_per_l=101), "has its low (101 mg/L) above its target (100 mg/L)"),
    (target(high_mg_per_l=99), "has its target (100 mg/L) above its high (99 mg/L)"),
    ({"aim": {"targets": [{"nutrient": "K", "mg_per_l": 1}] * 2}}, "target 2 (aim.targets[1]) repeats K"),
    ({"aim": {"limits": [{"nutrient": "Na"}] * 2}}, "limit 2 (aim.limits[1]) repeats Na"),
    (limit(at_least_mg_per_l=2, at_most_mg_per_l=1), "has its at least (2 mg/L) above its at most (1 mg/L)"),
    ({"aim": {"crop": "strawbery-takatsuji-1997"}}, 'did you mean "strawberry-takatsuji-1997"?'),
    # labels
    (label(P=1, P2O5=2), "states both P and P2O5, the same thing twice"),
    (label(K=1, K2O=2), "both K and K2O"),
    (label(Ca=1, CaO=2), "both Ca and CaO"),
    (label(Mg=1, MgO=2), "both Mg and MgO"),
    (label(S=1, SO3=2), "both S and SO3"),
    (label(Si=1, SiO2=2), "both Si and SiO2"),
    (label(Na=1, Na2O=2), "both Na and Na2O"),
    (label(N=-1), "label_percent.N) is -1, outside 0 to 100 %"),
    (label(P2O5=300), "label_percent.P2O5) is 300, outside 0 to 100 %"),
    (label(N=10, NO3_N=6, NH4_N=4.5), "states N 10 %, but its forms sum to 10.5 %"),
    (label(N=40, K2O=46, P2O5=16), "sums to 102 %, over 100 %"),
    (label(NO3_N=60, NH4_N=42), "sums to 102 %"),
    (label(Cl=80, K=30), "sums to 110 %"),
    # the shelf
    (entry(salt="potasium-nitrate"), 'is "potasium-nitrate", which is not in the catalog; did you mean "potassium-ni'),
    (entry(salt="Potassium-Nitrate"), 'did you mean "potassium-nitrate"?'),
    (entry(salt="zzzzzz"), 'a bought product is written "blend:<own name>"'),
    (entry(salt="blend:", label_percent={"K": 1}), 'shelf[0].salt) has no name after "blend:"'),
    (entry(salt="blend:  ", label_percent={"K": 1}), 'has no name after "blend:"'),
    (entry(salt="blend:mine"), 'is "blend:mine" without what it holds; write its label_percent'),
    (entry(salt="blend:mine", label_percent={"K": 0}), "without what it holds"),
    (entry(salt="blend:mine", label_percent={"K": 1}, strength_percent=5), "is given for a bought blend"),
    (entry(strength_percent=5), "shelf[0].strength_percent) is given for a product that is not sold by strength"),
    (entry(salt="nitric-acid", strength_percent=0), "strength_percent) is 0, outside"),
    (entry(salt="nitric-acid", strength_percent=101), "strength_percent) is 101, outside"),
    (entry(salt="hydrochloric-acid", strength_percent=60), "is 60 %, but hydrochloric-acid is at most 40 %"),
    (entry(salt="potassium-silicate-solution", strength_percent=30), "not sold by strength"),
    (entry(entry_id=" "), "shelf[0].entry_id) is empty"),
    (entry(at_least_mg_per_l=2, at_most_mg_per_l=1), "asks for at least 2 but at most 1 mg/L"),
    (entry(exactly_mg_per_l=3, at_most_mg_per_l=2), "asks for exactly 3 mg/L, outside its own at least and at most"),
    (entry(exactly_mg_per_l=3, at_least_mg_per_l=4), "asks for exactly 3 mg/L, outside"),
    (entry(priced_on="01.06.2026"), 'priced_on) is "01.06.2026", no date; write it as 2026-06-01'),
    (entry(priced_on="20260601"), "no date"),
    (entry(priced_on="2026-02-30"), "no date"),
    (entry(priced_on="٢٠٢٦-٠٦-٠١"), "no date"),
    ({"shelf": [KNO3, KNO3]}, 'shelf entry 2 (shelf[1]) has the same name as another entry, "potassium-nitrate"; give'),
    ({"shelf": [KNO3, {"salt": "urea", "entry_id": "potassium-nitrate"}]}, "has the same name as another entry"),
    # water
    (water(N=1, NO3_N=1.5), "water.mg_per_l states N 1 mg/L, but its forms sum to 1.5 mg/L"),
    (water(HCO3=150, CaCO3=140), "states 2.46 meq/L of alkalinity as HCO3, but 2.8 as CaCO3"),
    (water(HCO3=150, CaCO3=0), "but 0 as CaCO3"),
    (water(HCO3=150, CO3=30, CaCO3=123), "as HCO3 and CO3"),
    ({"second_water": water(HCO3=150, CaCO3=140)["water"]}, "second_water.mg_per_l states"),
    ({"second_water_share_percent": 20}, "second_water_share_percent is given, but no second_water"),
    # tanks, scales, money
    ({"tanks": {"pins": {"potassium-nitrat": "A"}}}, 'which does not stand on the shelf; did you mean "potassium-nitr'),
    ({"tanks": {"pins": {"potassium-nitrate": "C"}}}, 'potassium-nitrate is "C", none of the 2 tanks; use A, B'),
    ({"tanks": {"pins": {"potassium-nitrate": "AB"}}}, 'is "AB", none of the 2 tanks'),
    ({"tanks": {"pins": {"potassium-nitrate": ""}}}, 'is "", none of the 2 tanks'),
    ({"batch": {"scales": [{"capacity_g": 5, "readability_g": 5}]}}, "scale 1 (batch.scales[0]) carries 5 g in steps"),
    ({"currency": "euro"}, 'currency is "euro", no currency code; write three letters such as EUR'),
    ({"currency": "€€€"}, "no currency code"),
]

ACCEPTED: list[dict[str, Any]] = [
    target(tolerance_percent=5),
    target(low_mg_per_l=100, high_mg_per_l=100),
    target(mg_per_l=0),
    limit(at_least_mg_per_l=1, at_most_mg_per_l=1),
    limit(),
    label(N=10, NO3_N=6, NH4_N=4.3),
    label(N=15.5, NO3_N=14.4),
    label(K2O=54, SO3=46.5),
    label(K2O=63.2, Cl=47.6),
    label(N=13.7, K2O=46.2),
    label(Na=39.3, Cl=60.7),
    label(CaO=50.5, Cl=63.9),
    label(MgO=33.5, SO3=66.5),
    label(P2O5=52.1, K2O=34.6),
    entry(salt="nitric-acid", strength_percent=60),
    entry(salt="citric-acid", strength_percent=100),
    entry(salt="potassium-hydroxide", strength_percent=90),
    entry(salt="hydrochloric-acid", strength_percent=40),
    entry(salt="blend:mine", label_percent={"K": 1}),
    entry(exactly_mg_per_l=2, at_least_mg_per_l=1, at_most_mg_per_l=2),
    entry(exactly_mg_per_l=0),
    entry(price_per_kg=0, priced_on="2024-02-29"),
    {"shelf": [KNO3, {**KNO3, "entry_id": "bag 2"}]},
    water(N=1, NO3_N=1.2),
    water(HCO3=150, CaCO3=123),
    water(HCO3=0, CaCO3=0),
    water(CaCO3=100),
    {"tanks": {"count": 4, "pins": {"potassium-nitrate": "D"}}},
    {"aim": {"crop": "strawberry-takatsuji-1997"}},
    {"currency": "CHF"},
]


@pytest.mark.parametrize(("fields", "words"), REFUSED, ids=[words[:40] for _, words in REFUSED])
def test_refused(fields: dict[str, Any], words: str) -> None:
    with pytest.raises(RecipeError) as caught:
        loads(document(**fields))
    assert words in str(caught.value)
    assert caught.value.mend, "every refusal says how to mend it"


@pytest.mark.parametrize("fields", ACCEPTED, ids=[json.dumps(fields)[:60] for fields in ACCEPTED])
def test_accepted(fields: dict[str, Any]) -> None:
    loads(document(**fields))


def recipe_of(**fields: Any) -> Recipe:
    return Recipe(**{"format": "saltwright-recipe", "schema": 1, "shelf": (ShelfEntry("urea"),), **fields})


@pytest.mark.parametrize(
    ("recipe", "words"),
    [
        (recipe_of(shelf=()), "shelf is empty"),
        (recipe_of(title="x" * 201), "title holds a text of 201 characters"),
        (recipe_of(title="a\nb"), "title holds the invisible control character U+000A"),
        (recipe_of(aim=Aim(ec_ms_per_cm=math.nan)), "aim.ec_ms_per_cm is not a finite number"),
        (recipe_of(water=Water(ph=math.inf)), "water.ph is not a finite number"),
        (recipe_of(aim=Aim(targets=(Target("K", 1e9),))), "is 1000000000, outside"),
        (recipe_of(tanks=TankSetup(pins={"urea": "Z"})), 'tanks.pins.urea is "Z"'),
    ],
)
def test_an_edit_in_memory_meets_the_same_checks(recipe: Recipe, words: str) -> None:
    with pytest.raises(RecipeError) as caught:
        check(recipe)
    assert words in str(caught.value)


def test_shelf_and_aim_can_be_cached_upon() -> None:
    recipe = loads(document(**label(K2O=46)))
    assert hash(recipe.shelf) == hash(loads(document(**label(K2O=46))).shelf)
    assert isinstance(hash((recipe.aim, recipe.water, recipe.batch)), int)
