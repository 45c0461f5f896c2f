"""The dashboard of `watch`: one loop that ticks and one that draws, kept apart.

The watch ticks in a thread of its own, so that a slow terminal can never hold up a call;
the screen is drawn from what the watch says of itself once a second.
"""

from __future__ import annotations

import os
import sys
import threading
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from rich.live import Live

from suntrack.commands.now import view_of
from suntrack.daemon import Watch, run_replay
from suntrack.screen.dashboard import Call, Dashboard, DashboardView, Reading
from suntrack.screen.style import ink_for, make_console

if TYPE_CHECKING:
    from collections.abc import Callable

    from suntrack.commands.context import Context
    from suntrack.commands.watch_ways import ScreenWay
    from suntrack.edge.clock import Clock
    from suntrack.edge.journal import Journal

DRAW_S = 0.5
"""Time between two drawings.  [s]"""
KEYS = "Ctrl-C leaves.  In another window: suntrack note turned | loaded DISH | reading 245F"


def run_screen(
    watch: Watch,
    context: Context,
    way: ScreenWay,
    *,
    journal: Journal,
    clock: Clock,
    stop: threading.Event,
) -> int:
    """Draw until `stop` is set."""

    def view() -> DashboardView | None:
        return _view(watch, context, way, journal=journal, now=clock.now())

    return _draw(way, view, stop=stop, work=lambda: watch.run(stop), context=context)


def replay_screen(
    watch: Watch,
    context: Context,
    way: ScreenWay,
    *,
    journal: Journal,
    clock: Clock,
    to_at: datetime,
    stop: threading.Event,
) -> int:
    """Draw a day that is run through, to its end or until `stop` is set."""

    def work() -> None:
        run_replay(watch, clock=clock, to_at=to_at, stop=stop, most_s=60.0)
        stop.set()

    def view() -> DashboardView | None:
        return _view(watch, context, way, journal=journal, now=clock.now())

    return _draw(way, view, stop=stop, work=work, context=context)


def _draw(
    way: ScreenWay,
    view: Callable[[], DashboardView | None],
    *,
    context: Context,
    stop: threading.Event,
    work: Callable[[], None],
) -> int:
    """Run the work in its thread and draw what it has come to."""
    console, ink = make_console(sys.stdout, os.environ), ink_for(sys.stdout)
    worker = threading.Thread(target=work, name="watch", daemon=True)
    worker.start()
    with Live(console=console, screen=True, auto_refresh=False) as live:
        while not stop.is_set():
            seen = view()
            if seen is not None:
                live.update(Dashboard(seen, units=context.config.units, ink=ink), refresh=True)
            if way.bells:
                way.bells = 0
                console.bell()
            stop.wait(DRAW_S)
    worker.join()
    return 0


def _view(
    watch: Watch, context: Context, way: ScreenWay, *, journal: Journal, now: datetime
) -> DashboardView | None:
    """Return what the screen shows; None until there is a plan."""
    seen = watch.view(now)
    if seen.plan is None:
        return None
    here = replace(context, now=now.astimezone(context.config.site.zone))
    due = {alert.key: alert.due_at for alert in seen.alerts}
    calls = tuple(
        Call(
            at=due.get(shown.key, now).astimezone(context.config.site.zone),
            title=shown.title,
            state=seen.states.get(shown.key, "sent"),
        )
        for shown in way.shown
    )
    troubles = tuple(Call(at=here.now, title=text, state="trouble") for text in seen.trouble)
    readings = tuple(
        Reading(at=entry.at.astimezone(here.config.site.zone), box_c=float(entry.data["box_c"]))
        for entry in journal.entries(seen.plan.date)
        if entry.kind == "reading"
    )
    return DashboardView(
        plan=seen.plan,
        now=view_of(here, seen.plan),
        calls=calls + troubles,
        readings=readings,
        keys=KEYS,
    )
