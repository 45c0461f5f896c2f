"""The sun over the skyline and the light in the box: against the sun of a textbook."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import pytest

from suntrack.config.reader import load_config
from suntrack.feeds.planner import day_inputs
from suntrack.plan.inputs import DayInputs
from suntrack.plan.light_curve import shine_of
from suntrack.plan.records import Turn

ROOT = Path(__file__).parents[2]
DAY = date(2026, 3, 20)


@pytest.fixture(scope="module")
def inputs(tmp_path_factory: pytest.TempPathFactory) -> DayInputs:
    config = load_config(ROOT / "config" / "suntrack.toml")
    dawn = datetime(2026, 3, 20, 5, 0, tzinfo=config.site.zone)
    return day_inputs(config, on=DAY, now=dawn, cache_dir=tmp_path_factory.mktemp("sun"))


def turn(inputs: DayInputs, hour: int, face_deg: float, mirror_deg: float | None = 100.0) -> Turn:
    return Turn(
        at=datetime(2026, 3, 20, hour, 0, tzinfo=inputs.site.zone),
        face_true_deg=face_deg,
        face_compass_deg=face_deg,
        mirror_deg=mirror_deg,
        turn_by_deg=0.0,
    )


def test_on_the_equinox_the_noon_sun_stands_at_90_degrees_less_the_latitude(
    inputs: DayInputs,
) -> None:
    """A closed form: the declination is 0 on that day, to half a degree."""
    most = max(sample.sun_deg for sample in shine_of(inputs, ()))
    assert most == pytest.approx(90.0 - abs(inputs.site.latitude_deg), abs=0.5)


def test_the_skyline_is_the_roof_in_the_east_and_the_tree_in_the_west(inputs: DayInputs) -> None:
    shine = shine_of(inputs, ())
    morning = next(sample for sample in shine if sample.sun_deg > 2.0)
    # The config: 14 degrees from azimuth 80 to 105; the sun rises at 90 that day.
    assert morning.skyline_deg == pytest.approx(14.0, abs=0.1)
    noon = max(shine, key=lambda sample: sample.sun_deg)
    assert noon.skyline_deg == 0.0


def test_no_light_before_the_box_is_set_out_and_none_at_night(inputs: DayInputs) -> None:
    shine = shine_of(inputs, (turn(inputs, 9, 60.0),))
    for sample in shine:
        light_w = sample.top_w + sample.front_w + sample.mirror_w
        assert light_w >= 0.0
        if sample.at.hour < 9 or sample.sun_deg < -1.0:
            assert light_w == 0.0
    assert any(sample.mirror_w > 0.0 for sample in shine)


def test_a_box_without_mirror_and_front_takes_light_by_the_top_alone(inputs: DayInputs) -> None:
    bare = replace(inputs, box=replace(inputs.box, mirror=None, front=None))
    shine = shine_of(bare, (turn(inputs, 9, 0.0, None),))
    assert max(sample.top_w for sample in shine) > 0.0
    assert all(sample.mirror_w == sample.front_w == 0.0 for sample in shine)


def test_a_front_turned_from_the_sun_takes_less(inputs: DayInputs) -> None:
    toward = shine_of(inputs, (turn(inputs, 6, 0.0),))
    away = shine_of(inputs, (turn(inputs, 6, 180.0),))
    assert sum(s.front_w for s in away) < 0.5 * sum(s.front_w for s in toward)
