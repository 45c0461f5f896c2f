"""The dashboard of `watch`: one loop that ticks and one that draws, kept apart.

The watch ticks in a thread of its own, so that a slow terminal can never hold up a call;
the screen is drawn from what the watch says of itself once a second.
"""

from __future__ import annotations

import logging
import os
import sys
import threading
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from rich.live import Live
from rich.text import Text

from suntrack.commands.now import view_of
from suntrack.daemon import Watch, WatchView, run_replay
from suntrack.screen.calls import NO_PLAN_YET
from suntrack.screen.dashboard import Call, Dashboard, DashboardView, Reading
from suntrack.screen.style import ink_for, make_console

if TYPE_CHECKING:
    from collections.abc import Callable

    from rich.console import RenderableType

    from suntrack.commands.context import Context
    from suntrack.commands.watch_ways import ScreenWay
    from suntrack.edge.clock import Clock
    from suntrack.edge.journal import Journal

DRAW_S = 0.5
"""Time between two drawings.  [s]"""
SHOWN_PLAIN = 5
"""How many calls are kept on a screen without a plan."""
log = logging.getLogger(__name__)
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

    def draw() -> RenderableType:
        return _drawn(watch, context, way, journal=journal, now=clock.now())

    return _draw(way, draw, stop=stop, work=lambda: watch.run(stop))


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

    def draw() -> RenderableType:
        return _drawn(watch, context, way, journal=journal, now=clock.now())

    return _draw(way, draw, stop=stop, work=work)


def _draw(
    way: ScreenWay,
    draw: Callable[[], RenderableType],
    *,
    stop: threading.Event,
    work: Callable[[], None],
) -> int:
    """Run the work in its thread and draw what it has come to."""
    console = make_console(sys.stdout, os.environ)
    worker = threading.Thread(target=work, name="watch", daemon=True)
    worker.start()
    with Live(console=console, screen=True, auto_refresh=False) as live:
        while not stop.is_set():
            live.update(draw(), refresh=True)
            if way.bells:
                way.bells = 0
                console.bell()
            stop.wait(DRAW_S)
    worker.join()
    return 0


def _drawn(
    watch: Watch, context: Context, way: ScreenWay, *, journal: Journal, now: datetime
) -> RenderableType:
    """Return what the screen shows; plain lines until there is a plan, or when it fails."""
    seen = watch.view(now)
    ink = ink_for(sys.stdout)
    try:
        view = _view(seen, context, way, journal=journal)
    except Exception:  # a screen that cannot be drawn must not end the calls
        log.exception("the screen could not be drawn")
        view = None
    if view is not None:
        return Dashboard(view, units=context.config.units, ink=ink)
    titles = [shown.title for shown in way.shown[-SHOWN_PLAIN:]]
    lines = [NO_PLAN_YET if seen.plan is None else "", *titles, *seen.trouble]
    return Text("\n".join(ink.text(line) for line in lines if line))


def _view(
    seen: WatchView, context: Context, way: ScreenWay, *, journal: Journal
) -> DashboardView | None:
    """Return the dashboard; None until there is a plan."""
    if seen.plan is None:
        return None
    now = seen.at
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
