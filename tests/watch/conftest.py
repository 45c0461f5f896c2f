"""A watch to drive by hand: two clocks, ways that answer as they are told, a small day."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Sequence
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from suntrack.alerts.alert import Alert
from suntrack.notify.channel import Accepted, Notice, Notifier, Outcome
from suntrack.plan.records import DayPlan, DishPlan, SkyNote, Step, TurnChoice, Verdict, Window
from suntrack.screen.text.notices import alert_words
from suntrack.store.journal import Journal
from suntrack.units import Units
from suntrack.watch.daemon import Watch

ZONE = ZoneInfo("Africa/Gaborone")
DAY = date(2026, 11, 25)


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

    def wait(self, stop: threading.Event, seconds: float) -> bool:
        self.run_to(self._at + timedelta(seconds=seconds))
        return stop.is_set()


class Way:
    """A way that remembers what it was given, and answers as it is told."""

    def __init__(self, name: str, answer: Outcome | threading.Event | None = None) -> None:
        self.name = name
        self.answer: Outcome | threading.Event = answer or Accepted("1")
        self.sent: list[Notice] = []

    def send(self, notice: Notice) -> Outcome:
        self.sent.append(notice)
        if isinstance(self.answer, threading.Event):
            self.answer.wait(60)
            return Accepted()
        return self.answer

    def keys(self) -> list[str]:
        """Return the occasions it was told of, in order."""
        return [notice.key.partition("/")[2] for notice in self.sent]


class Bench:
    """A journal, a clock and a watch."""

    def __init__(self, journal: Journal) -> None:
        self.journal = journal
        self.clock = Clock(self.at("06:30"))

    @staticmethod
    def at(text: str, days: int = 0) -> datetime:
        """Return a local time of the day."""
        local = datetime.fromisoformat(f"{DAY}T{text}").replace(tzinfo=ZONE)
        return local + timedelta(days=days)

    def watch(self, plan: DayPlan, *ways: Notifier, **changes: Any) -> Watch:
        """Return a watch of a plan, which has looked once."""

        def words(alert: Alert, now: datetime) -> tuple[str, str]:
            return alert_words(alert, units=Units(), zone=ZONE, now=now)

        pieces: dict[str, Any] = {"plan_source": lambda now: plan, "words": words, **changes}
        made = Watch(clock=self.clock, journal=self.journal, ways=ways, **pieces)
        made.tick()
        return made

    def run(self, watch: Watch, to: str, *, days: int = 0, step_s: float = 60.0) -> None:
        """Let time pass in steps, with a look at each."""
        end = self.at(to, days)
        while self.clock.now() < end:
            self.clock.run_to(min(self.clock.now() + timedelta(seconds=step_s), end))
            watch.tick()


def turn(number: int, when: datetime) -> Step:
    return Step(key=f"turn-{number}", kind="turn", at=when)


def load(number: int, when: datetime) -> Step:
    """Return a dish to put in; none replaces another."""
    return Step(key=f"load-{number}", kind="load", at=when)


def soup(**changes: Any) -> DishPlan:
    pieces: dict[str, Any] = {
        "key": "lentil-soup", "name": "Lentil soup", "pot": None, "serve_at": Bench.at("13:00"),
        "load_at": Bench.at("09:00"), "done_at": None, "safe_at": None,
        "pull_at": Bench.at("13:00"), "pull_by": Bench.at("13:05"), "stove_by": Bench.at("12:15"),
        "status": "ready", "notes": (),
    }  # fmt: skip
    return DishPlan(**{**pieces, **changes})


def plan_of(steps: Sequence[Step] = (), *dishes: DishPlan, **changes: Any) -> DayPlan:
    follow = TurnChoice(name="fewest turns", turns=(), light_kept=0.97)
    pieces: dict[str, Any] = {
        "date": DAY, "site_name": "Gaborone", "made_at": Bench.at("06:00"),
        "sunrise_at": Bench.at("05:20"), "sunset_at": Bench.at("18:45"),
        "solar_noon_at": Bench.at("12:03"), "declination_deg": -18.0,
        "verdict": Verdict(cook=True, chance=None, reason="clear"),
        "window": Window(opens_at=None, closes_at=None, threshold_c=100.0, peak_c=140.0,
                         peak_at=Bench.at("12:30")),
        "turns": follow, "turn_choices": (follow,), "box": (), "dishes": dishes,
        "steps": tuple(steps), "cautions": (), "sky": SkyNote(source="clear sky", issued_at=None),
    }  # fmt: skip
    return DayPlan(**{**pieces, **changes})


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    with Journal.open(tmp_path / "journal.db") as journal:
        yield Bench(journal)


@pytest.fixture
def make_way() -> Callable[..., Way]:
    return Way


@pytest.fixture
def make_plan() -> Callable[..., DayPlan]:
    return plan_of


@pytest.fixture
def make_soup() -> Callable[..., DishPlan]:
    return soup


@pytest.fixture
def make_turn() -> Callable[[int, datetime], Step]:
    return turn


@pytest.fixture
def make_load() -> Callable[[int, datetime], Step]:
    return load
