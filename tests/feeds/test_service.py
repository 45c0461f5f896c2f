"""The one way to a forecast, through a real server, a real lock and real files."""

from __future__ import annotations

import json
import socket
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from email.utils import format_datetime
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from suntrack.config.feed_settings import FeedSettings
from suntrack.config.reader import Config
from suntrack.feeds import service
from suntrack.feeds.heading import kept_path
from suntrack.feeds.ledger import ledger_path, read_ledger
from suntrack.feeds.service import FeedNews, forecast_for
from suntrack.feeds.wire import Bounds, NetworkWire
from suntrack.store.lock import one_at_a_time

HOUR = timedelta(hours=1)


class Kitchen:
    """One cook's computer: a config, a cache, a server, and the clock in the test's hand."""

    def __init__(self, config: Config, cache: Path, server: Any, hand: Any, rows: Any) -> None:
        self.config, self.cache, self.server, self.hand, self.rows = (
            config, cache, server, hand, rows,
        )  # fmt: skip

    def ask(self, now: datetime, *, fetch: bool = True, attempts: int = 1) -> FeedNews:
        return forecast_for(
            self.config,
            now=now,
            cache_dir=self.cache,
            fetch=fetch,
            attempts=attempts,
            tools=self.hand.tools(),
        )

    def fair(self, now: datetime, **changes: Any) -> dict[str, Any]:
        data: dict[str, Any] = self.rows(self.config.site, now - timedelta(hours=12), **changes)
        return data

    @property
    def asked(self) -> int:
        return len(self.server.seen)


@pytest.fixture
def kitchen(
    config: Callable[..., Config], tmp_path: Path, server: Any, hand: Any, rows: Any
) -> Kitchen:
    return Kitchen(config(), tmp_path, server, hand, rows)


def test_without_a_feed_nothing_is_asked_and_nothing_written(
    example: Config, tmp_path: Path, noon: datetime, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Off by default: not even a socket is made."""

    def no_socket(*args: Any) -> None:
        raise AssertionError("the network was touched")

    monkeypatch.setattr(socket, "getaddrinfo", no_socket)
    monkeypatch.setattr(socket.socket, "connect", no_socket)
    assert example.feed == FeedSettings()
    news = forecast_for(example, now=noon, cache_dir=tmp_path, fetch=True)
    assert news == FeedNews(forecast=None)
    assert list(tmp_path.iterdir()) == []


def test_a_forecast_is_fetched_kept_and_served(kitchen: Kitchen, noon: datetime) -> None:
    kitchen.server.say_json(kitchen.fair(noon))
    first = kitchen.ask(noon)
    assert first.messages == ()
    assert first.forecast is not None
    again = kitchen.ask(noon + timedelta(minutes=20), fetch=False)
    assert again.forecast is not None
    assert again.messages == ()
    assert first.forecast.global_horizontal_w_m2 is not None
    assert again.forecast.global_horizontal_w_m2 is not None
    np.testing.assert_array_equal(
        first.forecast.global_horizontal_w_m2, again.forecast.global_horizontal_w_m2
    )
    assert again.forecast.fetched_at == noon
    assert kitchen.asked == 1


def test_a_feed_that_was_never_asked_says_how(kitchen: Kitchen, noon: datetime) -> None:
    news = kitchen.ask(noon, fetch=False)
    assert news.forecast is None
    assert "suntrack feed --fetch" in news.messages[0]
    assert kitchen.asked == 0


def test_a_due_forecast_is_asked_for_again(kitchen: Kitchen, noon: datetime) -> None:
    kitchen.server.say_json(kitchen.fair(noon))
    kitchen.ask(noon)
    # An hour, and half of the five minutes by which each box is a little later.
    kitchen.ask(noon + HOUR + timedelta(minutes=2))
    assert kitchen.asked == 1
    news = kitchen.ask(noon + HOUR + timedelta(minutes=3))
    assert kitchen.asked == 2
    assert news.forecast is not None
    assert news.forecast.fetched_at == noon + HOUR + timedelta(minutes=3)


@pytest.mark.parametrize(
    ("status", "body", "said"),
    [
        (500, b"", "trouble"),
        (503, b"", "trouble"),
        (429, b'{"reason": "Daily API request limit exceeded."}', "too much today"),
        (403, b"<html>no</html>", "contact"),
        (200, b"<html>log in here</html>", "ask for a login"),
        (200, b'{"hourly": ', "login"),
        (200, b"[]", "list"),
        (200, b"", "login"),
        (302, b"", "status 302"),
    ],
)
def test_whatever_fails_the_last_good_forecast_is_served_with_its_age(
    kitchen: Kitchen, noon: datetime, answer: Any, status: int, body: bytes, said: str
) -> None:
    kitchen.server.say_json(kitchen.fair(noon))
    kitchen.ask(noon)
    kitchen.server.say(answer(status=status, body=body, headers={"Content-Type": "text/html"}))
    news = kitchen.ask(noon + 5 * HOUR)
    assert news.forecast is not None
    assert news.forecast.fetched_at == noon
    assert said in news.messages[0]
    assert "The forecast used is 5 h old." in news.messages


def test_no_network_at_all_is_told_in_a_sentence(kitchen: Kitchen, noon: datetime) -> None:
    down = replace(kitchen.config.feed, base_url="http://127.0.0.1:9")
    kitchen.config = replace(kitchen.config, feed=down)
    news = kitchen.ask(noon)
    assert news.forecast is None
    assert news.messages == (
        "Open-Meteo forecast: The feed cannot be reached; is there a network?",
        "No forecast is used.",
    )


def test_after_two_days_a_forecast_is_not_used_any_more(kitchen: Kitchen, noon: datetime) -> None:
    kitchen.server.say_json(kitchen.fair(noon))
    kitchen.ask(noon)
    assert kitchen.ask(noon + 48 * HOUR, fetch=False).forecast is not None
    news = kitchen.ask(noon + 49 * HOUR, fetch=False)
    assert news.forecast is None
    assert "49 h ago, too long" in news.messages[-1]


def test_the_age_of_an_old_forecast_is_told_even_when_nothing_failed(
    kitchen: Kitchen, noon: datetime
) -> None:
    kitchen.server.say_json(kitchen.fair(noon))
    kitchen.ask(noon)
    assert kitchen.ask(noon + 11 * HOUR, fetch=False).messages == ()
    news = kitchen.ask(noon + 13 * HOUR, fetch=False)
    assert news.messages == ("The forecast used is 13 h old.",)


@pytest.mark.promise("A feed that answers rubbish")
def test_a_wrong_answer_never_replaces_a_good_one(kitchen: Kitchen, noon: datetime) -> None:
    kitchen.server.say_json(kitchen.fair(noon))
    kitchen.ask(noon)
    wrong = kitchen.fair(noon + 2 * HOUR)
    wrong["hourly"]["temperature_2m"][5] = 400.0
    kitchen.server.say_json(wrong)
    news = kitchen.ask(noon + 2 * HOUR)
    assert "no weather has" in news.messages[0]
    kept = kitchen.ask(noon + 2 * HOUR, fetch=False).forecast
    assert kept is not None
    assert kept.fetched_at == noon


def test_a_form_that_nobody_thought_of_is_a_message(
    kitchen: Kitchen, noon: datetime, monkeypatch: pytest.MonkeyPatch
) -> None:
    data = kitchen.fair(noon)
    data["hourly"]["time"] = [1e300] * 96
    kitchen.server.say_json(data)
    assert kitchen.ask(noon).forecast is None
    data["hourly"]["time"] = [10**400] * 96
    kitchen.server.say_json(data)
    news = kitchen.ask(noon + HOUR)
    assert news.forecast is None
    assert "form that suntrack does not know" in news.messages[0]


def test_only_one_process_asks_at_a_time(kitchen: Kitchen, noon: datetime) -> None:
    kitchen.server.say_json(kitchen.fair(noon))
    kitchen.ask(noon)
    with one_at_a_time(kitchen.cache / "feeds" / "asking.lock"):
        news = kitchen.ask(noon + 2 * HOUR)
    assert kitchen.asked == 1
    assert "Another suntrack is asking" in news.messages[0]
    assert news.forecast is not None


def test_a_cache_that_cannot_be_written_is_a_message(
    kitchen: Kitchen, noon: datetime, tmp_path: Path
) -> None:
    kitchen.server.say_json(kitchen.fair(noon))
    kitchen.cache = tmp_path / "file"
    kitchen.cache.write_text("in the way", encoding="utf-8")
    news = kitchen.ask(noon)
    assert news.forecast is None
    assert "cache folder cannot be written" in news.messages[0]
    assert kitchen.asked == 0, "without a book no request"


def test_a_box_that_moved_gets_a_forecast_of_its_own(kitchen: Kitchen, noon: datetime) -> None:
    kitchen.server.say_json(kitchen.fair(noon))
    kitchen.ask(noon)
    kitchen.config = replace(kitchen.config, site=replace(kitchen.config.site, latitude_deg=-24.0))
    assert kitchen.ask(noon, fetch=False).forecast is None
    assert kitchen.ask(noon + timedelta(minutes=1)).forecast is not None
    assert kitchen.asked == 2


def test_a_clock_set_back_by_days_does_not_serve_tomorrows_news(
    kitchen: Kitchen, noon: datetime
) -> None:
    kitchen.server.say_json(kitchen.fair(noon))
    kitchen.ask(noon)
    news = kitchen.ask(noon - 30 * HOUR, fetch=False)
    assert news.forecast is None
    assert "after this moment" in news.messages[-1]
    # Back by some hours it is a look back at today.
    assert kitchen.ask(noon - 4 * HOUR, fetch=False).forecast is not None


def test_a_clock_that_was_ahead_and_is_put_right_does_no_lasting_harm(
    kitchen: Kitchen, noon: datetime
) -> None:
    ahead = noon + timedelta(days=10)
    kitchen.server.say_json(kitchen.fair(ahead))
    assert kitchen.ask(ahead).forecast is not None
    kitchen.server.say_json(kitchen.fair(noon))
    news = kitchen.ask(noon)
    assert news.forecast is not None
    assert news.forecast.fetched_at == noon


def test_a_forecast_of_part_of_the_day_says_so(kitchen: Kitchen, noon: datetime) -> None:
    """Twenty rows end at 17:00 UTC, 19:00 in the courtyard: five hours short of midnight."""
    kitchen.server.say_json(kitchen.fair(noon, hours=20))
    news = kitchen.ask(noon)
    assert news.forecast is not None
    assert "Of the 12 h left of today the forecast knows 7 h." in news.messages


def met(kitchen: Kitchen, noon: datetime) -> dict[str, Any]:
    """Return two days of MET Norway's form."""

    def step(i: int) -> dict[str, Any]:
        at = noon + timedelta(hours=i)
        details = {"cloud_area_fraction": 30.0, "air_temperature": 25.0, "wind_speed": 2.0}
        return {"time": at.isoformat(), "data": {"instant": {"details": details}}}

    units = {"cloud_area_fraction": "%", "air_temperature": "celsius", "wind_speed": "m/s"}
    meta = {"updated_at": (noon - HOUR).isoformat(), "units": units}
    return {"properties": {"meta": meta, "timeseries": [step(i) for i in range(60)]}}


def test_an_unchanged_answer_is_not_sent_again(
    kitchen: Kitchen, noon: datetime, config: Callable[..., Config], in_json: Any, answer: Any
) -> None:
    """The date goes back exactly as it came, and only a 304 comes down the line."""
    kitchen.config = config("met-norway")
    changed = format_datetime(noon - HOUR, usegmt=True)
    kitchen.server.say(
        in_json(met(kitchen, noon), Last_Modified=changed, Date=format_datetime(noon, usegmt=True))
    )
    kitchen.ask(noon)
    kitchen.server.say(answer(status=304))
    news = kitchen.ask(noon + 2 * HOUR)
    assert news.messages == ()
    assert news.forecast is not None
    assert news.forecast.fetched_at == noon + 2 * HOUR
    first, second = kitchen.server.seen
    assert "If-Modified-Since" not in first.headers
    assert second.headers["If-Modified-Since"] == changed


def test_unchanged_for_too_long_is_stale_all_the_same(
    kitchen: Kitchen, noon: datetime, config: Callable[..., Config], in_json: Any, answer: Any
) -> None:
    kitchen.config = config("met-norway")
    changed = format_datetime(noon - HOUR, usegmt=True)
    kitchen.server.say(in_json(met(kitchen, noon), Last_Modified=changed))
    kitchen.ask(noon)
    kitchen.server.say(answer(status=304))
    news = kitchen.ask(noon + 47 * HOUR + timedelta(minutes=30))
    assert "old" in news.messages[0]
    book = read_ledger(ledger_path(kitchen.cache / "feeds", "met-norway"))
    assert book.failures == 1


def test_nothing_new_without_anything_kept_is_a_fault(
    kitchen: Kitchen, noon: datetime, config: Callable[..., Config], answer: Any
) -> None:
    kitchen.config = config("met-norway")
    kitchen.server.say(answer(status=304))
    news = kitchen.ask(noon)
    assert news.forecast is None
    assert "nothing is kept here" in news.messages[0]


def test_the_file_says_what_was_asked_and_until_when(kitchen: Kitchen, noon: datetime) -> None:
    kitchen.server.say_json(kitchen.fair(noon))
    kitchen.ask(noon)
    path = kept_path(kitchen.cache / "feeds", "open-meteo", kitchen.config.site)
    data = json.loads(path.read_text(encoding="utf-8"))
    assert data["schema"] == 1
    assert data["request"] == path.stem
    assert datetime.fromisoformat(data["forecast"]["fetched_at"]) == noon
    assert datetime.fromisoformat(data["due_at"]) == noon + HOUR + timedelta(minutes=2.5)


@pytest.mark.parametrize(
    ("attempts", "at_hand", "whole_s"), [(1, True, 12.0), (1, False, 30.0), (3, True, 30.0)]
)
def test_a_plan_waits_less_where_a_forecast_is_at_hand(
    kitchen: Kitchen, noon: datetime, monkeypatch: pytest.MonkeyPatch,
    attempts: int, at_hand: bool, whole_s: float,
) -> None:  # fmt: skip
    kitchen.server.say_json(kitchen.fair(noon))
    if at_hand:
        kitchen.ask(noon)
    used: list[Bounds] = []

    def wire(*, bounds: Bounds | None) -> NetworkWire:
        used.append(bounds or Bounds())
        return NetworkWire(bounds=bounds)

    monkeypatch.setattr(service, "NetworkWire", wire)
    forecast_for(
        kitchen.config,
        now=noon + 3 * HOUR,
        cache_dir=kitchen.cache,
        fetch=True,
        attempts=attempts,
    )
    assert [bounds.whole_s for bounds in used] == [whole_s]


@pytest.mark.parametrize(
    ("length", "distance", "height"),
    # 45 km are 28.0 miles, 500 m are 1640 ft (international mile and foot, exact).
    [("cm", "45 km", "500 m lower"), ("in", "28 miles", "1640 ft lower")],
)
def test_a_cell_far_off_or_far_down_is_told_in_the_cooks_units(
    kitchen: Kitchen, noon: datetime, length: Any, distance: str, height: str
) -> None:
    kitchen.config = replace(kitchen.config, units=replace(kitchen.config.units, length=length))
    near = kitchen.fair(noon)
    far = near | {
        "latitude": kitchen.config.site.latitude_deg + 45_000.0 / 111_195.0,
        "elevation": kitchen.config.site.elevation_m - 500.0,
    }
    kitchen.server.say_json(far)
    one, other = kitchen.ask(noon).messages
    assert distance in one
    assert height in other
    kitchen.server.say_json(near)
    assert kitchen.ask(noon + 2 * HOUR).messages == ()
