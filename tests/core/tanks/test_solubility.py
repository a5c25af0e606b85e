"""Products without model data are held against their own solubility, in every tank and in the coldest room."""

import pytest

from core.catalog import practical_limits, salts, solubility_g_per_l
from core.catalog.solubility import solubility_curves
from core.plan import plan
from core.tanks.solubility import known_by, solubility_bounds
from tests.helpers.recipes import recipe

BY_CURVE = [name for name in salts() if known_by(name) == "curve" and solubility_g_per_l(name, 10.0) is not None]
BY_FIGURE = [name for name in salts() if known_by(name) == "quoted"]
RATIO = 100


def tank_of(*parts, coldest_c=10.0, temperature_c=20.0, **rest):
    """The one tank of products given in grams per litre of it."""
    shelf = [{"salt": name, "exactly_mg_per_l": 1000.0 * grams / RATIO} | more for name, grams, more in parts]
    setup = {"count": 1, "ratio": RATIO, "temperature_c": temperature_c, "coldest_c": coldest_c}
    made = plan(recipe({}, shelf, tanks=setup, acid_into="tank", water={"name": "rain"}, **rest))
    (tank,) = made.tanks
    return tank, {caution.code for caution in made.cautions}


def grams(name, share, temperature_c=10.0):
    return share * solubility_g_per_l(name, temperature_c)


def test_what_is_held_against_its_own_solubility():
    assert {"potassium-bicarbonate", "calcium-hydroxide", "ammonium-chloride", "borax-decahydrate"} <= {
        name for name in salts() if known_by(name) == "curve"
    }
    assert {"iron-edta-13", "iron-eddha-6", "ammonium-heptamolybdate-tetrahydrate"} <= set(BY_FIGURE)
    assert len(BY_CURVE) >= 8


@pytest.mark.parametrize("name", BY_CURVE)
def test_over_its_solubility_in_the_coldest_room_a_product_settles(name):
    tank, codes = tank_of((name, grams(name, 1.15), {"strength_percent": 100} if "acid" in name else {}))
    assert (tank.cold_verdict, tank.settling, tank.limited_by) == ("settles", (name,), name)
    assert tank.near[0].solid == name
    assert codes & {"settles", "cold-store"}


@pytest.mark.parametrize("name", BY_CURVE)
def test_near_its_solubility_a_product_is_doubtful(name):
    tank, codes = tank_of((name, grams(name, 0.92), {}))
    assert tank.cold_verdict == "doubtful"
    assert "doubtful-tank" in codes
    assert tank.clear_ratio < RATIO < tank.ratio_limit
    assert tank.ratio_limit == pytest.approx(RATIO / 0.92, rel=0.03)


@pytest.mark.parametrize("name", [*BY_CURVE, "calcium-hydroxide"])
def test_far_below_its_solubility_a_product_is_clear(name):
    gram = 0.5 if name == "calcium-hydroxide" else grams(name, 0.6)
    assert tank_of((name, gram, {}))[0].cold_verdict == "clear"


@pytest.mark.parametrize("name", BY_FIGURE)
def test_a_single_figure_bounds_by_the_label(name):
    most = practical_limits()[name].g_per_l
    over, near, below = (tank_of((name, part * most, {}))[0] for part in (1.05, 0.9, 0.3))
    assert [over.cold_verdict, near.cold_verdict, below.cold_verdict] == ["settles", "doubtful", "clear"]
    assert over.limited_by == name
    assert over.ratio_limit == pytest.approx(RATIO / 1.05, rel=1e-6)


def test_a_figure_for_a_warmer_room_ends_clear_sooner():
    warm, cold = (tank_of(("iron-edta-13", 0.6 * 90, {}), coldest_c=c)[0].cold_verdict for c in (20.0, 5.0))
    assert (warm, cold) == ("clear", "doubtful")


def test_a_colder_night_turns_the_verdict():
    salty = ("potassium-bicarbonate", grams("potassium-bicarbonate", 0.95, 20.0), {})
    tank, codes = tank_of(salty, coldest_c=2.0)
    assert (tank.verdict, tank.cold_verdict) == ("doubtful", "settles")
    assert "cold-store" in codes


def test_two_bags_of_one_solid_add_up():
    bags = [("sodium-chloride", grams("sodium-chloride", 0.55), {"entry_id": f"bag {n}"}) for n in (1, 2)]
    assert tank_of(bags[0])[0].cold_verdict == "clear"
    assert tank_of(*bags)[0].cold_verdict == "settles"


def test_a_salt_with_an_ion_in_common_presses_a_product_out():
    alone = ("ammonium-chloride", grams("ammonium-chloride", 0.7), {})
    assert tank_of(alone)[0].cold_verdict == "clear"
    pressed = tank_of(alone, ("ammonium-nitrate", 300, {}))[0]
    assert pressed.cold_verdict != "clear"
    assert "ammonium-chloride" in pressed.settling


def test_a_base_that_acid_has_used_up_is_none_any_more():
    lime = ("calcium-hydroxide", 7.4, {})
    settled, dissolved = tank_of(lime)[0], tank_of(lime, ("nitric-acid", 30, {"strength_percent": 60}))[0]
    assert "calcium-hydroxide" in settled.settling
    assert "calcium-hydroxide" not in dissolved.settling


@pytest.mark.parametrize(("name", "gram", "solid"), [("calcium-sulfate-dihydrate", 20, "gypsum"),
                                                     ("calcium-hydroxide", 20, "calcium-hydroxide")])  # fmt: skip
def test_gypsum_or_lime_for_a_hundredfold_tank_is_refused(name, gram, solid):
    tank, codes = tank_of((name, gram, {}))
    assert (tank.verdict, tank.limited_by) == ("settles", solid)
    assert {"settles", "strength-too-high"} <= codes
    assert tank.ratio_limit < 15


def test_what_nobody_knows_is_told_and_nothing_else_is():
    assert "solubility-unknown" in tank_of(("zinc-edta-15", 5, {}))[1]
    assert "solubility-unknown" not in tank_of(("potassium-nitrate", 5, {}), ("iron-edta-13", 5, {}))[1]
    unknown = {name for name in salts() if known_by(name) == "unknown"}
    assert unknown == {
        "urea-phosphate", "iron-chloride-hexahydrate", "manganese-edta-13", "zinc-edta-15", "copper-edta-15",
        "molybdic-acid-monohydrate",
    }  # fmt: skip


def test_every_solid_of_the_model_is_left_to_the_model():
    """Products whose own solid the chemistry of concentrates has are not held twice."""
    from core.chemistry.concentrates.solids import solids

    measured = {row.id for row in solids() if row.family in ("salt", "neutral")}
    assert {name for name in salts() if name in measured} <= {name for name in salts() if known_by(name) == "model"}
    assert not {name for name in measured if known_by(name) in ("curve", "quoted")}


def test_hydrates_of_one_curve_are_one_bound(item):
    bounds = solubility_bounds([item("iron-edta-13", 5), item("iron-edta-13", 5, "bag 2")], (5.0, 20.0))
    assert bounds.ids == ("iron-edta-13",)
    assert bounds.saturated.shape == (2, 1, 3)
    assert bounds.weight.sum(axis=1) == pytest.approx([1.0])
    assert solubility_bounds([], (5.0,)).ids == ()
    assert all(curve.salts[0] in salts() for curve in solubility_curves().values())


def test_the_split_sees_a_solid_of_its_own_solubility(item):
    """Sodium chloride for one tank is too much; shared between two it is not, and the split shares it."""
    from core.tanks import split

    half = 0.5 * 1.3 * solubility_g_per_l("sodium-chloride", 10.0)
    items = [item("sodium-chloride", 2000 * half / RATIO), item("potassium-nitrate", 100)]
    tanks = split(items, 2, RATIO, 10.0)
    assert {tank.cold_verdict for tank in tanks} == {"clear"}
    assert all("sodium-chloride" in tank.keys for tank in tanks)
