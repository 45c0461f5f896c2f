"""The book of a feed: what was asked, and when it may be asked again."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.config.feed_terms import FEEDS
from suntrack.errors import FeedError
from suntrack.feeds.ledger import (
    BACK_OFF,
    Ledger,
    ledger_path,
    read_ledger,
    wait_words,
    write_ledger,
)

NOW = datetime(2026, 11, 25, 10, 20, tzinfo=UTC)
TERMS = FEEDS["open-meteo"]
OFFLINE = FeedError("nobody there", kind="offline")
NONE = timedelta(0)


def test_an_empty_book_lets_ask() -> None:
    assert Ledger().may_ask(now=NOW) == NONE


def test_a_minute_lies_between_two_rounds_whatever_else() -> None:
    spent = Ledger().spent(1.0, terms=TERMS, now=NOW)
    assert spent.may_ask(now=NOW) == timedelta(minutes=1)
    assert spent.may_ask(now=NOW + timedelta(minutes=1)) == NONE


@pytest.mark.promise("Nothing to plan from for six hours")
def test_each_failure_in_a_row_is_waited_for_longer() -> None:
    book, waits = Ledger(), []
    for _ in range(6):
        book = book.failed(OFFLINE, now=NOW, dice=0.0)
        waits.append(book.may_ask(now=NOW))
    assert waits == [*BACK_OFF, BACK_OFF[-1], BACK_OFF[-1]]
    assert book.complaint == "nobody there"
    assert book.succeeded().may_ask(now=NOW) == NONE
    assert book.succeeded().complaint == ""


def test_a_wait_that_the_feed_asks_for_is_kept() -> None:
    error = FeedError("limit", kind="limit", wait=timedelta(hours=13))
    book = Ledger().failed(error, now=NOW, dice=1.0)
    assert book.may_ask(now=NOW) == timedelta(hours=13, minutes=2)


def test_the_weight_of_a_day_has_a_ceiling() -> None:
    book, count = Ledger(), 0
    with pytest.raises(FeedError, match="enough for today") as caught:
        while True:
            book, count = book.spent(15.5, terms=TERMS, now=NOW), count + 1
    assert count == int(TERMS.most_a_day / 15.5)
    assert caught.value.wait == timedelta(hours=13, minutes=40)
    tomorrow = NOW + timedelta(hours=14)
    assert book.spent(15.5, terms=TERMS, now=tomorrow).weight == 15.5


@given(back=st.timedeltas(timedelta(hours=26), timedelta(days=3000)))
def test_a_clock_set_back_does_not_lock_the_feed_for_years(back: timedelta) -> None:
    book = Ledger().failed(OFFLINE, now=NOW, dice=0.0)
    assert book.may_ask(now=NOW - back) == NONE


def test_the_book_comes_back_from_disk(tmp_path: Path) -> None:
    path = ledger_path(tmp_path / "feeds", "open-meteo")
    book = Ledger().spent(2.0, terms=TERMS, now=NOW).failed(OFFLINE, now=NOW, dice=0.0)
    write_ledger(path, book)
    assert read_ledger(path) == book


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"schema": 9}', '{"schema": 1}', "nul"])
def test_a_book_that_cannot_be_read_is_a_new_one(tmp_path: Path, text: str) -> None:
    path = tmp_path / "book.json"
    path.write_text(text, encoding="utf-8")
    assert read_ledger(path) == Ledger()


def test_a_wait_is_told_as_a_minute_at_least() -> None:
    assert wait_words(timedelta(seconds=3)) == "1 min"
    assert wait_words(timedelta(hours=2)) == "2 h"


def test_our_ceilings_are_far_under_the_services() -> None:
    """Open-Meteo's terms: under 10 000 a day, 5 000 an hour, 600 a minute."""
    assert all(terms.most_a_day <= 500.0 for terms in FEEDS.values())
