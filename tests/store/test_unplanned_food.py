"""What was noted as loaded and is not for the box, or not for the day."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from suntrack.config.reader import Config, load_config
from suntrack.store.journal import Entry, EntryKind
from suntrack.store.unplanned_food import stray, strays, was_loaded

ROOT = Path(__file__).parents[2]
DAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def config() -> Config:
    return load_config(ROOT / "config" / "suntrack.toml")


def at(hour: int, config: Config) -> datetime:
    return datetime(2026, 11, 25, hour, tzinfo=config.site.zone)


def entry(kind: EntryKind, dish: str, when: datetime) -> Entry:
    return Entry(at=when, kind=kind, day=DAY, subject=dish, data={})


@pytest.mark.parametrize(
    ("dish", "kind", "why"),
    # USDA FSIS: no oven below 325 F for whole birds; FDA Bad Bug Book: kidney beans are boiled
    # 30 minutes (both by the copies that the food rules name).
    [
        ("whole-chicken", "refused", "FSIS"),
        ("kidney-beans", "refused", "Bad Bug Book"),
        ("baked-apples", "not wanted", ""),
    ],
)
def test_what_should_not_be_inside_is_found(config: Config, dish: str, kind: str, why: str) -> None:
    (found,) = strays(
        [entry("loaded", dish, at(9, config))], config=config, on=DAY, now=at(10, config)
    )
    assert (found.kind, found.dish, found.loaded_at) == (kind, dish, at(9, config))
    assert why in found.reason


def test_times_are_those_of_the_site(config: Config) -> None:
    """The journal is read back in UTC; Gaborone is two hours ahead (IANA time zone database)."""
    nine = at(9, config).astimezone(UTC)
    found = stray("baked-apples", loaded_at=nine, config=config, on=DAY)
    assert found is not None
    assert found.loaded_at.utcoffset() == timedelta(hours=2)


def test_what_is_wanted_or_out_again_or_still_to_come_is_no_stray(config: Config) -> None:
    nine, ten, eleven = (at(hour, config) for hour in (9, 10, 11))
    wanted = [entry("loaded", "lentil-soup", nine)]
    out_again = [entry("loaded", "whole-chicken", nine), entry("pulled", "whole-chicken", ten)]
    to_come = [entry("loaded", "whole-chicken", eleven)]
    for entries in (wanted, out_again, to_come):
        assert strays(entries, config=config, on=DAY, now=ten) == ()


def test_confirmed_beans_may_be_inside(config: Config) -> None:
    first = config.dishes[0]
    for confirmed in (True, False):
        beans = replace(first, dish="kidney-beans", confirmed=confirmed)
        mine = replace(config, dishes=(beans,))
        found = stray("kidney-beans", loaded_at=at(9, config), config=mine, on=DAY)
        assert (found is None) == confirmed


def test_a_dish_went_in_by_a_note_or_by_a_plan_that_was_shown(config: Config) -> None:
    nine, ten = at(9, config), at(10, config)
    plan = Entry(
        at=at(7, config),
        kind="plan",
        day=DAY,
        subject=None,
        data={"loads": {"soup": nine.isoformat()}},
    )
    assert was_loaded("soup", [entry("loaded", "soup", nine)], now=ten)
    assert was_loaded("soup", [plan], now=ten)
    assert not was_loaded("soup", [plan], now=at(8, config))
    assert not was_loaded("soup", [entry("pulled", "soup", nine)], now=ten)
