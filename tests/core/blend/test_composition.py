"""What a product brings: formula, label, strength, oxides, nitrogen forms, charge."""

import numpy as np
import pytest

from core.blend.composition import blend_totals, elements_percent, salt_totals, split_nitrogen
from core.blend.nutrients import CHARGE, COLUMN, MG_PER_MMOL, ROW
from core.catalog import salt, salts
from core.recipe.records import LabelPercent


def percent_of(totals, nutrient: str) -> float:
    return 100.0 * float(MG_PER_MMOL[ROW[nutrient]] @ totals)


def test_a_pure_salt_has_its_formulas_contents():
    totals, alkalinity = salt_totals(salt("potassium-nitrate"), LabelPercent(), None)
    assert percent_of(totals, "K") == pytest.approx(38.672, abs=2e-3)
    assert percent_of(totals, "N") == pytest.approx(13.854, abs=2e-3)
    assert alkalinity == pytest.approx(0.0, abs=1e-12)


def test_a_grade_has_its_default_label_and_a_label_on_the_shelf_wins():
    grade = salt("calcium-nitrate-greenhouse")
    default, _ = salt_totals(grade, LabelPercent(), None)
    own, _ = salt_totals(grade, LabelPercent(ca=18.0), None)
    assert [percent_of(default, n) for n in ("Ca", "NO3-N", "NH4-N")] == pytest.approx([19.0, 14.4, 1.1])
    assert [percent_of(own, n) for n in ("Ca", "NO3-N", "NH4-N")] == pytest.approx([18.0, 14.4, 1.1])


def test_oxides_on_a_bag_are_elements_in_the_feed():
    percent = elements_percent({"P2O5": 52.0, "K2O": 34.0, "MgO": 16.0, "SO3": 33.0})
    assert percent == pytest.approx({"P": 22.69, "K": 28.22, "Mg": 9.65, "S": 13.21}, abs=0.01)


def test_what_a_label_leaves_out_follows_the_formula_at_the_same_purity():
    totals, _ = salt_totals(salt("magnesium-sulfate-heptahydrate"), LabelPercent(mgo=16.0), None)
    assert percent_of(totals, "S") == pytest.approx(13.008 * 9.6486 / 9.861, rel=1e-3)


@pytest.mark.parametrize(
    ("printed", "usual", "forms"),
    [
        ({"N": 15.5}, {"NO3-N": 14.4, "NH4-N": 1.1}, {"NO3-N": 14.4, "NH4-N": 1.1}),
        ({"N": 15.5, "NO3-N": 14.4}, {}, {"NO3-N": 14.4, "NH4-N": 1.1}),
        ({"N": 20.0}, {}, {"NO3-N": 20.0}),
        ({"N": 20.0, "NO3-N": 5.0, "NH4-N": 5.0}, {}, {"NO3-N": 5.0, "NH4-N": 5.0, "urea-N": 10.0}),
        ({"N": 46.0, "NH4-N": 0.5}, {"urea-N": 46.6}, {"NH4-N": 0.5, "urea-N": 45.5}),  # urea, not nitrate
        ({"N": 21.0, "urea-N": 1.0}, {"NH4-N": 21.2}, {"urea-N": 1.0, "NH4-N": 20.0}),  # ammonium sulfate
        ({"N": 34.0, "urea-N": 2.0}, {"NO3-N": 17.5, "NH4-N": 17.5}, {"urea-N": 2.0, "NO3-N": 16.0, "NH4-N": 16.0}),
        ({"N": 16.0, "NO3-N": 14.0}, {"NO3-N": 13.85}, {"NO3-N": 16.0}),  # potassium nitrate has no other form
    ],
)
def test_a_printed_total_of_nitrogen_gets_its_forms(printed, usual, forms):
    assert split_nitrogen(printed, usual) == pytest.approx(forms)


def test_a_blend_known_by_its_label_closes_with_an_ion_that_is_neither_sodium_nor_chloride():
    totals, alkalinity = blend_totals(LabelPercent(no3_n=7.0, p2o5=9.0, k2o=40.0, mg=3.2, s=4.1))
    assert alkalinity == 0.0
    assert float(CHARGE @ totals) == pytest.approx(0.0, abs=1e-12)
    assert totals[COLUMN["Na"]] == totals[COLUMN["Cl"]] == 0.0
    assert totals[COLUMN["inert-"]] > 0.0


def test_strength_dilutes_an_acid():
    whole, alkalinity = salt_totals(salt("nitric-acid"), LabelPercent(), 60.0)
    assert percent_of(whole, "N") == pytest.approx(0.6 * 22.229, rel=1e-3)
    assert alkalinity == pytest.approx(-0.6 / 63.012, rel=1e-3)


@pytest.mark.parametrize("salt_id", list(salts()))
def test_every_product_of_the_catalog_is_neutral_once_its_alkalinity_is_counted(salt_id):
    product = salts()[salt_id]
    totals, alkalinity = salt_totals(product, LabelPercent(), product.default_strength_percent)
    assert float(CHARGE @ totals) - alkalinity == pytest.approx(0.0, abs=1e-9)
    assert np.all(totals >= 0.0)
