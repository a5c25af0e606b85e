"""Opening files: what is skipped, what is refused, and how it is told."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from core.recipe import Recipe, RecipeError, load, loads

HEAD = b'"format": "saltwright-recipe", "schema": 1'
SHELF = b'"shelf": [{"salt": "potassium-nitrate"}]'
SMALLEST = b"{" + HEAD + b", " + SHELF + b"}"


def with_field(text: str) -> bytes:
    return b"{" + HEAD + b", " + SHELF + b", " + text.encode("utf-8", "surrogatepass") + b"}"


def with_entry(text: str) -> bytes:
    return b"{" + HEAD + b', "shelf": [{' + text.encode("utf-8") + b"}]}"


def refusal(data: bytes) -> str:
    with pytest.raises(RecipeError) as caught:
        loads(data)
    sentence = str(caught.value)
    assert sentence.isprintable(), "one line without control characters"
    return sentence


def test_format_schema_and_shelf_are_enough() -> None:
    recipe = loads(SMALLEST)
    assert [entry.key for entry in recipe.shelf] == ["potassium-nitrate"]
    assert recipe == Recipe(format="saltwright-recipe", schema=1, shelf=recipe.shelf)


def test_byte_order_mark_is_skipped() -> None:
    assert loads(b"\xef\xbb\xbf" + SMALLEST) == loads(SMALLEST)


def test_null_is_not_stated() -> None:
    assert loads(with_field('"acid_into": null, "aim": {"ph": null}')) == loads(SMALLEST)


def test_whole_numbers_are_numbers_and_minus_zero_is_zero() -> None:
    recipe = loads(with_field('"water": {"temperature_c": -0.0, "ph": 7}'))
    assert str(recipe.water.temperature_c) == "0.0"
    assert isinstance(recipe.water.ph, float)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "is empty"),
        (b" \n\t", "is empty"),
        (b"\xff\xfe{\x00", "is not UTF-8 text (byte 1"),
        (SMALLEST[:-1] + b"\xc3}", "is not UTF-8 text"),
        (b"\x00\x01\x02", "is not valid JSON at line 1, column 1"),
        (b"{,}", "is not valid JSON at line 1, column 2"),
        (SMALLEST[:-1], "is not valid JSON"),
        (SMALLEST + b"{}", "Extra data"),
        (b"[" * 900_000, "is nested more than 20 deep at line 1"),
        (b'{"a":\n' * 30, "is nested more than 20 deep at line 21"),
        (b" " * 1_000_001, "is 1.0 MB, and a recipe is at most 1 MB"),
        (b'"' + b'\\"' * 400_000, "is not valid JSON"),
        (b"[]", "is JSON but no recipe"),
        (b"7", "is JSON but no recipe"),
        (b"{}", "it names no format"),
        (b'{"format": "other", "schema": 1}', "it names another format"),
        (b'{"format": ["saltwright-recipe"], "schema": 1}', "it names another format"),
        (b"{" + HEAD + b"}", 'lacks "shelf"'),
        (b"{" + HEAD + b', "shelf": []}', "shelf is empty; put at least one salt on it"),
    ],
)
def test_damage_as_a_whole(data: bytes, words: str) -> None:
    assert words in refusal(data)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (with_field('"title": 3'), "title must be text, not the number 3"),
        (with_field('"title": true'), "title must be text, not true or false"),
        (with_field('"title": null'), "title must be text, not null"),
        (with_field('"aim": []'), "aim must be a group of fields in { }, not a list"),
        (with_field('"aim": {"urea": "no"}'), 'aim.urea must be true or false, not the text "no"'),
        (with_field('"aim": {"targets": {}}'), "aim.targets must be a list in [ ], not a group of fields"),
        (with_field('"aim": {"ph": true}'), "aim.ph must be a number, not true or false"),
        (with_field('"tanks": {"count": 2.5}'), "tanks.count must be a whole number, not the number 2.5"),
        (with_field('"tanks": {"pins": {"potassium-nitrate": 1}}'), "tanks.pins.potassium-nitrate must be text"),
        (with_field('"goal": "cheap"'), 'not "cheap"; did you mean "cheapest"?'),
        (with_field('"goal": 1'), 'goal must be one of "cheapest", "closest", "fewest", not the number 1'),
        (with_field('"wather": {}'), 'this file holds the unknown name "wather"; did you mean "water"?'),
        (with_field('"zzz": {}'), "known are format, schema, shelf"),
        (with_field('"aim": {"limits": [{"nutrient": "NA"}]}'), 'did you mean "Na"?'),
        (with_field('"aim": {"targets": [{"nutrient": "K"}]}'), 'target 1 (aim.targets[0]) lacks "mg_per_l"'),
        (with_field('"water": {"mg_per_l": {"Ca": "61"}}'), 'water.mg_per_l.Ca must be a number, not the text "61"'),
        (
            with_entry('"salt": "x", "label_percent": {"P205": 9}'),
            'holds the unknown name "P205"; did you mean "P2O5"?',
        ),
        (with_entry('"salt": "x", "price": 9'), 'shelf entry 1 (shelf[0]) holds the unknown name "price"'),
        (with_entry('"salt": "x", "price_per_kg": "1,1"'), 'must be a number, not the text "1,1"'),
    ],
)
def test_wrong_names_and_types(data: bytes, words: str) -> None:
    assert words in refusal(data)


@pytest.mark.parametrize("number", ["NaN", "Infinity", "-Infinity", "1e999", "-1e999", "9" * 400, "9" * 5000])
def test_numbers_that_are_not_finite(number: str) -> None:
    assert "aim.ph is not a finite number" in refusal(with_field(f'"aim": {{"ph": {number}}}'))


def test_numbers_too_small_to_be_meant() -> None:
    assert "aim.ph is 1e-300, too small to be meant" in refusal(with_field('"aim": {"ph": 1e-300}'))


@pytest.mark.parametrize(
    ("data", "place"),
    [
        (with_field('"title": "a", "title": "a"'), 'this file holds the name "title" twice'),
        (with_field('"water": {"mg_per_l": {"Ca": 1, "Ca": 1}}'), 'water.mg_per_l holds the name "Ca" twice'),
        (with_entry('"salt": "a", "salt": "a"'), 'shelf entry 1 (shelf[0]) holds the name "salt" twice'),
        (with_field('"odd": [[{"x": 1, "x": 2}]]'), 'odd[0][0] holds the name "x" twice'),
    ],
)
def test_names_given_twice_at_any_depth(data: bytes, place: str) -> None:
    assert place in refusal(data)


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("a\\u0000b", "U+0000"),
        ("a\\nb", "U+000A"),
        ("a\\u202eb", "U+202E"),
        ("a\u2066b", "U+2066"),
        ("a\\u2028b", "U+2028"),
        ("a\\ud800b", "U+D800"),
    ],
)
def test_invisible_characters_in_texts_and_names(text: str, named: str) -> None:
    assert f"title holds the invisible control character {named}" in refusal(with_field(f'"title": "{text}"'))
    assert f"tanks.pins holds the invisible control character {named}" in refusal(
        with_field(f'"tanks": {{"pins": {{"{text}": "A"}}}}')
    )


def test_texts_of_many_alphabets_are_kept() -> None:
    title = "Erdbeeren größer, ñandú, 草莓, فراولة, 🍓\u200d"
    assert loads(with_field(f'"title": "{title}"')).title == title


def test_lengths() -> None:
    assert loads(with_field(f'"title": "{"x" * 200}"')).title == "x" * 200
    assert "title holds a text of 201 characters, and at most 200 are read" in refusal(
        with_field(f'"title": "{"x" * 201}"')
    )
    assert "this file holds a text of 300 characters" in refusal(with_field(f'"{"n" * 300}": 1'))
    entries = b", ".join(b'{"salt": "blend:%d", "label_percent": {"K": 1}}' % i for i in range(201))
    assert "shelf has 201 entries, and at most 200 are read" in refusal(b"{" + HEAD + b', "shelf": [' + entries + b"]}")


def test_where_is_named_and_escaped() -> None:
    with pytest.raises(RecipeError) as caught:
        loads(with_field('"title": 3'), "a\n\u202eb.saltwright")
    assert str(caught.value).startswith("a\\u000a\\u202eb.saltwright: title must be text")
    assert caught.value.path == ("title",)


class TestFiles:
    def test_opens_and_leaves_alone(self, tmp_path: Path) -> None:
        file = tmp_path / "mine.saltwright"
        file.write_bytes(SMALLEST)
        assert load(file) == load(str(file)) == loads(SMALLEST)
        assert file.read_bytes() == SMALLEST

    def test_missing(self, tmp_path: Path) -> None:
        with pytest.raises(RecipeError, match="none.saltwright cannot be found; check its name"):
            load(tmp_path / "none.saltwright")

    def test_folder(self, tmp_path: Path) -> None:
        with pytest.raises(RecipeError, match="is a folder; choose a recipe file"):
            load(tmp_path)

    @pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names here")
    def test_pipe_does_not_block(self, tmp_path: Path) -> None:
        os.mkfifo(tmp_path / "pipe")
        with pytest.raises(RecipeError, match="is not an ordinary file"):
            load(tmp_path / "pipe")

    def test_device_that_never_ends(self) -> None:
        if not os.path.exists("/dev/zero"):
            pytest.skip("no such device here")
        with pytest.raises(RecipeError, match="is not an ordinary file"):
            load("/dev/zero")

    def test_size_is_looked_at_before_reading(self, tmp_path: Path) -> None:
        file = tmp_path / "large"
        with file.open("wb") as sparse:
            sparse.truncate(50_000_000_000)
        with pytest.raises(RecipeError, match=r"is 50000\.0 MB, and a recipe is at most 1 MB"):
            load(file)

    def test_odd_names(self) -> None:
        with pytest.raises(RecipeError, match="cannot be read"):
            load("a\x00b")
        with pytest.raises(RecipeError, match="cannot be read"):
            load("x" * 5000)

    def test_no_right_to_read(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        def refuse(*_: object) -> None:
            raise PermissionError

        file = tmp_path / "mine.saltwright"
        file.write_bytes(SMALLEST)
        monkeypatch.setattr("builtins.open", refuse)
        with pytest.raises(RecipeError, match="may not be read"):
            load(file)
