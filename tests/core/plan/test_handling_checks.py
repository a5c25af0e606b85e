"""What must not meet on the bench is told of the products used, each meeting once, the gravest first."""

from core.plan import plan
from core.plan.handling_checks import meetings
from tests.helpers.recipes import PLAIN, SIX, recipe


def test_ammonium_in_calcium_nitrate_must_not_meet_silicate():
    found = meetings(("calcium-nitrate-greenhouse", "potassium-silicate-solution", "potassium-nitrate"))
    assert found == ((("calcium-nitrate-greenhouse",), ("potassium-silicate-solution",), "ammonia gas"),)


def test_two_acids_are_one_meeting_and_the_graver_word_stands():
    ((held, others, result),) = meetings(("nitric-acid", "citric-acid"))
    assert {*held, *others} == {"nitric-acid", "citric-acid"}
    assert result == "fire and brown gas when strong or dry"


def test_three_acids_each_stand_on_one_side_only():
    for held, others, _ in meetings(("nitric-acid", "sulfuric-acid", "phosphoric-acid")):
        assert held
        assert others
        assert not {*held} & {*others}


def test_what_only_the_crop_suffers_is_left_to_the_tanks():
    assert meetings(("calcium-nitrate-greenhouse", "monopotassium-phosphate", "magnesium-sulfate-heptahydrate")) == ()
    assert not [one for one in plan(recipe(SIX, PLAIN)).cautions if one.code == "keep-apart"]
