"""Gusts and rain in a forecast: stretches, limits, and what is not known."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.sky.forecast import Forecast
from suntrack.sky.wind_rain import GUSTY_M_S, RAINY, guards_of

HOURS = 12


def forecast(**fields: object) -> Forecast:
    starts_s = 3600.0 * np.arange(HOURS, dtype=np.float64)
    return Forecast(
        feed="made up",
        kind="radiation",
        starts_at_s=starts_s,
        ends_at_s=starts_s + 3600.0,
        fetched_at=datetime(2026, 11, 25, tzinfo=UTC),
        **fields,  # type: ignore[arg-type]
    )


def row(*hours: int, value: float) -> np.ndarray:
    values = np.zeros((1, HOURS))
    values[0, list(hours)] = value
    return values


def test_the_gust_limit_is_force_6_of_the_beaufort_scale() -> None:
    """WMO: strong breeze, 39 to 49 km/h, which is 10.8 to 13.8 m/s (from memory)."""
    assert pytest.approx(39.0 / 3.6, abs=0.1) == GUSTY_M_S


def test_neighbours_are_one_stretch_with_the_most_of_it() -> None:
    gusts = row(3, 4, value=12.0) + row(5, value=15.0) + row(8, value=20.0)
    found = guards_of(forecast(gust_m_s=gusts), starts_s=0.0, ends_s=HOURS * 3600.0)
    assert [(g.starts_at_s / 3600, g.ends_at_s / 3600, g.most) for g in found] == [
        (3, 6, 15.0),
        (8, 9, 20.0),
    ]


def test_stretches_are_cut_to_the_span() -> None:
    (found,) = guards_of(
        forecast(rain_chance=row(2, 3, value=0.9)), starts_s=9000.0, ends_s=12000.0
    )
    assert (found.kind, found.starts_at_s, found.ends_at_s) == ("rain", 9000.0, 12000.0)


@pytest.mark.parametrize("fields", [{}, {"gust_m_s": np.full((1, HOURS), np.nan)}])
def test_what_is_not_known_makes_no_guard(fields: dict[str, np.ndarray]) -> None:
    assert guards_of(forecast(**fields), starts_s=0.0, ends_s=1e5) == ()


def test_members_are_asked_for_a_strong_one_and_for_the_mean_chance() -> None:
    gusts, rain = np.zeros((10, HOURS)), np.zeros((10, HOURS))
    gusts[:2, 4], rain[:5, 4] = 16.0, 1.0
    found = guards_of(forecast(gust_m_s=gusts, rain_chance=rain), starts_s=0.0, ends_s=1e5)
    assert [(guard.kind, guard.most) for guard in found] == [("gust", 16.0), ("rain", 0.5)]


@given(st.lists(st.floats(0.0, 1.0), min_size=HOURS, max_size=HOURS))
def test_every_rainy_hour_lies_in_one_guard_and_no_dry_one_does(chances: list[float]) -> None:
    found = guards_of(forecast(rain_chance=np.array([chances])), starts_s=0.0, ends_s=1e5)
    for hour, chance in enumerate(chances):
        middle_s = 3600.0 * (hour + 0.5)
        inside = sum(guard.starts_at_s < middle_s < guard.ends_at_s for guard in found)
        assert inside == (chance >= RAINY)
