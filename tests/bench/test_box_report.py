"""The sheet of a real config's box: what has to hold whatever the numbers are."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from suntrack.bench.box_report import BoxSheet, SheetInputs, box_sheet
from suntrack.bench.hinge import rays_at, span_light
from suntrack.bench.simulated_tests import standstill
from suntrack.box.build import Layer, Mirror
from suntrack.box.heat.network import thermal
from suntrack.box.light.gain import box_light
from suntrack.box.light.mirror import best_fixed_mirror_deg
from suntrack.config.reader import load_config
from suntrack.sky.clear_sky import clear_sky, clear_weather
from suntrack.sky.site import Site
from suntrack.sky.skyline import Skyline
from suntrack.sky.sun import SunTable, day_grid, sun_table

EXAMPLE = Path(__file__).parents[2] / "config" / "suntrack.toml"
DAY = date(2026, 11, 25)
STEP_S = 600.0


def suns(site: Site, days: list[date]) -> SunTable:
    grids = [day_grid(day, site.zone, step_s=STEP_S) + STEP_S / 2.0 for day in days]
    return sun_table(
        np.concatenate(grids),
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        elevation_m=site.elevation_m,
    )


def inputs_of(*, on: date = DAY, days: int = 3, at: datetime | None = None) -> SheetInputs:
    config = load_config(EXAMPLE)
    site = config.site
    sun = suns(site, [on])
    span = suns(site, [on + timedelta(days=i) for i in range(days)])
    return SheetInputs(
        date=on,
        at=at,
        site=site,
        box=config.box,
        pots=config.pots,
        sun=sun,
        weather=clear_weather(sun, site=site, step_s=STEP_S, on=on),
        span_sun=span,
        span_sky=clear_sky(span, site=site),
        span_days=days,
        first_day_ends_s=float(sun.at_s[-1] + STEP_S / 2.0),
    )


@pytest.fixture(scope="module")
def inputs() -> SheetInputs:
    site = load_config(EXAMPLE).site
    return inputs_of(at=datetime(2026, 11, 25, 9, 0, tzinfo=site.zone))


def sheet_of(inputs: SheetInputs, **changes: Any) -> BoxSheet:
    """Return the sheet, with some of the inputs changed."""
    sheet = box_sheet(replace(inputs, **changes))
    assert sheet is not None
    return sheet


@pytest.fixture(scope="module")
def sheet(inputs: SheetInputs) -> BoxSheet:
    return sheet_of(inputs)


def test_the_shares_of_the_losses_sum_to_one(sheet: BoxSheet) -> None:
    for still in (sheet.used, sheet.bare, sheet.hottest.still):
        assert sum(still.shares.values()) == pytest.approx(1.0)
        assert all(0.0 <= share <= 1.0 for share in still.shares.values())


def test_first_figure_is_the_standstill_without_the_mirror(sheet: BoxSheet) -> None:
    """F1 = (T_lining - T_air) / H, IS 13429 (memory); the mirror is not used."""
    expected = (sheet.bare.lining_c - sheet.sun.air_c) / sheet.sun.level_w_m2
    assert sheet.figures.f1_k_m2_w == pytest.approx(expected)


def test_more_light_is_hotter(sheet: BoxSheet) -> None:
    """Without a mirror, with it, and in the strongest light of the span without wind."""
    assert sheet.bare.lining_c < sheet.used.lining_c < sheet.hottest.still.lining_c
    assert sheet.sun.level_w_m2 == pytest.approx(800.0)


def test_a_fixed_mirror_keeps_less_than_a_set_one_and_more_than_none(sheet: BoxSheet) -> None:
    hinge = sheet.hinge
    assert hinge is not None
    for fixed in (hinge.day, hinge.span):
        assert hinge.without < fixed.light_kept < 1.0
        assert 60.0 <= fixed.mirror_deg <= 130.0
    assert hinge.built is None


def test_the_noon_of_late_november_wants_the_mirror_that_the_geometry_says(
    sheet: BoxSheet,
) -> None:
    """Glass 42 cm, mirror 44 cm, hinge 1 cm behind: near psi = 60 + 2a/3, 117.4 degrees.

    The sun of Gaborone stands 86 high at noon (latitude -24.65, declination -20.8, memory).
    """
    assert sheet.sun.elevation_deg == pytest.approx(86.1, abs=0.3)
    assert sheet.hinge is not None
    assert sheet.hinge.noon_deg == pytest.approx(60.0 + 2.0 * 86.1 / 3.0, abs=2.0)
    assert sheet.hinge.now_deg is not None
    # At nine the sun is lower, and the mirror is folded further over.
    assert sheet.hinge.now_deg < sheet.hinge.noon_deg


def test_the_fixed_angle_is_near_that_of_plain_geometry(inputs: SheetInputs) -> None:
    """Areas square to the beam, weighed by the beam: glass and sky move it by a few degrees."""
    box = replace(inputs.box, front=None)
    found = sheet_of(inputs, box=box).hinge
    assert found is not None
    sun, sky = inputs.span_sun, inputs.span_sky
    seen = sun.elevation_deg > np.maximum(inputs.site.skyline.height_at(sun.azimuth_deg), 0.0)
    plain = best_fixed_mirror_deg(
        sun_elevation_deg=sun.elevation_deg,
        sun_offset_deg=0.0,
        weight=sky.beam_normal_w_m2 * seen,
        lowest_deg=60.0,
        highest_deg=130.0,
        top_length_m=0.42,
        top_width_m=0.56,
        mirror_length_m=0.44,
        mirror_width_m=0.60,
        hinge_gap_m=0.01,
    )
    assert found.span.mirror_deg == pytest.approx(plain, abs=4.0)


def test_a_mirror_that_is_fixed_is_measured_as_built(inputs: SheetInputs) -> None:
    mirror = Mirror(length_m=0.44, width_m=0.6, fixed_angle_deg=100.5)
    fixed = sheet_of(inputs, box=replace(inputs.box, mirror=mirror))
    assert fixed.mirror_deg == 100.5
    assert fixed.hinge is not None
    assert fixed.hinge.built is not None
    assert fixed.hinge.built.mirror_deg == 100.5
    assert fixed.hinge.built.light_kept <= fixed.hinge.span.light_kept
    free = sheet_of(inputs)
    # What would be best does not depend on where it was fixed.
    assert free.hinge is not None
    assert fixed.hinge.noon_deg == free.hinge.noon_deg
    # Its hottest moment is with the mirror where it is, not where it would be best.
    assert fixed.hottest.still.lining_c < free.hottest.still.lining_c


def test_the_angle_of_the_day_is_that_of_a_span_of_one_day(sheet: BoxSheet) -> None:
    alone = box_sheet(inputs_of(days=1))
    assert alone is not None
    assert alone.hinge is not None
    assert sheet.hinge is not None
    assert sheet.hinge.day.light_kept == pytest.approx(alone.hinge.span.light_kept, abs=1e-12)
    assert sheet.hinge.day.mirror_deg == alone.hinge.span.mirror_deg
    assert sheet.hinge.day.light_kept != sheet.hinge.span.light_kept


def test_where_walls_hide_the_low_sun_the_mirror_leans_further_back(
    inputs: SheetInputs, sheet: BoxSheet
) -> None:
    """Only suns more than 50 high are left, whose best angles begin at 93 (60 + 2a/3)."""
    ring = Skyline(azimuth_deg=(0.0, 180.0), height_deg=(50.0, 50.0))
    walled = sheet_of(inputs, site=replace(inputs.site, skyline=ring)).hinge
    assert walled is not None
    assert sheet.hinge is not None
    assert walled.span.mirror_deg >= 93.0 > sheet.hinge.span.mirror_deg


def test_the_hottest_box_stands_in_still_air(inputs: SheetInputs, sheet: BoxSheet) -> None:
    """The same light in a breeze leaves it cooler, in air as warm as this month gets."""
    span = span_light(
        inputs.box,
        inputs.site,
        sun=inputs.span_sun,
        sky=inputs.span_sky,
        first_day_ends_s=inputs.first_day_ends_s,
    )
    step, mirror_deg = span.brightest(inputs.box)
    rays = rays_at(span, step)
    light = box_light(inputs.box, **rays, face_deg=rays["sun_azimuth_deg"], mirror_deg=mirror_deg)
    breeze = standstill(
        thermal(inputs.box), light=light, air_c=sheet.hottest.outdoors_c, wind_m_s=0.5
    )
    assert breeze.lining_c < sheet.hottest.still.lining_c
    assert float(light.inside_w[0]) == pytest.approx(float(span.inside_w.max()))
    assert 31.0 < sheet.hottest.outdoors_c < 32.0


def test_without_a_mirror_there_is_none_to_set(inputs: SheetInputs) -> None:
    bare = sheet_of(inputs, box=replace(inputs.box, mirror=None))
    assert (bare.hinge, bare.mirror_deg) == (None, None)
    assert bare.used == bare.bare
    assert "glare" not in bare.cautions


def test_a_solid_front_loses_nothing_through_glass(inputs: SheetInputs) -> None:
    solid = sheet_of(inputs, box=replace(inputs.box, front=None))
    assert solid.used.front_panes_c is None
    assert solid.used.lost_w["front"] == 0.0


@pytest.mark.parametrize(("hour", "minute"), [(3, 0), (5, 40), (22, 0)])
def test_in_the_dark_and_behind_the_roof_there_is_no_mirror_for_now(
    inputs: SheetInputs, hour: int, minute: int
) -> None:
    """The neighbour's roof stands 14 degrees high in the east; the sun is up by 5:20 or so."""
    at = datetime(2026, 11, 25, hour, minute, tzinfo=inputs.site.zone)
    hinge = sheet_of(inputs, at=at).hinge
    assert hinge is not None
    assert hinge.now_deg is None


def test_another_day_has_no_now(inputs: SheetInputs) -> None:
    hinge = sheet_of(inputs, at=None).hinge
    assert hinge is not None
    assert hinge.now_deg is None


def test_a_hot_box_of_plywood_is_warned_of(inputs: SheetInputs) -> None:
    """Wood should stay below 100 C for long (FPL Wood Handbook, memory)."""
    inner = Layer(material="plywood", thickness_m=0.006)
    wooden = sheet_of(inputs, box=replace(inputs.box, walls=(inner, *inputs.box.walls)))
    named = {(part.kind, part.part) for part in wooden.hottest.too_hot}
    assert ("layer", "plywood") in named
    assert ("layer", "mineral wool") not in named


def test_the_example_keeps_wood_from_the_heat_and_its_glass_is_named(sheet: BoxSheet) -> None:
    assert all(part.kind != "layer" for part in sheet.hottest.too_hot)
    inner_c = {part.part: part.reached_c for part in sheet.hottest.too_hot if part.kind == "glass"}
    assert sheet.hottest.still.front_panes_c is not None
    assert inner_c == {
        "top": sheet.hottest.still.top_panes_c[0],
        "front": sheet.hottest.still.front_panes_c[0],
    }
    assert {"burns", "glare", "glass", "children", "fire"} <= set(sheet.cautions)


def test_a_night_that_lasts_all_day_has_no_sheet(inputs: SheetInputs) -> None:
    """Tromso, 69.65 N, 21 December: the sun does not rise (polar night, almanacs)."""
    north = replace(inputs.site, latitude_deg=69.65, longitude_deg=18.96)
    sun = suns(north, [date(2026, 12, 21)])
    weather = clear_weather(sun, site=north, step_s=STEP_S, on=date(2026, 12, 21))
    assert box_sheet(replace(inputs, site=north, sun=sun, weather=weather)) is None
