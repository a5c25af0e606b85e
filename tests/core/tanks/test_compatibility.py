"""Which pairs may share a tank: what precipitates in the published matrix is forbidden, the rest is not."""

import itertools

import pytest

from core.tanks.compatibility import RULES, broken_rules, rules_broken_within

AMOUNT = {"boric-acid": 1.7, "borax-decahydrate": 3.0, "sodium-molybdate-dihydrate": 0.13}
FORBIDDEN = [
    *[("calcium-nitrate-tetrahydrate", other, rule) for other, rule in [
        ("monopotassium-phosphate", "calcium-phosphate"), ("monoammonium-phosphate", "calcium-phosphate"),
        ("diammonium-phosphate", "calcium-phosphate"), ("phosphoric-acid", "calcium-phosphate"),
        ("potassium-sulfate", "calcium-sulfate"), ("ammonium-sulfate", "calcium-sulfate"),
        ("magnesium-sulfate-heptahydrate", "calcium-sulfate"), ("sulfuric-acid", "calcium-sulfate"),
        ("potassium-hydroxide", "base-hardness"), ("potassium-carbonate", "base-hardness"),
        ("potassium-bicarbonate", "base-hardness"), ("potassium-silicate-solution", "silicate-alone"),
    ]],
    *[("calcium-chloride-dihydrate", other, rule) for other, rule in [
        ("monopotassium-phosphate", "calcium-phosphate"), ("potassium-sulfate", "calcium-sulfate"),
        ("magnesium-sulfate-heptahydrate", "calcium-sulfate"),
    ]],
    *[(chelate, acid, "chelate-acid") for chelate, acid in itertools.product(
        ("iron-eddha-6", "iron-hbed-6", "iron-edta-13", "iron-dtpa-11"),
        ("nitric-acid", "phosphoric-acid", "sulfuric-acid", "hydrochloric-acid"),
    )],
    *[(chelate, base, "base-chelate") for chelate, base in itertools.product(
        ("iron-edta-13", "iron-dtpa-11"), ("potassium-hydroxide", "potassium-carbonate", "potassium-bicarbonate"),
    )],
    *[("potassium-silicate-solution", other, "silicate-alone") for other in (
        "potassium-nitrate", "monopotassium-phosphate", "potassium-sulfate", "magnesium-sulfate-heptahydrate",
        "iron-edta-13", "iron-eddha-6", "nitric-acid", "manganese-sulfate-monohydrate", "boric-acid",
    )],
    ("magnesium-sulfate-heptahydrate", "potassium-carbonate", "base-hardness"),
    ("magnesium-nitrate-hexahydrate", "potassium-hydroxide", "base-hardness"),
    ("monopotassium-phosphate", "potassium-hydroxide", "base-phosphate"),
    ("monoammonium-phosphate", "potassium-carbonate", "base-ammonium"),
    ("nitric-acid", "potassium-bicarbonate", "base-acid"),
    ("ammonium-nitrate", "potassium-hydroxide", "base-ammonium"),
    ("zinc-sulfate-heptahydrate", "potassium-hydroxide", "base-metals"),
    ("magnesium-sulfate-heptahydrate", "dipotassium-phosphate", "magnesium-phosphate"),
    ("magnesium-sulfate-heptahydrate", "diammonium-phosphate", "magnesium-phosphate"),
]  # fmt: skip
ALLOWED = [
    *itertools.combinations((
        "calcium-nitrate-greenhouse", "calcium-chloride-dihydrate", "potassium-nitrate", "ammonium-nitrate", "urea",
        "magnesium-nitrate-hexahydrate", "potassium-chloride", "iron-edta-13", "iron-dtpa-11", "iron-eddha-6",
        "iron-hbed-6", "boric-acid", "borax-decahydrate", "sodium-molybdate-dihydrate", "manganese-sulfate-monohydrate",
        "zinc-sulfate-heptahydrate", "copper-sulfate-pentahydrate", "iron-sulfate-heptahydrate",
    ), 2),
    *itertools.combinations((
        "potassium-nitrate", "ammonium-nitrate", "urea", "monopotassium-phosphate", "monoammonium-phosphate",
        "potassium-sulfate", "ammonium-sulfate", "magnesium-sulfate-heptahydrate", "potassium-chloride",
        "magnesium-nitrate-hexahydrate", "manganese-sulfate-monohydrate", "iron-sulfate-heptahydrate", "boric-acid",
        "sodium-molybdate-dihydrate", "nitric-acid", "phosphoric-acid", "sulfuric-acid",
    ), 2),
    ("calcium-nitrate-tetrahydrate", "nitric-acid"),
    ("potassium-nitrate", "potassium-hydroxide"),
    ("potassium-sulfate", "potassium-carbonate"),
    ("iron-eddha-6", "potassium-bicarbonate"),
    ("iron-eddha-6", "magnesium-sulfate-heptahydrate"),
    ("iron-dtpa-11", "monopotassium-phosphate"),
]  # fmt: skip


@pytest.mark.parametrize(("first", "second", "rule"), FORBIDDEN)
def test_a_pair_that_precipitates_breaks_a_rule_either_way_round(item, first, second, rule):
    one, other = item(first, 200), item(second, 200)
    assert rule in broken_rules(one, other)
    assert broken_rules(one, other) == broken_rules(other, one)
    assert rules_broken_within([one, other]) == broken_rules(one, other)


@pytest.mark.parametrize(("first", "second"), ALLOWED)
def test_a_pair_that_only_needs_the_saturation_check_breaks_none(item, first, second):
    assert broken_rules(item(first, AMOUNT.get(first, 200)), item(second, AMOUNT.get(second, 200))) == ()


def test_every_rule_is_met_by_some_forbidden_pair():
    assert {rule for _, _, rule in FORBIDDEN} == set(RULES)


def test_a_product_that_holds_both_breaks_a_rule_alone(item, blend):
    assert rules_broken_within([item("calcium-sulfate-dihydrate", 100)]) == ("calcium-sulfate",)
    whole_feed = blend("whole feed", 1000, NO3=8, K=5, Ca=2, P=1, S=1)
    assert rules_broken_within([whole_feed]) == ("calcium-phosphate", "calcium-sulfate")


def test_a_mixed_blend_goes_by_the_larger_charge(item, blend):
    calcium = blend("more calcium", 1000, Ca=3, P=1, S=1, NO3=3)
    phosphate = blend("more phosphate", 1000, Ca=0.5, P=2, S=1, K=3)
    assert broken_rules(calcium, item("calcium-nitrate-tetrahydrate", 100)) == ()
    assert broken_rules(calcium, item("monopotassium-phosphate", 100)) == ("calcium-phosphate",)
    assert broken_rules(phosphate, item("monopotassium-phosphate", 100)) == ()
    assert broken_rules(phosphate, item("calcium-nitrate-tetrahydrate", 100)) == (
        "calcium-phosphate",
        "calcium-sulfate",
    )


def test_traces_are_known_by_what_they_bring(item, blend):
    for salt_id in (
        "iron-eddha-6",
        "manganese-sulfate-monohydrate",
        "boric-acid",
        "ammonium-heptamolybdate-tetrahydrate",
    ):
        assert item(salt_id, 2).trace
    for salt_id in ("potassium-nitrate", "magnesium-sulfate-heptahydrate", "ammonium-sulfate", "nitric-acid"):
        assert not item(salt_id, 2).trace
    assert blend("traces", 20, Fe3=1.2, EDTA=1.2, Mn=0.4, B=0.3, S=0.6).trace
    assert not blend("all but calcium", 900, NO3=5, P=1.3, K=6, Mg=1.3, S=1.3, Fe3=0.05, EDTA=0.05).trace


def test_a_blend_with_chelated_iron_keeps_away_from_acid(item, blend):
    feed = blend("all but calcium", 900, NO3=5, P=1.3, K=6, Mg=1.3, S=1.3, Fe3=0.05, EDTA=0.05)
    assert broken_rules(feed, item("nitric-acid", 100)) == ("chelate-acid",)
