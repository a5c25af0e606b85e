"""The blanks of a sentence."""

from app.wording.fill import fill

SENTENCE = "{feed_mg_per_l} where {target_mg_per_l} is wanted"


def test_figures_that_differ_never_read_the_same():
    told = fill(SENTENCE, {"feed_mg_per_l": 39.97, "target_mg_per_l": 40.0})
    assert told == "39.97 mg/L where 40 mg/L is wanted"


def test_figures_that_are_the_same_are_told_briefly():
    assert fill(SENTENCE, {"feed_mg_per_l": 40.0, "target_mg_per_l": 40.0}) == "40 mg/L where 40 mg/L is wanted"
