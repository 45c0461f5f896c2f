"""The keys of the dashboard with a real watch, a real journal file and a clock moved by hand.

What a key writes is compared with what the command writes at the same moment.
"""

from __future__ import annotations

import argparse
import asyncio
import threading
from collections.abc import Awaitable, Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from textual.pilot import Pilot

from suntrack.alerts.alert import Alert
from suntrack.commands import note, notify
from suntrack.commands.context import Context
from suntrack.commands.watch_hands import CookHands
from suntrack.commands.watch_screen import Seen
from suntrack.commands.watch_ways import ScreenWay
from suntrack.config.reader import load_config
from suntrack.plan.records import (
    DayPlan,
    DishPlan,
    SkyNote,
    Step,
    Turn,
    TurnChoice,
    Verdict,
    Window,
)
from suntrack.screen.charset import Charset
from suntrack.screen.dashboard.app import WatchApp
from suntrack.screen.text.notices import alert_words
from suntrack.store.journal import Entry, Journal
from suntrack.watch.daemon import SNOOZE_MIN, Watch

ZONE = ZoneInfo("Africa/Gaborone")
DAY = date(2026, 11, 25)
EXAMPLE = Path(__file__).parents[2] / "config" / "suntrack.toml"
MOST_LOOKS = 500


def at(hour: int, minute: int = 0) -> datetime:
    return datetime(2026, 11, 25, hour, minute, tzinfo=ZONE)


class Clock:
    """A clock that stands until it is moved."""

    def __init__(self) -> None:
        self.at = at(10, 30)

    def now(self) -> datetime:
        return self.at.astimezone(UTC)

    def monotonic(self) -> float:
        return self.at.timestamp()

    def wait(self, stop: threading.Event, seconds: float) -> bool:
        return stop.is_set()


def turn(when: datetime, face_deg: float) -> Turn:
    return Turn(
        at=when, face_true_deg=face_deg, face_compass_deg=face_deg + 18.0, mirror_deg=90.0,
        turn_by_deg=-20.0,
    )  # fmt: skip


def dish(key: str, name: str, load_at: datetime, pull_at: datetime) -> DishPlan:
    return DishPlan(
        key=key, name=name, pot=None, serve_at=pull_at, load_at=load_at, done_at=None,
        safe_at=None, pull_at=pull_at, pull_by=None, stove_by=None, status="ready", notes=(),
    )  # fmt: skip


def small_plan() -> DayPlan:
    """Return a day with two turns and two dishes; the second turn is due at 10:40."""
    turns = (turn(at(7), 99.0), turn(at(10, 40), 79.0))
    follow = TurnChoice(name="fewest turns", turns=turns, light_kept=0.97)
    return DayPlan(
        date=DAY, site_name="Gaborone courtyard", made_at=at(6), sunrise_at=at(5, 20),
        sunset_at=at(18, 45), solar_noon_at=at(12, 3), declination_deg=-18.0,
        verdict=Verdict(cook=True, chance=None, reason="clear"),
        window=Window(opens_at=None, closes_at=None, threshold_c=100.0, peak_c=140.0,
                      peak_at=at(12, 30)),
        turns=follow, turn_choices=(follow,), box=(),
        dishes=(
            dish("white-rice", "White rice", at(11), at(15)),
            dish("lentil-soup", "Lentil soup", at(9), at(13)),
        ),
        steps=(
            Step(key="turn-1", kind="turn", at=at(10, 40), turn=turns[1]),
            Step(key="load-white-rice", kind="load", at=at(11), dish="white-rice"),
        ),
        cautions=(), sky=SkyNote(source="clear sky", issued_at=None),
    )  # fmt: skip


class Bench:
    """A watch with its screen, over a journal file."""

    def __init__(self, folder: Path, journal: Journal) -> None:
        self.clock, self.journal = Clock(), journal
        self.planned_at: list[datetime] = []
        config = load_config(EXAMPLE)
        self.context = Context(
            config=config, now=self.clock.at, asked_at=False, cache=folder / "cache", data=folder
        )
        self.way = ScreenWay()
        self.watch = Watch(
            clock=self.clock, journal=journal, ways=[self.way], plan_source=self._plan,
            words=self._words,
        )  # fmt: skip
        self.watch.tick()

    def _plan(self, now: datetime) -> DayPlan:
        self.planned_at.append(now)
        return small_plan()

    def _words(self, alert: Alert, now: datetime) -> tuple[str, str]:
        return alert_words(alert, units=self.context.config.units, zone=ZONE, now=now)

    def noted(self) -> list[Entry]:
        """Return what the cook noted."""
        return [e for e in self.journal.entries(DAY) if e.kind not in ("plan", "clock")]

    def app(self) -> WatchApp:
        seen = Seen(
            self.watch, self.context, self.way, journal=self.journal, clock=self.clock,
            stop=threading.Event(), has_keys=True, ink=Charset(),
        )  # fmt: skip
        hands = CookHands(
            self.context, clock=self.clock, plan=lambda: self.watch.view(self.clock.now()).plan
        )
        return WatchApp(seen, hands, units=self.context.config.units, ink=Charset())

    def play(self, *keys: str, then: Callable[[WatchApp, Pilot[None]], Awaitable[None]]) -> str:
        """Press keys, look at what came of it, and return what was said last."""
        app = self.app()

        async def act() -> None:
            async with app.run_test(size=(80, 40)) as pilot:
                await pilot.press(*keys)
                await pilot.pause()
                await then(app, pilot)

        asyncio.run(act())
        return app.said


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    with Journal.open(tmp_path / "journal.db") as journal:
        yield Bench(tmp_path, journal)


async def nothing(app: WatchApp, pilot: Pilot[None]) -> None:
    """Look at nothing more."""


async def until_it_says(app: WatchApp, pilot: Pilot[None], words: str) -> None:
    """Let the app go on until some words stand on its screen."""
    for _ in range(MOST_LOOKS):
        lines = app.screen._compositor.render_strips()
        if words in "\n".join(strip.text for strip in lines):
            return
        app.draw()
        await pilot.pause()
    raise AssertionError(f"it never said: {words}")


def by_command(
    bench: Bench, words: list[str], folder: Path, monkeypatch: pytest.MonkeyPatch
) -> Entry:
    """Return what `suntrack note` writes at the same moment, into a journal of its own."""
    there = replace(bench.context, data=folder, now=bench.clock.at)
    monkeypatch.setattr(note, "context_of", lambda args: there)
    monkeypatch.setattr("suntrack.commands.plans.kept_plan", lambda context, on: small_plan())
    assert note.run(argparse.Namespace(words=words, json=False)) == 0
    with Journal.open(there.journal_path) as journal:
        return journal.entries(DAY)[-1]


@pytest.mark.parametrize(
    ("keys", "words", "said"),
    [
        ("t enter", ["turned"], "turned to"),
        ("l enter", ["loaded", "lentil-soup"], "Lentil soup went in."),
        ("l 2", ["loaded", "white-rice"], "went in."),
        ("p enter", ["pulled", "lentil-soup"], "Lentil soup came out."),
        ("r 2 4 5 F enter", ["reading", "245F"], "the box reads 118 °C."),
        ("p 3 c h i l l i enter", ["pulled", "chilli"], "came out."),
    ],
)
def test_a_key_writes_what_the_command_writes(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str], keys: str, words: list[str], said: str,
) -> None:  # fmt: skip
    told = bench.play(*keys.split(), then=nothing)
    wanted = by_command(bench, words, tmp_path / "other", monkeypatch)
    assert bench.noted() == [wanted]
    # What is doubtful about a note follows, and goes by what each journal has heard.
    assert told.startswith(capsys.readouterr().out.splitlines()[0])
    assert said in told


def test_a_key_that_notes_refused_food_says_so_at_once(bench: Bench) -> None:
    """Large pieces of poultry: USDA FSIS, as the refusal names it."""
    told = bench.play("l", "3", *"whole-chicken", "enter", then=nothing)
    assert "take it out now" in told
    assert "FSIS" in told
    assert [(entry.kind, entry.subject) for entry in bench.noted()] == [("loaded", "whole-chicken")]


def test_a_turn_keeps_the_aim_of_the_plan_on_the_screen(bench: Bench) -> None:
    """Ten minutes before it is due, the turn meant is the one to 79 degrees."""
    bench.play("t", "enter", then=nothing)
    assert dict(bench.noted()[0].data) == {"face_true_deg": 79.0, "mirror_deg": 90.0}


def test_a_wrong_reading_is_said_as_the_command_says_it_and_writes_nothing(bench: Bench) -> None:
    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        await until_it_says(app, pilot, "note: found '9999C'; allowed: a number and C or F")

    bench.play("r", *"9999C", "enter", then=then)
    assert bench.noted() == []


def test_a_note_from_a_key_makes_the_watch_plan_anew(bench: Bench) -> None:
    assert len(bench.planned_at) == 1
    bench.watch.tick()
    assert len(bench.planned_at) == 1, "nothing has changed"
    bench.play("l", "enter", then=nothing)
    bench.watch.tick()
    assert len(bench.planned_at) == 2


def test_a_call_is_shown_answered_and_gone(bench: Bench) -> None:
    bench.clock.at = at(10, 40)
    bench.watch.tick()

    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        await until_it_says(app, pilot, "answer (d done, s later): Turn 20° to the left")
        await pilot.press("d")
        await until_it_says(app, pilot, "Done: turn 1.")
        bench.watch.tick()
        await until_it_says(app, pilot, "Turn 20° to the left (acknowledged)")
        await pilot.press("d")
        await until_it_says(app, pilot, "There is no call that waits for an answer.")

    bench.play(then=then)
    assert bench.journal.alert_states(DAY)[f"{DAY}/turn-1"] == "acknowledged"


def test_later_calls_again_after_five_minutes_as_the_desktop_s_button_does(bench: Bench) -> None:
    bench.clock.at = at(10, 40)
    bench.watch.tick()
    assert len(bench.way.shown) == 1
    assert bench.play("s", then=nothing) == "Again at 10:45: turn 1."
    assert SNOOZE_MIN == 5.0
    for minute, told in ((44, 1), (45, 2)):
        bench.clock.at = at(10, minute)
        bench.watch.tick()
        assert len(bench.way.shown) == told


def test_done_writes_what_notify_done_writes(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    other = tmp_path / "other"
    with Journal.open(other / "journal.db") as journal:
        twin = Bench(other, journal)
        for one in (bench, twin):
            one.clock.at = at(10, 40)
            one.watch.tick()
    there = replace(twin.context, now=twin.clock.at)
    monkeypatch.setattr(notify, "context_of", lambda args: there)
    notify.run(argparse.Namespace(done=True, later=None, json=False, report=None))
    assert bench.play("d", then=nothing) == capsys.readouterr().out.strip()
    with Journal.open(other / "journal.db") as journal:
        assert bench.journal.alert_events(DAY) == journal.alert_events(DAY)


def test_what_was_noted_goes_to_the_end_of_the_choice_and_says_so(bench: Bench) -> None:
    """The soup is planned for 9:00, the rice for 11:00; noting the soup puts the rice first."""

    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        await until_it_says(app, pilot, "1  Lentil soup, planned for 9:00")
        await pilot.press("enter", "l")
        await until_it_says(app, pilot, "1  White rice, planned for 11:00")
        await until_it_says(app, pilot, "2  Lentil soup, went in at 10:30")

    bench.play("l", then=then)


def test_before_there_is_a_plan_a_reading_can_be_noted(tmp_path: Path) -> None:
    def no_plan(now: datetime) -> DayPlan:
        raise ValueError("none yet")

    with Journal.open(tmp_path / "journal.db") as journal:
        bench = Bench(tmp_path, journal)
        bench.watch = Watch(
            clock=bench.clock, journal=journal, ways=[bench.way], plan_source=no_plan,
            words=bench._words,
        )  # fmt: skip
        bench.watch.tick()
        assert bench.play("r", *"90C", "enter", then=nothing).endswith("the box reads 90 °C.")
        assert [entry.kind for entry in bench.noted()] == ["reading"]
        assert bench.play("t", "enter", then=nothing).endswith("turned.")
