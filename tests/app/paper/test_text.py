"""What strangers wrote is harmless on paper, and numbers carry the reader's decimal mark."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.paper.text import foreign, isolated, shown, unbroken

RIGHT_TO_LEFT_OVERRIDE = "\u202e"


def test_bidirectional_and_control_characters_are_written_out():
    assert shown(foreign(f"a{RIGHT_TO_LEFT_OVERRIDE}b\x07c\u200bd")) == "a\\u202eb\\x07c\\u200bd"


def test_line_breaks_become_spaces():
    assert shown(foreign("two\nlines\r\n\tof it")) == "two lines of it"


def test_a_point_in_a_name_is_no_decimal_mark():
    assert shown(foreign("bag 1.4") + " 12.5 g", ",") == "bag 1.4 12,5 g"


def test_the_held_point_cannot_be_smuggled_in():
    assert shown(foreign("1\ue0004"), ",") == "1\\ue0004"


def test_what_was_not_made_harmless_before_is_at_the_end():
    assert shown(f"a{RIGHT_TO_LEFT_OVERRIDE}b") == "a\\u202eb"


@given(st.text(), st.sampled_from(".,"))
def test_nothing_unprintable_is_ever_shown(text, mark):
    assert all(letter.isprintable() or letter == "\xa0" for letter in shown(foreign(text), mark))


@given(st.text())
def test_a_name_is_shown_alike_with_either_mark(text):
    assert shown(foreign(text), ",") == shown(foreign(text), ".")


@pytest.mark.parametrize(
    ("text", "held"),
    [("12.5 g of it", "12.5\xa0g of it"), ("4 °C", "4\xa0°C"), ("5 go", "5 go"), ("1.6 % out", "1.6\xa0% out"),
     ("1 fl oz", "1\xa0fl oz"), ("0.5 meq/L", "0.5\xa0meq/L"), ("3 lb 2.4 oz", "3\xa0lb 2.4\xa0oz")],
)  # fmt: skip
def test_numbers_are_held_to_their_units(text, held):
    assert unbroken(text) == held


def test_right_to_left_runs_are_isolated():
    assert isolated("12 \u05d0\u05d1 5 g", "<bdi>", "</bdi>") == "12 <bdi>\u05d0\u05d1</bdi> 5 g"
