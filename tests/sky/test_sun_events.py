"""Rising, setting and noon against printed times, a second library, and days without any."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from suntrack.sky.skyline import Skyline
from suntrack.sky.sun import SunTable, day_grid, position_at, sun_events, sun_table

GOLDEN = {"latitude_deg": 39.742476, "longitude_deg": -105.1786, "elevation_m": 1830.14}
DETROIT = {"latitude_deg": 42.331429, "longitude_deg": -83.045753, "elevation_m": 191.0}


def table_of(
    on: date,
    zone: str,
    *,
    latitude_deg: float,
    longitude_deg: float,
    elevation_m: float = 0.0,
    step_s: float = 120.0,
) -> SunTable:
    return sun_table(
        day_grid(on, ZoneInfo(zone), step_s=step_s),
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        elevation_m=elevation_m,
    )


@pytest.mark.parametrize(
    ("place", "on", "zone", "rises_s", "noon_s", "sets_s"),
    [
        # Reda and Andreas, NREL/TP-560-34302, appendix A.5: 06:12:43, 11:46:05, 17:20:19
        # (from memory, recomputed with pvlib).
        (GOLDEN, date(2003, 10, 17), "Etc/GMT+7", 22363.0, 42365.0, 62419.0),
        # pub.dev/packages/spa (found): 5.99465 h, 13.60424 h, 21.21273 h.
        (DETROIT, date(2019, 7, 2), "Etc/GMT+4", 21580.7, 48975.3, 76365.8),
    ],
)
def test_printed_rising_noon_and_setting(
    place: dict[str, float], on: date, zone: str, rises_s: float, noon_s: float, sets_s: float
) -> None:
    """Within 10 seconds, of which straight lines between rows two minutes apart take most.

    The printed setting is that of the UTC date, which at these longitudes is the local
    evening before.  Noon is printed as the passage of the meridian; the sun stands highest
    up to 15 seconds before or after, because the season lifts or lowers it meanwhile.
    """
    today = sun_events(table_of(on, zone, **place))
    evening = sun_events(table_of(on - timedelta(days=1), zone, **place))
    midnight_s = datetime.combine(on, datetime.min.time(), ZoneInfo(zone)).timestamp()
    assert today.rises_at_s is not None
    assert evening.sets_at_s is not None
    assert today.rises_at_s - midnight_s == pytest.approx(rises_s, abs=10.0)
    assert today.noon_at_s - midnight_s == pytest.approx(noon_s, abs=20.0)
    assert evening.sets_at_s + 86400.0 - midnight_s == pytest.approx(sets_s, abs=10.0)


def test_noon_of_the_handbook_february() -> None:
    """Duffie and Beckman example 1.5.1 (found, transtutors): Madison, 89.4 W, 3 February.

    Equation of time -13.5 minutes: noon at 12:00 - 2.4 + 13.5 = 12:11.1 central time, to
    0.1 minutes; half a minute more for the year and for the meridian against the peak.
    """
    table = table_of(date(2026, 2, 3), "Etc/GMT+6", latitude_deg=43.07, longitude_deg=-89.4)
    noon_s = sun_events(table).noon_at_s - table.at_s[0]
    assert noon_s / 60.0 == pytest.approx(12 * 60 + 11.1, abs=0.6)


def test_day_length_of_the_handbook_june() -> None:
    """14.83 h at 40 N on 15 June (found, briangwilliams.us/solar-energy/example-aiw).

    That is from centre to centre of the sun on a horizon without air.  Ours has air: 0.48
    degrees of refraction, at 15 cos(40) sin(58) degrees an hour, add 0.05 h at either end.
    """
    table = table_of(date(2026, 6, 15), "Etc/GMT", latitude_deg=40.0, longitude_deg=0.0)
    up_h = (table.elevation_deg > 0.0).sum() * 120.0 / 3600.0
    assert up_h == pytest.approx(14.83 + 2 * 0.05, abs=0.05)


@pytest.mark.parametrize("on", [date(2026, 6, 21), date(2026, 12, 21)])
def test_every_city_has_its_times_as_a_second_library_has_them(on: date) -> None:
    """Astral (NOAA equations) in its own 386 cities: within a minute where it answers.

    It raises where the event falls near midnight UTC; we must not.  Three of its cities
    have the wrong sign of longitude, and are far from their own clock: left out.
    """
    from astral import Observer
    from astral.geocoder import all_locations, database
    from astral.sun import sun

    compared = 0
    for city in all_locations(database()):
        zone = ZoneInfo(city.timezone)
        place = {"latitude_deg": city.latitude, "longitude_deg": city.longitude}
        table = table_of(on, city.timezone, **place, step_s=300.0)
        events = sun_events(table)
        noon = datetime.fromtimestamp(events.noon_at_s, tz=zone)
        if abs(noon.hour + noon.minute / 60.0 - 12.5) > 4.0 or abs(city.latitude) > 65.0:
            continue
        assert events.rises_at_s is not None, city.name
        assert events.rises_at_s < events.noon_at_s
        try:
            other = sun(Observer(city.latitude, city.longitude, 0.0), on, tzinfo=zone)
        except ValueError:
            continue
        compared += 1
        assert events.rises_at_s == pytest.approx(other["sunrise"].timestamp(), abs=60.0), city.name
        if events.sets_at_s is not None:
            sets_s = other["sunset"].timestamp()
            assert events.sets_at_s == pytest.approx(sets_s, abs=60.0), city.name
    assert compared > 360


def test_sunrise_where_the_second_library_gives_up() -> None:
    """Delhi, 17 May 2026: a known hole near 00:00 UTC; the table does not care.

    The library's own heights, which have no hole, put the sun at 0.833 degrees under the
    horizon then (almanac convention); its neighbours bracket it by under two minutes.
    """
    from astral import Observer
    from astral.sun import elevation

    rises = []
    for day in (16, 17, 18):
        table = table_of(date(2026, 5, day), "Asia/Kolkata", latitude_deg=28.65, longitude_deg=77.2)
        at_s = sun_events(table).rises_at_s
        assert at_s is not None
        rises.append(at_s - day * 86400.0)
        true_deg = elevation(
            Observer(28.65, 77.2, 0.0),
            datetime.fromtimestamp(at_s, tz=UTC),
            with_refraction=False,
        )
        assert true_deg == pytest.approx(-0.833, abs=0.05)
    assert rises[0] > rises[1] > rises[2]
    assert rises[0] - rises[2] < 120.0


@pytest.mark.parametrize(("month", "up"), [(6, True), (12, False)])
@pytest.mark.parametrize(
    ("zone", "latitude_deg", "longitude_deg"),
    [("Europe/Oslo", 69.65, 18.96), ("Arctic/Longyearbyen", 78.2, 15.6), ("UTC", 90.0, 0.0)],
)
def test_polar_days_have_no_rising_and_no_error(
    zone: str, latitude_deg: float, longitude_deg: float, month: int, up: bool
) -> None:
    table = table_of(
        date(2026, month, 21), zone, latitude_deg=latitude_deg, longitude_deg=longitude_deg
    )
    events = sun_events(table)
    assert events.rises_at_s is None
    assert events.sets_at_s is None
    assert bool(table.elevation_deg.max() > 0) is up
    assert table.at_s[0] <= events.noon_at_s <= table.at_s[-1]


def test_an_evening_after_midnight_belongs_to_the_day_before() -> None:
    """Reykjavik, 21 June: rises 02:55, sets 00:03 of the 22nd (as printed, from memory).

    The sun that is still up as the 21st begins is the evening of the 20th.
    """
    zone = ZoneInfo("Atlantic/Reykjavik")
    table = table_of(
        date(2026, 6, 21), "Atlantic/Reykjavik", latitude_deg=64.15, longitude_deg=-21.94
    )
    events = sun_events(table)
    assert table.elevation_deg[0] > -0.2667
    assert events.sets_at_s is None
    assert events.rises_at_s is not None
    rises = datetime.fromtimestamp(events.rises_at_s, tz=zone)
    assert (rises.hour, rises.minute) == (2, 55)


def test_a_wall_in_the_east_makes_the_day_start_later() -> None:
    table = table_of(date(2026, 11, 25), "Africa/Gaborone", latitude_deg=-24.65, longitude_deg=25.9)
    wall = Skyline(azimuth_deg=(60.0, 80.0, 140.0, 160.0), height_deg=(0.0, 30.0, 30.0, 0.0))
    free, walled = sun_events(table), sun_events(table, skyline=wall)
    assert free.rises_at_s is not None
    assert walled.rises_at_s is not None
    height, _ = position_at(table, walled.rises_at_s)
    assert float(height) == pytest.approx(30.0, abs=0.1)
    assert walled.rises_at_s > free.rises_at_s
    assert walled.sets_at_s == free.sets_at_s


def test_a_tree_at_midday_neither_begins_nor_ends_the_day() -> None:
    """The sun is hidden for a while around noon and comes out again on the other side."""
    table = table_of(date(2026, 6, 21), "Africa/Gaborone", latitude_deg=-24.65, longitude_deg=25.9)
    tree = Skyline(azimuth_deg=(10.0, 12.0, 348.0, 350.0), height_deg=(60.0, 0.0, 0.0, 60.0))
    free, behind = sun_events(table), sun_events(table, skyline=tree)
    noon_height, noon_azimuth = position_at(table, free.noon_at_s)
    assert float(noon_height) < float(tree.height_at(noon_azimuth))
    assert (behind.rises_at_s, behind.sets_at_s) == (free.rises_at_s, free.sets_at_s)


def test_behind_walls_all_around_the_sun_never_comes() -> None:
    table = table_of(date(2026, 6, 21), "Africa/Gaborone", latitude_deg=-24.65, longitude_deg=25.9)
    shaft = Skyline(azimuth_deg=(0.0,), height_deg=(60.0,))
    events = sun_events(table, skyline=shaft)
    assert events.rises_at_s is None
    assert events.sets_at_s is None
    assert events.noon_at_s == sun_events(table).noon_at_s


@settings(deadline=None)
@given(
    height_deg=st.floats(0.5, 25.0), azimuth_deg=st.floats(0.0, 359.0), width_deg=st.floats(1, 300)
)
def test_no_skyline_makes_a_day_longer(
    height_deg: float, azimuth_deg: float, width_deg: float
) -> None:
    """The real table of one day; any wall in any direction."""
    ends = sorted((azimuth_deg, (azimuth_deg + width_deg) % 360.0))
    if ends[0] == ends[1]:
        return
    wall = Skyline(azimuth_deg=(ends[0], ends[1]), height_deg=(height_deg, 0.0))
    free, walled = sun_events(DAY), sun_events(DAY, skyline=wall)
    assert free.rises_at_s is not None
    assert free.sets_at_s is not None
    assert walled.rises_at_s is None or walled.rises_at_s >= free.rises_at_s
    assert walled.sets_at_s is None or walled.sets_at_s <= free.sets_at_s


DAY = table_of(
    date(2026, 11, 25), "Africa/Gaborone", latitude_deg=-24.65, longitude_deg=25.91, step_s=300.0
)


def test_noon_lies_between_rows_where_a_parabola_says() -> None:
    """Closed form: heights 80 - (t - 37)^2 / 1000 at t = 0, 60, 120 peak at 37 s."""
    at_s = np.array([-60.0, 0.0, 60.0, 120.0])
    table = SunTable(
        at_s=at_s,
        elevation_deg=80.0 - (at_s - 37.0) ** 2 / 1000.0,
        azimuth_deg=np.array([170.0, 175.0, 185.0, 190.0]),
    )
    assert sun_events(table).noon_at_s == pytest.approx(37.0)
