"""Labels against formula and strength: the hydrate that was meant, figures that cannot be, acids told twice."""

import pytest

from core.blend.shelf import source_of
from core.catalog import density_kg_per_l
from core.plan import plan
from core.recipe.records import LabelPercent, ShelfEntry
from tests.helpers.recipes import recipe

CODES = ("label-of-other-salt", "label-unlike-salt", "label-strength")


def said(salt: str, label: dict, **entry) -> dict[str, dict]:
    """The data of every caution about labels that a shelf of one product raises."""
    made = plan(recipe({"N": 50.0}, [{"salt": salt, "label_percent": label} | entry]))
    return {one.code: one.data for one in made.cautions if one.code in CODES}


@pytest.mark.parametrize(
    ("salt", "label", "other"),
    [
        ("magnesium-sulfate-heptahydrate", {"Mg": 16.0}, "magnesium-sulfate-monohydrate"),
        ("magnesium-sulfate-heptahydrate", {"MgO": 33.0}, "magnesium-sulfate-anhydrous"),
        ("magnesium-sulfate-monohydrate", {"MgO": 16.0, "SO3": 32.0}, "magnesium-sulfate-heptahydrate"),
        ("manganese-sulfate-tetrahydrate", {"Mn": 32.0}, "manganese-sulfate-monohydrate"),
        ("zinc-sulfate-heptahydrate", {"Zn": 35.0}, "zinc-sulfate-monohydrate"),
    ],
)
def test_the_hydrate_that_fits_is_named(salt, label, other):
    told = said(salt, label)
    assert told.keys() == {"label-of-other-salt"}
    assert told["label-of-other-salt"]["salt"] == other


def test_a_label_no_form_fits_is_told_with_both_figures():
    told = said("potassium-nitrate", {"K": 46.0, "NO3-N": 13.5})["label-unlike-salt"]
    assert (told["nutrient"], told["label_percent"]) == ("K", pytest.approx(46.0))
    assert told["formula_percent"] == pytest.approx(38.67, abs=0.01)


@pytest.mark.parametrize(
    ("salt", "label"),
    [
        ("magnesium-sulfate-heptahydrate", {"MgO": 16.0, "SO3": 32.0}),
        ("potassium-nitrate", {"NO3-N": 13.5, "K2O": 46.0}),
        ("monopotassium-phosphate", {"P2O5": 51.5, "K2O": 34.0}),
        ("potassium-sulfate", {"K2O": 50.0, "SO3": 45.0}),
        ("ammonium-nitrate", {"N": 34.4}),
        ("calcium-nitrate-greenhouse", {"NO3-N": 11.0, "Ca": 16.0}),
        ("iron-edta-13", {"Fe": 6.0}),
        ("potassium-silicate-solution", {"K": 12.0, "Si": 12.0}),
    ],
)
def test_honest_labels_and_grades_that_differ_are_left_alone(salt, label):
    assert said(salt, label) == {}


def test_the_label_of_an_acid_makes_its_strength_and_its_density():
    entry = ShelfEntry(salt="nitric-acid", label_percent=LabelPercent(n=8.44))
    found = source_of(entry)
    assert found.strength_percent == pytest.approx(8.44 / 22.229 * 100, rel=1e-3)
    assert found.density_kg_per_l == pytest.approx(density_kg_per_l("nitric-acid", 37.97), rel=1e-3)
    assert found.alkalinity == pytest.approx(-0.3797 / 63.012, rel=1e-3)
    printed = source_of(ShelfEntry(salt="phosphoric-acid", label_percent=LabelPercent(p2o5=54.3)))
    assert printed.strength_percent == pytest.approx(75.0, abs=0.1)
    assert printed.density_kg_per_l == pytest.approx(1.576, abs=0.005)


def test_an_acid_known_by_its_label_has_no_assumed_strength():
    made = plan(recipe({"N": 50.0}, [{"salt": "nitric-acid", "label_percent": {"N": 8.4}}],
                       water={"mg_per_l": {"HCO3": 300, "Ca": 99}}))  # fmt: skip
    assert "acid-strength-assumed" not in {one.code for one in made.cautions}
    assert made.amounts[0].strength_percent == pytest.approx(37.8, abs=0.1)


@pytest.mark.parametrize(("strength", "is_told"), [(38.0, False), (37.0, False), (60.0, True)])
def test_strength_and_label_that_disagree_are_told_and_the_label_counts(strength, is_told):
    told = said("nitric-acid", {"N": 8.44}, strength_percent=strength)
    assert (told.keys() == {"label-strength"}) == is_told
    entry = ShelfEntry(salt="nitric-acid", label_percent=LabelPercent(n=8.44), strength_percent=strength)
    assert source_of(entry).strength_percent == pytest.approx(37.97, abs=0.01)


def test_a_label_beyond_the_pure_acid_is_told_and_breaks_nothing():
    assert said("nitric-acid", {"N": 30.0}).keys() == {"label-unlike-salt"}
    assert said("citric-acid", {"B": 1.0}) == {}
