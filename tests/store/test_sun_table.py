"""The cached sun: read back the same, made anew when it cannot be read, light to read."""

from __future__ import annotations

import os
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from suntrack.config.reader import load_config
from suntrack.store.sun_table import SKY, SUN, sun_data

ROOT = Path(__file__).parents[2]
DAY = date(2026, 11, 25)


def test_what_is_read_back_is_what_was_computed(tmp_path: Path) -> None:
    site = load_config(ROOT / "config" / "suntrack.toml").site
    made = sun_data(site, on=DAY, cache_dir=tmp_path)
    kept = sun_data(site, on=DAY, cache_dir=tmp_path)
    for name in SUN:
        assert np.array_equal(getattr(made.sun, name), getattr(kept.sun, name))
    for name in SKY:
        assert np.array_equal(getattr(made.weather, name), getattr(kept.weather, name))
    assert len(list(tmp_path.iterdir())) == 1


@pytest.mark.parametrize("content", [b"", b"not an archive", b"PK\x03\x04 broken"])
def test_a_damaged_file_is_made_anew(tmp_path: Path, content: bytes) -> None:
    site = load_config(ROOT / "config" / "suntrack.toml").site
    made = sun_data(site, on=DAY, cache_dir=tmp_path)
    (file,) = tmp_path.iterdir()
    file.write_bytes(content)
    again = sun_data(site, on=DAY, cache_dir=tmp_path)
    assert np.array_equal(made.sun.azimuth_deg, again.sun.azimuth_deg)


def test_a_folder_that_cannot_be_written_is_no_reason_to_stop(tmp_path: Path) -> None:
    site = load_config(ROOT / "config" / "suntrack.toml").site
    blocked = tmp_path / "file"
    blocked.touch()
    assert sun_data(site, on=DAY, cache_dir=blocked / "cache").sun.at_s.size == 720


@pytest.mark.parametrize("feed", ["none", "open-meteo"])
def test_now_wakes_no_slow_library_once_the_day_is_kept(tmp_path: Path, feed: str) -> None:
    """`now` must import nothing heavy when the day is on disk: a glance should cost no wait."""
    text = (ROOT / "config" / "suntrack.toml").read_text(encoding="utf-8")
    (tmp_path / "suntrack.toml").write_text(
        text.replace('use = "none"', f"use = {feed!r}"), encoding="utf-8"
    )
    script = (
        "import sys\n"
        "from suntrack.cli import main\n"
        "assert main(['now', '--json', '--at', '2026-11-25T10:00+02:00']) == 0\n"
        "slow = {'pvlib', 'pandas', 'scipy', 'numba', 'numpy', 'pydantic', 'requests'}\n"
        "slow &= set(sys.modules)\n"
        "print('SLOW', sorted(slow), file=sys.stderr)\n"
    )
    env = {
        "SUNTRACK_HOME": str(tmp_path),
        "PATH": "/usr/bin:/bin",
        "NUMBA_CACHE_DIR": os.environ["NUMBA_CACHE_DIR"],
    }
    found = []
    for _ in range(2):
        run = subprocess.run(
            [sys.executable, "-c", script],
            env=env,
            cwd=tmp_path,
            capture_output=True,
            text=True,
            check=True,
        )
        found.append(run.stderr.split("SLOW ")[1].strip())
    assert "pvlib" in found[0], "the first run has to compute the day"
    assert found[1] == "[]"


def test_days_made_ahead_are_the_same_as_days_asked_for(tmp_path: Path) -> None:
    """So that a new morning needs no slow library, and no calendar runs out."""
    site = load_config(ROOT / "config" / "suntrack.toml").site
    sun_data(site, on=DAY, cache_dir=tmp_path / "ahead", ahead_days=2)
    assert len(list((tmp_path / "ahead").iterdir())) == 3
    tomorrow = DAY + timedelta(days=1)
    ahead = sun_data(site, on=tomorrow, cache_dir=tmp_path / "ahead")
    asked = sun_data(site, on=tomorrow, cache_dir=tmp_path / "asked")
    assert np.array_equal(ahead.sun.elevation_deg, asked.sun.elevation_deg)
