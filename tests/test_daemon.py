"""The watch: called once, in time, whatever the clock, the disk or the desktop does."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from suntrack.alerts.alert import Alert
from suntrack.clock import SystemClock
from suntrack.notify.channel import Accepted, Notice, Notifier, Outcome, Refused, Unknown
from suntrack.plan.records import DayPlan, DishPlan, SkyNote, Step, TurnChoice, Verdict, Window
from suntrack.screen.text.notices import alert_words
from suntrack.store.journal import Entry, Journal
from suntrack.store.journal_answers import answer_calls
from suntrack.units import Units
from suntrack.watch.channels import order_events
from suntrack.watch.daemon import Watch, WatchView

ZONE = ZoneInfo("Africa/Gaborone")
DAY = date(2026, 11, 25)
MINUTE = timedelta(minutes=1)


def at(text: str, *, on: date = DAY) -> datetime:
    """Return a local time of the hand-made day."""
    return datetime.fromisoformat(f"{on.isoformat()}T{text}").replace(tzinfo=ZONE)


def soup() -> DishPlan:
    return DishPlan(
        key="lentil-soup", name="Lentil soup", pot=None, serve_at=at("13:00"),
        load_at=at("09:00"), done_at=at("12:00"), safe_at=at("11:00"), pull_at=at("13:00"),
        pull_by=at("13:05"), stove_by=at("12:15"), status="ready", notes=(),
    )  # fmt: skip


def turn_step(number: int, when: datetime) -> Step:
    return Step(key=f"turn-{number}", kind="turn", at=when)


def day_plan(steps: Sequence[Step], *, dishes: Sequence[DishPlan] = (), on: date = DAY) -> DayPlan:
    follow = TurnChoice(name="fewest turns", turns=(), light_kept=0.97)
    return DayPlan(
        date=on, site_name="Gaborone", made_at=at("06:00", on=on), sunrise_at=at("05:20", on=on),
        sunset_at=at("18:45", on=on), solar_noon_at=at("12:03", on=on), declination_deg=-18.0,
        verdict=Verdict(cook=True, chance=None, reason="clear"),
        window=Window(opens_at=None, closes_at=None, threshold_c=100.0, peak_c=140.0,
                      peak_at=at("12:30", on=on)),
        turns=follow, turn_choices=(follow,), box=(), dishes=tuple(dishes), steps=tuple(steps),
        cautions=(), sky=SkyNote(source="clear sky", issued_at=None),
    )  # fmt: skip


STEPS = [turn_step(i, at(text)) for i, text in enumerate(["10:00", "11:00", "12:00", "14:00"], 1)]
PLAN = day_plan(STEPS, dishes=[soup()])


class Clock:
    """A wall clock and a running clock, each moved by hand."""

    def __init__(self, now: datetime) -> None:
        self._at, self._run_s = now.astimezone(UTC), 1000.0

    def now(self) -> datetime:
        return self._at

    def monotonic(self) -> float:
        return self._run_s

    def run_to(self, when: datetime) -> None:
        """Let time pass."""
        self._run_s += (when - self._at).total_seconds()
        self._at = when.astimezone(UTC)

    def jump_to(self, when: datetime) -> None:
        """Set the wall clock; or sleep, which looks the same."""
        self._at = when.astimezone(UTC)

    def wait(self, stop: threading.Event, seconds: float) -> bool:
        self.run_to(self._at + timedelta(seconds=seconds))
        return stop.is_set()


class Way:
    """A way that remembers what it was given, and answers as it is told."""

    def __init__(self, name: str = "terminal", answer: Outcome | None = None) -> None:
        self.name = name
        self.answer: Outcome = answer or Accepted("1")
        self.sent: list[Notice] = []
        self.meanwhile: Callable[[Notice], object] = lambda notice: None

    def send(self, notice: Notice) -> Outcome:
        self.sent.append(notice)
        self.meanwhile(notice)
        return self.answer

    def take(self) -> list[Notice]:
        """Return what came since the last time."""
        sent, self.sent = self.sent, []
        return sent


def words(alert: Alert, now: datetime) -> tuple[str, str]:
    return alert_words(alert, units=Units(), zone=ZONE, now=now)


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with Journal.open(tmp_path / "journal.db") as opened:
        yield opened


@pytest.fixture
def way() -> Way:
    return Way()


@pytest.fixture
def clock() -> Clock:
    return Clock(at("09:30"))


def make_watch(clock: Any, journal: Journal, ways: Sequence[Notifier], **changes: Any) -> Watch:
    pieces = {"plan_source": lambda now: PLAN, "words": words, **changes}
    watch = Watch(clock=clock, journal=journal, ways=ways, **pieces)
    watch.tick()
    return watch


# Once, and in time.


def test_an_alert_is_sent_at_its_time_and_once(clock: Clock, journal: Journal, way: Way) -> None:
    watch = make_watch(clock, journal, [way])
    way.take()
    for second in range(-5, 6):
        clock.run_to(at("10:00") + timedelta(seconds=second))
        watch.tick()
    (notice,) = way.take()
    assert notice.key == "2026-11-25/turn-1"
    assert watch.dispatch_due(clock.now()) == ()


def test_the_intent_is_on_disk_before_anything_leaves(
    clock: Clock, journal: Journal, way: Way, tmp_path: Path
) -> None:
    """Read through another connection while the way is sending."""
    seen = []

    def look(notice: Notice) -> None:
        with Journal.open(tmp_path / "journal.db") as other:
            seen.append(other.alert_states(DAY)[notice.key])

    watch = make_watch(clock, journal, [way])
    way.meanwhile = look
    clock.run_to(at("10:00"))
    watch.tick()
    assert seen == ["sending"]
    assert journal.alert_states(DAY)["2026-11-25/turn-1"] == "sent"


def test_a_restarted_watch_repeats_nothing(clock: Clock, journal: Journal, way: Way) -> None:
    clock.run_to(at("10:00"))
    make_watch(clock, journal, [way])
    assert len(way.take()) == 1
    make_watch(clock, journal, [way])
    assert way.take() == []


def test_what_is_due_at_once_is_one_notice_loudest_first(
    clock: Clock, journal: Journal, way: Way
) -> None:
    watch = make_watch(clock, journal, [way])
    way.take()
    both = day_plan([turn_step(1, at("13:00"))], dishes=[soup()])
    watch = make_watch(clock, journal, [way], plan_source=lambda now: both)
    clock.run_to(at("13:00"))
    watch.tick()
    (notice,) = way.take()
    assert notice.title == "Lentil soup comes out"
    assert notice.urgency == "urgent"
    assert "Turn the box" in notice.body


@pytest.mark.promise("On time, and late ones say so")
def test_a_late_notice_says_since_when(clock: Clock, journal: Journal, way: Way) -> None:
    clock.run_to(at("10:03"))
    make_watch(clock, journal, [way])
    (notice,) = way.take()
    assert "(due 10:00, 3 min ago)" in notice.body


def test_words_that_fail_do_not_silence_an_alert(
    clock: Clock, journal: Journal, way: Way, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(alert: Alert, now: datetime) -> tuple[str, str]:
        raise KeyError("no such word")

    clock.run_to(at("13:00"))
    make_watch(clock, journal, [way], words=broken)
    assert "Lentil soup" in way.take()[0].title


# The clock.


@pytest.mark.promise("Clock set back an hour: nothing repeats, said once")
def test_a_clock_set_back_repeats_nothing_and_says_so_once(
    clock: Clock, journal: Journal, way: Way
) -> None:
    watch = make_watch(clock, journal, [way])
    clock.run_to(at("11:00"))
    watch.tick()
    way.take()
    clock.jump_to(at("10:00"))
    for second in range(3):
        clock.run_to(at("10:00") + timedelta(seconds=second))
        watch.tick()
    (notice,) = way.take()
    assert "set back by 1 h" in notice.title
    for minute in range(1, 119):
        clock.run_to(at("10:00") + minute * MINUTE)
        watch.tick()
    assert way.take() == []
    clock.run_to(at("12:00"))
    watch.tick()
    assert [notice.key for notice in way.take()] == ["2026-11-25/turn-3"]


@pytest.mark.promise("Clock an hour on, or three hours asleep: one notice, food never dropped")
def test_a_clock_set_forward_an_hour_tells_the_newest_turn_and_loses_no_food(
    clock: Clock, journal: Journal, way: Way
) -> None:
    """From 11:55 to 12:55: one turn was skipped; the pull comes at its time by the new clock."""
    watch = make_watch(clock, journal, [way])
    clock.run_to(at("11:55"))
    watch.tick()
    way.take()
    clock.jump_to(at("12:55"))
    for second in range(5):
        clock.run_to(at("12:55") + timedelta(seconds=second))
        watch.tick()
    (notice,) = way.take()
    assert notice.key == "2026-11-25/turn-3"
    assert "Asleep from 11:55 to 12:55." in notice.body
    clock.run_to(at("13:00"))
    watch.tick()
    assert [notice.key for notice in way.take()] == ["2026-11-25/pull-lentil-soup"]


@pytest.mark.promise("Clock an hour on, or three hours asleep: one notice, food never dropped")
def test_three_hours_asleep_in_mid_cook_give_one_notice(
    clock: Clock, journal: Journal, way: Way
) -> None:
    """Slept 10:01 to 13:01: two turns missed, the newest and the food are told together."""
    watch = make_watch(clock, journal, [way])
    clock.run_to(at("10:01"))
    watch.tick()
    way.take()
    clock.jump_to(at("13:01"))
    for _ in range(3):
        watch.tick()
    (notice,) = way.take()
    assert notice.title == "Lentil soup comes out"
    assert "Asleep from 10:01 to 13:01." in notice.body
    assert "Missed: 1 turn." in notice.body
    assert "Turn the box" in notice.body
    states = journal.alert_states(DAY)
    assert states["2026-11-25/turn-2"] in ("replaced", "lapsed")
    assert states["2026-11-25/turn-3"] == "sent"


def test_food_is_not_forgotten_over_night(clock: Clock, journal: Journal, way: Way) -> None:
    """Asleep until the pull has lapsed: even then the cook hears of it, with a warning."""
    clock.run_to(at("12:30"))
    watch = make_watch(clock, journal, [way])
    way.take()
    clock.jump_to(at("07:00", on=DAY + timedelta(days=1)))
    watch.tick()
    (notice,) = way.take()
    assert notice.urgency == "urgent"
    assert "Lentil soup" in notice.body
    assert "food authority" in notice.body


def next_day(steps: Sequence[Step] = ()) -> DayPlan:
    return day_plan(steps, on=DAY + timedelta(days=1))


@pytest.mark.parametrize(
    ("wakes_at", "said"), [("00:30", "Lentil soup comes out"), ("07:00", "Missed: 1 dish")]
)
def test_a_watch_started_the_next_day_tells_of_food_left_in_the_box(
    wakes_at: str, said: str, clock: Clock, journal: Journal, way: Way
) -> None:
    """Switched off at noon, before the pull: in the night and in the morning it is told."""
    journal.append(Entry(at=at("09:00"), kind="loaded", day=DAY, subject="lentil-soup"))
    make_watch(clock, journal, [way])
    way.take()
    later = Clock(at(wakes_at, on=DAY + timedelta(days=1)))
    for _ in range(3):
        make_watch(later, journal, [way], plan_source=lambda now: next_day())
    (notice,) = way.take()
    assert notice.title.startswith(said)
    assert notice.urgency == "urgent"
    assert "Lentil soup" in notice.title + notice.body


def test_food_taken_out_the_next_morning_is_not_called_for_again(
    clock: Clock, journal: Journal, way: Way
) -> None:
    tomorrow = DAY + timedelta(days=1)
    journal.append(Entry(at=at("14:00"), kind="loaded", day=DAY, subject="lentil-soup"))
    later = Clock(at("00:30", on=tomorrow))
    watch = make_watch(later, journal, [way], plan_source=lambda now: next_day())
    assert len(way.take()) == 1
    journal.append(
        Entry(at=at("00:35", on=tomorrow), kind="pulled", day=tomorrow, subject="lentil-soup")
    )
    for minute in range(36, 60):
        later.run_to(at(f"00:{minute}", on=tomorrow))
        watch.tick()
    assert way.take() == []
    assert journal.alert_states(DAY)["2026-11-25/pull-lentil-soup"] == "settled"


def test_midnight_does_not_end_the_reminders_for_food(
    clock: Clock, journal: Journal, way: Way
) -> None:
    late = replace(
        soup(), done_at=None, load_at=at("20:00"), pull_at=at("23:45"), pull_by=at("23:50")
    )
    today = day_plan([], dishes=[late])
    clock.run_to(at("23:40"))
    watch = make_watch(
        clock, journal, [way],
        plan_source=lambda now: today if now < at("00:00", on=DAY + timedelta(1)) else next_day(),
    )  # fmt: skip
    for minute in range(60):
        clock.run_to(at("23:40") + minute * MINUTE)
        watch.tick()
    times = [notice.title for notice in way.take()]
    assert times == ["Lentil soup comes out", *["Again: Lentil soup comes out"] * 3]


def test_killed_while_it_tells_of_food_past_saving_it_is_told_again(
    clock: Clock, journal: Journal, way: Way
) -> None:
    """The end of such an alert is written only after it was told."""
    clock.run_to(at("12:30"))
    make_watch(clock, journal, [way])
    way.take()
    clock.jump_to(at("07:00", on=DAY + timedelta(days=1)))
    dying = Watch(clock=clock, journal=journal, ways=[way], plan_source=lambda now: PLAN,
                  words=words)  # fmt: skip
    dying._plans.refresh(clock.now(), dying._ledger)
    orders = dying._decide(clock.now())
    assert [alert.kind for alert in orders.lapse if alert.urgency == "urgent"] == ["pull"]
    dying._ledger.record(order_events(orders, clock.now()))  # and here the power goes
    make_watch(clock, journal, [way])
    assert [notice.urgency for notice in way.take()] == ["urgent"]


@pytest.mark.promise("A wild clock is not believed")
@pytest.mark.parametrize("year", [1970, 2000])
def test_a_computer_without_a_clock_tells_nothing(
    year: int, clock: Clock, journal: Journal, way: Way
) -> None:
    views: list[WatchView] = []
    watch = make_watch(clock, journal, [way], on_change=views.append)
    way.take()
    clock.jump_to(datetime(year, 1, 1, tzinfo=UTC))
    watch.tick()
    assert way.take() == []
    assert any("not trusted" in trouble for trouble in views[-1].trouble)
    clock.jump_to(at("10:00"))
    watch.tick()
    assert "2026-11-25/turn-1" in [notice.key for notice in way.take()]
    assert views[-1].trouble == ()


@pytest.mark.promise("A wild clock is not believed")
def test_a_wild_jump_is_held_for_ten_minutes_and_comes_to_nothing_when_it_goes_back(
    clock: Clock, journal: Journal, way: Way
) -> None:
    watch = make_watch(clock, journal, [way])
    way.take()
    clock.jump_to(at("09:31") + timedelta(days=3))
    for minute in range(9):
        clock.run_to(at("09:31") + timedelta(days=3, minutes=minute))
        watch.tick()
    assert way.take() == []
    clock.jump_to(at("09:40"))
    watch.tick()
    clock.run_to(at("10:00"))
    watch.tick()
    assert "2026-11-25/turn-1" in [notice.key for notice in way.take()]


def test_a_wild_jump_that_stays_is_believed_in_the_end(
    clock: Clock, journal: Journal, way: Way
) -> None:
    watch = make_watch(clock, journal, [way])
    later = DAY + timedelta(days=3)
    plan = day_plan([turn_step(1, at("10:00", on=later))], on=later)
    watch = make_watch(clock, journal, [way], plan_source=lambda now: plan)
    way.take()
    clock.jump_to(at("09:40", on=later))
    for minute in range(21):
        clock.run_to(at("09:40", on=later) + minute * MINUTE)
        watch.tick()
    assert f"{later}/turn-1" in [notice.key for notice in way.take()]


# Ways that fail.


def test_a_way_without_answer_is_asked_once_more_under_the_same_key(
    clock: Clock, journal: Journal
) -> None:
    hung, good = Way("desktop", Unknown("no answer in 5 s")), Way("terminal")
    watch = make_watch(clock, journal, [hung, good])
    for minute in range(30):
        clock.run_to(at("10:00") + minute * MINUTE)
        watch.tick()
    first, second = [notice for notice in hung.take() if "turn-1" in notice.key]
    assert first.key == second.key
    assert second.title == f"Again: {first.title}"
    assert len([notice for notice in good.take() if "turn-1" in notice.key]) == 1


def test_a_way_that_never_gives_receipts_is_not_asked_again(clock: Clock, journal: Journal) -> None:
    mute = Way("desktop", Unknown("handed over, no receipt", repeat=False))
    watch = make_watch(clock, journal, [mute])
    for minute in range(30):
        clock.run_to(at("10:00") + minute * MINUTE)
        watch.tick()
    assert len([notice for notice in mute.take() if "turn-1" in notice.key]) == 1


def test_what_nobody_took_is_shown_as_undelivered(clock: Clock, journal: Journal) -> None:
    views: list[WatchView] = []
    dead = Way("desktop", Refused("no service"))
    watch = make_watch(clock, journal, [dead], on_change=views.append)
    clock.run_to(at("13:00"))
    watch.tick()
    assert "2026-11-25/pull-lentil-soup" in [alert.key for alert in views[-1].undelivered]
    dead.answer = Accepted("9")
    clock.run_to(at("13:01"))
    watch.tick()
    assert views[-1].undelivered == ()


def test_a_new_turn_takes_the_place_of_the_old_notice(clock: Clock, journal: Journal) -> None:
    desktop = Way("desktop", Accepted("41"))
    watch = make_watch(clock, journal, [desktop])
    clock.run_to(at("10:00"))
    watch.tick()
    desktop.take()
    clock.run_to(at("11:00"))
    watch.tick()
    (notice,) = desktop.take()
    assert (notice.key, notice.replaces) == ("2026-11-25/turn-2", "41")


# The cook's answers and notes.


@pytest.mark.promise("Done is done for ever")
def test_done_is_done_for_ever(clock: Clock, journal: Journal, way: Way) -> None:
    """Also after a restart, and after the clock was set back."""
    watch = make_watch(clock, journal, [way])
    clock.run_to(at("13:00"))
    watch.tick()
    watch.answer("2026-11-25/pull-lentil-soup", "done")
    watch.tick()
    way.take()
    for minute in range(1, 45):
        clock.run_to(at("13:00") + minute * MINUTE)
        watch.tick()
    clock.jump_to(at("12:59"))
    again = make_watch(clock, journal, [way])
    clock.run_to(at("13:00"))
    again.tick()
    assert not [notice for notice in way.take() if "pull" in notice.key]
    assert journal.alert_states(DAY)["2026-11-25/pull-lentil-soup"] == "acknowledged"


def test_an_answer_given_in_another_terminal_ends_the_reminders(
    clock: Clock, journal: Journal, way: Way, tmp_path: Path
) -> None:
    watch = make_watch(clock, journal, [way])
    clock.run_to(at("13:00"))
    watch.tick()
    way.take()
    with Journal.open(tmp_path / "journal.db") as other:
        assert "2026-11-25/pull-lentil-soup" in answer_calls(other, today=DAY, now=clock.now())
    for minute in range(1, 45):
        clock.run_to(at("13:00") + minute * MINUTE)
        watch.tick()
    assert not [notice for notice in way.take() if "pull" in notice.key]


def test_an_answer_answers_everything_the_notice_said(
    clock: Clock, journal: Journal, way: Way
) -> None:
    both = day_plan([turn_step(1, at("13:00"))], dishes=[soup()])
    watch = make_watch(clock, journal, [way], plan_source=lambda now: both)
    clock.run_to(at("13:00"))
    watch.tick()
    watch.answer(way.take()[-1].key, "done")
    watch.tick()
    states = journal.alert_states(DAY)
    assert states["2026-11-25/turn-1"] == "acknowledged"
    assert states["2026-11-25/pull-lentil-soup"] == "acknowledged"


def test_snooze_comes_back_after_its_minutes(clock: Clock, journal: Journal, way: Way) -> None:
    watch = make_watch(clock, journal, [way])
    clock.run_to(at("10:00"))
    watch.tick()
    way.take()
    watch.answer("2026-11-25/turn-1", "snooze", minutes=5)
    watch.tick()
    assert watch.next_at(clock.now()) == at("10:05")
    clock.run_to(at("10:04"))
    watch.tick()
    assert way.take() == []
    clock.run_to(at("10:05"))
    watch.tick()
    assert [notice.key for notice in way.take()] == ["2026-11-25/turn-1"]


def test_an_answer_to_something_unknown_or_over_is_ignored(
    clock: Clock, journal: Journal, way: Way
) -> None:
    watch = make_watch(clock, journal, [way])
    watch.answer("2026-11-25/turn-9", "done")
    watch.answer("not a key", "snooze")
    watch.tick()
    assert "2026-11-25/turn-9" not in journal.alert_states(DAY)


def test_a_note_makes_a_new_plan_and_settles_the_alert(
    clock: Clock, journal: Journal, way: Way
) -> None:
    plans: list[datetime] = []

    def source(now: datetime) -> DayPlan:
        plans.append(now)
        return PLAN

    watch = make_watch(clock, journal, [way], plan_source=source)
    watch.tick()
    assert len(plans) == 1
    journal.append(Entry(at=at("09:50"), kind="turned", day=DAY))
    watch.tick()
    assert len(plans) == 2
    clock.run_to(at("10:00"))
    watch.tick()
    assert not [notice for notice in way.take() if "turn-1" in notice.key]


def test_what_tomorrow_needs_is_told_this_evening(clock: Clock, journal: Journal, way: Way) -> None:
    tomorrow = DAY + timedelta(days=1)
    step = Step(key="prepare-1-beans", kind="prepare", at=at("20:00"), detail="Soak the beans.")
    plan = day_plan([step, turn_step(1, at("08:00", on=tomorrow))], on=tomorrow)
    watch = make_watch(
        clock,
        journal,
        [way],
        plan_source=lambda now: day_plan(STEPS),
        tomorrow_source=lambda now: plan,
    )
    clock.run_to(at("19:00"))
    watch.tick()
    way.take()
    clock.run_to(at("20:00"))
    watch.tick()
    (notice,) = way.take()
    assert notice.key == f"{tomorrow}/prepare-1-beans"
    assert "Soak the beans." in notice.body


# When something else fails.


def test_a_plan_that_cannot_be_made_leaves_the_old_one_in_force(
    clock: Clock, journal: Journal, way: Way, caplog: pytest.LogCaptureFixture
) -> None:
    broken: list[bool] = []
    views: list[WatchView] = []

    def source(now: datetime) -> DayPlan:
        if broken:
            raise OSError("the forecast is a web page")
        return PLAN

    watch = make_watch(clock, journal, [way], plan_source=source, on_change=views.append)
    broken.append(True)
    clock.run_to(at("10:00"))
    watch.tick()
    assert [notice.key for notice in way.take()] == ["2026-11-25/turn-1"]
    clock.run_to(at("10:05"))
    watch.tick()
    assert any("web page" in trouble for trouble in watch.view(clock.now()).trouble)
    broken.clear()
    clock.run_to(at("10:10"))
    watch.tick()
    assert watch.view(clock.now()).trouble == ()


@pytest.mark.promise("A full disk")
def test_on_a_full_disk_the_cook_is_still_called_and_it_is_written_later(
    clock: Clock, journal: Journal, way: Way
) -> None:
    """SQLite's page limit gives the same SQLITE_FULL as a full disk does."""
    watch = make_watch(clock, journal, [way])
    pages = journal._connection.execute("PRAGMA page_count").fetchone()[0]
    journal._connection.execute(f"PRAGMA max_page_count = {pages}")
    with pytest.raises(Exception, match="full"):
        for _ in range(1000):
            journal.append(Entry(at=at("09:30"), kind="plan", day=DAY, data={"x": "y" * 300}))
    for text in ("10:00", "11:00", "12:00", "13:00"):
        clock.run_to(at(text))
        watch.tick()
        watch.tick()
    keys = [notice.key for notice in way.take()]
    assert [key.partition("/")[2] for key in keys if "turn" in key] == [
        "turn-1",
        "turn-2",
        "turn-3",
    ]
    assert keys.count("2026-11-25/pull-lentil-soup") == 1
    assert any("not saved" in trouble for trouble in watch.view(clock.now()).trouble)
    journal._connection.execute("PRAGMA max_page_count = 100000")
    watch.tick()
    assert watch.view(clock.now()).trouble == ()
    assert journal.alert_states(DAY)["2026-11-25/pull-lentil-soup"] == "sent"


def test_a_damaged_journal_is_told(clock: Clock, tmp_path: Path, way: Way) -> None:
    (tmp_path / "journal.db").write_bytes(b"rubbish")
    with Journal.open(tmp_path / "journal.db") as journal:
        watch = make_watch(clock, journal, [way])
        assert any("put aside" in trouble for trouble in watch.view(clock.now()).trouble)


# Running for real.


def test_a_running_watch_wakes_for_what_is_due_and_stops_when_told(journal: Journal) -> None:
    """The real clock and the real timer."""
    clock, way, told, stop = SystemClock(), Way(), threading.Event(), threading.Event()
    way.meanwhile = lambda notice: told.set()
    soon = clock.now() + timedelta(seconds=0.3)
    plan = replace(day_plan([turn_step(1, soon)], on=soon.date()), sunset_at=None)
    watch = Watch(
        clock=clock, journal=journal, ways=[way], plan_source=lambda now: plan, words=words
    )
    thread = threading.Thread(target=watch.run, args=(stop,))
    thread.start()
    try:
        assert told.wait(30)
    finally:
        stop.set()
        thread.join(30)
    assert not thread.is_alive()
    assert [notice.key for notice in way.sent] == [f"{soon.date()}/turn-1"]


def test_a_tick_that_fails_does_not_end_the_watch(
    journal: Journal, clock: Clock, caplog: pytest.LogCaptureFixture
) -> None:
    stop, ticks = threading.Event(), []

    def on_change(view: WatchView) -> None:
        ticks.append(view)
        if len(ticks) >= 2:
            stop.set()
        raise RuntimeError("the screen is broken")

    watch = Watch(
        clock=clock, journal=journal, ways=[Way()], plan_source=lambda now: PLAN, words=words,
        on_change=on_change,
    )  # fmt: skip
    watch.run(stop)
    assert len(ticks) == 2


# Killed.

CHILD = """
import importlib.util, os, signal, sys, threading
from datetime import timedelta
from pathlib import Path
spec = importlib.util.spec_from_file_location("daemon_tests", sys.argv[1])
tests = importlib.util.module_from_spec(spec)
sys.modules["daemon_tests"] = tests
spec.loader.exec_module(tests)
folder, where = Path(sys.argv[2]), sys.argv[3]

def die():
    os.kill(os.getpid(), signal.SIGKILL)

class FileWay:
    name = "file"
    def send(self, notice):
        if where == "before it leaves": die()
        with open(folder / "sent", "a") as file:
            body = notice.body.replace("\\n", " ")
            file.write(f"{notice.key}\\t{notice.title}\\t{body}\\n")
            file.flush()
            os.fsync(file.fileno())
        print("sent", flush=True)
        if where == "after it left": die()
        return tests.Accepted()

clock = tests.Clock(tests.at("07:00"))
with tests.Journal.open(folder / "journal.db") as journal:
    record, calls = journal.record_alerts, []
    def recording(events):
        calls.append(list(events))
        first = any(event.event in ("send", "again") for event in calls[-1])
        if first and where == "before the intent": die()
        stories = record(calls[-1])
        if first and where == "after the intent": die()
        if not first and calls[-1] and where == "after the outcome": die()
        return stories
    journal.record_alerts = recording
    watch = tests.make_watch(clock, journal, [FileWay()], plan_source=lambda now: tests.MANY)
    for minute in range(70):
        clock.run_to(tests.at("07:00") + minute * timedelta(minutes=1))
        watch.tick()
print("finished", flush=True)
"""
MANY = day_plan(
    [Step(key=f"load-{i}", kind="load", at=at("07:00") + (2 * i + 1) * MINUTE) for i in range(30)]
)
"""Thirty dishes to put in, two minutes apart; none replaces another."""


def child(folder: Path, where: str = "never") -> subprocess.Popen[str]:
    """Start a watch of its own over the morning, told where to kill itself."""
    command = [sys.executable, "-c", CHILD, __file__, str(folder), where]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def sent_in(folder: Path) -> dict[str, list[str]]:
    """Return the titles that left under each key."""
    sent: dict[str, list[str]] = {}
    path = folder / "sent"
    for line in path.read_text().splitlines() if path.exists() else ():
        key, title, _ = line.split("\t")
        sent.setdefault(key, []).append(title)
    return sent


@pytest.mark.promise("Killed at any instant: nothing lost, a second copy says so, no third")
@pytest.mark.parametrize(
    "where",
    [
        "before the intent",
        "after the intent",
        "before it leaves",
        "after it left",
        "after the outcome",
    ],
)
def test_killed_at_any_step_nothing_is_lost_and_a_second_copy_says_again(
    where: str, tmp_path: Path
) -> None:
    with child(tmp_path, where) as killed:
        killed.communicate(timeout=60)
    assert killed.returncode == -signal.SIGKILL
    with child(tmp_path) as second:
        out, _ = second.communicate(timeout=60)
    assert out.endswith("finished\n")
    sent = sent_in(tmp_path)
    assert len(sent) == 30
    assert max(len(titles) for titles in sent.values()) <= 2
    doubled = [titles for titles in sent.values() if len(titles) == 2]
    assert len(doubled) == (1 if where == "after it left" else 0)
    assert all(second == f"Again: {first}" for first, second in doubled)


def test_killed_twice_in_the_same_handing_over_it_is_said_to_be_in_doubt(tmp_path: Path) -> None:
    """No third copy: nobody knows whether one left, and the next notice says so."""
    for _ in range(2):
        with child(tmp_path, "after the intent") as killed:
            killed.communicate(timeout=60)
    with child(tmp_path) as last:
        last.communicate(timeout=60)
    sent = sent_in(tmp_path)
    assert len(sent) == 29
    with Journal.open(tmp_path / "journal.db") as journal:
        in_doubt = [k for k, story in journal.alert_stories(DAY).items() if story.is_in_doubt]
    assert in_doubt == ["2026-11-25/load-0"]
    bodies = [line.split("\t")[2] for line in (tmp_path / "sent").read_text().splitlines()]
    assert [i for i, body in enumerate(bodies) if "may have been told" in body] == [0]


def test_killed_again_and_again_nothing_is_lost(tmp_path: Path) -> None:
    """Random kills from outside; every kill costs at most one repeat, and it says so."""
    order = random.Random(20261125)
    kills = 0
    for _ in range(12):
        with child(tmp_path) as watch:
            assert watch.stdout is not None
            for _ in range(order.randint(1, 3)):
                watch.stdout.readline()
            os.kill(watch.pid, signal.SIGKILL)
        kills += watch.returncode == -signal.SIGKILL
    with child(tmp_path) as last:
        last.communicate(timeout=60)
    sent = sent_in(tmp_path)
    assert len(sent) == 30
    assert kills >= 5
    repeats = [title for titles in sent.values() for title in titles[1:]]
    assert len(repeats) <= kills
    assert all(title.startswith("Again: ") for title in repeats)
