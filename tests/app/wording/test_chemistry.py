"""How forms are written, and what is said of a feed that holds little."""

from __future__ import annotations

import pytest

from app.wording import chemistry as say
from app.wording import chemistry_figures as figure_words
from core.chemistry.provenance import conductivity_of, formation_of
from core.chemistry.species import all_species
from core.plan import solve
from core.plan.chemistry_details import Form, feed_chemistry
from tests.helpers.recipes import PLAIN, SIX, recipe


@pytest.mark.parametrize(
    ("name", "charge", "printed"),
    [
        ("Ca+2", 2, "Ca²⁺"), ("K+", 1, "K⁺"), ("SO4-2", -2, "SO₄²⁻"), ("CaH2PO4+", 1, "CaH₂PO₄⁺"),
        ("CaSO4", 0, "CaSO₄"), ("Fe(OH)2+", 1, "Fe(OH)₂⁺"), ("FeEDTA-", -1, "FeEDTA⁻"),
        ("Citrate-3", -3, "Citrate³⁻"), ("inert+", 1, "others⁺"),
    ],
)  # fmt: skip
def test_forms_as_printed(name: str, charge: int, printed: str) -> None:
    assert say.form_symbol(name, charge) == printed


def test_every_form_has_words_and_an_explanation() -> None:
    for one in all_species():
        form = Form(one.name, "ion" if one.charge else "pair", one.charge, 0.123, 1.2, tuple(one.contains))
        text = say.form_explanation(form, None, formation_of(one.name), conductivity_of(one.name))
        assert text.endswith(".")
        assert "?" not in text
        assert len(text) < 420, text
        assert say.form_words(form)


def test_a_feed_without_chelate_or_phosphate() -> None:
    made = recipe({"K": 100.0}, ["potassium-nitrate"])
    told = feed_chemistry(solve(made))
    assert figure_words.iron_figure(told)[1:] == ("no chelated iron", "This feed holds no chelated iron.")
    assert "no phosphate" in figure_words.phosphate_figure(told)[2]


def test_shares_are_never_a_row_of_zeros() -> None:
    assert figure_words.saturation(-24.0) == "< 0.1 %"
    assert figure_words.saturation(0.0) == "100 %"
    assert say.percent(0.04) == "< 0.1 %"
    assert say.percent(17.61) == "17.6 %"


def test_figures_of_a_plain_feed() -> None:
    made = recipe(SIX, PLAIN)
    told = feed_chemistry(solve(made))
    number, unit, text = figure_words.ec_figure(told)
    assert number == f"{told.ec_ms_per_cm:.2f}"
    assert unit.startswith("mS/cm ± 5")
    assert "± 2 %" in text
