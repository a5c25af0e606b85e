"""The weight of a salt that two tanks share is never cut: where both do not fit, their sum stands there."""

import pytest

from app.surfaces.design.salt_lines import salt_lines
from core.plan import plan
from tests.helpers.recipes import PLAIN, SIX, recipe


def test_a_shared_salt_tells_each_weight_and_their_sum():
    tanks = {"count": 2, "ratio": 200, "temperature_c": 12, "coldest_c": 5}
    made = recipe(SIX | {"N": 220.0, "K": 300.0}, PLAIN, tanks=tanks)
    planned = plan(made)
    shared = {amount.entry_id for amount in planned.amounts if len(amount.shares) > 1}
    assert shared
    for line in salt_lines(made, planned):
        if line.entry_id in shared:
            each = [float(part) for part in line.weight.replace(" g", "").split(" + ")]
            assert len(each) == 2
            assert float(line.total.removeprefix("Σ ").removesuffix(" g")) == pytest.approx(sum(each), rel=1e-3)
        else:
            assert line.total == ""
