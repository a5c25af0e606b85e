"""Products are found by what growers call them."""

import pytest

from app.widgets.pick_list import Pick, found
from app.wording.editors_shelf import TRADE_WORDS, trade_words
from core.catalog import salts

PICKS = tuple(Pick(one.id, one.name, one.formula, f"{one.id} {trade_words(one.id)}") for one in salts().values())


def test_every_name_is_of_a_product_of_the_catalog():
    assert TRADE_WORDS.keys() <= salts().keys()


@pytest.mark.parametrize(
    ("typed", "salt"),
    [
        ("MKP", "monopotassium-phosphate"),
        ("map", "monoammonium-phosphate"),
        ("SOP", "potassium-sulfate"),
        ("kalksalpeter", "calcium-nitrate-tetrahydrate"),
        ("bittersalz", "magnesium-sulfate-heptahydrate"),
        ("salpetersaure", "nitric-acid"),
    ],
)
def test_trade_words_find_their_product(typed, salt):
    assert found(PICKS, typed)[0].key == salt
