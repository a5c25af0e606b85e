"""What the engine refuses is told in the language in use; in English it is what the command line prints."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from app.wording import language
from app.wording.refusals import refusal, what_is_wrong
from core.phrase import Phrase
from core.recipe import RecipeError, loads
from core.units import read_number, read_quantity
from tests.helpers.messages import messages

TYPED: tuple[tuple[Callable[[], Any], str], ...] = (
    (lambda: read_number(""), "Nothing is typed."),
    (lambda: read_number("abc"), '"abc" does not begin with a number.'),
    (lambda: read_number("<5"), '"<5" gives a bound, not a number; leave it out or type the number itself.'),
    (lambda: read_number("1.234,5"), '"1.234,5" has more than one decimal mark; did you mean 1234.5?'),
    (lambda: read_quantity("5 gal", "volume", "L"), '"gal" is of two sizes; did you mean US gal or imp gal?'),
    (lambda: read_quantity("5 ell", "ec", "mS/cm"), '"ell" is no unit of conductivity known here.'),
    (lambda: read_quantity("1-2", "mass", "g"), '"1-2" could be a range or a subtraction.'),
    (
        lambda: read_quantity("5 mS", "concentration", "mg/L", of="Ca"),
        '"ms" is no unit for Ca; type mg/L, mmol/L or meq/L, with “as” for another form.',
    ),
)

HEAD = {"format": "saltwright-recipe", "schema": 1}
KNOWN = {"salt": "potassium-nitrate"}
FILES: tuple[tuple[bytes, str], ...] = (
    (b"", "this file is empty; choose a recipe file, or go back to an older copy of this one"),
    (b"{", "is not valid JSON at line 1"),
    (b"[1]", "this file is JSON but no recipe"),
    (json.dumps({**HEAD, "shelf": 5}).encode(), "shelf must be a list in [ ], not the number 5; write a list in [ ]"),
    (json.dumps({**HEAD, "shelf": []}).encode(), "shelf is empty; put at least one salt on it"),
    (json.dumps({**HEAD, "shelf": [{"salt": "x"}]}).encode(), "shelf entry 1 (shelf[0].salt) is"),
    (
        json.dumps({**HEAD, "shelf": [KNOWN], "water": {"ph": 15}}).encode(),
        "water.ph is 15, outside 0 to 14; correct the number or its unit",
    ),
    (
        json.dumps({**HEAD, "shelf": [KNOWN], "water": {"mg_per_l": {"HCO3": 150, "CO3": 30, "CaCO3": 9}}}).encode(),
        "of alkalinity as HCO3 and CO3, but",
    ),
)


def refused(make: Callable[[], Any]) -> ValueError:
    with pytest.raises(ValueError) as caught:  # noqa: PT011  # what it says is what is tested
        make()
    return caught.value


@pytest.fixture
def pseudo() -> Iterator[None]:
    language.speak("pseudo")
    yield
    language.speak("")


@pytest.mark.parametrize(("make", "sentence"), TYPED)
def test_typed_text_is_refused_in_the_same_words_as_ever(make: Callable[[], Any], sentence: str) -> None:
    error = refused(make)
    assert refusal(error) == str(error) == sentence


@pytest.mark.parametrize(("data", "part"), FILES)
def test_files_are_refused_in_the_same_words_as_ever(data: bytes, part: str) -> None:
    error = refused(lambda: loads(data))
    assert refusal(error) == str(error)
    assert part in str(error)


@pytest.mark.parametrize("make", [make for make, _sentence in TYPED] + [lambda d=d: loads(d) for d, _part in FILES])
def test_another_language_fills_its_own_sentence(pseudo: None, make: Callable[[], Any]) -> None:
    error = refused(make)
    told = refusal(error)
    assert told != str(error)
    for english in ("choose", "correct", "write", "did you mean", "file", "number", "unit ", "shelf entry", "typed"):
        assert english not in told
    for blank in "{}":
        assert told.count(blank) == 0


def test_what_was_typed_stays_as_it_was(pseudo: None) -> None:
    assert '"abacus"' in refusal(refused(lambda: read_number("abacus")))


def test_a_fault_of_another_kind_is_quoted() -> None:
    assert refusal(OSError("disk on fire")) == "disk on fire"
    assert what_is_wrong("") == ""


def test_a_phrase_is_a_text_and_keeps_braces_it_was_not_asked_to_fill() -> None:
    assert Phrase("a list in [ ]") == "a list in [ ]"
    assert Phrase("a group of fields in { }") + "." == "a group of fields in { }."
    assert f"{Phrase('{count} of {most}', count=3, most=5)}" == "3 of 5"


@pytest.mark.parametrize(("data", "_part"), FILES)
def test_every_part_of_a_refusal_is_given_to_translators(data: bytes, _part: str) -> None:
    error = refused(lambda: loads(data))
    assert isinstance(error, RecipeError)
    for part in filter(None, (error.what, error.mend)):
        assert getattr(part, "template", part) in messages()
