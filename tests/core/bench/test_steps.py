"""Steps of a tank: only those it needs, in the order of common practice."""

from dataclasses import dataclass

import pytest

from core.bench.steps import LARGE_PART, USUAL_PART, dosing_steps, group_of, tank_steps


@dataclass(frozen=True)
class Content:
    salt: str
    grams: float = 100.0
    name: str = ""

    @property
    def entry_id(self) -> str:
        return self.name or self.salt


def codes(*salts, volume_l=50.0, **rest):
    return [step.code for step in tank_steps([Content(salt) for salt in salts], volume_l, None, **rest)]


def step(code, *contents, volume_l=50.0, coldest_c=None):
    return next(one for one in tank_steps(contents, volume_l, coldest_c) if one.code == code)


PHOSPHATE_SIDE = (
    "iron-dtpa-11", "monopotassium-phosphate", "boric-acid", "potassium-nitrate", "zinc-sulfate-heptahydrate",
    "potassium-sulfate", "sodium-molybdate-dihydrate",
)  # fmt: skip


def test_sulfates_then_traces_then_nitrates_then_phosphates_and_chelates_last():
    assert codes(*PHOSPHATE_SIDE) == [
        "part-fill-warm", "sulfates", "cup", "nitrates", "phosphates", "chelates", "rinse", "fill", "keep",
    ]  # fmt: skip


def test_a_tank_of_one_salt_has_only_its_own_steps():
    assert codes("calcium-nitrate-greenhouse") == [
        "part-fill-warm", "nitrates", "rinse", "fill", "keep", "seal",
    ]  # fmt: skip


def test_no_contents_no_steps():
    assert tank_steps([], 50.0, None) == ()


def test_acid_goes_first_into_cool_water():
    assert codes("potassium-nitrate", "nitric-acid")[:3] == ["part-fill-cool", "acid", "nitrates"]
    assert step("acid", Content("nitric-acid")).marks == ("heats",)
    assert step("acid", Content("citric-acid")).marks == ()


def test_silicate_alone_and_nothing_warm():
    assert codes("potassium-silicate-solution") == ["part-fill", "silicate", "rinse", "fill", "keep"]


def test_filled_to_the_mark_after_everything_that_goes_in():
    steps = codes(*PHOSPHATE_SIDE, "urea", "blend:mine", "potassium-bicarbonate", "nitric-acid")
    goes_in = {"acid", "base", "sulfates", "cup", "nitrates", "phosphates", "others", "blends", "chelates", "rinse"}
    assert goes_in <= set(steps)
    assert max(steps.index(code) for code in goes_in) < steps.index("fill")
    assert step("fill", Content("urea"), volume_l=37.0).litres == 37.0


def test_the_heaviest_of_a_group_goes_first():
    contents = [Content("potassium-sulfate", 40.0), Content("magnesium-sulfate-heptahydrate", 300.0)]
    assert step("sulfates", *contents).entry_ids == ("magnesium-sulfate-heptahydrate", "potassium-sulfate")


def test_more_water_to_start_with_where_half_a_tank_is_near_saturation():
    """Potassium nitrate saturates near 320 g/L at 20 °C: 7 kg nearly fill half of 50 L, 400 g do not."""
    assert step("part-fill-warm", Content("potassium-nitrate", 400.0)).litres == USUAL_PART * 50.0
    assert step("part-fill-warm", Content("potassium-nitrate", 7000.0)).litres == LARGE_PART * 50.0


def test_nitrates_cool_and_weak_chelates_stand_dark():
    assert step("nitrates", Content("potassium-nitrate")).marks == ("cools",)
    assert step("sulfates", Content("potassium-sulfate")).marks == ()
    assert step("keep", Content("iron-edta-13"), coldest_c=4.0).marks == ("dark",)
    assert step("keep", Content("iron-eddha-6"), coldest_c=4.0).marks == ()
    assert step("keep", Content("iron-eddha-6"), coldest_c=4.0).celsius == 4.0


def test_only_bags_that_draw_water_are_closed():
    contents = [Content("calcium-nitrate-greenhouse", name="bag 2"), Content("potassium-nitrate")]
    assert step("seal", *contents).entry_ids == ("bag 2",)
    assert "seal" not in codes("potassium-nitrate", "potassium-sulfate")


def test_what_a_trace_bottle_gives_is_not_dissolved_in_a_cup():
    steps = tank_steps([Content("boric-acid"), Content("sodium-molybdate-dihydrate")], 5.0, None, {"boric-acid"})
    assert [(s.code, s.entry_ids) for s in steps[1:3]] == [
        ("cup", ("sodium-molybdate-dihydrate",)), ("bottle", ("boric-acid",)),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("salt", "group"),
    [
        ("magnesium-sulfate-monohydrate", "sulfates"), ("calcium-nitrate-tetrahydrate", "nitrates"),
        ("monoammonium-phosphate", "phosphates"), ("potassium-chloride", "others"), ("urea", "others"),
        ("manganese-sulfate-monohydrate", "cup"), ("borax-decahydrate", "cup"), ("zinc-edta-15", "chelates"),
        ("urea-phosphate", "acid"), ("potassium-hydroxide", "base"), ("blend:own", "blends"),
    ],
)  # fmt: skip
def test_groups(salt, group):
    assert group_of(salt) == group


def test_dosing_order_silicate_acid_parts_then_ec_then_ph():
    steps = dosing_steps(["calcium", "phosphate", "silicate"], True, False)
    assert [step.code for step in steps] == [
        "dose-water", "dose-silicate", "dose-acid", "dose-parts", "dose-read", "dose-ph",
    ]  # fmt: skip
    assert steps[3].entry_ids == ("calcium", "phosphate")


def test_on_soft_water_the_ec_comes_before_the_acid():
    assert [step.code for step in dosing_steps(["calcium"], False, True)] == [
        "dose-water", "dose-parts", "dose-read", "dose-acid-last",
    ]  # fmt: skip
    assert dosing_steps([], False, False) == ()
