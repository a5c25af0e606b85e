"""Round-off never decides between over, under and neither."""

from hypothesis import given, settings
from hypothesis import strategies as st

from core.plan.margins import over, under


@settings(max_examples=50)
@given(bound=st.floats(-1e4, 1e4), noise=st.floats(-1e-9, 1e-9))
def test_a_bound_with_round_off_on_it_is_neither_over_nor_under(bound, noise):
    value = bound + noise * max(1.0, abs(bound))
    assert not over(value, bound)
    assert not under(value, bound)


@settings(max_examples=50)
@given(bound=st.floats(-1e4, 1e4), share=st.floats(1e-5, 1.0))
def test_what_is_further_off_than_the_margin_is_told(bound, share):
    off = share * max(1.0, abs(bound))
    assert over(bound + off, bound)
    assert under(bound - off, bound)
    assert not over(bound + off, bound, margin=2.0 * share)
