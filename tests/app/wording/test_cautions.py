"""Every registered caution has a sentence, and its data fill it."""

from __future__ import annotations

import pytest

from app.wording import caution_text
from app.wording.cautions import SENTENCES
from core.plan.cautions import REGISTRY, caution
from core.plan.records import Caution
from tests.helpers.messages import blanks

SAMPLES = {
    "nutrient": "K",
    "nutrients": ("P", "Ca"),
    "count": 2,
    "salt": "potassium-nitrate",
    "salts": ("iron-edta-13", "nitric-acid"),
    "entry_ids": ("bag 1", "boric-acid"),
    "content": "calcium",
    "solids": ("gypsum", "brushite"),
    "other_salts": ("potassium-silicate-solution",),
    "result": "ammonia gas",
    "because": "rest",
    "subject": "the density of the acid",
    "which_water": "second_water",
    "why": "no-acid",
    "crop": "tomato, general",
    "doses_ml_per_l": (12.9, 7.2),
    "ratio": 200.0,
    "ratio_limit": 128.0,
}


def sample(code: str) -> Caution:
    return caution(code, **{key: SAMPLES.get(key, 12.5) for key in REGISTRY[code].data})


def test_registry_and_sentences_name_the_same_codes() -> None:
    assert set(SENTENCES) == set(REGISTRY)


@pytest.mark.parametrize("code", sorted(REGISTRY))
def test_data_and_blanks_agree(code: str) -> None:
    assert blanks(SENTENCES[code]) <= set(REGISTRY[code].data)


@pytest.mark.parametrize("code", sorted(REGISTRY))
def test_sentence_is_filled_and_says_what_to_do(code: str) -> None:
    text = caution_text(sample(code))
    assert not set("{}?_") & set(text)
    assert not text[0].islower()
    assert text.endswith(".")
    assert "  " not in text
    assert 40 < len(text) < 330


def test_numbers_carry_their_units() -> None:
    text = caution_text(
        caution("target-short", nutrient="K", feed_mg_per_l=157.26, target_mg_per_l=200.0, percent=21.4)
    )
    assert text.startswith("Potassium reaches 157 mg/L of 200 mg/L, 21 % short.")


def test_ratio_and_temperature_are_written_as_growers_do() -> None:
    assert "as strong as 1:200" in caution_text(sample("strength-too-high"))
    assert "cools to 4.5 °C" in caution_text(caution("cold-store", content="plain", solids=("gypsum",), coldest_c=4.5))


def test_missing_data_show_as_missing_never_as_a_number() -> None:
    assert caution_text(Caution("check", "phosphate-clouds")).startswith("At pH ? calcium")
    assert "reaches ?, above 46 mg/L." in caution_text(
        Caution("check", "sodium-high", {"feed_mg_per_l": None, "limit_mg_per_l": 46.0})
    )


def test_a_code_of_a_newer_version_is_shown_as_it_is() -> None:
    assert caution_text(Caution("note", "from-tomorrow")) == "from-tomorrow"
