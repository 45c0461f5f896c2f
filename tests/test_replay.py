"""A whole day replayed: which alerts come, when, and in which order.

The expected times are the hand-made plan's own, and the rules in words: a turn at its
minute, food again every ten minutes until answered, a last call ten minutes before the
dish has to be out.
"""

from __future__ import annotations

import math
import threading
from collections.abc import Callable, Sequence
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from suntrack.alerts.alert import Alert
from suntrack.clock import ReplayClock
from suntrack.notify.channel import Accepted, Notice, Outcome
from suntrack.plan.records import DayPlan, DishPlan, SkyNote, Step, TurnChoice, Verdict, Window
from suntrack.screen.text.notices import alert_words
from suntrack.store.journal import Journal
from suntrack.units import Units
from suntrack.watch.daemon import Watch, WatchView, run_replay


def day_at(zone: ZoneInfo, on: date) -> Callable[[str], datetime]:
    """Return a function from a local time of the day to the instant."""
    return lambda text: datetime.fromisoformat(f"{on}T{text}").replace(tzinfo=zone)


def day_plan(at: Callable[[str], datetime]) -> DayPlan:
    """Return a day with one soup, two turns and a cover."""
    follow = TurnChoice(name="fewest turns", turns=(), light_kept=0.97)
    dish = DishPlan(
        key="lentil-soup", name="Lentil soup", pot="small pot", serve_at=at("13:00"),
        load_at=at("09:00"), done_at=at("12:00"), safe_at=at("11:00"), pull_at=at("13:00"),
        pull_by=at("14:30"), stove_by=at("12:15"), status="ready", notes=(),
    )  # fmt: skip
    steps = (
        Step(key="preheat", kind="preheat", at=at("07:30")),
        Step(key="load-lentil-soup", kind="load", at=at("09:00"), dish="lentil-soup"),
        Step(key="turn-1", kind="turn", at=at("10:00")),
        Step(key="turn-2", kind="turn", at=at("11:30")),
        Step(key="pull-lentil-soup", kind="pull", at=at("13:00"), dish="lentil-soup"),
        Step(key="cover", kind="cover", at=at("13:15")),
    )
    return DayPlan(
        date=at("12:00").date(), site_name="here", made_at=at("06:00"), sunrise_at=at("05:20"),
        sunset_at=at("18:45"), solar_noon_at=at("12:03"), declination_deg=0.0,
        verdict=Verdict(cook=True, chance=None, reason="clear"),
        window=Window(opens_at=at("08:40"), closes_at=at("16:30"), threshold_c=100.0,
                      peak_c=140.0, peak_at=at("12:30")),
        turns=follow, turn_choices=(follow,), box=(), dishes=(dish,), steps=steps, cautions=(),
        sky=SkyNote(source="clear sky", issued_at=None),
    )  # fmt: skip


class Diary:
    """A way that writes down when it was given what; some notices are answered at once."""

    name = "diary"

    def __init__(self, clock: ReplayClock, zone: ZoneInfo, answered: Sequence[str] = ()) -> None:
        self._clock, self._zone, self._answered = clock, zone, answered
        self.answer: Callable[..., object] = lambda key, answer: None
        self.lines: list[tuple[str, str, bool]] = []

    def send(self, notice: Notice) -> Outcome:
        name = notice.key.partition("/")[2]
        local = self._clock.now().astimezone(self._zone)
        self.lines.append((local.strftime("%H:%M"), name, notice.title.startswith("Again: ")))
        if name in self._answered:
            self.answer(notice.key, "done")
        return Accepted()


def replay(
    zone: str = "Africa/Gaborone",
    on: date = date(2026, 11, 25),
    *,
    speed: float | None = None,
    most_s: float = math.inf,
    answered: Sequence[str] = (),
    **changes: Any,
) -> Diary:
    """Replay the hand-made day from 6:30 to 19:00 and return the diary."""
    local = ZoneInfo(zone)
    at = day_at(local, on)
    plan, clock = day_plan(at), ReplayClock(at("06:30"), speed=speed)
    diary = Diary(clock, local, answered)

    def words(alert: Alert, now: datetime) -> tuple[str, str]:
        return alert_words(alert, units=Units(), zone=local, now=now)

    with Journal.in_memory() as journal:
        watch = Watch(
            clock=clock, journal=journal, ways=[diary], plan_source=lambda now: plan,
            words=words, **changes,
        )  # fmt: skip
        diary.answer = watch.answer
        run_replay(watch, clock=clock, to_at=at("19:00"), most_s=most_s)
    return diary


QUIET_DAY = [
    ("07:30", "preheat", False),
    ("08:40", "window-opens", False),
    ("09:00", "load-lentil-soup", False),
    ("10:00", "turn-1", False),
    ("11:30", "turn-2", False),
    ("12:00", "done-lentil-soup", False),
    ("13:00", "pull-lentil-soup", False),
    ("13:15", "cover", False),
    ("16:30", "window-closes", False),
]


def test_a_cook_who_answers_hears_each_thing_once() -> None:
    assert replay(answered=["pull-lentil-soup"]).lines == QUIET_DAY


def test_a_cook_who_does_not_answer_is_called_again_for_the_food_only() -> None:
    lines = [line for line in replay().lines if line[0] >= "13:00"]
    assert lines[:3] == [
        ("13:00", "pull-lentil-soup", False),
        ("13:10", "pull-lentil-soup", True),
        ("13:15", "cover", False),
    ]
    assert ("14:20", "pull-by-lentil-soup", False) in lines
    again = [line for line in lines if line[2]]
    assert again
    assert all("pull" in name for _, name, _ in again)
    assert len(again) <= 6


def test_the_steps_of_a_countdown_change_nothing() -> None:
    assert replay(most_s=60.0).lines == replay().lines


def test_a_replay_with_a_speed_tells_the_same() -> None:
    """Twelve hours and a half at a million times the speed are 45 ms."""
    assert replay(speed=1e6).lines == replay().lines


@pytest.mark.promise("Days on which clocks change")
@pytest.mark.parametrize(
    ("zone", "on"),
    [
        ("America/Denver", date(2026, 3, 8)),
        ("America/Denver", date(2026, 11, 1)),
        ("Europe/Berlin", date(2026, 3, 29)),
        ("Australia/Lord_Howe", date(2026, 4, 5)),
        ("Australia/Lord_Howe", date(2026, 10, 4)),
        ("Africa/Cairo", date(2026, 4, 24)),
        ("Asia/Beirut", date(2026, 3, 29)),
        ("America/Santiago", date(2026, 9, 6)),
    ],
)
def test_on_the_days_the_clocks_change_every_alert_comes_at_its_local_time(
    zone: str, on: date
) -> None:
    """Days of change from the IANA time zone database; checked here to be such days."""
    noon = day_at(ZoneInfo(zone), on)("12:00")
    noon_before = day_at(ZoneInfo(zone), on - timedelta(days=1))("12:00")
    assert noon.utcoffset() != noon_before.utcoffset()
    assert replay(zone, on).lines == replay().lines


def test_a_replay_can_be_stopped() -> None:
    at = day_at(ZoneInfo("Africa/Gaborone"), date(2026, 11, 25))
    plan, clock, stop = day_plan(at), ReplayClock(at("06:30"), speed=None), threading.Event()
    diary = Diary(clock, ZoneInfo("Africa/Gaborone"))

    def on_change(view: WatchView) -> None:
        if any(state == "sent" for state in view.states.values()):
            stop.set()

    with Journal.in_memory() as journal:
        watch = Watch(
            clock=clock, journal=journal, ways=[diary], plan_source=lambda now: plan,
            words=lambda alert, now: (alert.key, ""), on_change=on_change,
        )  # fmt: skip
        run_replay(watch, clock=clock, to_at=at("19:00"), stop=stop)
    assert [name for _, name, _ in diary.lines] == ["preheat"]
