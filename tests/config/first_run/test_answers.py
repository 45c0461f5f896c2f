"""What a cook answers on the first run, and the skyline as a cook tells it."""

from __future__ import annotations

from datetime import time
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.config.first_run import answers
from suntrack.config.first_run.places import find_place, places
from suntrack.config.first_run.skyline import read_skyline
from suntrack.config.first_run.text import Answers, config_text, write_checked
from suntrack.config.reader import load_config
from suntrack.errors import InputError
from suntrack.sky.skyline import Skyline


@pytest.mark.parametrize(
    ("name", "latitude_deg", "longitude_deg", "zone"),
    [
        # The cities' own municipal coordinates, to a tenth of a degree (from memory).
        ("Gaborone", -24.7, 25.9, "Africa/Gaborone"),
        ("nairobi", -1.3, 36.8, "Africa/Nairobi"),
        ("Madrid", 40.4, -3.7, "Europe/Madrid"),
        ("KATHMANDU", 27.7, 85.3, "Asia/Kathmandu"),
    ],
)
def test_large_cities_are_where_they_are(
    name: str, latitude_deg: float, longitude_deg: float, zone: str
) -> None:
    place = find_place(name)
    assert place.latitude_deg == pytest.approx(latitude_deg, abs=0.2)
    assert place.longitude_deg == pytest.approx(longitude_deg, abs=0.2)
    assert place.time_zone == zone


def test_every_place_has_a_zone_that_there_is() -> None:
    assert all(answers.read_zone(place.time_zone) for place in places())


def test_a_name_that_several_have_is_asked_back_and_settled_by_its_country() -> None:
    with pytest.raises(ValueError, match="several"):
        find_place("Birmingham")
    assert find_place("Birmingham, England").time_zone == "Europe/London"


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("58 x 44 x 27 cm", (0.58, 0.44, 0.27)),
        ("20x18x10in", (0.508, 0.4572, 0.254)),
        ("2 ft x 18 in x 30 cm", (0.6096, 0.4572, 0.30)),
    ],
)
def test_sizes(text: str, metres: tuple[float, ...]) -> None:
    assert answers.read_inside(text) == pytest.approx(metres)


@pytest.mark.parametrize(
    ("reader", "text"),
    [
        (answers.read_inside, "58 x 44 cm"),
        (answers.read_inside, "58 x 44 x 27"),
        (answers.read_inside, "58 x 44 x 27 parsec"),
        (answers.read_inside, "5 x 44 x 27 cm"),
        (answers.read_glasses, "3"),
        (answers.read_mirror, "big"),
        (answers.read_air, "28 C to 15 C"),
        (answers.read_air, "15 to 28"),
        (answers.read_meal, "24:30"),
        (answers.read_zone, "../etc/passwd"),
        (answers.read_zone, "Gaborone"),
        (answers.read_elevation, "9000 m"),
        (answers.read_units, "stone"),
        (read_skyline, "70: 15 deg"),
        (read_skyline, "70-400: 15 deg"),
        (read_skyline, "70-110: 12 fists"),
    ],
)
def test_what_is_no_answer_is_a_value_error(reader: Any, text: str) -> None:
    with pytest.raises(ValueError):
        reader(text)


@pytest.mark.parametrize(
    ("name", "text", "inch", "whole"),
    [
        ("elevation", "1010", False, "1010 m"),
        ("elevation", "3300", True, "3300 ft"),
        ("elevation", "1010 m", True, "1010 m"),
        ("inside", "58 x 44 x 27", False, "58 x 44 x 27 cm"),
        ("inside", "58x44x27cm", True, "58x44x27cm"),
        ("inside", "20 x 18 x 10", True, "20 x 18 x 10 in"),
        ("mirror", "none", False, "none"),
        ("mirror", "44 x 60", False, "44 x 60 cm"),
        ("air", "15-28", False, "15 C to 28 C"),
        ("air", "-5 to 12", False, "-5 C to 12 C"),
        ("air", "-12--5", False, "-12 C to -5 C"),
        ("air", "60 to 85 F", False, "60 F to 85 F"),
        ("air", "15 °C, 28 °C", True, "15 °C to 28 °C"),
        ("meal", "13:00", False, "13:00"),
        ("glasses", "2", True, "2"),
    ],
)
def test_a_number_without_a_unit_is_in_the_cooks_own(
    name: str, text: str, inch: bool, whole: str
) -> None:
    assert answers.with_unit(name, text, inch=inch) == whole


@pytest.mark.parametrize(
    ("text", "latitude_deg", "longitude_deg"),
    [
        ("-24.65, 25.91", -24.65, 25.91),
        ("-24.65 25.91", -24.65, 25.91),
        ("24.65 S, 25.91 E", -24.65, 25.91),
        ("36.84°N 2.46°W", 36.84, -2.46),
        ("36.84 n, 2.46 w", 36.84, -2.46),
    ],
)
def test_a_place_as_a_map_writes_it(text: str, latitude_deg: float, longitude_deg: float) -> None:
    place = answers.read_place(text, zone="UTC")
    assert (place.latitude_deg, place.longitude_deg) == (latitude_deg, longitude_deg)


@pytest.mark.parametrize("text", ["-24.65 S, 25.91 E", "95, 10", "24.65 E, 25.91 N", "12, 190"])
def test_a_place_that_cannot_be_is_refused(text: str) -> None:
    with pytest.raises(ValueError):
        answers.read_place(text, zone="UTC")


@pytest.mark.parametrize(("text", "hour"), [("1 pm", 13), ("1pm", 13), ("12 am", 0), ("12 PM", 12)])
def test_a_meal_on_the_hour(text: str, hour: int) -> None:
    assert answers.read_meal(text) == time(hour)


@given(text=st.text(max_size=40), inch=st.booleans())
def test_no_answer_is_broken_by_its_unit(text: str, inch: bool) -> None:
    for name in ("elevation", "inside", "mirror", "air"):
        assert isinstance(answers.with_unit(name, text, inch=inch), str)


@given(text=st.text(max_size=40))
def test_no_answer_is_anything_but_read_or_refused(text: str) -> None:
    for reader in (answers.read_inside, answers.read_mirror, answers.read_air, answers.read_meal,
                   answers.read_glasses, answers.read_elevation, read_skyline):  # fmt: skip
        try:
            reader(text)
        except ValueError:
            continue


def test_a_roof_hides_its_bearings_and_no_others() -> None:
    azimuth, height = zip(*read_skyline("70-110: 1.5 fists"), strict=True)
    skyline = Skyline(azimuth_deg=azimuth, height_deg=height)
    assert skyline.height_at([70, 90, 110]) == pytest.approx([15.0, 15.0, 15.0])
    assert skyline.height_at([0, 60, 120, 270]) == pytest.approx([0.0, 0.0, 0.0, 0.0])


def test_bearings_of_a_compass_become_true_ones() -> None:
    """In Gaborone a compass points west of north: 17 degrees less is true."""
    azimuth, height = zip(*read_skyline("10-20: 30 deg", declination_deg=-17.0), strict=True)
    skyline = Skyline(azimuth_deg=azimuth, height_deg=height)
    assert skyline.height_at([353.0, 0.0, 3.0]) == pytest.approx([30.0, 30.0, 30.0])
    assert skyline.height_at([20.0, 340.0]) == pytest.approx([0.0, 0.0])


BEARING = st.integers(0, 359)


@given(first=BEARING, second=BEARING, third=BEARING, high=st.integers(1, 45))
def test_of_two_things_the_higher_counts(first: int, second: int, third: int, high: int) -> None:
    wide = (second - first) % 360
    points = read_skyline(f"{first}-{second}: {high} deg, {third}-{third}: {high + 5} deg")
    azimuth, height = zip(*points, strict=True)
    skyline = Skyline(azimuth_deg=azimuth, height_deg=height)
    inside = (first + np.linspace(0, wide, 7).round()) % 360
    assert (skyline.height_at(inside) >= high - 0.11).all()
    assert skyline.height_at(float(third)) == pytest.approx(high + 5)
    assert max(height) == high + 5


def test_the_zone_of_this_computer(tmp_path: Path) -> None:
    assert answers.system_zone({"TZ": "Africa/Gaborone"}, tmp_path) == "Africa/Gaborone"
    zone = tmp_path / "zoneinfo" / "Europe" / "Madrid"
    zone.parent.mkdir(parents=True)
    zone.touch()
    link = tmp_path / "localtime"
    link.symlink_to(zone)
    assert answers.system_zone({}, link) == "Europe/Madrid"
    assert answers.system_zone({"TZ": "nowhere"}, tmp_path) == "UTC"


def some(**changed: Any) -> Answers:
    given: dict[str, Any] = {
        "site_name": "Gaborone", "latitude_deg": -24.65, "longitude_deg": 25.91,
        "elevation_m": 1010.0, "time_zone": "Africa/Gaborone", "low_c": 19.0, "high_c": 32.0,
        "skyline": (), "inside_m": (0.58, 0.44, 0.27), "glasses": 2, "mirror_m": None,
        "inch": False, "meal": time(13, 0),
    }  # fmt: skip
    return Answers(**(given | changed))


@pytest.mark.parametrize("name", ['a "quoted" \\ yard', "Ḫalab\n[box]", "x" * 60])
def test_any_name_of_a_place_is_written_so_that_it_can_be_read(name: str, tmp_path: Path) -> None:
    write_checked(tmp_path / "suntrack.toml", config_text(some(site_name=name)))


@given(
    width=st.floats(0.25, 2.0), depth=st.floats(0.25, 2.0), height=st.floats(0.15, 1.0),
    inch=st.booleans(), mirror=st.booleans(),
)  # fmt: skip
def test_a_box_of_any_usual_size_gives_a_config_without_a_mistake(
    width: float, depth: float, height: float, inch: bool, mirror: bool,
    tmp_path_factory: pytest.TempPathFactory,
) -> None:  # fmt: skip
    sizes = (width, depth, height)
    given = some(inside_m=sizes, inch=inch, mirror_m=(depth, width) if mirror else None)
    write_checked(tmp_path_factory.getbasetemp() / "own" / "suntrack.toml", config_text(given))


def test_the_usual_walls_are_those_of_the_example(tmp_path: Path) -> None:
    """The example's walls keep wood from the hot sheet; a first config must not bring it back."""
    write_checked(tmp_path / "suntrack.toml", config_text(some()))
    example = Path(__file__).parents[3] / "config" / "suntrack.toml"
    ours, theirs = load_config(tmp_path / "suntrack.toml"), load_config(example)
    assert ours.box.walls == theirs.box.walls
    assert ours.box.lining == theirs.box.lining


def test_a_config_that_cannot_be_read_leaves_nothing(tmp_path: Path) -> None:
    with pytest.raises(InputError):
        write_checked(tmp_path / "suntrack.toml", config_text(some(latitude_deg=99.0)))
    assert list(tmp_path.iterdir()) == []
