"""Crop profiles: whole, sourced, side by side where they disagree."""

from __future__ import annotations

import re

import pytest

from core.catalog import CropProfile, UnknownCrop, crop, crops, crops_of, feed_limits, salt
from core.recipe.records import NUTRIENTS

EVERY_PROFILE = pytest.mark.parametrize("profile", crops(), ids=[profile.id for profile in crops()])

CHARGE_PER_MG = {
    "NO3-N": -1 / 14.007, "NH4-N": 1 / 14.007, "P": -1 / 30.974, "K": 1 / 39.098, "Ca": 2 / 40.078, "Mg": 2 / 24.305,
    "S": -2 / 32.06,
}  # fmt: skip
"""meq per mg, phosphate as H2PO4-."""


def test_there_are_enough_and_no_name_twice() -> None:
    ids = [profile.id for profile in crops()]
    assert len(set(ids)) == len(ids) >= 30
    assert len({profile.crop for profile in crops()}) >= 30
    assert all(re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", profile_id) for profile_id in ids)
    assert sum(profile.kind == "recipe" for profile in crops()) >= 30


@EVERY_PROFILE
def test_a_profile_is_in_order(profile: CropProfile) -> None:
    nutrients = [target.nutrient for target in profile.targets]
    assert nutrients == sorted(set(nutrients), key=NUTRIENTS.index)
    assert profile.targets or profile.ec_low_ms_per_cm or profile.ph_low
    for target in profile.targets:
        ends = [end for end in (target.low_mg_per_l, target.high_mg_per_l) if end is not None]
        assert min([target.mg_per_l, *ends]) > 0
        assert (target.low_mg_per_l or 0) <= target.mg_per_l <= (target.high_mg_per_l or 1e9)
    for low, high, least, most in (
        (profile.ec_low_ms_per_cm, profile.ec_high_ms_per_cm, 0.3, 5),
        (profile.ph_low, profile.ph_high, 4.5, 7.5),
    ):
        assert (low is None) == (high is None)
        if low is not None and high is not None:
            assert least <= low <= high <= most


@EVERY_PROFILE
def test_a_recipe_holds_all_main_nutrients(profile: CropProfile) -> None:
    named = {target.nutrient for target in profile.targets}
    complete = {"P", "K", "Ca", "Mg"} <= named and ("N" in named or "NO3-N" in named)
    assert complete or profile.kind == "range"


@EVERY_PROFILE
def test_nitrogen_is_named_once(profile: CropProfile) -> None:
    named = {target.nutrient for target in profile.targets}
    assert "N" not in named or not named & {"NO3-N", "NH4-N"}


def meq_per_l(profile: CropProfile) -> list[float]:
    wanted = {target.nutrient: target.mg_per_l for target in profile.targets}
    return [factor * wanted.get(name, 0.0) for name, factor in CHARGE_PER_MG.items()]


OPEN_IN_CHARGE = {
    "ornamentals-arsia-2004": "a worked example on a hard water whose anions are not all named",
    "tomato-ishihara-2007": "an abstract that names some of the ions; its note says that they do not close",
}
FULL = [p for p in crops() if p.kind == "recipe" and CHARGE_PER_MG.keys() <= {t.nutrient for t in p.targets}]
CLOSED = [profile for profile in FULL if profile.id not in OPEN_IN_CHARGE]


def test_enough_recipes_name_all_ions() -> None:
    assert len(CLOSED) >= 30
    assert {profile.id for profile in FULL} >= OPEN_IN_CHARGE.keys()


@pytest.mark.parametrize("profile", CLOSED, ids=[profile.id for profile in CLOSED])
def test_a_full_recipe_closes_in_charge(profile: CropProfile) -> None:
    """Within 1 %, or within the rounding of a table that was printed to 0.1 me/L for seven ions."""
    parts = meq_per_l(profile)
    rounding = 6 * 0.05 + 0.05 / 3 if profile.known.source == "UDAGAWA-2004" else 0.0
    assert abs(sum(parts)) <= max(0.01 * sum(abs(part) for part in parts) / 2, rounding)


def test_no_published_recipe_is_called_toxic() -> None:
    most = {limit.nutrient: limit.at_most_mg_per_l for limit in feed_limits() if limit.harm == "toxic"}
    assert most.keys() == {"NH4-N", "Mn", "Zn", "B", "Cu"}
    for profile in crops():
        if profile.kind == "recipe":
            assert all(target.mg_per_l <= most.get(target.nutrient, 1e9) for target in profile.targets), profile.id


def test_limits_of_ballast_ions() -> None:
    ballast = {limit.nutrient: limit.at_most_mg_per_l for limit in feed_limits() if limit.harm == "accumulates"}
    assert ballast == {"Na": 50, "Cl": 70}


@pytest.mark.parametrize(
    ("name", "one", "other"),
    [
        ("eggplant", "eggplant-oklahoma-2016", "eggplant-islam-2024"),
        ("strawberry", "strawberry-oklahoma-2016", "strawberry-ohio-state"),
        ("tomato", "tomato-oklahoma-2016", "tomato-mendez-cifuentes-2023"),
    ],
)
def test_sources_that_disagree_stand_side_by_side(name: str, one: str, other: str) -> None:
    ids = {profile.id for profile in crops_of(name)}
    assert {one, other} <= ids
    assert crop(one).ec_high_ms_per_cm != crop(other).ec_high_ms_per_cm


def test_grouping_does_not_mind_case_and_knows_no_cannabis() -> None:
    assert crops_of(" Tomato ") == crops_of("tomato") != ()
    assert crops_of("cannabis") == ()
    names = {profile.crop for profile in crops()}
    assert {profile.crop for name in names for profile in crops_of(name)} == names


def test_the_ammonium_share() -> None:
    ikeda = crop("tomato-ikeda-1996").ammonium_share_percent
    assert ikeda == pytest.approx(100 * 9.255 / (9.255 + 97.97), rel=1e-3)
    assert crop("strawberry-lieten-june-bearers").ammonium_share_percent == 10
    assert crop("tomato-ohio-state").ammonium_share_percent is None


def test_recalled_recipes_say_so() -> None:
    recalled = [profile for profile in crops() if profile.known.source == "SONNEVELD-STRAVER-1994"]
    assert len(recalled) == 12
    assert {profile.known.how_known for profile in recalled} == {"MEMORY"}


def test_an_unknown_profile_is_refused() -> None:
    with pytest.raises(UnknownCrop, match="did you mean tomato-ikeda-1996"):
        crop("tomato-ikeda-1995")
    with pytest.raises(UnknownCrop):
        crop("x" * 5000)


def test_grams_of_a_formula_give_its_milligrams() -> None:
    """Cucumber by the 1996 table: 606, 826, 492 and 114 g of four salts per 1000 L."""
    grams = {
        "potassium-nitrate": 606, "calcium-nitrate-tetrahydrate": 826, "magnesium-sulfate-heptahydrate": 492,
        "monoammonium-phosphate": 114,
    }  # fmt: skip
    mmol: dict[str, float] = {}
    for salt_id, g_per_1000_l in grams.items():
        for ion, count in salt(salt_id).ions.items():
            mmol[ion] = mmol.get(ion, 0) + count * g_per_1000_l / salt(salt_id).molar_mass_g_per_mol
    wanted = {target.nutrient: target.mg_per_l for target in crop("cucumber-ikeda-1996").targets}
    weights = {"NO3-N": ("NO3", 14.007), "NH4-N": ("NH4", 14.007), "P": ("P", 30.974), "K": ("K", 39.098)}
    weights |= {"Ca": ("Ca", 40.078), "Mg": ("Mg", 24.305), "S": ("S", 32.06)}
    assert wanted == pytest.approx({name: mmol[ion] * weight for name, (ion, weight) in weights.items()}, rel=5e-4)
