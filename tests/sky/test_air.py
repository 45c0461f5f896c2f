"""The air of an ordinary day: between its limits, without jumps, warmest after noon."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from suntrack.sky.air import air_of, typical_air_c
from suntrack.sky.site import TypicalAir

MONTHS = tuple(TypicalAir(low_c=5.0 + i, high_c=20.0 + i) for i in range(12))
HOUR_S = 3600.0
DAY = {"sunrise_s": 6.0 * HOUR_S, "noon_s": 12.0 * HOUR_S, "sunset_s": 18.0 * HOUR_S}


@settings(deadline=None)
@given(
    low=st.floats(-10.0, 20.0), span=st.floats(0.0, 25.0), hour=st.floats(-12.0, 36.0),
    half_day=st.floats(0.5, 11.9), off=st.floats(-0.2, 0.2),
)  # fmt: skip
def test_air_stays_between_low_and_high(
    low: float, span: float, hour: float, half_day: float, off: float
) -> None:
    air_c = float(
        typical_air_c(
            hour * HOUR_S,
            low_c=low,
            high_c=low + span,
            sunrise_s=(12.0 - half_day) * HOUR_S,
            noon_s=(12.0 + off) * HOUR_S,
            sunset_s=(12.0 + half_day) * HOUR_S,
        )
    )
    assert low - 1e-9 <= air_c <= low + span + 1e-9


def test_air_is_coolest_at_sunrise_and_warmest_two_hours_after_noon() -> None:
    """Common practice, no source: the warmest air comes about two hours after solar noon."""
    hours = np.arange(0.0, 24.0, 0.1)
    air_c = typical_air_c(hours * HOUR_S, low_c=10.0, high_c=30.0, **DAY)
    assert hours[air_c.argmin()] == pytest.approx(6.0, abs=0.15)
    assert hours[air_c.argmax()] == pytest.approx(14.0, abs=0.5)
    assert air_c.max() == pytest.approx(30.0, abs=0.05)
    assert air_c.min() == pytest.approx(10.0, abs=0.05)


def test_air_never_jumps() -> None:
    """Limit: a fortieth of an hour moves it by well under a tenth of its span."""
    hours = np.arange(0.0, 24.0, 0.025)
    air_c = typical_air_c(hours * HOUR_S, low_c=10.0, high_c=30.0, **DAY)
    assert np.abs(np.diff(air_c)).max() < 0.15


def test_the_night_before_and_the_night_after_are_the_same_curve() -> None:
    """Identity: with equal days, an hour before sunrise is 25 hours before the next one."""
    before, after = typical_air_c([5 * HOUR_S, 29 * HOUR_S], low_c=10.0, high_c=30.0, **DAY)
    assert before == pytest.approx(after)


def test_shape_is_kept_and_nan_stays_nan() -> None:
    air_c = typical_air_c([[0.0, np.nan]], low_c=10.0, high_c=30.0, **DAY)
    assert air_c.shape == (1, 2)
    assert np.isnan(air_c).tolist() == [[False, True]]


def test_a_noon_outside_the_day_is_refused() -> None:
    with pytest.raises(ValueError, match="noon_s"):
        typical_air_c(0.0, low_c=1.0, high_c=2.0, sunrise_s=0.0, noon_s=9.0, sunset_s=5.0)


def test_the_middle_of_a_month_has_its_own_air() -> None:
    low_c, high_c, wind_m_s = air_of(MONTHS, date(2026, 6, 16))
    assert (low_c, high_c) == pytest.approx((10.0, 25.0), abs=0.1)
    assert wind_m_s == 2.0


def test_the_months_run_into_each_other_over_new_year() -> None:
    """Halfway between the middles of December (16) and January (5) lies their mean."""
    low_c, _, _ = air_of(MONTHS, date(2026, 1, 1))
    assert low_c == pytest.approx(10.5, abs=0.3)
