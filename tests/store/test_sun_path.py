"""The small file of the sun: the same as the big one, made anew when it does not fit."""

from __future__ import annotations

import math
from array import array
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from suntrack.config.reader import load_config
from suntrack.sky.site import Site
from suntrack.sky.sun import position_at
from suntrack.store.paths import sun_file
from suntrack.store.sun_path import sun_at
from suntrack.store.sun_table import sun_data

AT = datetime.fromisoformat("2026-11-25T10:37:11+02:00")


@pytest.fixture(scope="module")
def site() -> Site:
    return load_config(Path(__file__).parents[2] / "config" / "suntrack.toml").site


def test_it_says_what_the_days_table_says(tmp_path: Path, site: Site) -> None:
    table = sun_data(site, on=AT.date(), cache_dir=tmp_path).sun
    for minutes in (-700, -300, 0, 300, 2000):
        at = AT + timedelta(minutes=minutes)
        expected = [float(value) for value in position_at(table, at.timestamp())]
        # Once from the archive, then from the small file.
        for _ in range(2):
            assert sun_at(site, at, on=AT.date(), cache_dir=tmp_path) == pytest.approx(expected)


@pytest.mark.parametrize("content", [b"", b"12345", b"\0" * 24, b"\0" * 240, b"\xff" * 7200])
def test_a_file_that_does_not_fit_is_made_anew(tmp_path: Path, site: Site, content: bytes) -> None:
    path = sun_file(site, on=AT.date(), cache_dir=tmp_path).with_suffix(".f8")
    good = sun_at(site, AT, on=AT.date(), cache_dir=tmp_path)
    whole = path.read_bytes()
    path.write_bytes(content)
    assert sun_at(site, AT, on=AT.date(), cache_dir=tmp_path) == good
    assert path.read_bytes() == whole


def test_a_direction_that_is_no_number_is_not_believed(tmp_path: Path, site: Site) -> None:
    path = sun_file(site, on=AT.date(), cache_dir=tmp_path).with_suffix(".f8")
    good = sun_at(site, AT, on=AT.date(), cache_dir=tmp_path)
    numbers = array("d")
    numbers.frombytes(path.read_bytes())
    numbers[-1] = math.nan
    path.write_bytes(numbers.tobytes())
    assert sun_at(site, AT, on=AT.date(), cache_dir=tmp_path) == good


def test_a_folder_that_cannot_be_written_is_no_reason_to_stop(tmp_path: Path, site: Site) -> None:
    blocked = tmp_path / "file"
    blocked.touch()
    assert sun_at(site, AT, on=AT.date(), cache_dir=blocked / "cache")[0] > 50.0
