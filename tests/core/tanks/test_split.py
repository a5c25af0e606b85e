"""The split does what growers do, keeps every rule it can, and says so where it cannot."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.chemistry.components import COMPONENTS
from core.tanks import rules_broken_within, split
from core.tanks.placing import REASONS

from .conftest import concentration_products, make_item

TYPICAL = {
    "calcium-nitrate-greenhouse": 885, "potassium-nitrate": 354, "monopotassium-phosphate": 136,
    "potassium-sulfate": 44, "magnesium-sulfate-heptahydrate": 370, "iron-dtpa-11": 18,
    "manganese-sulfate-monohydrate": 1.6, "zinc-sulfate-heptahydrate": 0.6, "copper-sulfate-pentahydrate": 0.2,
    "boric-acid": 1.7, "sodium-molybdate-dihydrate": 0.13,
}  # fmt: skip


def plans(amounts, count=2, ratio=100, pins=None, temperature_c=15.0, coldest_c=5.0):
    items = [make_item(salt_id, mg_per_l) for salt_id, mg_per_l in amounts.items()]
    return split(items, count, ratio, temperature_c, coldest_c, pins, concentration_products)


def homes(tanks):
    return {place.key: tank.name for tank in tanks for place in tank.contents if place.share == 1.0}


def reasons(tanks):
    return {place.key: place.reason for tank in tanks for place in tank.contents}


def test_the_usual_two_tanks():
    calcium, phosphate = plans(TYPICAL)
    assert (calcium.name, calcium.content, phosphate.name, phosphate.content) == ("A", "calcium", "B", "phosphate")
    assert {"calcium-nitrate-greenhouse", "iron-dtpa-11"} <= calcium.keys
    assert phosphate.keys >= {
        "monopotassium-phosphate", "potassium-sulfate", "magnesium-sulfate-heptahydrate", "boric-acid",
        "manganese-sulfate-monohydrate", "zinc-sulfate-heptahydrate", "copper-sulfate-pentahydrate",
        "sodium-molybdate-dihydrate",
    }  # fmt: skip
    assert calcium.verdict == calcium.cold_verdict == phosphate.cold_verdict == "clear"
    assert calcium.broken == phosphate.broken == ()


def test_no_more_tanks_than_needed():
    assert len(plans(TYPICAL, count=4)) == 2
    assert len(plans({"potassium-nitrate": 300, "monopotassium-phosphate": 100}, count=3)) == 1


def test_one_tank_holds_everything_and_says_what_settles():
    (tank,) = plans(TYPICAL, count=1)
    assert tank.content == "everything"
    assert tank.keys == set(TYPICAL)
    assert tank.cold_verdict == "settles"
    assert "gypsum" in tank.settling
    assert {"calcium-phosphate", "calcium-sulfate"} <= set(tank.broken)


@pytest.mark.parametrize(
    ("beside", "content"),
    [("magnesium-sulfate-heptahydrate", "calcium-sulfate"), ("monopotassium-phosphate", "calcium-phosphate")],
)
def test_what_meets_the_calcium_is_told_and_not_called_everything(beside: str, content: str):
    held = plans(TYPICAL, count=2, pins={"calcium-nitrate-greenhouse": "B", beside: "B"})
    assert len(held) == 2
    (both,) = [tank for tank in held if beside in tank.keys]
    assert "calcium-nitrate-greenhouse" in both.keys
    assert both.keys != set(TYPICAL)
    assert both.content == content


def test_contents_are_listed_heaviest_first():
    for tank in plans(TYPICAL):
        grams = [TYPICAL[place.key] * place.share for place in tank.contents]
        assert grams == sorted(grams, reverse=True)


def test_a_free_salt_is_shared_only_near_saturation():
    assert all(place.share == 1 for tank in plans(TYPICAL) for place in tank.contents)
    strong = plans(
        {"calcium-nitrate-tetrahydrate": 900, "potassium-nitrate": 700, "monopotassium-phosphate": 200}, ratio=200
    )
    shares = [place for tank in strong for place in tank.contents if place.key == "potassium-nitrate"]
    assert [(place.share, place.reason) for place in shares] == [(0.5, "shared"), (0.5, "shared")]


def test_a_third_tank_is_used_where_two_settle():
    amounts = {"potassium-sulfate": 400, "monopotassium-phosphate": 700, "potassium-nitrate": 1200}
    two, three = plans(amounts, count=2, ratio=150), plans(amounts, count=3, ratio=150)
    rank = {"clear": 0, "doubtful": 1, "settles": 2}
    assert sum(rank[tank.cold_verdict] for tank in three) < sum(rank[tank.cold_verdict] for tank in two)
    assert len(three) == 3


def test_the_coldest_room_decides():
    amounts = {"potassium-nitrate": 2200}
    (tank,) = plans(amounts, ratio=100, temperature_c=30.0, coldest_c=5.0)
    assert (tank.verdict, tank.cold_verdict) == ("clear", "settles")
    assert tank.settling == ("potassium-nitrate",)
    (warm,) = plans(amounts, ratio=100, temperature_c=30.0, coldest_c=None)
    assert warm.cold_verdict == "clear"


class TestAcid:
    def test_it_goes_to_the_phosphate_side_and_the_chelate_to_calcium(self):
        tanks = plans(TYPICAL | {"nitric-acid": 150})
        assert homes(tanks)["nitric-acid"] == "B"
        assert homes(tanks)["iron-dtpa-11"] == "A"
        assert reasons(tanks)["nitric-acid"] == "acid-with-phosphate"
        assert reasons(tanks)["iron-dtpa-11"] == "chelate-with-calcium"

    def test_nitric_acid_moves_to_calcium_where_the_chelate_is_pinned_to_phosphate(self):
        tanks = plans(TYPICAL | {"nitric-acid": 150}, pins={"iron-dtpa-11": "B"})
        assert homes(tanks)["nitric-acid"] == "A"
        assert reasons(tanks)["nitric-acid"] == "acid-with-calcium"
        assert all(tank.broken == () for tank in tanks)

    def test_phosphoric_acid_then_needs_a_tank_of_its_own(self):
        amounts = TYPICAL | {"phosphoric-acid": 150}
        own = plans(amounts, count=3, pins={"iron-dtpa-11": "B"})
        assert [tank.content for tank in own] == ["calcium", "phosphate", "acid"]
        assert own[2].keys == {"phosphoric-acid"}
        assert reasons(own)["phosphoric-acid"] == "acid-apart"

    def test_where_no_tank_is_left_for_it_that_is_told(self):
        amounts = TYPICAL | {"phosphoric-acid": 150}
        told = plans(amounts, count=2, pins={"iron-dtpa-11": "B", "monopotassium-phosphate": "B"})
        assert [tank.broken for tank in told] == [(), ("chelate-acid",)]
        assert reasons(told)["phosphoric-acid"] == "no-better-place"

    def test_a_chelate_pinned_to_b_takes_calcium_there_rather_than_meet_acid(self):
        tanks = plans(TYPICAL | {"phosphoric-acid": 150}, count=2, pins={"iron-dtpa-11": "B"})
        assert [tank.content for tank in tanks] == ["phosphate", "calcium"]
        assert all(tank.broken == () for tank in tanks)

    def test_eddha_with_acid_settles_and_dtpa_is_in_doubt(self):
        for chelate, verdict in (("iron-eddha-6", "settles"), ("iron-dtpa-11", "doubtful")):
            (tank,) = plans({"nitric-acid": 100, chelate: 20}, count=1)
            assert tank.cold_verdict == verdict
            assert tank.broken == ("chelate-acid",)


class TestSilicateAndBase:
    def test_silicate_stands_alone(self):
        tanks = plans(TYPICAL | {"potassium-silicate-solution": 200}, count=3)
        assert tanks[2].content == "silicate"
        assert tanks[2].keys == {"potassium-silicate-solution"}
        assert all(tank.broken == () for tank in tanks)

    def test_without_a_tank_for_it_that_is_said(self):
        tanks = plans(TYPICAL | {"potassium-silicate-solution": 200}, count=2)
        (bad,) = [tank for tank in tanks if tank.broken]
        assert bad.broken == ("silicate-alone",)
        assert bad.cold_verdict == "settles"
        assert "silica" in bad.settling

    def test_a_base_stands_alone_where_it_can(self):
        tanks = plans(TYPICAL | {"potassium-carbonate": 80}, count=3)
        assert tanks[2].keys == {"potassium-carbonate"}
        neutral = plans({"potassium-nitrate": 300, "potassium-carbonate": 80}, count=1)
        assert neutral[0].broken == ()


class TestTraces:
    def test_sulfates_stand_beside_calcium_up_to_the_gypsum_limit(self):
        amounts = {"calcium-nitrate-tetrahydrate": 900, "manganese-sulfate-monohydrate": 1.6}
        (tank,) = plans(amounts, count=2)
        assert reasons([tank])["manganese-sulfate-monohydrate"] == "sulfate-under-gypsum-limit"
        apart = plans(amounts | {"manganese-sulfate-monohydrate": 20.0}, count=2)
        assert len(apart) == 2
        (told,) = plans(amounts | {"manganese-sulfate-monohydrate": 20.0}, count=1)
        assert reasons([told])["manganese-sulfate-monohydrate"] == "no-better-place"

    def test_bare_iron_keeps_away_from_phosphate(self):
        tanks = plans(TYPICAL | {"iron-sulfate-heptahydrate": 10})
        assert homes(tanks)["iron-sulfate-heptahydrate"] == "A"
        assert reasons(tanks)["iron-sulfate-heptahydrate"] == "iron-away-from-phosphate"
        only = plans({"monopotassium-phosphate": 136, "iron-sulfate-heptahydrate": 10})
        assert reasons(only)["iron-sulfate-heptahydrate"] == "iron-beside-phosphate"

    def test_traces_alone_make_a_tank(self):
        (tank,) = plans({"boric-acid": 1.7, "zinc-sulfate-heptahydrate": 0.6, "iron-edta-13": 15})
        assert tank.content == "plain"
        assert len(tank.contents) == 3

    def test_traces_beside_nothing_but_silicate_open_a_tank(self):
        tanks = plans({"potassium-silicate-solution": 200, "boric-acid": 1.7})
        assert [tank.keys for tank in tanks] == [{"potassium-silicate-solution"}, {"boric-acid"}]


class TestPins:
    def test_a_pin_moves_one_salt_and_leaves_the_letters(self):
        for letter in "AB":
            tanks = plans(TYPICAL, pins={"potassium-nitrate": letter})
            assert homes(tanks)["potassium-nitrate"] == letter
            assert [tank.content for tank in tanks] == ["calcium", "phosphate"]
            assert reasons(tanks)["potassium-nitrate"] == "pinned"

    def test_phosphate_pinned_to_a_swaps_the_letters_rather_than_settle(self):
        tanks = plans(TYPICAL, pins={"monopotassium-phosphate": "A"})
        assert [tank.content for tank in tanks] == ["phosphate", "calcium"]

    def test_a_pin_may_ask_for_a_third_tank(self):
        tanks = plans(TYPICAL, count=3, pins={"potassium-nitrate": "C"})
        assert [tank.content for tank in tanks] == ["calcium", "phosphate", "plain"]

    def test_pins_that_force_calcium_onto_phosphate_are_kept_and_told(self):
        pins = {"monopotassium-phosphate": "A", "calcium-nitrate-greenhouse": "A"}
        tank = plans(TYPICAL, pins=pins)[0]
        assert set(pins) <= tank.keys
        assert "calcium-phosphate" in tank.broken
        assert tank.cold_verdict == "settles"

    def test_a_pin_to_a_tank_that_is_not_there_is_void(self):
        items = [make_item("potassium-nitrate", 300)]
        pins = {"potassium-nitrate": "C", "urea": "A"}
        assert split(items, 2, 100, 15.0, 5.0, pins, concentration_products)[0].name == "A"


class TestBlends:
    def test_all_but_calcium_goes_apart_from_calcium_nitrate(self, blend, item):
        feed = blend("all but calcium", 900, NO3=5, P=1.3, K=6, Mg=1.3, S=1.3, Fe3=0.05, EDTA=0.05)
        tanks = split([feed, item("calcium-nitrate-greenhouse", 600)], 2, 100, 20, None, None, concentration_products)
        assert [tank.keys for tank in tanks] == [{"calcium-nitrate-greenhouse"}, {feed.key}]

    def test_a_blend_that_holds_both_is_told_by_the_chemistry(self, blend, item):
        feed = blend("whole feed", 1000, NO3=8, K=5, Ca=3, P=0.5, S=1)
        tanks = split([feed, item("monopotassium-phosphate", 100)], 2, 100, 20, None, None, concentration_products)
        assert feed.key in tanks[0].keys
        assert tanks[0].cold_verdict == "settles"
        assert tanks[0].broken == ("calcium-phosphate", "calcium-sulfate")


def test_nothing_to_split_is_no_tank():
    assert split([], 2, 100, 20, None, None, concentration_products) == ()


def test_forty_products_are_split_all_the_same():
    ids = ["calcium-nitrate-tetrahydrate", "potassium-nitrate", "ammonium-nitrate", "monopotassium-phosphate",
           "magnesium-sulfate-heptahydrate", "potassium-chloride", "urea", "potassium-sulfate"]  # fmt: skip
    items = [make_item(ids[n % 8], 20 + n, key=f"bag {n}") for n in range(40)]
    tanks = split(items, 2, 100, 15, 5, {f"bag {n}": "AB"[n % 2] for n in (1, 2, 9)}, concentration_products)
    assert sorted(key for tank in tanks for key in tank.keys) == sorted(item.key for item in items)
    assert all(tank.broken == () for tank in tanks)


def test_many_unlike_products_travel_together():
    ids = ["potassium-nitrate", "ammonium-nitrate", "magnesium-nitrate-hexahydrate", "potassium-chloride", "urea",
           "magnesium-chloride-hexahydrate", "ammonium-chloride", "sodium-chloride", "citric-acid"]  # fmt: skip
    tanks = plans({salt_id: 100 + 10 * n for n, salt_id in enumerate(ids)} | TYPICAL, count=4, ratio=400)
    assert {place.key for tank in tanks for place in tank.contents} == {*ids, *TYPICAL}


SALTS = (*TYPICAL, "ammonium-nitrate", "nitric-acid", "potassium-bicarbonate", "potassium-silicate-solution", "urea",
         "iron-eddha-6", "ammonium-sulfate", "diammonium-phosphate", "iron-sulfate-heptahydrate")  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(
    st.dictionaries(st.sampled_from(SALTS), st.integers(1, 900), min_size=1, max_size=9),
    st.integers(1, 4),
    st.sampled_from([50, 100, 250]),
    st.randoms(use_true_random=False),
)
def test_nothing_is_lost_and_the_order_of_the_shelf_does_not_matter(amounts, count, ratio, random):
    tanks = plans(amounts, count, ratio)
    total = dict.fromkeys(amounts, 0.0)
    for tank in tanks:
        for place in tank.contents:
            assert place.reason in REASONS
            total[place.key] += place.share
    assert total == dict.fromkeys(amounts, 1.0)
    assert len(tanks) <= count
    assert [tank.name for tank in tanks] == list("ABCD"[: len(tanks)])
    for tank in tanks:
        assert tank.broken == rules_broken_within([make_item(key, amounts[key]) for key in tank.keys])
        assert bool(tank.settling) == (tank.cold_verdict != "clear")
    mixed = list(amounts.items())
    random.shuffle(mixed)
    assert plans(dict(mixed), count, ratio) == tanks


@pytest.mark.parametrize("ratio", [1, 20, 100, 400])
def test_no_rule_is_broken_where_two_tanks_can_keep_them(ratio):
    assert all(tank.broken == () for tank in plans(TYPICAL, ratio=ratio))


def test_fill_water_is_in_every_tank_that_is_judged(item):
    """The water's own ions are added to what each tank holds, in the search and in the answer."""
    water = np.zeros(len(COMPONENTS))
    water[COMPONENTS.index("Ca")] = 2e-3
    seen = []

    def assess(totals, temperatures_c):
        seen.append(totals)
        return concentration_products(totals, temperatures_c)

    items = [item("potassium-sulfate", 300), item("calcium-nitrate-tetrahydrate", 800)]
    split(items, 2, 100, 15.0, 5.0, assess=assess, fill_water=water)
    assert len(seen) >= 2
    assert all((totals[COMPONENTS.index("Ca")] >= 2e-3).all() for totals in seen)
    dry = split(items, 2, 100, 15.0, 5.0, assess=concentration_products)
    wet = split(items, 2, 100, 15.0, 5.0, assess=concentration_products, fill_water=water)
    assert {t.content: t.margin > w.margin for t, w in zip(dry, wet, strict=True)}["sulfate"]
