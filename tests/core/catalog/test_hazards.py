"""Hazards: by strength, by product, by pair."""

from __future__ import annotations

import re

import pytest

from core.catalog import (
    Hazard,
    UnknownSalt,
    handling_rules,
    hazard,
    hazard_groups,
    incompatible_pairs,
    pairs_among,
    salts,
)

STRONG_ACIDS = ("nitric-acid", "phosphoric-acid", "sulfuric-acid", "hydrochloric-acid")


def of(salt_id: str) -> Hazard:
    found = hazard(salt_id)
    assert found is not None
    return found


def codes(salt_id: str, strength_percent: float) -> set[str]:
    return {one.code for one in of(salt_id).classes_at(strength_percent)}


def test_codes_and_names_are_well_formed() -> None:
    seen: set[str] = set()
    for found in {item.id: hazard(item) for item in salts().values()}.values():
        if found is None or found.id in seen:
            continue
        seen.add(found.id)
        assert set(found.salts) <= salts().keys()
        for one in found.classes:
            assert re.fullmatch(r"H[2-4]\d\d(FD)?|EUH\d{3}", one.code)
            assert one.below_percent is None or (one.from_percent or 0) < one.below_percent
        assert not found.classes or found.signal_word in ("Danger", "Warning")
    assert len(seen) == 24


def test_every_acid_and_oxidiser_says_how_to_handle_it() -> None:
    for item in salts().values():
        if item.oxidiser or item.id in STRONG_ACIDS:
            found = of(item.id)
            assert found.signal_word
            assert found.wear
            assert found.keep_apart_from
            assert found.first_aid
            assert found.storage
    assert any("into plenty of water" in rule.text for rule in handling_rules())


@pytest.mark.parametrize(
    ("salt_id", "strength_percent", "expected"),
    [
        ("nitric-acid", 70, {"H272", "H331", "H314", "H290", "EUH071"}),
        ("nitric-acid", 60, {"H331", "H314", "H290", "EUH071"}),
        ("nitric-acid", 20, {"H332", "H314"}),
        ("nitric-acid", 6.3, {"H314"}),
        ("nitric-acid", 1, set()),
        ("phosphoric-acid", 85, {"H314", "H290"}),
        ("phosphoric-acid", 12, {"H315", "H319", "H290"}),
        ("sulfuric-acid", 10, {"H315", "H319", "H290", "EUH071"}),
        ("calcium-nitrate-greenhouse", 7.4, {"H302", "H318"}),
        ("calcium-nitrate-greenhouse", 2.9, {"H302"}),
        ("boric-acid", 0.29, set()),
        ("boric-acid", 0.3, {"H360FD"}),
        ("potassium-hydroxide", 1, {"H302", "H315", "H319", "H290"}),
    ],
)
def test_the_hazard_belongs_to_the_strength_in_hand(salt_id: str, strength_percent: float, expected: set[str]) -> None:
    assert codes(salt_id, strength_percent) == expected


def test_nothing_found_is_not_harmless() -> None:
    assert hazard("urea-phosphate") is None
    with pytest.raises(UnknownSalt):
        hazard("no such salt")


def test_groups_and_pairs_hang_together() -> None:
    groups = hazard_groups()
    for pair in incompatible_pairs():
        assert {pair.a, pair.b} <= groups.keys()
    assert groups.keys() == {name for pair in incompatible_pairs() for name in (pair.a, pair.b)}
    for group in groups.values():
        assert set(group.salts) <= salts().keys()
    assert set(groups["acid"].salts) == {item.id for item in salts().values() if item.kind == "acid"}
    assert set(groups["chelate"].salts) == {item.id for item in salts().values() if item.chelate}
    ammonium = {item.id for item in salts().values() if item.ions.get("NH4")}
    assert set(groups["ammonium"].salts) == ammonium
    urea = {item.id for item in salts().values() if item.ions.get("urea")}
    assert set(groups["ammonium-or-urea"].salts) == ammonium | urea


def test_pairs_on_a_shelf() -> None:
    found = pairs_among(["nitric-acid", "potassium-carbonate", "iron-sulfate-heptahydrate", "potassium-chloride"])
    assert [(pair.a, pair.b, pair.level) for pair, _, _ in found] == [
        ("acid", "carbonate", "check"),
        ("nitric-acid", "iron-ii", "stop"),
    ]
    assert found[0][1:] == (("nitric-acid",), ("potassium-carbonate",))


def test_one_acid_is_no_pair_and_two_are() -> None:
    assert pairs_among(["nitric-acid", "nitric-acid"]) == ()
    both = pairs_among(["nitric-acid", "sulfuric-acid"])
    assert [(pair.a, pair.b) for pair, _, _ in both] == [("acid", "acid")]
