"""Every way of sizing a batch leads to the same litres."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.bench.batch_size import (
    days_of_feed,
    feed_from_volume_l,
    product_for_volume_kg,
    volume_for_days_l,
    volume_for_feed_l,
    volume_for_product_l,
)


def test_by_hand() -> None:
    assert volume_for_feed_l(5000, 100) == 50
    assert volume_for_days_l(150, 35, 100) == 52.5
    assert volume_for_product_l(25, 421, 100) == pytest.approx(593.824, abs=1e-3)  # 42.1 g in each litre of tank


@given(volume=st.floats(0.1, 5000), ratio=st.floats(1, 1000), mg=st.floats(0.01, 5000), a_day=st.floats(0.1, 1e5))
@settings(max_examples=60)
def test_there_and_back(volume: float, ratio: float, mg: float, a_day: float) -> None:
    feed = feed_from_volume_l(volume, ratio)
    assert volume_for_feed_l(feed, ratio) == pytest.approx(volume, rel=1e-5)
    assert volume_for_days_l(a_day, days_of_feed(feed, a_day), ratio) == pytest.approx(volume, rel=2e-5)
    assert volume_for_product_l(product_for_volume_kg(volume, mg, ratio), mg, ratio) == pytest.approx(volume, rel=1e-5)
