"""What is told at a moment: only what is due, only the newest, never less than the food."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from suntrack.alerts.alert import Alert, Kind, Urgency
from suntrack.alerts.decide import Actions, Note, decide, may_have_been_told, next_moment
from suntrack.alerts.history import AlertEvent, AlertHistory
from suntrack.alerts.rules import alerts_for
from suntrack.plan.records import DayPlan, DishPlan

At = Callable[[str], datetime]
MakePlan = Callable[..., DayPlan]
WAYS = ("terminal",)
MINUTE = timedelta(minutes=1)


class Kitchen:
    """A cook who is told by one way that always takes it; no daemon, no journal."""

    def __init__(self, alerts: Sequence[Alert]) -> None:
        self.alerts = tuple(alerts)
        self.stories: dict[str, AlertHistory] = {}
        self.notes: list[Note] = []
        self.told: list[tuple[datetime, str]] = []

    def look(self, now: datetime) -> Actions:
        """Decide, and carry the orders out as the daemon would."""
        orders = decide(self.alerts, stories=self.stories, notes=self.notes, ways=WAYS, now=now)
        for event, alerts in (("settle", orders.settle), ("move", orders.move)):
            for alert in alerts:
                self._happen(alert, event, now)
        for alert in (*orders.lapse, *(old for old, _ in orders.replace)):
            self._happen(alert, "lapse", now)
        for send in orders.send:
            self._happen(send.alert, send.event, now, way=send.way)
            self._happen(send.alert, "accepted", now, way=send.way)
            self.told.append((now, send.alert.key.partition("/")[2]))
        return orders

    def _happen(self, alert: Alert, event: str, now: datetime, way: str | None = None) -> None:
        line = AlertEvent(
            key=alert.key,
            event=event,  # type: ignore[arg-type]
            at=now,
            way=way,
            data={"due_at": alert.due_at.isoformat()},
        )
        self.stories[alert.key] = self.stories.get(alert.key, AlertHistory()).then(line)

    def names(self) -> list[str]:
        """Return what was told, in order."""
        return [name for _, name in self.told]


@pytest.fixture
def kitchen(make_plan: MakePlan) -> Kitchen:
    return Kitchen(alerts_for(make_plan()))


def test_before_its_time_nothing_is_told(kitchen: Kitchen, at: At) -> None:
    kitchen.look(at("07:00"))  # the evening before has its own time, ten hours long
    kitchen.told.clear()
    assert kitchen.look(at("07:29")) == Actions()


def test_looking_twice_tells_once(kitchen: Kitchen, at: At) -> None:
    kitchen.look(at("07:30"))
    assert kitchen.look(at("07:30")) == Actions()
    assert kitchen.names() == ["preheat"]


def test_after_a_long_absence_only_the_newest_turn_is_told(kitchen: Kitchen, at: At) -> None:
    orders = kitchen.look(at("11:45"))
    assert "turn-2" in kitchen.names()
    assert not {"preheat", "turn-1"} & set(kitchen.names())
    missed = {alert.key.partition("/")[2] for alert in orders.missed}
    assert {"preheat", "turn-1"} <= missed


def test_a_pull_is_told_whatever_else_is_due(kitchen: Kitchen, at: At) -> None:
    """Three hours away: turns are dropped, the food is not."""
    kitchen.look(at("10:00"))
    kitchen.told.clear()
    kitchen.look(at("13:11"))
    assert set(kitchen.names()) == {"pull-lentil-soup", "cover"}


def test_the_last_call_takes_the_place_of_a_first_call_that_never_went_out(
    kitchen: Kitchen, at: At
) -> None:
    orders = kitchen.look(at("14:25"))
    assert "pull-by-lentil-soup" in kitchen.names()
    assert "pull-lentil-soup" not in kitchen.names()
    assert [(old.kind, new.kind) for old, new in orders.replace if old.kind == "pull"] == [
        ("pull", "pull by")
    ]


@pytest.mark.promise("Told together, and not again for a small change")
def test_what_is_due_within_the_minute_goes_along_but_never_food(at: At) -> None:
    def alert(name: str, kind: Kind, due_at: datetime, urgency: Urgency = "normal") -> Alert:
        return Alert(
            key=f"2026-11-25/{name}",
            kind=kind,
            due_at=due_at,
            lapses_at=due_at + timedelta(hours=1),
            urgency=urgency,
        )

    now = at("10:00")
    soon = now + timedelta(seconds=40)
    kitchen = Kitchen(
        [
            alert("turn-1", "turn", now),
            alert("load-bread", "load", soon),
            alert("pull-soup", "pull", soon, "urgent"),
        ]
    )
    kitchen.look(now)
    assert kitchen.names() == ["turn-1", "load-bread"]


@pytest.mark.parametrize(
    ("kind", "subject", "noted_at", "due", "silent"),
    [
        ("turned", None, "09:45", "10:00", "turn-1"),
        ("loaded", "lentil-soup", "08:50", "09:00", "load-lentil-soup"),
        ("pulled", "lentil-soup", "12:40", "13:00", "pull-lentil-soup"),
    ],
)
def test_what_the_cook_noted_is_not_asked_for(
    kind: str, subject: str | None, noted_at: str, due: str, silent: str, kitchen: Kitchen, at: At
) -> None:
    kitchen.notes.append(Note(kind=kind, at=at(noted_at), subject=subject))
    kitchen.look(at(due))
    assert silent not in kitchen.names()
    assert kitchen.stories[f"2026-11-25/{silent}"].state == "settled"


def test_a_note_about_another_dish_or_an_earlier_turn_settles_nothing(
    kitchen: Kitchen, at: At
) -> None:
    kitchen.notes.append(Note(kind="pulled", at=at("12:50"), subject="chicken-pieces"))
    kitchen.notes.append(Note(kind="turned", at=at("10:30")))
    kitchen.look(at("11:30"))
    kitchen.look(at("13:00"))
    assert {"turn-2", "pull-lentil-soup"} <= set(kitchen.names())


def test_a_skipped_day_is_quiet_but_for_food_that_is_in_the_box(kitchen: Kitchen, at: At) -> None:
    kitchen.notes.append(Note(kind="skipped", at=at("07:00")))
    kitchen.look(at("11:30"))
    assert kitchen.told == []
    kitchen.notes.append(Note(kind="loaded", at=at("09:00"), subject="lentil-soup"))
    kitchen.look(at("13:00"))
    assert kitchen.names() == ["pull-lentil-soup"]


def test_answering_the_first_call_answers_the_last_one(kitchen: Kitchen, at: At) -> None:
    kitchen.look(at("13:00"))
    pull = next(alert for alert in kitchen.alerts if alert.kind == "pull")
    kitchen._happen(pull, "acknowledge", at("13:01"))
    kitchen.told.clear()
    for minute in range(90):
        kitchen.look(at("13:05") + minute * MINUTE)
    assert not [name for name in kitchen.names() if name.startswith("pull")]


@pytest.mark.parametrize("answer", ["acknowledge", "settle"])
def test_a_dish_moved_to_the_stove_is_not_warned_of_again(
    answer: str, make_plan: MakePlan, make_soup: Callable[..., DishPlan], at: At
) -> None:
    dish = make_soup(status="not safe", pull_at=None, pull_by=None, red_at=at("12:50"))
    kitchen = Kitchen(alerts_for(make_plan(dishes=(dish,), steps=())))
    kitchen.look(at("12:00"))
    stove = next(alert for alert in kitchen.alerts if alert.kind == "stove")
    kitchen._happen(stove, answer, at("12:05"))
    kitchen.told.clear()
    for minute in range(90):
        kitchen.look(at("12:10") + minute * MINUTE)
    assert [name for name in kitchen.names() if "danger" in name] == []


def test_a_dish_nobody_moved_is_warned_of_and_then_given_up(
    make_plan: MakePlan, make_soup: Callable[..., DishPlan], at: At
) -> None:
    """Asleep until after the clock ran out: only the last word is told, never `to the stove`."""
    dish = make_soup(status="not safe", pull_at=None, pull_by=None, red_at=at("12:50"))
    alerts = alerts_for(make_plan(dishes=(dish,), steps=()))
    awake = Kitchen(alerts)
    for minute in range(60):
        awake.look(at("11:55") + minute * MINUTE)
    names = [name for name in dict.fromkeys(awake.names()) if "lentil" in name]
    assert names == ["stove-lentil-soup", "danger-near-lentil-soup", "danger-lentil-soup"]
    asleep = Kitchen(alerts)
    orders = asleep.look(at("12:55"))
    assert [name for name in asleep.names() if "lentil" in name] == ["danger-lentil-soup"]
    assert not [alert for alert in orders.lapse if alert.kind == "stove"]


@pytest.mark.promise("Told together, and not again for a small change")
def test_a_covered_box_is_not_turned_any_more(make_plan: MakePlan, at: At) -> None:
    """A turn that was not told before the cooking ended has nothing to say after it."""
    kitchen = Kitchen(alerts_for(make_plan()))
    orders = kitchen.look(at("13:11"))
    assert "cover" in kitchen.names()
    assert not [name for name in kitchen.names() if name.startswith("turn")]
    assert {new.kind for old, new in orders.replace if old.kind == "turn"} == {"cover"}


@pytest.mark.promise("Reminders are bounded")
def test_food_nobody_answers_is_told_again_but_not_for_ever(kitchen: Kitchen, at: At) -> None:
    for minute in range(12 * 60):
        kitchen.look(at("13:00") + minute * MINUTE)
    times = [when for when, name in kitchen.told if name == "pull-lentil-soup"]
    assert 2 <= len(times) <= 4
    assert min(b - a for a, b in pairwise(times)) >= 10 * MINUTE
    assert kitchen.names().count("turn-2") <= 1


def test_a_clock_set_back_repeats_nothing(kitchen: Kitchen, at: At) -> None:
    kitchen.look(at("11:30"))
    told = list(kitchen.told)
    for minute in range(61):
        kitchen.look(at("10:30") + minute * MINUTE)
    assert kitchen.told == told


def test_a_turn_skipped_by_a_wrong_clock_is_told_when_the_clock_is_put_right(
    kitchen: Kitchen, at: At
) -> None:
    """Three hours ahead for a moment: the turn lapsed untold, and its real time is to come."""
    kitchen.look(at("09:00"))
    kitchen.look(at("12:40"))
    assert "turn-1" not in kitchen.names()
    kitchen.look(at("09:41"))
    kitchen.look(at("10:00"))
    assert kitchen.names().count("turn-1") == 1


def test_a_plan_that_moves_the_pull_later_calls_once_more(kitchen: Kitchen, at: At) -> None:
    """A slower pot: told at 13:00, it has to be told again when it is really ready."""
    kitchen.look(at("13:00"))
    later = [replace(a, due_at=at("13:45")) if a.kind == "pull" else a for a in kitchen.alerts]
    kitchen.alerts = tuple(later)
    kitchen.told.clear()
    kitchen.look(at("13:05"))
    kitchen.look(at("13:20"))
    assert "pull-lentil-soup" not in kitchen.names()
    kitchen.look(at("13:45"))
    assert kitchen.names().count("pull-lentil-soup") == 1


def test_a_plan_that_moves_a_turn_by_a_minute_does_not_repeat_it(kitchen: Kitchen, at: At) -> None:
    kitchen.look(at("10:00"))
    kitchen.alerts = tuple(
        replace(a, due_at=a.due_at + MINUTE) if a.kind == "turn" else a for a in kitchen.alerts
    )
    kitchen.told.clear()
    kitchen.look(at("10:00"))
    kitchen.look(at("10:01"))
    assert kitchen.told == []


@pytest.mark.promise("Told together, and not again for a small change")
@pytest.mark.parametrize(("minutes", "times"), [(5, 1), (9, 1), (10, 2), (30, 2)])
def test_a_turn_that_a_new_plan_renames_is_told_again_only_when_it_moved_clearly(
    minutes: int, times: int, kitchen: Kitchen, at: At
) -> None:
    """A turn is named by its time: told at 10:00, then planned for a little later."""
    kitchen.look(at("10:00"))
    later = at("10:00") + minutes * MINUTE
    kitchen.alerts = tuple(
        replace(a, key=f"2026-11-25/turn-{later:%H%M}", due_at=later) if "turn-1" in a.key else a
        for a in kitchen.alerts
    )
    for minute in range(45):
        kitchen.look(at("10:01") + minute * MINUTE)
    assert len([name for name in kitchen.names() if name.startswith("turn-1")]) == times


def test_a_snoozed_alert_waits_and_comes_once(kitchen: Kitchen, at: At) -> None:
    kitchen.look(at("10:00"))
    turn = next(a for a in kitchen.alerts if a.key.endswith("turn-1"))
    line = AlertEvent(
        key=turn.key, event="snooze", at=at("10:00"), data={"until": at("10:05").isoformat()}
    )
    kitchen.stories[turn.key] = kitchen.stories[turn.key].then(line)
    kitchen.told.clear()
    kitchen.look(at("10:04"))
    assert kitchen.told == []
    kitchen.look(at("10:05"))
    kitchen.look(at("10:06"))
    assert kitchen.names() == ["turn-1"]


def test_a_way_that_refuses_a_turn_is_asked_a_few_times_and_then_left(
    kitchen: Kitchen, at: At
) -> None:
    turn = next(a for a in kitchen.alerts if a.key.endswith("turn-2"))
    story, sends = AlertHistory(), 0
    for minute in range(7 * 60):
        now = at("11:30") + minute * MINUTE
        orders = decide([turn], stories={turn.key: story}, notes=[], ways=["desktop"], now=now)
        for send in orders.send:
            sends += 1
            for event in (send.event, "refused"):
                story = story.then(AlertEvent(key=turn.key, event=event, at=now, way="desktop"))
    assert 2 <= sends <= 5


@pytest.mark.parametrize("ends", ["killed", "no answer"])
def test_after_two_tries_nobody_knows_the_end_of_there_is_no_third(
    ends: str, kitchen: Kitchen, at: At
) -> None:
    """Killed, or left without an answer, every single time: two copies and no more."""
    turn = next(a for a in kitchen.alerts if a.key.endswith("turn-2"))
    story, sends = AlertHistory(), 0
    for minute in range(7 * 60):
        now = at("11:30") + minute * MINUTE
        orders = decide([turn], stories={turn.key: story}, notes=[], ways=["desktop"], now=now)
        for send in orders.send:
            sends += 1
            story = story.then(AlertEvent(key=turn.key, event=send.event, at=now, way="desktop"))
            if ends == "no answer":
                story = story.then(
                    AlertEvent(key=turn.key, event="no answer", at=now, way="desktop")
                )
    assert sends == 2
    assert may_have_been_told(story.on("desktop"))


def test_food_goes_on_with_its_reminders_though_nobody_knows_who_heard(
    kitchen: Kitchen, at: At
) -> None:
    """Killed at every try: the pull is still told again every ten minutes, but not for ever."""
    pull = next(a for a in kitchen.alerts if a.kind == "pull")
    story, times = AlertHistory(), []
    for minute in range(12 * 60):
        now = at("13:00") + minute * MINUTE
        orders = decide([pull], stories={pull.key: story}, notes=[], ways=["desktop"], now=now)
        for send in orders.send:
            times.append(now)
            story = story.then(AlertEvent(key=pull.key, event=send.event, at=now, way="desktop"))
    assert 3 <= len(times) <= 5
    assert all(b - a >= 10 * MINUTE for a, b in pairwise(times[1:]))


def test_the_next_moment_is_the_next_due_time(kitchen: Kitchen, at: At) -> None:
    def moment(now: datetime) -> datetime | None:
        return next_moment(kitchen.alerts, stories=kitchen.stories, ways=WAYS, now=now)

    assert moment(at("05:00")) == at("06:00")  # the evening before lapses in the morning
    assert moment(at("06:30")) == at("07:30")
    assert moment(at("23:59") + timedelta(days=2)) is None


@settings(max_examples=60, deadline=None)
@given(looks=st.lists(st.integers(min_value=0, max_value=20 * 60), min_size=1, max_size=40))
def test_whenever_the_computer_happens_to_be_awake_no_pull_is_lost_and_none_is_doubled(
    looks: list[int],
) -> None:
    """Any set of waking minutes: a pull is told if any lies between due and lapsed."""
    start = datetime.fromisoformat("2026-11-25T05:00+00:00")
    due_at, lapses_at = start + timedelta(hours=8), start + timedelta(hours=14)
    pull = Alert(
        key="2026-11-25/pull-soup", kind="pull", due_at=due_at, lapses_at=lapses_at,
        urgency="normal",  # without reminders, so that told means once
    )  # fmt: skip
    kitchen = Kitchen([pull])
    moments = [start + minute * MINUTE for minute in sorted(looks)]
    for moment in moments:
        kitchen.look(moment)
    expected = any(due_at <= moment < lapses_at for moment in moments)
    assert len(kitchen.told) == int(expected)
