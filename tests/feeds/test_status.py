"""What an answer's status means, from recorded bodies and from the standard's words."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from suntrack.errors import FeedError, FeedErrorKind
from suntrack.feeds.found import changed_at, clock_note, fresh_for
from suntrack.feeds.request import http_date, reason, refuse_failures, retry_after
from suntrack.feeds.wire import Reply

NOW = datetime(2026, 11, 25, 10, 20, tzinfo=UTC)
MINUTE, HOUR, DAY = timedelta(minutes=1), timedelta(hours=1), timedelta(days=1)


def reply(status: int, body: bytes = b"", **headers: str) -> Reply:
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    return Reply(status=status, headers=named, body=body)


def failure(answer: Reply) -> FeedError:
    with pytest.raises(FeedError) as caught:
        refuse_failures(answer, now=NOW)
    return caught.value


@pytest.mark.parametrize("status", [200, 203, 304])
def test_answers_pass(status: int) -> None:
    refuse_failures(reply(status), now=NOW)


@pytest.mark.parametrize(
    ("words", "least", "most", "again"),
    [
        # Texts of the Open-Meteo server's own source; its counters start anew on the minute,
        # on the hour and at midnight UTC.
        ("Minutely API request limit exceeded. Please try again in one minute.",
         MINUTE, 3 * MINUTE, False),
        ("Hourly API request limit exceeded. Please try again in the next hour.",
         40 * MINUTE, 45 * MINUTE, False),
        ("Daily API request limit exceeded. Please try again tomorrow.",
         13 * HOUR + 40 * MINUTE, 14 * HOUR, False),
        ("Too many concurrent requests", timedelta(seconds=1), 5 * MINUTE, True),
        ("", HOUR, HOUR, False),
    ],
)  # fmt: skip
def test_a_limit_is_waited_for_as_long_as_it_lasts(
    words: str, least: timedelta, most: timedelta, again: bool
) -> None:
    error = failure(reply(429, json.dumps({"error": True, "reason": words}).encode()))
    assert error.wait is not None
    assert least <= error.wait <= most
    assert error.again is again


@pytest.mark.parametrize(
    ("name", "status", "kind", "again", "said"),
    [
        ("openmeteo_error_429_daily.json", 429, "limit", False, "today"),
        ("openmeteo_error_429_hourly.json", 429, "limit", False, "this hour"),
        ("openmeteo_error_429_minutely.json", 429, "limit", False, "this minute"),
        ("openmeteo_error_429_concurrent.json", 429, "busy", True, "another request"),
        ("openmeteo_error_400_latitude.json", 400, "refused", False, "does not understand"),
        ("openmeteo_error_400_bad_variable.json", 400, "refused", False, "It says"),
        ("openmeteo_error_503_overloaded.json", 503, "busy", True, "trouble"),
        ("openmeteo_error_500_generic.json", 500, "busy", True, "trouble"),
        ("nws_problem_404_invalid_point.json", 404, "not covered", False, "does not cover"),
        ("nws_problem_404_marine.json", 404, "not covered", False, "sea"),
        ("nws_problem_503_grid_expired.json", 503, "busy", True, "run out"),
        ("nws_problem_503_unavailable.json", 503, "busy", True, "trouble"),
        ("nws_problem_500_unexpected.json", 500, "busy", True, "trouble"),
        ("metno_403_forbidden.html", 403, "refused", False, "contact"),
    ],
)
def test_every_kept_failure_has_a_sentence_of_its_own(
    payload: Callable[[str], Any],
    name: str,
    status: int,
    kind: FeedErrorKind,
    again: bool,
    said: str,
) -> None:
    body = payload(name)
    raw = body if isinstance(body, bytes) else json.dumps(body).encode()
    error = failure(reply(status, raw))
    assert (error.kind, error.again) == (kind, again)
    assert said in error.message
    assert "<" not in error.message, "nothing of a page is repeated"


def test_a_foreign_reason_is_made_harmless() -> None:
    """Control characters from the network must not reach a terminal."""
    body = json.dumps({"reason": "a\x1b[31m\r\nb" + "x" * 500}).encode()
    said, _ = reason(reply(400, body))
    assert said.isprintable()
    assert len(said) <= 160


@pytest.mark.parametrize("body", [b"", b"[]", b"null", b"<html>", b'{"reason": 3}', b"[" * 100_000])
def test_a_failure_without_a_reason_is_still_one(body: bytes) -> None:
    assert failure(reply(500, body)).kind == "busy"


@pytest.mark.parametrize(
    ("text", "wait"),
    [
        ("120", 2 * MINUTE),
        ("Wed, 25 Nov 2026 10:50:00 GMT", 30 * MINUTE),
        ("Wed, 25 Nov 2026 10:00:00 GMT", timedelta(0)),
        ("99999999999999", DAY),
        ("soon", None),
        ("-5", None),
        ("", None),
    ],
)
def test_retry_after_is_seconds_or_a_date(text: str, wait: timedelta | None) -> None:
    """RFC 9110, 10.2.3; never more than a day, whatever it says."""
    assert retry_after(reply(503, retry_after=text), now=NOW) == wait


def test_a_date_is_read_as_http_writes_it() -> None:
    """The example of RFC 9110, 5.6.7."""
    assert http_date("Sun, 06 Nov 1994 08:49:37 GMT") == datetime(
        1994, 11, 6, 8, 49, 37, tzinfo=UTC
    )
    assert http_date("yesterday") is None
    assert http_date(None) is None


def test_freshness_is_reckoned_on_the_servers_two_clocks() -> None:
    """A recorded answer of MET Norway, 2020-07-20: 31 minutes 52 seconds."""
    answer = reply(
        200,
        date="Mon, 20 Jul 2020 11:44:31 GMT",
        expires="Mon, 20 Jul 2020 12:16:23 GMT",
    )
    assert fresh_for(answer) == timedelta(minutes=31, seconds=52)


def test_max_age_counts_before_expires() -> None:
    """RFC 9111, 5.3; a recorded header of the US service, in which s-maxage is for proxies."""
    answer = reply(
        200,
        date="Tue, 06 Oct 2020 03:57:17 GMT",
        expires="Tue, 06 Oct 2020 04:57:17 GMT",
        cache_control="public, max-age=749, s-maxage=3600",
    )
    assert fresh_for(answer) == timedelta(seconds=749)
    only_proxies = reply(200, cache_control="public, s-maxage=3600")
    assert fresh_for(only_proxies) is None


@pytest.mark.parametrize("age", ["999999999", "86400"])
def test_no_answer_is_fresh_for_days(age: str) -> None:
    assert fresh_for(reply(200, cache_control=f"max-age={age}")) == timedelta(hours=6)


def test_a_change_in_the_future_is_not_asked_about() -> None:
    """A recorded pair of headers: changed at 22:00, sent at 03:57 of the same day."""
    date = "Tue, 06 Oct 2020 03:57:17 GMT"
    future = reply(200, date=date, last_modified="Tue, 06 Oct 2020 22:00:00 GMT")
    assert changed_at(future) is None
    past = "Tue, 06 Oct 2020 03:00:00 GMT"
    assert changed_at(reply(200, date=date, last_modified=past)) == past


def test_a_clock_that_is_off_is_told() -> None:
    (note,) = clock_note(reply(200, date="Wed, 25 Nov 2026 11:20:00 GMT"), now=NOW)
    assert "60 minutes behind" in note
    (note,) = clock_note(reply(200, date="Wed, 25 Nov 2026 10:00:00 GMT"), now=NOW)
    assert "20 minutes ahead" in note
    assert clock_note(reply(200, date="Wed, 25 Nov 2026 10:19:00 GMT"), now=NOW) == ()
    assert clock_note(reply(200), now=NOW) == ()
