"""The feed's chemistry in full and its titration, against the plan they belong to."""

from __future__ import annotations

import numpy as np
import pytest

from core.blend.solve import Blend
from core.chemistry import OutOfRange
from core.plan import derive, solve
from core.plan.chemistry_details import feed_chemistry
from core.plan.titration import titration
from core.recipe.records import Recipe
from tests.helpers.recipes import HARD, PLAIN, SIX, recipe

NITRIC = {"salt": "nitric-acid", "strength_percent": 60}


@pytest.fixture(scope="module")
def hard() -> tuple[Recipe, Blend]:
    made = recipe(
        SIX | {"Fe": 2.0, "Zn": 0.3}, [*PLAIN, NITRIC, "iron-edta-13", "zinc-sulfate-heptahydrate"], water=HARD
    )
    return made, solve(made)


def test_details_agree_with_the_plan(hard: tuple[Recipe, Blend]) -> None:
    told, feed = feed_chemistry(hard[1]), derive(*hard).feed
    assert told.ec_ms_per_cm == pytest.approx(feed.ec_ms_per_cm)
    assert told.field_band_percent == pytest.approx(feed.ec_band_percent)
    assert (told.ph, told.ph_aired) == pytest.approx((feed.ph, feed.ph_aired))
    assert told.saturation_index == pytest.approx(feed.saturation_index, abs=1e-3)


def test_forms_add_up(hard: tuple[Recipe, Blend]) -> None:
    """Each total is the sum of its forms, the shares of the EC make 100 %, and charges balance."""
    told = feed_chemistry(hard[1])
    assert sum(form.ec_percent for form in told.forms) == pytest.approx(100.0, abs=0.01)
    assert told.cations_meq_per_l == pytest.approx(told.anions_meq_per_l, rel=1e-9)
    assert told.cations_meq_per_l == pytest.approx(
        sum(form.meq_per_l for form in told.forms if form.charge > 0), rel=1e-4
    )
    calcium = sum(form.mmol_per_l for form in told.forms if "Ca" in form.of)
    assert calcium == pytest.approx(float(hard[1].totals[0]), rel=1e-4)
    shares = [form.percent_of("Ca", told.forms) for form in told.forms if "Ca" in form.of]
    assert sum(shares) == pytest.approx(100.0)
    assert shares[0] == pytest.approx(100.0 * next(f.mmol_per_l for f in told.forms if "Ca" in f.of) / calcium)
    assert [form.mmol_per_l for form in told.forms] == sorted((f.mmol_per_l for f in told.forms), reverse=True)


def test_kinds_of_forms(hard: tuple[Recipe, Blend]) -> None:
    kinds = {form.name: form.kind for form in feed_chemistry(hard[1]).forms}
    wanted = {"Ca+2": "ion", "CaSO4": "pair", "CO2": "molecule", "FeEDTA-": "chelate", "H2PO4-": "ion"}
    assert {name: kinds[name] for name in wanted} == wanted


def test_what_zinc_takes_from_the_iron(hard: tuple[Recipe, Blend]) -> None:
    told = feed_chemistry(hard[1])
    assert told.iron_chelated_percent is not None
    assert told.iron_chelated_ferrihydrite_percent is not None
    assert told.iron_chelated_ferrihydrite_percent < told.iron_chelated_percent < 100.0
    held = {(one.ligand, one.metal): one for one in told.held}
    assert held["EDTA", "Fe3"].percent_of_metal == pytest.approx(told.iron_chelated_percent)
    assert held["EDTA", "Zn"].mmol_per_l > 0.0


def test_no_chelate_no_word_of_it() -> None:
    made = recipe(SIX, PLAIN)
    told = feed_chemistry(solve(made))
    assert (told.iron_chelated_percent, told.held) == (None, ())


def test_the_curve_passes_the_plan_s_own_point(hard: tuple[Recipe, Blend]) -> None:
    feed, curve = derive(*hard).feed, titration(*hard, "nitric-acid", 60.0)
    (acid,) = [amount for amount in derive(*hard).amounts if amount.salt == "nitric-acid"]
    assert acid.ml_per_l is not None
    assert curve.unit == "mL"
    assert curve.planned_dose == pytest.approx(1000.0 * acid.ml_per_l)
    assert curve.ph_planned == pytest.approx((feed.ph, feed.ph_aired))
    assert curve.at(curve.planned_dose or 0.0) == pytest.approx(curve.ph_planned, abs=0.01)
    assert curve.dose_for(curve.ph_planned[0]) == pytest.approx(curve.planned_dose, rel=0.01)
    assert curve.alkalinity_meq_per_l == pytest.approx(hard[1].water.alkalinity, abs=0.01)


@pytest.mark.parametrize(
    "acid", ["nitric-acid", "phosphoric-acid", "sulfuric-acid", "citric-acid", "hydrochloric-acid"]
)
def test_acid_only_lowers_ph(hard: tuple[Recipe, Blend], acid: str) -> None:
    curve = titration(*hard, acid)
    assert curve.dose_per_1000_l[0] == 0.0
    assert (np.diff(curve.ph_closed) < 0.0).all()
    assert (np.diff(curve.ph_aired) < 0.0).all()
    assert (np.array(curve.ph_aired) >= np.array(curve.ph_closed) - 1e-9).all()
    assert 3.5 < curve.ph_closed[-1] < 4.2
    assert curve.dose_for(5.8) is not None
    assert curve.dose_for(9.9) is None
    assert (curve.ml_per_1000_l is None) == (curve.unit == "g") == (acid == "citric-acid")


def test_one_acid_of_two_is_taken_alone() -> None:
    """Two acids in the plan: each curve passes the plan's point; a third acid stands in for both."""
    shelf = [*PLAIN, NITRIC | {"exactly_mg_per_l": 150}, {"salt": "phosphoric-acid", "exactly_mg_per_l": 100}]
    made = recipe(SIX | {"P": 50.0}, shelf, water=HARD, aim={"ph": 5.9})
    blend = solve(made)
    for acid in ("nitric-acid", "phosphoric-acid"):
        curve = titration(made, blend, acid)
        assert curve.planned_dose is not None
        assert curve.at(curve.planned_dose) == pytest.approx(curve.ph_planned, abs=0.02)
        assert curve.ph_wanted == 5.9
    other = titration(made, blend, "sulfuric-acid")
    assert other.planned_dose is None
    assert other.alkalinity_meq_per_l == pytest.approx(blend.water.alkalinity, abs=0.01)


def test_phosphate_that_only_the_acid_brings() -> None:
    made = recipe({"Ca": 100.0}, ["calcium-nitrate-tetrahydrate", {"salt": "phosphoric-acid", "exactly_mg_per_l": 100}])
    curve = titration(made, solve(made), "phosphoric-acid")
    assert curve.brushite is not None
    assert curve.brushite[0] < -9.0 < curve.brushite[-1]
    none = titration(made, solve(made), "nitric-acid")
    assert none.brushite is None


def test_a_base_only_raises_it() -> None:
    made = recipe(SIX, [*PLAIN, "potassium-bicarbonate"])
    curve = titration(made, solve(made), "potassium-bicarbonate")
    assert curve.is_base
    assert curve.unit == "g"
    assert (np.diff(curve.ph_closed) > 0.0).all()


def test_why_acid_goes_first(hard: tuple[Recipe, Blend]) -> None:
    """Calcium phosphate is above saturation before the acid, and below it once the acid is in."""
    curve = titration(*hard, "nitric-acid", 60.0)
    assert curve.brushite is not None
    after = float(np.interp(curve.planned_dose or 0.0, curve.dose_per_1000_l, curve.brushite))
    assert curve.brushite[0] > 0.0 > after


def test_a_product_that_is_neither_is_refused(hard: tuple[Recipe, Blend]) -> None:
    with pytest.raises(ValueError, match="neither an acid nor a base"):
        titration(*hard, "potassium-nitrate")


def test_a_feed_out_of_range_is_said() -> None:
    made = recipe({}, [{"salt": "potassium-nitrate", "exactly_mg_per_l": 60000}])
    with pytest.raises(OutOfRange):
        feed_chemistry(solve(made))
