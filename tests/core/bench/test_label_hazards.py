"""Hazards of a tank by the strength in it."""

from dataclasses import dataclass

import pytest

from core.bench.label_hazards import label_hazards


@dataclass(frozen=True)
class Content:
    salt: str
    grams: float

    @property
    def entry_id(self) -> str:
        return self.salt


def judged(volume_l=60.0, strengths=None, **grams):
    contents = [
        Content(salt.replace("_", "-") if not salt.startswith("blend") else salt, g) for salt, g in grams.items()
    ]
    return label_hazards(contents, volume_l, strengths or {})


def test_a_usual_calcium_tank_damages_eyes():
    """800 mg/L of the greenhouse grade at 1:100 is 8 % of the tank, over the 3 % from which the salt damages eyes."""
    found = judged(calcium_nitrate_greenhouse=4800.0)
    assert (found.signal, found.hazards) == ("Danger", ("damages eyes",))


def test_a_weak_one_does_not():
    """Below about 30 g/L the class ends."""
    assert judged(calcium_nitrate_greenhouse=60 * 28.0).hazards == ()
    assert judged(calcium_nitrate_greenhouse=60 * 31.0).signal == "Danger"


def test_traces_are_not_shouted():
    found = judged(zinc_sulfate_heptahydrate=8.4, copper_sulfate_pentahydrate=1.9, boric_acid=7.2)
    assert (found.signal, found.hazards, found.unknown) == ("", (), ())


def test_boron_is_named_from_three_tenths_of_a_per_cent():
    assert judged(volume_l=1.0, boric_acid=2.9).signal == ""
    assert judged(volume_l=1.0, boric_acid=3.1).signal == "Danger"


def test_acid_counts_by_the_strength_it_was_bought_at():
    """1 kg in 10 L is 10 % of product: 6 % of nitric acid burns, at 38 % strength 3.8 % are below its first limit."""
    assert "burns skin and eyes" in judged(volume_l=10.0, nitric_acid=1000.0, strengths={"nitric-acid": 60.0}).hazards
    assert judged(volume_l=10.0, nitric_acid=1000.0, strengths={"nitric-acid": 38.0}).hazards == ()


def test_a_graver_hazard_silences_a_lesser_one_of_its_kind():
    found = judged(volume_l=1.0, calcium_nitrate_greenhouse=100.0, ammonium_nitrate=900.0)
    assert found.hazards == ("damages eyes",)


def test_a_dissolved_nitrate_feeds_no_fire_but_its_splashes_do():
    found = judged(potassium_nitrate=1200.0)
    assert found.residue
    assert found.hazards == ()


@pytest.mark.parametrize("salt", ["blend:mine", "magnesium_chloride_hexahydrate"])
def test_what_is_not_known_is_left_to_its_data_sheet(salt):
    found = judged(**{salt: 100.0})
    assert len(found.unknown) == 1
    assert found.signal == ""
