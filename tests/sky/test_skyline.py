"""The skyline by cases a cook would recognise."""

from __future__ import annotations

import numpy as np
import pytest

from suntrack.sky.skyline import Skyline

HOUSE = Skyline(azimuth_deg=(80.0, 100.0), height_deg=(30.0, 10.0))


@pytest.mark.parametrize(("azimuth", "height"), [(80, 30), (90, 20), (100, 10), (270, 20)])
def test_height_runs_straight_between_points_and_round_by_north(
    azimuth: float, height: float
) -> None:
    assert float(HOUSE.height_at(azimuth)) == pytest.approx(height)


def test_an_open_horizon_hides_nothing() -> None:
    assert Skyline().height_at([0.0, 123.0]).tolist() == [0.0, 0.0]
    assert Skyline().sky_share() == pytest.approx(1.0)


@pytest.mark.parametrize("height", [0.0, 15.0, 45.0, 90.0])
def test_an_even_wall_all_around_leaves_the_closed_form_share(height: float) -> None:
    """For a wall of height h all around, the even sky's share is cos^2 h (closed form)."""
    ring = Skyline(azimuth_deg=(0.0, 180.0), height_deg=(height, height))
    assert ring.sky_share() == pytest.approx(np.cos(np.radians(height)) ** 2)


def test_a_wall_may_stand_on_north_itself() -> None:
    """Points at 0 and at 360 are two ends of one line, even where their heights differ."""
    hill = Skyline(azimuth_deg=(0.0, 90.0, 360.0), height_deg=(10.0, 0.0, 20.0))
    assert hill.height_at([45.0, 225.0, 359.0, 1.0]) == pytest.approx(
        [5.0, 10.0, 20.0 - 20.0 / 270.0, 10.0 - 10.0 / 90.0]
    )


def test_one_point_is_a_ring_and_bearings_may_run_past_north() -> None:
    ring = Skyline(azimuth_deg=(123.0,), height_deg=(7.0,))
    assert ring.height_at([0.0, 123.0, 400.0, -30.0]).tolist() == [7.0] * 4
    assert HOUSE.height_at([450.0, -270.0]) == pytest.approx([20.0, 20.0])


def test_shape_is_kept_and_nan_stays_nan() -> None:
    for skyline in (HOUSE, Skyline()):
        height = skyline.height_at([[90.0, np.nan]])
        assert height.shape == (1, 2)
        assert np.isnan(height).tolist() == [[False, True]]


def test_half_a_ring_leaves_half_of_what_a_ring_takes() -> None:
    """Closed form: a wall of 45 degrees over half the round takes a quarter of the light."""
    half = Skyline(azimuth_deg=(0.0, 180.0, 180.001, 359.999), height_deg=(45.0, 45.0, 0.0, 0.0))
    assert half.sky_share() == pytest.approx(0.75, abs=0.003)


@pytest.mark.parametrize(
    ("azimuth", "height", "said"),
    [
        ((10.0, 20.0), (5.0,), "needs one"),
        ((20.0, 10.0), (5.0, 5.0), "rise"),
        ((20.0, 20.0), (5.0, 6.0), "rise"),
        ((-5.0,), (5.0,), "0 to 360"),
        ((5.0,), (95.0,), "-90 to 90"),
        ((5.0,), (float("nan"),), "-90 to 90"),
    ],
)
def test_points_that_cannot_be_a_skyline_are_refused(
    azimuth: tuple[float, ...], height: tuple[float, ...], said: str
) -> None:
    with pytest.raises(ValueError, match=said):
        Skyline(azimuth_deg=azimuth, height_deg=height)
