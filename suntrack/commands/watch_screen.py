"""The dashboard of `watch`: one loop that ticks and one that draws, kept apart.

The watch ticks in a thread of its own, so that a slow terminal can never hold up a call;
the screen is drawn from what the watch says of itself twice a second, and keys write into
the journal, where the watch finds them.
"""

from __future__ import annotations

import logging
import sys
import threading
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from suntrack.alerts.lifecycle import OVER
from suntrack.commands.now import view_of
from suntrack.commands.watch_hands import CookHands
from suntrack.plan.standing import as_of
from suntrack.screen.dashboard.app import DRAW_S, Hands, Look, WatchApp
from suntrack.screen.dashboard.view import Call, Dashboard, DashboardView, Reading
from suntrack.screen.style import ink_for
from suntrack.screen.text.dashboard import SCREEN_FAILED
from suntrack.screen.text.notices import NO_PLAN_YET
from suntrack.store.unplanned_food import strays
from suntrack.watch.daemon import Watch, WatchView, run_replay

if TYPE_CHECKING:
    from collections.abc import Callable

    from suntrack.clock import Clock
    from suntrack.commands.context import Context
    from suntrack.commands.watch_ways import ScreenWay
    from suntrack.screen.charset import Charset
    from suntrack.store.journal import Journal

SHOWN_PLAIN = 5
"""How many calls are kept on a screen without a plan."""
log = logging.getLogger(__name__)


def run_screen(
    watch: Watch,
    context: Context,
    way: ScreenWay,
    *,
    journal: Journal,
    clock: Clock,
    stop: threading.Event,
) -> int:
    """Draw until `stop` is set, or the cook leaves."""
    hands = CookHands(context, clock=clock, plan=lambda: watch.view(clock.now()).plan)
    seen = Seen(watch, context, way, journal=journal, clock=clock, stop=stop, has_keys=True)
    return _draw(seen, hands, work=lambda: watch.run(stop))


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
    """Draw a day that is run through, to its end or until `stop` is set; no key notes anything."""

    def work() -> None:
        run_replay(watch, clock=clock, to_at=to_at, stop=stop, most_s=60.0)
        stop.set()

    seen = Seen(watch, context, way, journal=journal, clock=clock, stop=stop, has_keys=False)
    return _draw(seen, None, work=work)


class Seen:
    """What the app draws: the watch at this moment."""

    def __init__(
        self,
        watch: Watch,
        context: Context,
        way: ScreenWay,
        *,
        journal: Journal,
        clock: Clock,
        stop: threading.Event,
        has_keys: bool,
        ink: Charset | None = None,
    ) -> None:
        self._watch, self.context, self.way = watch, context, way
        self._journal, self._clock, self.stop, self._has_keys = journal, clock, stop, has_keys
        self.ink = ink or ink_for(sys.stdout)

    def look(self) -> Look:
        """Return what the screen shows; plain lines until there is a plan, or when it fails."""
        seen = self._watch.view(self._clock.now())
        try:
            view = _view(
                seen, self.context, self.way, journal=self._journal, has_keys=self._has_keys
            )
        except Exception:  # a screen that cannot be drawn must not end the calls
            log.exception("the screen could not be drawn")
            view = None
        rings, self.way.bells = bool(self.way.bells), 0
        units = self.context.config.units if view else None
        return Look(
            dashboard=Dashboard(view, units=units, ink=self.ink) if view and units else None,
            lines=() if view else _lines(seen, self.way),
            rings=rings,
            is_over=self.stop.is_set(),
        )


def _draw(seen: Seen, hands: Hands | None, *, work: Callable[[], None]) -> int:
    """Run the work in its thread and draw what it has come to."""
    app = WatchApp(seen, hands, units=seen.context.config.units, ink=seen.ink)
    worker = threading.Thread(target=work, name="watch", daemon=True)
    worker.start()
    if not _ran(app):
        print(SCREEN_FAILED, file=sys.stderr)
        _tell_until(seen)
    seen.stop.set()
    worker.join()
    return 0


def _ran(app: WatchApp) -> bool:
    """Run the app to its end; False when it ended by a mistake of ours or of its library."""
    try:
        # Keyboard only: without the mouse the terminal's own marking and copying go on working.
        app.run(mouse=False)
    except Exception:  # a screen that cannot be drawn must not end the calls
        log.exception("the screen failed")
        return False
    if app.return_code:
        log.error("the screen ended by itself with status %s", app.return_code)
    return not app.return_code


def _tell_until(seen: Seen) -> None:
    """Go on with the calls as lines, after the screen has failed."""
    told = 0
    while not seen.stop.wait(DRAW_S):
        shown = seen.way.shown
        for notice in shown[told:]:
            print(seen.ink.text(f"{notice.title} {notice.body}"), flush=True)
        told = len(shown)


def _lines(seen: WatchView, way: ScreenWay) -> tuple[str, ...]:
    """Return what is shown without a plan."""
    titles = [shown.title for shown in way.shown[-SHOWN_PLAIN:]]
    lines = [NO_PLAN_YET if seen.plan is None else "", *titles, *seen.trouble]
    return tuple(line for line in lines if line)


def _view(
    seen: WatchView, context: Context, way: ScreenWay, *, journal: Journal, has_keys: bool
) -> DashboardView | None:
    """Return the dashboard; None until there is a plan."""
    if seen.plan is None:
        return None
    zone = context.config.site.zone
    here = replace(context, now=seen.at.astimezone(zone))
    due = {alert.key: alert.due_at for alert in seen.alerts}
    states = {shown.key: seen.states.get(shown.key, "sent") for shown in way.shown}
    calls = tuple(
        Call(
            at=due.get(shown.key, seen.at).astimezone(zone),
            title=shown.title,
            state=states[shown.key],
            waits=states[shown.key] not in OVER,
        )
        for shown in way.shown
    )
    troubles = tuple(Call(at=here.now, title=text, state="trouble") for text in seen.trouble)
    entries = journal.entries(seen.plan.date)
    readings = tuple(
        Reading(at=entry.at.astimezone(zone), box_c=float(entry.data["box_c"]))
        for entry in entries
        if entry.kind == "reading"
    )
    found = strays(entries, config=context.config, on=seen.plan.date, now=here.now)
    plan = as_of(seen.plan, at=here.now, dishes=context.config.library, strays=found)
    return DashboardView(
        plan=plan,
        now=view_of(here, plan),
        calls=calls + troubles,
        readings=readings,
        has_keys=has_keys,
    )
