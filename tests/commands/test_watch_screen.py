"""The screen of the watch where there is nothing to draw yet, or drawing fails."""

from __future__ import annotations

import threading
from dataclasses import replace
from datetime import UTC, datetime
from types import SimpleNamespace
from typing import Any, cast

import pytest

from suntrack.clock import ReplayClock
from suntrack.commands import watch_screen
from suntrack.commands.watch_screen import Seen
from suntrack.commands.watch_ways import ScreenWay
from suntrack.notify.channel import Notice
from suntrack.screen.charset import Charset
from suntrack.store.journal import Journal
from suntrack.watch.daemon import WatchView

NOW = datetime(2026, 11, 25, 10, 0, tzinfo=UTC)
NOTHING = WatchView(
    at=NOW, plan=None, alerts=(), states={}, undelivered=(), trouble=("No plan: the disk is gone.",)
)


class Seeing:
    """A watch that is seen in one way."""

    def __init__(self, view: WatchView) -> None:
        self._view = view

    def view(self, now: datetime) -> WatchView:
        return self._view


def lines_of(view: WatchView) -> tuple[str, ...]:
    way = ScreenWay()
    way.send(Notice(key="2026-11-25/pull-soup", title="Soup comes out"))
    watch: Any = Seeing(view)
    nothing: Any = None
    clock = ReplayClock(NOW, speed=None)
    with Journal.in_memory() as journal:
        pieces: dict[str, Any] = {"journal": journal, "clock": clock, "ink": Charset()}
        seen = Seen(watch, nothing, way, stop=threading.Event(), has_keys=True, **pieces)
        look = seen.look()
    assert look.dashboard is None
    assert (look.rings, way.bells) == (True, 0), "the bell rings once"
    return look.lines


def test_before_there_is_a_plan_it_says_so_and_shows_calls_and_troubles() -> None:
    assert lines_of(NOTHING) == (
        "The plan for today is being made.",
        "Soup comes out",
        "No plan: the disk is gone.",
    )


def test_a_screen_that_cannot_be_drawn_still_shows_the_calls(
    caplog: pytest.LogCaptureFixture,
) -> None:
    """Here the context is missing, as if any part of the drawing had failed."""
    broken: Any = object()
    lines = lines_of(replace(NOTHING, plan=broken))
    assert lines == ("Soup comes out", "No plan: the disk is gone.")
    assert "could not be drawn" in caplog.text


class Broken:
    """An app that ends at once with an error's status."""

    return_code = 1

    def __init__(self, *pieces: object, **more: object) -> None:
        """Take what the real one takes."""

    def run(self, *, mouse: bool) -> None:
        """Draw nothing."""


class Raising(Broken):
    """An app that raises."""

    def run(self, *, mouse: bool) -> None:
        """Fail."""
        raise RuntimeError("it cannot be drawn")


class Twice(threading.Event):
    """Is set at the second look."""

    def wait(self, timeout: float | None = None) -> bool:
        was_looked_at, self.looked_at = getattr(self, "looked_at", False), True
        return was_looked_at


@pytest.mark.parametrize("app", [Broken, Raising])
def test_when_the_screen_fails_the_calls_go_on_as_lines(
    app: type[Broken], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    way, stop, worked = ScreenWay(), Twice(), threading.Event()
    way.send(Notice(key="2026-11-25/pull-soup", title="Soup comes out", body="Dry oven gloves."))
    watch, context = Seeing(NOTHING), SimpleNamespace(config=SimpleNamespace(units=None))
    pieces: dict[str, Any] = {"clock": ReplayClock(NOW, speed=None), "ink": Charset()}
    monkeypatch.setattr(watch_screen, "WatchApp", app)
    with Journal.in_memory() as journal:
        seen = Seen(
            cast("Any", watch), cast("Any", context), way, journal=journal, stop=stop,
            has_keys=True, **pieces,
        )  # fmt: skip
        assert watch_screen._draw(seen, None, work=worked.set) == 0
    said = capsys.readouterr()
    assert said.out == "Soup comes out Dry oven gloves.\n"
    assert said.err.startswith("The screen failed")
    assert worked.is_set()
    assert stop.is_set()
