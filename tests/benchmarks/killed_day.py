"""A day of alerts in a process that is killed at random instants, started again, and counted.

The day: `ALERTS` dishes to put in, a minute apart, so that none replaces another; each is
told by a way that writes a line to a file and syncs it.  A restarted watch goes on at the
time at which the killed one wrote last, as it would in life.

What is promised: no alert is lost; a second copy of one is only there when a kill fell
between its handing over and the note of its outcome, says `Again`, and there is never a
third.  The price of the last: killed twice between the intent and the outcome of the same
alert, it is not tried a third time, and the watch says that it may have been told, or not.
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import threading
from collections import Counter
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from suntrack.alerts.alert import Alert
from suntrack.alerts.lifecycle import OUTCOMES
from suntrack.notify.channel import Accepted, Notice, Outcome
from suntrack.plan.records import DayPlan, SkyNote, Step, TurnChoice, Verdict, Window
from suntrack.store.journal import Journal
from suntrack.watch.daemon import Watch

STARTS = datetime(2026, 11, 25, 5, 0, tzinfo=UTC)
MINUTE = timedelta(minutes=1)
ALERTS = 40
READY = "ready"


class FileWay:
    """Writes each notice down, so that it outlives the process that told it."""

    name = "file"

    def __init__(self, path: Path) -> None:
        self._path = path

    def send(self, notice: Notice) -> Outcome:
        with self._path.open("a", encoding="utf-8") as file:
            file.write(f"{notice.key}\t{notice.title}\n")
            file.flush()
            os.fsync(file.fileno())
        return Accepted()


class DrivenClock:
    """A clock that only moves when it is told to."""

    def __init__(self, at: datetime) -> None:
        self.at, self._starts_at = at, at

    def now(self) -> datetime:
        return self.at

    def monotonic(self) -> float:
        return (self.at - self._starts_at).total_seconds()

    def wait(self, stop: threading.Event, seconds: float) -> bool:
        self.at += timedelta(seconds=seconds)
        return stop.is_set()


def the_day(alerts: int) -> DayPlan:
    """Return the plan: a dish to put in at every minute."""
    follow = TurnChoice(name="fewest turns", turns=(), light_kept=1.0)
    return DayPlan(
        date=STARTS.date(), site_name="bench", made_at=STARTS, sunrise_at=None, sunset_at=None,
        solar_noon_at=STARTS + timedelta(days=1), declination_deg=0.0,
        verdict=Verdict(cook=True, chance=None, reason=""),
        window=Window(opens_at=None, closes_at=None, threshold_c=100.0, peak_c=0.0,
                      peak_at=STARTS),
        turns=follow, turn_choices=(follow,), box=(), dishes=(), cautions=(),
        steps=tuple(
            # Two minutes apart: what is due within one is told together.
            Step(key=f"load-{i}", kind="load", at=STARTS + (2 * i + 1) * MINUTE)
            for i in range(alerts)
        ),
        sky=SkyNote(source="clear sky", issued_at=None),
    )  # fmt: skip


def words(alert: Alert, now: datetime) -> tuple[str, str]:
    return alert.key, ""


def live(folder: Path, alerts: int) -> None:
    """Live through the day, or what is left of it; the process to be killed."""
    with Journal.open(folder / "journal.db") as journal:
        print(READY, flush=True)
        clock = DrivenClock(max(STARTS, journal.last_at() or STARTS))
        watch = Watch(
            clock=clock, journal=journal, ways=[FileWay(folder / "told")], words=words,
            plan_source=lambda now: the_day(alerts),
        )  # fmt: skip
        while clock.at < STARTS + (2 * alerts + 5) * MINUTE:
            watch.tick()
            clock.at += MINUTE / 2


@dataclass(slots=True, kw_only=True)
class Tally:
    """What came of it."""

    kills: int = 0
    alerts: int = 0
    lost: int = 0
    """Never told, and not said to be in doubt."""
    doubtful: int = 0
    """Never told, after two kills within the same handing over; said to be in doubt."""
    doubled: int = 0
    tripled: int = 0
    unflagged: int = 0
    """Second copies that do not say so."""

    def add(self, folder: Path, alerts: int) -> None:
        """Count the lines of one day."""
        told: dict[str, list[str]] = {}
        for line in (folder / "told").read_text(encoding="utf-8").splitlines():
            key, title = line.split("\t")
            told.setdefault(key, []).append(title)
        self.alerts += alerts
        with Journal.open(folder / "journal.db") as journal:
            events = journal.alert_events(STARTS.date())
        tries = Counter(event.key for event in events if event.event in ("send", "again"))
        ended = {event.key for event in events if event.event in OUTCOMES}
        in_doubt = {key for key, count in tries.items() if count >= 2} - ended
        self.doubtful += len(in_doubt - set(told))
        self.lost += alerts - len(set(told) | in_doubt)
        self.doubled += sum(len(titles) == 2 for titles in told.values())
        self.tripled += sum(len(titles) > 2 for titles in told.values())
        self.unflagged += sum(
            not title.startswith("Again: ") for titles in told.values() for title in titles[1:]
        )


def start(folder: Path, alerts: int) -> subprocess.Popen[str]:
    """Start a watch of the day in a process of its own, and wait until it lives."""
    command = [sys.executable, __file__, str(folder), str(alerts)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    process.stdout.readline()
    return process


def kill_through(
    folder: Path, *, kills: int, order: random.Random, longest_s: float, alerts: int = ALERTS
) -> Tally:
    """Kill the watch of one day so often, then let it finish, and count."""
    tally, pause = Tally(), threading.Event()
    for _ in range(kills):
        with start(folder, alerts) as process:
            pause.wait(order.uniform(0.0, longest_s))
            process.send_signal(signal.SIGKILL)
        tally.kills += process.returncode == -signal.SIGKILL
    with start(folder, alerts) as last:
        last.communicate()
    tally.add(folder, alerts)
    return tally


if __name__ == "__main__":
    live(Path(sys.argv[1]), int(sys.argv[2]))
