"""Stocks that are known to stay clear and mixtures that are known not to, put through the split as a grower would."""

import itertools

import numpy as np
import pytest

from core.catalog import salt
from core.chemistry.components import COMPONENTS
from core.tanks import item_of, split

AT = {component: place for place, component in enumerate(COMPONENTS)}


def item(salt_id, g_per_l, ratio):
    """A product given in grams per litre of concentrate, by its formula."""
    product = salt(salt_id)
    ions = np.zeros(len(COMPONENTS))
    for component, count in product.ions.items():
        ions[AT[component]] = count * g_per_l / ratio / product.molar_mass_g_per_mol
    return item_of(salt_id, product, g_per_l / ratio, ions)


def tanks(grams_per_l, count=1, temperature_c=20.0, coldest_c=None, ratio=100):
    items = [item(salt_id, grams, ratio) for salt_id, grams in grams_per_l.items()]
    return split(items, count, ratio, temperature_c, coldest_c)


MOLAR_STOCKS = {
    "potassium-nitrate": 101.1, "calcium-nitrate-tetrahydrate": 236.15, "magnesium-sulfate-heptahydrate": 246.47,
    "monoammonium-phosphate": 115.03, "monopotassium-phosphate": 136.09,
}  # fmt: skip


@pytest.mark.parametrize(("salt_id", "g_per_l"), MOLAR_STOCKS.items())
def test_molar_stocks_stay_clear(salt_id, g_per_l):
    """Hoagland & Arnon 1950, California Agricultural Experiment Station Circular 347: 1.00 M stocks of single salts."""
    (tank,) = tanks({salt_id: g_per_l}, temperature_c=20.0, coldest_c=10.0)
    assert (tank.verdict, tank.cold_verdict, tank.settling) == ("clear", "clear", ())


NFT_100X = {
    "calcium-nitrate-tetrahydrate": 100.3, "iron-edta-13": 7.9, "potassium-nitrate": 58.3,
    "monopotassium-phosphate": 26.3, "magnesium-sulfate-heptahydrate": 51.3, "manganese-sulfate-monohydrate": 0.61,
    "boric-acid": 0.17, "copper-sulfate-pentahydrate": 0.039, "zinc-sulfate-heptahydrate": 0.044,
    "ammonium-heptamolybdate-tetrahydrate": 0.037,
}  # fmt: skip


def test_a_published_two_tank_feed_at_100_times():
    """Cooper 1979, The ABC of NFT: arrangement as printed; the amounts are recalled, not read."""
    calcium, phosphate = tanks(NFT_100X, count=2, temperature_c=20.0, coldest_c=5.0)
    assert {"calcium-nitrate-tetrahydrate", "iron-edta-13"} <= calcium.keys
    assert {"monopotassium-phosphate", "magnesium-sulfate-heptahydrate", "boric-acid"} <= phosphate.keys
    assert calcium.cold_verdict == phosphate.cold_verdict == "clear"


def test_the_same_in_one_tank_drops_gypsum():
    """PHREEQC with Pitzer parameters of May et al. 2011: gypsum saturation index +1.0 at 100 times (derived)."""
    (tank,) = tanks(NFT_100X, count=1)
    assert tank.verdict == "settles"
    assert "gypsum" in tank.settling
    assert tank.broken == ("calcium-phosphate", "calcium-sulfate")


MUST_FLAG = {
    "sulfate beside nitrate": ({"potassium-sulfate": 80, "potassium-nitrate": 150}, 10.0, "potassium-sulfate"),
    "nitrate in a refrigerator": ({"potassium-nitrate": 202}, 5.0, "potassium-nitrate"),
    "phosphate side at 200 times": (
        {"potassium-nitrate": 40.4, "monopotassium-phosphate": 40.8, "magnesium-sulfate-heptahydrate": 118.4,
         "potassium-sulfate": 69.8}, 5.0, "potassium-sulfate",
    ),
    "ammonium phosphate and magnesium near pH 6": (
        {"monoammonium-phosphate": 15.0, "diammonium-phosphate": 3.0, "magnesium-sulfate-heptahydrate": 59.2}, 20.0,
        "struvite",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("grams_per_l", "coldest_c", "solid"), MUST_FLAG.values(), ids=MUST_FLAG)
def test_what_comes_out_is_never_called_clear(grams_per_l, coldest_c, solid):
    """PHREEQC runs with Pitzer parameters of May et al. 2011 and CRC solubilities; struvite by MINTEQ v4 (derived)."""
    (tank,) = tanks(grams_per_l, temperature_c=20.0, coldest_c=coldest_c)
    assert tank.cold_verdict != "clear"
    assert solid in tank.settling


@pytest.mark.parametrize(
    "other", ["ammonium-sulfate", "phosphoric-acid", "diammonium-phosphate", "potassium-sulfate"]
)  # fmt: skip
def test_what_lists_forbid_beside_calcium_nitrate_is_kept_apart(other):
    """Compatibility lists in circulation among Spanish-speaking growers (grey literature, 2010), read."""
    apart = tanks({"calcium-nitrate-tetrahydrate": 100, other: 20}, count=2)
    assert [len(tank.keys) for tank in apart] == [1, 1]
    (together,) = tanks({"calcium-nitrate-tetrahydrate": 100, other: 20}, count=1)
    assert together.broken != ()


@pytest.mark.parametrize("other", ["ammonium-nitrate", "urea"])
def test_what_the_same_lists_forbid_only_dry_may_share_a_tank(other):
    """The lists ban these beside calcium nitrate too; greenhouse calcium nitrate itself holds ammonium nitrate."""
    (together,) = tanks({"calcium-nitrate-tetrahydrate": 100, other: 20}, count=2, coldest_c=5.0)
    assert (together.cold_verdict, together.broken) == ("clear", ())


KEPT_APART = [
    *itertools.product(
        ("calcium-nitrate-tetrahydrate", "calcium-chloride-dihydrate"),
        ("monopotassium-phosphate", "monoammonium-phosphate", "potassium-sulfate", "ammonium-sulfate",
         "magnesium-sulfate-heptahydrate", "phosphoric-acid", "sulfuric-acid", "potassium-hydroxide",
         "potassium-carbonate", "potassium-bicarbonate", "potassium-silicate-solution"),
    ),
    *itertools.product(("iron-eddha-6", "iron-hbed-6"), ("nitric-acid", "phosphoric-acid", "sulfuric-acid")),
    *itertools.product(("iron-edta-13", "iron-dtpa-11"), ("potassium-hydroxide", "potassium-silicate-solution")),
    *itertools.product(("magnesium-sulfate-heptahydrate",), ("potassium-carbonate", "potassium-silicate-solution")),
    ("monopotassium-phosphate", "potassium-hydroxide"),
    *itertools.product(
        ("potassium-silicate-solution",), ("potassium-nitrate", "monopotassium-phosphate", "potassium-sulfate")
    ),
]  # fmt: skip


@pytest.mark.parametrize(("one", "other"), KEPT_APART)
def test_pairs_that_precipitate_stand_in_two_tanks(one, other):
    """Compatibility matrix worked out from the lists above and PHREEQC runs (derived): every pair marked X or T."""
    plan = tanks({one: 40, other: 20}, count=2)
    assert sorted(tuple(tank.keys) for tank in plan) == sorted([(one,), (other,)])
    assert all(tank.broken == () for tank in plan)


def test_pails_at_128_keep_every_salt_whole():
    """An invented day at the bench: 1 in 128, 10 °C; its weights were worked out for whole salts."""
    mg_per_l = {
        "calcium-nitrate-greenhouse": 590, "potassium-nitrate": 260, "monopotassium-phosphate": 155,
        "magnesium-sulfate-heptahydrate": 310, "iron-dtpa-11": 18, "manganese-sulfate-monohydrate": 1.6,
        "zinc-sulfate-heptahydrate": 0.6, "copper-sulfate-pentahydrate": 0.2, "boric-acid": 1.7,
        "sodium-molybdate-dihydrate": 0.13,
    }  # fmt: skip
    plan = tanks({key: 0.128 * amount for key, amount in mg_per_l.items()}, 2, 10.0, None, ratio=128)
    assert [tank.content for tank in plan] == ["calcium", "phosphate"]
    assert all(place.share == 1.0 for tank in plan for place in tank.contents)
    assert all(tank.cold_verdict == "clear" for tank in plan)
