"""Acids and liquids: density and concentration by strength."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalog import concentration_mol_per_l, density_kg_per_l, is_liquid, salt, salts
from core.catalog.acids import density_tables

TABLES = pytest.mark.parametrize("salt_id", list(density_tables()))


@TABLES
def test_tables_run_from_water_upwards_and_name_every_point(salt_id: str) -> None:
    table = density_tables()[salt_id]
    strengths, densities = table.strength_percent, table.density_kg_per_l
    assert len(strengths) == len(densities)
    assert strengths[:2] == (0, 1)
    assert densities[0] == pytest.approx(0.9982)
    assert all(low < high for low, high in zip(strengths, strengths[1:], strict=False))
    assert all(low <= high for low, high in zip(densities, densities[1:], strict=False))
    assert all(any(span.from_percent <= x <= span.to_percent for span in table.known) for x in strengths)


@given(st.sampled_from(sorted(density_tables())), st.floats(0.001, 1.0), st.floats(0.0, 1.0))
def test_stronger_is_denser_and_holds_more(salt_id: str, share: float, part: float) -> None:
    strongest = density_tables()[salt_id].strength_percent[-1]
    strong, weak = strongest * share, strongest * share * max(part, 1e-3)
    assert 0.998 <= density_kg_per_l(salt_id, weak) <= density_kg_per_l(salt_id, strong) <= 1.85
    assert concentration_mol_per_l(salt_id, weak) <= concentration_mol_per_l(salt_id, strong)


def test_every_acid_has_a_usual_strength_and_every_liquid_a_density() -> None:
    strengths = {i.id: i.default_strength_percent for i in salts().values() if i.default_strength_percent is not None}
    assert strengths == {
        "nitric-acid": 60, "phosphoric-acid": 85, "sulfuric-acid": 93, "citric-acid": 100, "hydrochloric-acid": 31.45,
    }  # fmt: skip
    liquids = [item for item in salts().values() if item.liquid]
    assert len(liquids) == 6
    for item in liquids:
        assert density_kg_per_l(item) == density_kg_per_l(item.id, item.default_strength_percent) > 1.1


def test_solids_turn_liquid_where_they_are_sold_dissolved() -> None:
    assert not is_liquid("citric-acid")
    assert is_liquid("citric-acid", 50)
    assert not is_liquid("potassium-hydroxide")
    assert is_liquid("potassium-hydroxide", 45)
    assert not is_liquid("potassium-hydroxide", 90)
    assert is_liquid("nitric-acid")
    assert is_liquid(salt("calcium-nitrate-solution"))
    assert not is_liquid("potassium-nitrate")


@pytest.mark.parametrize(
    ("salt_id", "strength_percent"),
    [("potassium-nitrate", None), ("citric-acid", None), ("citric-acid", 99), ("nitric-acid", 0), ("nitric-acid", -1),
     ("nitric-acid", 99.5), ("nitric-acid", float("nan")), ("potassium-hydroxide", None)],
)  # fmt: skip
def test_no_density_is_made_up(salt_id: str, strength_percent: float | None) -> None:
    with pytest.raises(ValueError, match=salt(salt_id).name):
        density_kg_per_l(salt_id, strength_percent)


def test_no_concentration_without_a_strength() -> None:
    for salt_id in ("potassium-hydroxide", "calcium-nitrate-solution", "potassium-nitrate"):
        with pytest.raises(ValueError, match="strength"):
            concentration_mol_per_l(salt_id)
