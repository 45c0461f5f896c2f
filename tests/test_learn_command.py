"""`suntrack learn` as a cook runs it: a real process, a home of its own, no network.

The readings are those of a box that loses a third more than the example: drawn here by
the simulator with a hidden factor, the only way to have a truth to learn.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from datetime import date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from suntrack.box.build import Learned
from suntrack.box.heat.network import as_built
from suntrack.box.residuals import foretold_c
from suntrack.config.reader import load_config
from suntrack.learn.logged_day import logged_day
from suntrack.plan.inputs import ObservedReading
from suntrack.plan.records import SkyHour
from suntrack.screen.text.learn import LEARN_KEYS
from suntrack.sky.forecast_day import told_sky
from suntrack.store.journal import Entry, Journal
from suntrack.store.kept_light import hour_row, told_by
from suntrack.store.observations import place_of
from suntrack.store.sun_table import sun_data

ROOT = Path(__file__).parents[1]
EXAMPLE = ROOT / "config" / "suntrack.toml"
TRUTH = Learned(loss=1.3)
DAYS = (date(2026, 11, 20), date(2026, 11, 21), date(2026, 11, 22))


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a home with a logger's file in it."""
    home, rng = tmp_path_factory.mktemp("home"), np.random.default_rng(1)
    config, rows = load_config(EXAMPLE), ["time,oven (C)"]
    for on in DAYS:
        data = sun_data(config.site, on=on, cache_dir=home / "cache")
        eight = datetime(on.year, on.month, on.day, 8, tzinfo=config.site.zone)
        times = [eight + timedelta(minutes=20 * i) for i in range(36)]
        bare = logged_day(
            config.box,
            config.site,
            sun=data.sun,
            weather=data.weather,
            readings=[ObservedReading(at=at, box_c=0.0) for at in times],
        )
        shown_c = foretold_c(as_built(config.box), bare, TRUTH) + rng.normal(0.0, 1.0, len(times))
        rows += [f"{at:%Y-%m-%d %H:%M},{c:.1f}" for at, c in zip(times, shown_c, strict=True)]
    (home / "log.csv").write_text("\n".join(rows), encoding="utf-8")
    return home


@pytest.fixture
def dull(tmp_path: Path) -> Path:
    """Return a home with a file of three days whose light was 0.4 to 0.7 of the clear sky's."""
    config, rows = load_config(EXAMPLE), ["time,oven (C)"]
    for on, told in dull_days(tmp_path):
        data = sun_data(config.site, on=on, cache_dir=tmp_path / "cache")
        sky = told_sky(told_by(told), clear=data.weather, sun=data.sun)
        eight = datetime(on.year, on.month, on.day, 8, tzinfo=config.site.zone)
        times = [eight + timedelta(minutes=20 * i) for i in range(30)]
        bare = logged_day(
            config.box, config.site, sun=data.sun, weather=sky.weather,
            readings=[ObservedReading(at=at, box_c=0.0) for at in times],
        )  # fmt: skip
        shown_c = foretold_c(as_built(config.box), bare, TRUTH)
        rows += [f"{at:%Y-%m-%d %H:%M},{c:.1f}" for at, c in zip(times, shown_c, strict=True)]
    (tmp_path / "dull.csv").write_text("\n".join(rows), encoding="utf-8")
    return tmp_path


def dull_days(home: Path) -> list[tuple[date, list[SkyHour]]]:
    """Return the light of three dull days by the hour: 0.4 to 0.7 of the clear sky's."""
    config, days = load_config(EXAMPLE), []
    for on in DAYS:
        data = sun_data(config.site, on=on, cache_dir=home / "cache")
        light = data.weather.global_horizontal_w_m2.reshape(24, -1).mean(axis=1)
        midnight = datetime(on.year, on.month, on.day, tzinfo=config.site.zone)
        hours = [
            SkyHour(
                starts_at=midnight + timedelta(hours=i), ends_at=midnight + timedelta(hours=i + 1),
                global_w_m2=float(light[i]) * (0.4 + 0.1 * (i % 4)), air_c=None, wind_m_s=None,
            )
            for i in range(24) if light[i] > 0.0
        ]  # fmt: skip
        days.append((on, hours))
    return days


def test_dull_days_of_which_nothing_was_told_cannot_be_used(dull: Path) -> None:
    run = suntrack(dull, "learn", "--csv", "dull.csv", "--use")
    assert run.returncode == 2
    assert "no clear day" in run.stderr
    assert not (dull / "learned.json").exists()
    told = json.loads(suntrack(dull, "learn", "--csv", "dull.csv", "--json").stdout)
    assert told["usable"] is False
    assert told["told"] == []
    shown = suntrack(dull, "learn", "--csv", "dull.csv", "--plain").stdout
    assert "None of these days was clear" in shown
    assert "learn --use" not in shown


def test_the_same_days_teach_when_their_plans_told_the_light(dull: Path) -> None:
    """The hidden box loses 1.3 times as much; the journal has the light the plans told."""
    config = load_config(EXAMPLE)
    with Journal.open(dull / "journal.db") as journal:
        for on, hours in dull_days(dull):
            data = {
                "light": [hour_row(hour) for hour in hours],
                "place": place_of(config.site, config.box),
            }
            at = datetime(on.year, on.month, on.day, 7, tzinfo=config.site.zone)
            journal.append(Entry(at=at, kind="plan", day=on, data=data))
    run = suntrack(dull, "learn", "--csv", "dull.csv", "--json")
    assert run.returncode == 0, run.stderr
    told = json.loads(run.stdout)
    assert told["told"] == [on.isoformat() for on in DAYS]
    factors = {row["name"]: row for row in told["factors"]}
    assert factors["loss"]["factor"] / factors["light"]["factor"] == pytest.approx(1.3, abs=0.08)
    assert factors["loss"]["low"] < 1.3 < factors["loss"]["high"]
    assert told["new_day_after_k"] < 0.5 * told["new_day_before_k"]


def suntrack(home: Path, *words: str) -> subprocess.CompletedProcess[str]:
    kept = {name: os.environ[name] for name in ("PATH", "NUMBA_CACHE_DIR")}
    kept |= {"SUNTRACK_HOME": str(home), "SUNTRACK_CONFIG": str(EXAMPLE)}
    return subprocess.run(
        [sys.executable, "-m", "suntrack", *words],
        env=kept | {"PYTHONIOENCODING": "utf-8"},
        cwd=home,
        capture_output=True,
        text=True,
        check=False,
        encoding="utf-8",
    )


def test_it_finds_the_loss_shows_the_errors_and_changes_nothing(home: Path) -> None:
    run = suntrack(home, "learn", "--csv", "log.csv", "--json")
    assert run.returncode == 0, run.stderr
    data = json.loads(run.stdout)
    factors = {row["name"]: row["factor"] for row in data["factors"]}
    assert factors["loss"] / factors["light"] == pytest.approx(1.3, abs=0.06)
    assert data["new_day_after_k"] < 0.5 * data["new_day_before_k"]
    assert data["in_use"] is False
    assert not (home / "learned.json").exists()


def test_it_is_used_said_in_one_line_and_taken_back(home: Path) -> None:
    """A box that loses more is never hotter than the one it was built to be."""
    at = ("--at", "2026-11-25T05:00", "--plain")
    before = suntrack(home, "today", *at).stdout
    used = suntrack(home, "learn", "--csv", "log.csv", "--use", "--plain")
    assert "The plan uses it from now on." in used.stdout
    run = suntrack(home, "today", *at)
    said = [line for line in run.stdout.splitlines() if line.startswith("Planned with your box")]
    assert len(said) == 1
    assert "3 days of readings" in said[0]
    assert "Planned with your box" not in before
    told = json.loads(suntrack(home, "today", *at[:2], "--json").stdout)["learned"]
    assert told["in_use"] is True
    assert told["days"] == len(DAYS)
    assert told["loss"] > told["light"]
    back = suntrack(home, "learn", "--undo")
    assert back.stdout.startswith("Taken back")
    assert suntrack(home, "today", *at).stdout == before
    bare = json.loads(suntrack(home, "today", *at[:2], "--json").stdout)["learned"]
    assert bare == {"in_use": False, "days": None, "loss": 1.0, "light": 1.0, "store": 1.0}


def test_without_a_reading_it_says_how_to_note_one(home: Path) -> None:
    run = suntrack(home, "learn")
    assert run.returncode == 2
    assert "note reading" in run.stderr
    assert "Traceback" not in run.stderr


def test_notes_of_the_journal_teach_too(home: Path) -> None:
    assert suntrack(home, "note", "reading", "200F").returncode == 0
    run = suntrack(home, "learn", "--json")
    assert run.returncode == 0, run.stderr
    assert json.loads(run.stdout)["readings"] == 1
    shown = suntrack(home, "learn", "--plain").stdout
    assert "One day cannot say" in shown


def test_every_key_is_written_and_told(home: Path) -> None:
    data = json.loads(suntrack(home, "learn", "--csv", "log.csv", "--json").stdout)
    told = {key.split("[")[0].split(".")[0] for key in LEARN_KEYS}
    assert set(data) == told
