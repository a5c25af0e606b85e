"""A meter's own factor, and readings without temperature compensation."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.bench.meter import (
    Meter,
    NoSuchReading,
    check_reading,
    compensated_ms_per_cm,
    meter_factor,
    uncompensated_ms_per_cm,
)
from core.chemistry import OutOfRange


def test_nothing_learned_changes_nothing() -> None:
    learned = meter_factor([])
    assert (learned.factor, learned.readings, learned.trust) == (1.0, 0, "none")


def test_one_bad_reading_of_three_changes_little() -> None:
    learned = meter_factor([(2.06, 2.0), (1.55, 1.5), (3.9, 2.0)])
    assert learned.factor == pytest.approx(1.55 / 1.5)
    assert learned.trust == "good"


@pytest.mark.parametrize(
    ("pairs", "trust"),
    [
        ([(1.02, 1.0)], "few"),
        ([(1.02, 1.0), (1.01, 1.0)], "few"),
        ([(1.02, 1.0), (2.05, 2.0), (1.54, 1.5)], "good"),
        ([(0.9, 1.0), (1.0, 1.0), (1.1, 1.0)], "scattered"),
        ([(2.0, 1.0), (4.1, 2.0), (3.1, 1.5)], "doubtful"),
        ([(0.0, 1.0), (1.0, 0.0)], "none"),
    ],
)
def test_how_far_to_trust_it(pairs: list[tuple[float, float]], trust: str) -> None:
    assert meter_factor(pairs).trust == trust


@given(
    st.floats(0.86, 1.14), st.lists(st.floats(0.2, 5.0), min_size=3, max_size=12), st.floats(0.3, 20.0), st.booleans()
)
def test_a_true_factor_is_found_whatever_a_minority_says(
    factor: float, forecasts: list[float], wrong: float, spoil: bool
) -> None:
    pairs = [(factor * ec, ec) for ec in forecasts]
    if spoil:
        pairs[: (len(pairs) - 1) // 2] = [(wrong * ec, ec) for _, ec in pairs[: (len(pairs) - 1) // 2]]
    assert meter_factor(pairs).factor == pytest.approx(factor)


@pytest.mark.parametrize(
    ("scheme", "temperature_c", "shown"), [("linear", 15.0, 1.62), ("linear", 25.0, 2.0), ("iso-7888", 15.0, 1.592)]
)
def test_without_compensation(scheme: str, temperature_c: float, shown: float) -> None:
    """2.00 mS/cm at 25 degC; ISO 7888:1985 gives f25 1.256 at 15 degC."""
    assert uncompensated_ms_per_cm(2.0, temperature_c, scheme) == pytest.approx(shown, rel=2e-3)  # type: ignore[arg-type]


@given(st.floats(0.1, 5.0), st.floats(0.0, 35.0), st.sampled_from(["linear", "iso-7888"]))
def test_there_and_back(ec: float, temperature_c: float, scheme: str) -> None:
    shown = uncompensated_ms_per_cm(ec, temperature_c, scheme)  # type: ignore[arg-type]
    assert compensated_ms_per_cm(shown, temperature_c, scheme) == pytest.approx(ec)  # type: ignore[arg-type]


def test_out_of_range_is_said() -> None:
    with pytest.raises(OutOfRange):
        uncompensated_ms_per_cm(1.0, 36.0, "iso-7888")


@pytest.mark.parametrize(
    ("unit", "shown"), [("mS/cm", 1.3), ("µS/cm", 1300.0), ("CF", 13.0), ("ppm-500", 650.0), ("ppm-700", 910.0)]
)
def test_a_meter_on_its_own_scale(unit: str, shown: float) -> None:
    meter = Meter(unit)
    assert meter.ms_per_cm(shown) == pytest.approx(1.3)
    assert meter.shows(1.3) == pytest.approx(shown)


def test_a_meter_that_does_not_compensate_shows_less_in_the_cold() -> None:
    meter = Meter("ppm-700", compensates=False, temperature_c=15.0)
    assert meter.shows(2.0) == pytest.approx(1.62 * 700)
    assert meter.ms_per_cm(1.62 * 700) == pytest.approx(2.0)
    assert meter.to_25_c(meter.from_25_c(1.1)) == pytest.approx(1.1)


@pytest.mark.parametrize(
    ("ec", "unit", "said"),
    [
        (480.0, "mS/cm", "No feed reads 480 mS/cm, 20 mS/cm is the most: did you mean 480 µS/cm?"),
        (24.0, "mS/cm", "No feed reads 24 mS/cm, 20 mS/cm is the most: did you mean 24 CF?"),
        (24.0, "CF", "No feed reads 240 CF, 20 mS/cm is the most: did you mean 240 µS/cm?"),
        (480.0, "µS/cm", "No feed reads 480000 µS/cm, 20 mS/cm is the most: look at the number and its scale."),
    ],
)
def test_what_no_feed_reads_is_asked_back(ec: float, unit: str, said: str) -> None:
    with pytest.raises(NoSuchReading) as caught:
        check_reading(ec, unit)
    assert str(caught.value) == said
    check_reading(20.0, unit)
