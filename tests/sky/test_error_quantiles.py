"""Measured departures: what the table says between its rows, and how hours hang together."""

from __future__ import annotations

from dataclasses import replace
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.sky.error_quantiles import (
    BRIGHTEST,
    DARKEST,
    ErrorQuantiles,
    correlated_normals,
    fit_departures,
    hour_correlation,
    measured_departures,
)

TABLE = measured_departures()


def test_a_bin_gives_back_its_own_quantiles() -> None:
    for row, foreseen in enumerate(TABLE.foreseen):
        assert TABLE.at(foreseen, TABLE.normal_levels) == pytest.approx(TABLE.measured[row])


def test_nothing_foreseen_gives_the_usual_sky() -> None:
    assert TABLE.at(np.nan, TABLE.normal_levels) == pytest.approx(TABLE.usual)


@given(st.floats(0.0, 1.5), st.floats(-5.0, 5.0), st.floats(-5.0, 5.0))
def test_more_luck_is_never_darker(foreseen: float, one: float, other: float) -> None:
    low, high = (float(TABLE.at(foreseen, z)) for z in sorted((one, other)))
    assert DARKEST <= low <= high <= BRIGHTEST


def test_departures_from_a_clear_forecast_reach_further_down_than_up() -> None:
    """Mathiesen and Kleissl 2011: models are too bright in cloud, hardly ever too dark."""
    low, middle, high = TABLE.at(0.95, [-1.2816, 0.0, 1.2816])
    assert middle - low > 5.0 * (high - middle)


def test_hours_depart_together_as_measured() -> None:
    """Correlations measured 1 to 7 hours apart at seven SURFRAD stations of 2018."""
    measured = [0.76, 0.63, 0.55, 0.49, 0.45, 0.43, 0.41]
    assert hour_correlation(np.arange(1.0, 8.0)) == pytest.approx(measured, abs=0.021)
    assert float(hour_correlation(0.0)) == 1.0
    assert float(hour_correlation(-3.0)) == float(hour_correlation(3.0))


def test_drawn_numbers_are_normal_and_correlated_as_asked() -> None:
    """Sampling error of a correlation of 20 000 pairs is at most 0.007; four of them."""
    at_h = np.array([0.0, 1.0, 2.0, 5.0, 8.0])
    drawn = correlated_normals(np.random.default_rng(7), at_h=at_h, skies=20_000)
    asked = hour_correlation(at_h[:, None] - at_h)
    assert np.corrcoef(drawn.T) == pytest.approx(asked, abs=0.03)
    assert drawn.mean(axis=0) == pytest.approx(0.0, abs=0.03)
    assert drawn.std(axis=0) == pytest.approx(1.0, abs=0.02)


def test_a_fit_finds_the_law_it_was_drawn_from() -> None:
    """A uniform law on 0.2 to 0.8 has its quantiles at 0.2 + 0.6 p, in every bin alike."""
    random = np.random.default_rng(11)
    foreseen, measured = random.uniform(0.0, 1.2, 100_000), random.uniform(0.2, 0.8, 100_000)
    table = fit_departures(foreseen, measured)
    expected = 0.2 + 0.6 * table.levels
    assert table.measured == pytest.approx(np.tile(expected, (7, 1)), abs=0.02)
    assert table.usual == pytest.approx(expected, abs=0.01)


def test_a_fit_leaves_out_what_is_not_known_and_refuses_an_empty_bin() -> None:
    with pytest.raises(ValueError, match=r"0\.5 to 1\.0"):
        fit_departures([0.1, 0.7, 0.2], [0.5, np.nan, 0.6], edges=(0.0, 0.5, 1.0))


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"usual": np.zeros(2)}, "2 quantiles"),
        ({"foreseen": TABLE.foreseen[::-1]}, "ascend"),
        ({"foreseen": TABLE.foreseen[:3]}, "shape"),
        ({"levels": np.linspace(0.0, 0.9, TABLE.levels.size)}, "between 0 and 1"),
    ],
)
def test_tables_that_make_no_sense_are_refused(changes: dict[str, np.ndarray], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        replace(TABLE, **changes)


def test_levels_are_quantiles_of_the_normal_law() -> None:
    shares = [NormalDist().cdf(float(z)) for z in TABLE.normal_levels]
    assert shares == pytest.approx(TABLE.levels.tolist())
    assert isinstance(TABLE, ErrorQuantiles)
