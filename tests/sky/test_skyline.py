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
