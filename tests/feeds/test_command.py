"""`suntrack feed` as a cook runs it, the service on loopback; words, JSON and documents."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from suntrack.cli import main
from suntrack.clock import SystemClock
from suntrack.config.feed_terms import FEEDS
from suntrack.config.reader import Config
from suntrack.feeds.report import FeedReport, feed_report
from suntrack.feeds.service import FeedNews, forecast_for
from suntrack.screen.charset import Charset
from suntrack.screen.json.feed import FEED_KEYS, feed_json
from suntrack.screen.text.feed import feed_lines
from suntrack.units import Units

ROOT = Path(__file__).parents[2]
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def paths(value: Any, at: str = "") -> Iterator[str]:
    """Yield the path of every value that is not itself a table or a list."""
    if isinstance(value, dict):
        for key, each in value.items():
            yield from paths(each, f"{at}.{key}" if at else key)
    elif isinstance(value, list):
        for each in value:
            yield from paths(each, f"{at}[]")
    else:
        yield at


@pytest.fixture
def home(tmp_path: Path, server: Any, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a cook's home whose config asks the server here."""
    text = (ROOT / "config" / "suntrack.toml").read_text(encoding="utf-8")
    on = f'use = "open-meteo"\nbase_url = "{server.url}"\n#'
    assert 'use = "none"' in text
    (tmp_path / "mine.toml").write_text(text.replace('use = "none"', on, 1), encoding="utf-8")
    monkeypatch.setenv("SUNTRACK_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("SUNTRACK_CONFIG", str(tmp_path / "mine.toml"))
    return tmp_path


def fair_now(rows: Any, example: Config) -> dict[str, Any]:
    """Return rows around the real moment, since a command asks the real clock."""
    hour = SystemClock().now().replace(minute=0, second=0, microsecond=0)
    data: dict[str, Any] = rows(example.site, hour - timedelta(hours=12))
    return data


def test_fetching_asks_once_and_shows_what_came(
    home: Path, server: Any, rows: Any, example: Config, capsys: pytest.CaptureFixture[str]
) -> None:
    server.say_json(fair_now(rows, example))
    assert main(["feed", "--fetch", "--plain"]) == 0
    said = capsys.readouterr().out
    assert "Forecasts come from Open-Meteo forecast" in said
    assert "fetched just now" in said
    assert "of a clear day's light" in said
    assert "Weather data by Open-Meteo.com, CC BY 4.0." in said
    assert main(["feed", "--fetch", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert len(server.seen) == 1, "the second comes too soon to ask again"
    assert data["use"] == "open-meteo"
    assert data["forecast"]["days"][0]["clear_share"] > 0.3
    assert datetime.fromisoformat(data["forecast"]["fetched_at"]).utcoffset() is not None


def test_showing_asks_nobody(home: Path, server: Any, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["feed"]) == 0
    assert server.seen == []
    assert "It has not been fetched yet" in capsys.readouterr().out


def test_a_fetch_that_fails_says_why_and_when_again(
    home: Path, server: Any, answer: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    reason = b'{"error": true, "reason": "Daily API request limit exceeded."}'
    server.say(answer(status=429, body=reason))
    assert main(["feed", "--fetch"]) == 1
    said = capsys.readouterr().out
    assert "asked too much today" in said
    assert "Asked again at" in said
    assert "It failed once" in said


def test_fetching_without_a_service_is_a_clear_mistake(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("SUNTRACK_HOME", str(tmp_path))
    monkeypatch.setenv("SUNTRACK_CONFIG", str(ROOT / "config" / "suntrack.toml"))
    assert main(["feed", "--fetch"]) == 2
    said = capsys.readouterr().err
    assert 'found "none"' in said
    assert 'use = "open-meteo"' in said
    assert main(["feed"]) == 0
    assert "No weather service is asked" in capsys.readouterr().out


@pytest.fixture
def report(
    config: Callable[..., Config], tmp_path: Path, server: Any, hand: Any, rows: Any, noon: datetime
) -> FeedReport:
    """Return the report of a fair forecast, twenty minutes old."""
    here = config()
    data = rows(here.site, noon - timedelta(hours=12))
    data["hourly"]["precipitation_probability"][40] = 55
    server.say_json(data)
    forecast_for(here, now=noon, cache_dir=tmp_path, fetch=True, tools=hand.tools())
    later = noon + timedelta(minutes=20)
    news = forecast_for(here, now=later, cache_dir=tmp_path, fetch=False)
    return feed_report(here, news, now=later, cache_dir=tmp_path)


def test_every_key_is_listed_with_its_meaning(report: FeedReport) -> None:
    full = replace(report, messages=("a message",))
    assert full.forecast is not None
    full = replace(full, forecast=replace(full.forecast, notes=("a note",)))
    assert set(paths(feed_json(full))) == set(FEED_KEYS) - {"forecast"}
    assert feed_json(replace(report, forecast=None))["forecast"] is None
    assert json.loads(json.dumps(feed_json(full), allow_nan=False)) == feed_json(full)


def test_the_report_says_age_place_days_and_notes(report: FeedReport) -> None:
    lines = feed_lines(report, Units())
    text = "\n".join(lines)
    assert "The forecast was fetched 20 min ago." in lines
    assert "Last asked 20 min ago, 1 of at most 100 today." in lines
    # Noon UTC plus two hours; an hour and half of the five minutes after that.
    assert "Asked again at 13:02 at the earliest." in lines
    today, tomorrow = (line for line in lines if line.startswith(("Wed 25", "Thu 26")))
    assert re.fullmatch(r"Wed 25 November: \d\d % of a clear day's light, .*\.", today)
    assert "rain 10 %" in today
    # Row 40 ends at 14:00 UTC of the 26th.
    assert "rain 55 %" in tomorrow
    assert "gusts 22 km/h" in today
    assert "not of the whole day" in text


def test_every_service_is_shown_with_terms_and_attribution(report: FeedReport) -> None:
    text = "\n".join(feed_lines(report, Units()))
    for terms in FEEDS.values():
        for words in (terms.title, terms.gives, terms.lacks, terms.terms_url, terms.attribution):
            assert words in text
    assert text.count("Needs contact") == 2


def test_the_cooks_units_are_used(report: FeedReport) -> None:
    text = "\n".join(feed_lines(report, Units(temperature="F", length="in", clock="12")))
    assert "°F" in text
    assert "13 mph" in text
    assert "1:02 pm" in text
    assert "0 miles from the box" in text


def test_a_screen_without_signs_gets_plain_letters(report: FeedReport) -> None:
    assert all(line.isascii() for line in feed_lines(report, Units(), ink=Charset(ascii=True)))


def test_a_forecast_of_cloud_alone_says_so(report: FeedReport) -> None:
    assert report.forecast is not None
    rough = replace(report, forecast=replace(report.forecast, kind="cloud only"))
    assert any("no sunlight" in line for line in feed_lines(rough, Units()))


def test_without_a_service_the_report_says_how_to_turn_one_on(
    example: Config, tmp_path: Path, noon: datetime
) -> None:
    off = feed_report(example, FeedNews(forecast=None), now=noon, cache_dir=tmp_path)
    assert 'use = "open-meteo" under [feed]' in feed_lines(off, Units())[0]
    assert feed_json(off)["use"] == "none"
