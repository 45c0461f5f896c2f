"""One moment of the sun without numpy: the same as the table's own interpolation."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.sky.moment import sun_between
from suntrack.sky.sun import SunTable, position_at

ROWS = st.lists(
    st.tuples(st.floats(-90.0, 90.0), st.floats(0.0, 359.9)), min_size=1, max_size=6
)  # fmt: skip


@given(rows=ROWS, at_s=st.floats(-500.0, 1500.0))
def test_it_is_what_the_table_says(rows: list[tuple[float, float]], at_s: float) -> None:
    rows_s = [120.0 * row for row in range(len(rows))]
    heights, bearings = ([row[i] for row in rows] for i in (0, 1))
    table = SunTable(
        at_s=np.array(rows_s), elevation_deg=np.array(heights), azimuth_deg=np.array(bearings)
    )
    found = sun_between(at_s, rows_s=rows_s, elevation_deg=heights, azimuth_deg=bearings)
    height_deg, bearing_deg = (float(value) for value in position_at(table, at_s))
    # As directions: near the zenith a bearing means little, and opposite rows have no middle.
    if abs(height_deg) < 89.9 and abs(found[0]) < 89.9:
        assert found[0] == pytest.approx(height_deg, abs=1e-6)
        around = (found[1] - bearing_deg + 180.0) % 360.0 - 180.0
        assert around * math.cos(math.radians(height_deg)) == pytest.approx(0.0, abs=1e-4)
    assert 0.0 <= found[1] < 360.0


def test_half_way_over_north_is_north() -> None:
    found = sun_between(60.0, rows_s=[0, 120], elevation_deg=[10, 10], azimuth_deg=[350, 10])
    assert found[1] == pytest.approx(0.0, abs=1e-9)
    # A chord runs under its arc: the middle of two directions 2a apart is higher by 1/cos a.
    assert math.tan(math.radians(found[0])) == pytest.approx(
        math.tan(math.radians(10.0)) / math.cos(math.radians(10.0)), rel=1e-12
    )
