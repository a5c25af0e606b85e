"""The three words, and the product where Pitzer cannot speak."""

from __future__ import annotations

import numpy as np
import pytest

from core.chemistry.concentrates import ABSENT, VERDICTS, assess_molal
from core.chemistry.concentrates.solids import solids
from core.chemistry.concentrates.verdict import judge

PLACES = {row.id: place for place, row in enumerate(solids())}


def verdict(solid: str, index: float, product: float = np.nan, *, valid: bool = True) -> str:
    indices, products = (np.full((1, len(PLACES), 1), ABSENT) for _ in range(2))
    indices[0, PLACES[solid], 0], products[0, PLACES[solid], 0] = index, product
    return VERDICTS[judge(indices, products, np.array([[valid]])).rank[0, 0]]


@pytest.mark.parametrize(
    ("index", "product", "word"),
    [
        (-0.2, -0.1, "clear"),
        (-0.2, 0.4, "doubtful"),
        (0.05, -0.1, "doubtful"),
        (0.05, 0.4, "doubtful"),
        (0.11, 0.4, "settles"),
        (0.11, -0.1, "settles"),
    ],
)
def test_a_salt_is_clear_only_when_both_models_say_so(index: float, product: float, word: str) -> None:
    assert verdict("potassium-sulfate", index, product) == word


@pytest.mark.parametrize(("product", "word"), [(-0.1, "clear"), (0.3, "doubtful"), (0.7, "settles")])
def test_without_pitzer_the_product_speaks_alone(product: float, word: str) -> None:
    assert verdict("potassium-nitrate", -1.0, product, valid=False) == word


@pytest.mark.parametrize(
    ("index", "product", "word"), [(5.0, -0.1, "clear"), (5.0, 0.3, "settles"), (0.0, 0.3, "doubtful")]
)
def test_beyond_its_range_pitzer_only_confirms(index: float, product: float, word: str) -> None:
    assert verdict("potassium-nitrate", index, product, valid=False) == word


@pytest.mark.parametrize(
    ("solid", "index", "word"),
    [
        ("gypsum", -0.01, "clear"),
        ("gypsum", 0.05, "doubtful"),
        ("gypsum", 0.2, "settles"),
        ("newberyite", 0.29, "clear"),
        ("newberyite", 0.6, "doubtful"),
        ("newberyite", 0.9, "settles"),
        ("brushite", 0.29, "clear"),
        ("brushite", 0.4, "doubtful"),
        ("brushite", 0.6, "settles"),
    ],
)
def test_minerals_and_phosphates_have_lines_of_their_own(solid: str, index: float, word: str) -> None:
    assert verdict(solid, index) == word


def test_gypsum_is_not_judged_by_its_product(totals) -> None:  # type: ignore[no-untyped-def]
    """The sulfate of the trace salts beside 0.5 mol/kg calcium: product seven times over, yet undersaturated."""
    state = assess_molal(totals({"Ca": 0.54, "NO3": 1.08, "Mn": 0.003, "S": 0.003}), (10.0,))
    assert state.product_index[0, PLACES["gypsum"], 0] > 0.7
    assert state.verdict(0, 0) == "clear"


@pytest.mark.parametrize(
    "contents",
    [
        {"K": 1.0, "inert-": 1.0},
        {"K": 2.0, "C": 1.0},
        {"K": 1.0, "Si": 1.0, "Na": 0.5},
        {"NH4": 16.0, "NO3": 16.0},
    ],
    ids=["unknown ions", "carbonate", "silicate", "too strong"],
)
def test_where_pitzer_has_no_answer_it_is_said(totals, contents: dict[str, float]) -> None:  # type: ignore[no-untyped-def]
    assert not assess_molal(totals(contents), (20.0,)).pitzer_valid[0, 0]


def test_too_strong_a_tank_is_still_judged(totals) -> None:  # type: ignore[no-untyped-def]
    state = assess_molal(totals({"NH4": 16.0, "NO3": 16.0}, {"NH4": 60.0, "NO3": 60.0}), (20.0,))
    assert [state.verdict(0, tank) for tank in (0, 1)] == ["doubtful", "settles"]
    assert state.beyond_model.tolist() == [[True, True]]
    assert state.settling(0, 0) == ()
