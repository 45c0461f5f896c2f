"""Times of day in the config, on either clock; the standard library reads them beside us."""

from __future__ import annotations

import re
from datetime import datetime, time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.config.reader import load_config
from suntrack.config.times import (
    CLOCK_TIME,
    FREE,
    STRETCH,
    minutes_of,
    read_stretch,
    read_time,
)
from suntrack.errors import InputError

EXAMPLE = (Path(__file__).parents[2] / "config" / "suntrack.toml").read_text(encoding="utf-8")
NOON_HOURS, MORNING, EVENING = 'serve = "13:00"', 'free = ["6:30-20:30"]', "hours = []"


def example(folder: Path, *changes: tuple[str, str]) -> Path:
    """Return the example with some lines written otherwise."""
    text = EXAMPLE
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    path = folder / "mine.toml"
    path.write_text(text, encoding="utf-8")
    return path


@given(minute=st.integers(0, 24 * 60 - 1), gap=st.sampled_from(["", " ", "  "]))
def test_both_clocks_are_read_as_the_standard_library_reads_them(minute: int, gap: str) -> None:
    moment = datetime(2026, 11, 25, minute // 60, minute % 60)  # noqa: DTZ001 - a time of day only
    by_24, by_12 = f"{moment:%H:%M}", f"{moment:%I:%M}{gap}{moment:%p}"
    short = by_12.lstrip("0").lower()
    for text in (by_24, by_12, short):
        assert re.fullmatch(CLOCK_TIME, text)
        assert read_time(text) == moment.time()


@pytest.mark.parametrize(
    ("text", "starts", "ends"),
    [
        ("6:30-20:30", time(6, 30), time(20, 30)),
        ("6:30 am - 8:30 pm", time(6, 30), time(20, 30)),
        ("6:30am-8:30PM", time(6, 30), time(20, 30)),
        ("9:30 pm - 6:00 am", time(21, 30), time(6)),
        ("12:00 pm - 12:00 am", time(12), time(0)),
        ("12:30 am - 1:00 am", time(0, 30), time(1)),
        ("until 9:00 am", time(0), time(9)),
        ("after 4:00 pm", time(16), time(0)),
    ],
)
def test_stretches_are_read(text: str, starts: time, ends: time) -> None:
    assert re.search(FREE, text)
    assert read_stretch(text) == (starts, ends)


def test_midnight_ends_a_day_on_either_clock() -> None:
    assert minutes_of("6:00 pm - 12:00 am") == minutes_of("18:00-24:00") == (1080, 1440)


@pytest.mark.parametrize("text", ["1pm", "13:00 pm", "0:30 am", "1:60 pm", "1:00 p", "1:00 pm pm"])
def test_what_no_clock_shows_is_no_time(text: str) -> None:
    assert not re.search(CLOCK_TIME, text)


@pytest.mark.parametrize("text", ["1:00-3:00 pm", "1:00 pm-15:00", "24:00-6:00", "6:00 am"])
def test_stretches_that_leave_a_doubt_are_refused(text: str) -> None:
    assert not re.search(STRETCH, text)
    assert not re.search(FREE, text)


def test_the_config_says_the_same_on_either_clock(tmp_path: Path) -> None:
    wanted = load_config(example(tmp_path, (EVENING, 'hours = ["21:30-6:00"]')))
    found = load_config(
        example(
            tmp_path,
            (NOON_HOURS, 'serve = "1:00 pm"'),
            (MORNING, 'free = ["6:30 am - 8:30 pm"]'),
            (EVENING, 'hours = ["9:30 pm - 6:00 am"]'),
        )
    )
    assert found.dishes[0].serve == wanted.dishes[0].serve == time(13)
    assert found.free == wanted.free == ((time(6, 30), time(20, 30)),)
    assert found.calls.quiet == wanted.calls.quiet


@pytest.mark.parametrize(
    ("clock", "shown"), [("24", ("18:30", "6:30-21:00")), ("12", ("6:30 pm", "after 4:00 pm"))]
)
def test_a_mistake_is_answered_on_the_clock_of_the_cook(
    tmp_path: Path, clock: str, shown: tuple[str, str]
) -> None:
    path = example(
        tmp_path,
        ('clock = "24"', f'clock = "{clock}"'),
        (NOON_HOURS, 'serve = "1pm"'),
        (MORNING, 'free = ["1:00-3:00 pm"]'),
    )
    with pytest.raises(InputError) as caught:
        load_config(path)
    allowed = " ".join(problem.allowed for problem in caught.value.problems)
    assert all(one in allowed for one in shown)
