"""A forecast on disk: read back exactly, or not at all."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from suntrack.config.reader import Config
from suntrack.feeds.heading import kept_path
from suntrack.feeds.kept import Kept, read_kept, write_kept
from suntrack.sky.forecast import Forecast

AT = datetime(2026, 11, 25, 10, 0, tzinfo=UTC)
STARTS_S = AT.timestamp() + 3600.0 * np.arange(3, dtype=np.float64)
VALUES = st.floats(-50.0, 1500.0) | st.just(math.nan)
FORECAST = Forecast(
    feed="open-meteo",
    kind="radiation",
    starts_at_s=STARTS_S,
    ends_at_s=STARTS_S + 3600.0,
    fetched_at=AT,
    issued_at=AT - timedelta(hours=1),
    global_horizontal_w_m2=np.array([[0.1, 700.0, np.nan]]),
    elevation_m=1010.0,
    attribution="somebody",
    notes=("a note",),
)
KEPT = Kept(forecast=FORECAST, due_at=AT + timedelta(hours=1), memory={"grid": "/a"})


def same(one: Forecast, other: Forecast) -> bool:
    """Return whether two forecasts agree to the last digit, unknown hours included."""
    plain = ("feed", "kind", "fetched_at", "issued_at", "elevation_m", "attribution", "notes")
    arrays_one, arrays_other = one.member_arrays(), other.member_arrays()
    return (
        all(getattr(one, name) == getattr(other, name) for name in plain)
        and arrays_one.keys() == arrays_other.keys()
        and np.array_equal(one.starts_at_s, other.starts_at_s)
        and all(
            np.array_equal(arrays_one[name], arrays_other[name], equal_nan=True)
            for name in arrays_one
        )
    )


@given(
    light=arrays(np.float64, (4, 3), elements=VALUES),
    air=arrays(np.float64, (4, 3), elements=VALUES),
)
def test_what_is_kept_comes_back_to_the_last_digit(
    tmp_path_factory: pytest.TempPathFactory, light: Any, air: Any
) -> None:
    path = tmp_path_factory.mktemp("kept") / "open-meteo-0.json"
    kept = replace(KEPT, forecast=replace(FORECAST, global_horizontal_w_m2=light, air_c=air))
    write_kept(path, kept)
    back = read_kept(path)
    assert back is not None
    assert same(back.forecast, kept.forecast)
    assert (back.due_at, back.memory) == (kept.due_at, kept.memory)


def test_the_file_is_standard_json_with_null_for_unknown(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "open-meteo-0.json"
    write_kept(path, KEPT)
    data = json.loads(path.read_text(encoding="utf-8"), parse_constant=lambda name: 1 / 0)
    assert data["schema"] == 1
    assert data["forecast"]["global_horizontal_w_m2"] == [[0.1, 700.0, None]]
    assert [file.name for file in path.parent.iterdir()] == [path.name], "no part is left over"


@pytest.mark.parametrize(
    "change",
    [
        lambda d: d.update(schema=0),
        lambda d: d.pop("schema"),
        lambda d: d.update(request="another"),
        lambda d: d.update(due_at="2026-11-25T10:00"),
        lambda d: d["forecast"].pop("fetched_at"),
        lambda d: d["forecast"].update(fetched_at="soon"),
        lambda d: d["forecast"].update(air_c=[[1.0]]),
        lambda d: d["forecast"].update(starts_at_s=[3.0, 2.0, 1.0]),
        lambda d: d.update(forecast=[]),
        lambda d: d.update(memory=None),
    ],
)
def test_a_file_that_does_not_fit_is_as_good_as_none(tmp_path: Path, change: Any) -> None:
    path = tmp_path / "open-meteo-0.json"
    write_kept(path, KEPT)
    data = json.loads(path.read_text(encoding="utf-8"))
    change(data)
    path.write_text(json.dumps(data), encoding="utf-8")
    assert read_kept(path) is None


@pytest.mark.parametrize("length", [0, 1, 100, 400])
def test_a_file_cut_short_is_as_good_as_none(tmp_path: Path, length: int) -> None:
    path = tmp_path / "open-meteo-0.json"
    write_kept(path, KEPT)
    path.write_bytes(path.read_bytes()[:length])
    assert read_kept(path) is None
    assert read_kept(tmp_path / "none.json") is None


def test_a_write_that_fails_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "open-meteo-0.json"
    write_kept(path, KEPT)

    def full(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(OSError, match="No space"):
        write_kept(path, replace(KEPT, memory={}))
    monkeypatch.undo()
    back = read_kept(path)
    assert back is not None
    assert back.memory == {"grid": "/a"}
    assert [file.name for file in tmp_path.iterdir()] == [path.name]


def test_another_place_or_feed_has_a_file_of_its_own(example: Config, tmp_path: Path) -> None:
    site = example.site
    here = kept_path(tmp_path, "open-meteo", site)
    assert here == kept_path(tmp_path, "open-meteo", replace(site, name="renamed"))
    assert here != kept_path(tmp_path, "met-norway", site)
    assert (
        here.stem.rpartition("-")[2]
        != kept_path(tmp_path, "met-norway", site).stem.rpartition("-")[2]
    )
    for moved in (
        replace(site, latitude_deg=site.latitude_deg + 0.01),
        replace(site, longitude_deg=site.longitude_deg + 0.01),
        replace(site, elevation_m=site.elevation_m + 10.0),
    ):
        assert kept_path(tmp_path, "open-meteo", moved) != here
