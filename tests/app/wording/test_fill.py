"""The blanks of a sentence."""

from app.wording.fill import fill


    assert text == "39.97 mg/L where 40 mg/L is wanted"
    same = fill("{feed_mg_per_l} where {target_mg_per_l} is wanted", {"feed_mg_per_l": 40.0, "target_mg_per_l": 40.0})
    assert same == "40 mg/L where 40 mg/L is wanted"
