"""Total hardness fills in calcium or magnesium, and says why where it cannot."""

import pytest

from core.blend.hardness import HardnessError, hardness_meq_per_l, with_hardness
from core.recipe.records import WaterContents
from core.units import AmbiguousText, read_quantity


@pytest.mark.parametrize(
    ("typed", "meq_per_l"),
    [
        ("15 °dH", 5.3494),
        ("15 ° dh", 5.3494),
        ("268 mg/L as CaCO3", 5.355),
        ("150 mg/L as CaO", 5.3497),
        ("2.675 mmol/L", 5.35),
        ("5,35 meq/L", 5.35),
        ("26.8 °fH", 5.355),
    ],
)
def test_hardness_is_read_in_the_units_reports_print(typed, meq_per_l):
    """Molar masses of CaCO3 and CaO; a mole of calcium or magnesium is two equivalents."""
    assert read_quantity(typed, "hardness", "°dH").value == pytest.approx(meq_per_l, rel=1e-3)


def test_milligrams_of_hardness_are_of_something():
    with pytest.raises(AmbiguousText, match="basis"):
        read_quantity("268 mg/L", "hardness", "°dH")


@pytest.mark.parametrize(("stated", "missing"), [("ca", "mg"), ("mg", "ca")])
def test_it_fills_in_what_the_report_leaves_out(stated, missing):
    whole = WaterContents(ca=80.0, mg=12.0)
    part = WaterContents(**{stated: getattr(whole, stated)})
    filled = with_hardness(part, hardness_meq_per_l(whole))
    assert getattr(filled, missing) == pytest.approx(getattr(whole, missing), rel=1e-3)


@pytest.mark.parametrize(
    ("contents", "sentence"),
    [
        (WaterContents(), "enter calcium or magnesium first"),
        (WaterContents(ca=80.0, mg=12.0), "both stated"),
        (WaterContents(ca=200.0), "The Ca stated makes more"),
    ],
)
def test_nothing_is_guessed(contents, sentence):
    with pytest.raises(HardnessError, match=sentence):
        with_hardness(contents, 5.0)


def test_a_hardness_that_calcium_makes_alone_leaves_no_magnesium():
    assert with_hardness(WaterContents(ca=100.2), 4.999).mg == 0.0
