"""The calendar file: read back by two parsers that know nothing of one another.

Rules: RFC 5545, sections 3.1 (lines), 3.6.1, 3.6.6 (alarms), 3.8.4.7 (UID), 3.8.7 (changes).
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from itertools import permutations
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.screen.sheet.calendar import Appointment, calendar_text, uid_of

MADRID = ZoneInfo("Europe/Madrid")
DAY = date(2026, 3, 29)
"""Summer time begins in Spain: at 2:00 it is 3:00 (Directive 2000/84/EC, last Sunday in March)."""


def step(key: str, at: datetime, title: str = "Turn the box", text: str = "") -> Appointment:
    return Appointment(key=key, at=at, title=title, text=text)


def written(*steps: Appointment, made_h: int = 6, older: str = "", before_min: int = 5) -> str:
    return calendar_text(
        steps,
        on=DAY,
        place="Almeria roof terrace",
        made_at=datetime(2026, 3, 29, made_h, tzinfo=MADRID),
        before=timedelta(minutes=before_min),
        older=older,
    )


def by_first(text: str) -> dict[str, dict[str, Any]]:
    """Read a file with icalendar."""
    found = {}
    events: list[Any] = list(icalendar.Calendar.from_ical(text).walk("VEVENT"))
    for event in events:
        alarms = [part["trigger"].dt for part in event.subcomponents]
        found[str(event["uid"])] = {
            "at": event["dtstart"].dt,
            "title": str(event["summary"]),
            "text": str(event.get("description", "")),
            "sequence": int(event["sequence"]),
            "status": str(event["status"]),
            "stamp": event["dtstamp"].dt,
            "changed": event["last-modified"].dt,
            "alarms": alarms,
        }
    return found


def by_second(text: str) -> dict[str, dict[str, Any]]:
    """Read a file with vobject."""
    # It still asks for names that newer versions of its own helpers warn about.
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        vobject = pytest.importorskip("vobject", reason="the second parser is not installed")
        found = {}
        for event in vobject.readOne(text).contents.get("vevent", []):
            alarms = [part.trigger.value for part in event.contents.get("valarm", [])]
            found[event.uid.value] = {
                "at": event.dtstart.value,
                "title": event.summary.value,
                "text": event.description.value if "description" in event.contents else "",
                "sequence": int(event.sequence.value),
                "status": event.status.value,
                "stamp": event.dtstamp.value,
                "changed": event.contents["last-modified"][0].value,
                "alarms": alarms,
            }
    return found


READERS = pytest.mark.parametrize("read", [by_first, by_second], ids=["icalendar", "vobject"])


@READERS
def test_a_parser_finds_what_was_meant(read: Any) -> None:
    at = datetime(2026, 3, 29, 13, 5, tzinfo=MADRID)
    title = 'Soup, thick; with a \\ and "quotes" comes out, by 14:40 at 80 °C ' + "long " * 30
    found = read(written(step("pull-soup", at, title, "Dry gloves.\nLid away.")))
    (event,) = found.values()
    assert event["title"] == title
    assert event["text"] == "Dry gloves.\nLid away."
    assert event["at"] == at
    assert event["alarms"] == [timedelta(minutes=-5)]
    assert event["status"] == "CONFIRMED"
    assert event["stamp"] == event["changed"] == datetime(2026, 3, 29, 4, 0, tzinfo=UTC)


@READERS
def test_steps_stay_right_over_the_change_to_summer_time(read: Any) -> None:
    """20:00 the evening before is 19:00 UTC, 13:00 on the day is 11:00 UTC."""
    evening = datetime(2026, 3, 28, 20, 0, tzinfo=MADRID)
    noon = datetime(2026, 3, 29, 13, 0, tzinfo=MADRID)
    found = read(written(step("prepare-1-beans", evening), step("load-beans", noon)))
    times = sorted(event["at"] for event in found.values())
    assert times == [
        datetime(2026, 3, 28, 19, 0, tzinfo=UTC),
        datetime(2026, 3, 29, 11, 0, tzinfo=UTC),
    ]


@READERS
def test_a_later_file_replaces_and_cancels(read: Any) -> None:
    at = datetime(2026, 3, 29, 10, 0, tzinfo=MADRID)
    first = written(step("turn-1000", at), step("load-beans", at))
    later = written(step("load-beans", at + timedelta(minutes=20)), made_h=9, older=first)
    before, after = read(first), read(later)
    assert set(before) == set(after), "the same steps are the same events"
    gone, kept = (uid_of(key, on=DAY, place="Almeria roof terrace") for key in
                  ("turn-1000", "load-beans"))  # fmt: skip
    assert after[gone]["status"] == "CANCELLED"
    assert after[gone]["alarms"] == []
    assert after[kept]["status"] == "CONFIRMED"
    assert after[kept]["at"] == at + timedelta(minutes=20)
    assert all(after[uid]["sequence"] > before[uid]["sequence"] for uid in after)


Known = dict[str, dict[str, Any]]


def taken(known: Known, update: Known) -> Known:
    """Return a calendar after a file was opened: RFC 5546, section 2.1.5, as a receiver has it.

    Of two with one UID the greater SEQUENCE stays; with the same, the later DTSTAMP.
    """
    newer = dict(known)
    for uid, event in update.items():
        old = known.get(uid)
        if old is None or (old["sequence"], old["stamp"]) < (event["sequence"], event["stamp"]):
            newer[uid] = event
    return newer


def called(known: Known) -> set[tuple[str, datetime]]:
    """Return what a calendar still calls for."""
    return {(event["title"], event["at"]) for event in known.values() if event["alarms"]}


@READERS
def test_whatever_the_order_of_files_the_calendar_ends_with_the_last_plan(read: Any) -> None:
    at = datetime(2026, 3, 29, 10, 0, tzinfo=MADRID)
    late = at + timedelta(hours=2)
    first = written(step("turn-1000", at, "Turn"), step("load-beans", at, "Beans go in"))
    second = written(step("load-beans", late, "Beans go in"), made_h=8, older=first)
    third = written(step("turn-1100", late, "Turn"), made_h=9, older=second)
    files = [read(text) for text in (first, second, third)]
    for order in permutations(files):
        known: Known = {}
        for update in order:
            known = taken(known, update)
        assert called(known) == {("Turn", late)}
        assert [event["title"] for event in known.values() if event["status"] == "CANCELLED"]


@READERS
def test_two_plans_of_one_minute_are_told_apart_by_their_stamps(read: Any) -> None:
    """SEQUENCE counts minutes, so it is equal; the section above then goes by DTSTAMP."""
    at = datetime(2026, 3, 29, 10, 0, tzinfo=MADRID)
    first, second = (
        read(
            calendar_text(
                [step("cover", at + timedelta(minutes=second))],
                on=DAY, place="roof", before=timedelta(minutes=5),
                made_at=datetime(2026, 3, 29, 6, 0, second, tzinfo=MADRID),
            )
        )
        for second in (5, 40)
    )  # fmt: skip
    assert {e["sequence"] for e in first.values()} == {e["sequence"] for e in second.values()}
    assert called(taken(first, second)) == called(taken(second, first)) == called(second)


@READERS
def test_a_cancelled_step_says_so_in_its_title_once_and_calls_nobody(read: Any) -> None:
    at = datetime(2026, 3, 29, 10, 0, tzinfo=MADRID)
    text = written(step("turn-1000", at, "Turn the box"))
    for made_h in (7, 8, 9):
        text = written(made_h=made_h, older=text)
        (event,) = read(text).values()
        assert (event["title"], event["status"]) == ("Cancelled: Turn the box", "CANCELLED")
        assert event["alarms"] == []


def test_no_method_no_organizer_and_every_time_in_utc() -> None:
    """RFC 5545, 3.8.4.3: no ORGANIZER where nobody is invited; 3.3.5, form 2: Z for UTC."""
    at = datetime(2026, 3, 29, 10, 0, tzinfo=MADRID)
    first = written(step("turn-1000", at), step("load-beans", at))
    lines = written(step("load-beans", at), made_h=9, older=first, before_min=90).split("\r\n")
    names = {line.partition(":")[0].partition(";")[0] for line in lines}
    assert names & {"METHOD", "ORGANIZER", "ATTENDEE", "TZID", "RRULE"} == set()
    assert {"UID", "SEQUENCE", "DTSTAMP", "LAST-MODIFIED", "STATUS"} <= names
    times = [line for line in lines if line.startswith(("DT", "LAST-MODIFIED"))]
    assert times
    assert all(re.fullmatch(r"[A-Z-]+:\d{8}T\d{6}Z", line) for line in times), times
    # 3.8.6.3: a length, not a moment, so that the alarm moves when the cook moves the step.
    triggers = [line for line in lines if line.startswith("TRIGGER")]
    assert triggers == ["TRIGGER:-PT1H30M"]


@READERS
def test_an_alarm_at_the_very_moment(read: Any) -> None:
    at = datetime(2026, 3, 29, 10, 0, tzinfo=MADRID)
    (event,) = read(written(step("cover", at), before_min=0)).values()
    assert event["alarms"] == [timedelta(0)]


def test_a_step_that_comes_back_is_confirmed_again() -> None:
    at = datetime(2026, 3, 29, 10, 0, tzinfo=MADRID)
    first = written(step("turn-1000", at))
    without = written(made_h=8, older=first)
    again = by_first(written(step("turn-1000", at), made_h=9, older=without))
    assert [event["status"] for event in again.values()] == ["CONFIRMED"]


def test_the_same_plan_is_the_same_file() -> None:
    at = datetime(2026, 3, 29, 10, 0, tzinfo=MADRID)
    assert written(step("turn-1000", at)) == written(step("turn-1000", at))


def test_a_dish_for_two_meals_has_two_events() -> None:
    at = datetime(2026, 3, 29, 10, 0, tzinfo=MADRID)
    found = by_first(written(step("load-beans", at), step("load-beans", at + timedelta(hours=3))))
    assert len(found) == 2


def test_another_place_has_other_events() -> None:
    assert uid_of("cover", on=DAY, place="a") != uid_of("cover", on=DAY, place="b")


def test_something_else_in_place_of_an_older_file_is_no_reason_to_stop() -> None:
    at = datetime(2026, 3, 29, 10, 0, tzinfo=MADRID)
    assert len(by_first(written(step("cover", at), older="no calendar at all"))) == 1
    assert len(by_first(written(step("cover", at), older="BEGIN:VCALENDAR\n???"))) == 1


def lines_of(text: str) -> Iterator[bytes]:
    yield from text.encode("utf-8").split(b"\r\n")


# Control characters are no TEXT in RFC 5545, section 3.3.11, and no words of ours.
TITLES = st.text(st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp")), min_size=1)


@given(title=TITLES)
def test_lines_are_folded_at_75_octets_and_unfold_to_the_same(title: str) -> None:
    """RFC 5545, section 3.1: no longer than 75 octets, ended by CRLF, whole characters kept."""
    text = written(step("load", datetime(2026, 3, 29, 10, tzinfo=MADRID), f"A{title}Z"))
    assert all(len(line) <= 75 for line in lines_of(text))
    assert b"\n" not in text.encode().replace(b"\r\n", b"")
    assert [event["title"] for event in by_first(text).values()] == [f"A{title}Z"]
