"""`suntrack watch`: stay, keep the plan on screen, and call the cook for every step."""

from __future__ import annotations

import argparse
import os
import platform
import signal
import sys
import threading
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.clock import Clock, ReplayClock, SystemClock
from suntrack.commands.child_plans import ChildPlans, planner_command
from suntrack.commands.context import Context, context_of, parse_day
from suntrack.commands.far_ways import backups_in, far_ways
from suntrack.commands.watch_ways import (
    JsonWay,
    LinesWay,
    ObedientWay,
    ScreenWay,
    TroubleLines,
)
from suntrack.config.secrets import Secrets
from suntrack.errors import InputError, Problem
from suntrack.notify.channel import Notifier
from suntrack.notify.other import desktop_way
from suntrack.screen.text.day import alert_words
from suntrack.store.journal import Journal
from suntrack.store.lock import SingleLock
from suntrack.store.logs import log_to
from suntrack.watch.daemon import Watch, WatchView, run_replay

if TYPE_CHECKING:
    from suntrack.alerts.alert import Alert
    from suntrack.plan.records import DayPlan


def run(args: argparse.Namespace) -> int:
    """Watch until told to stop, or run one day through."""
    context = context_of(args)
    stop = threading.Event()
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, lambda *_: stop.set())
    if args.replay is not None:
        return _replay(args, context, stop)
    lock = SingleLock(context.data / "watch.lock").take()
    try:
        with Journal.open(context.journal_path) as journal:
            return _watch(args, context, journal, stop)
    finally:
        lock.release()


def _watch(
    args: argparse.Namespace, context: Context, journal: Journal, stop: threading.Event
) -> int:
    """Watch the real day."""
    clock, secrets = SystemClock(), Secrets(os.environ, context.config.calls.secrets)
    screen = ScreenWay(bell=context.config.calls.bell) if _wants_screen(args) else None
    ways = [
        *_ways(args, context, clock=clock, screen=screen),
        *far_ways(context.config.calls, secrets),
    ]
    plans = [ChildPlans(planner_command(context.config.path, days=days)) for days in (0, 1)]
    watch = _build(
        context,
        clock=clock,
        journal=journal,
        ways=ways,
        plan_source=plans[0],
        tomorrow_source=plans[1],
        on_change=None if screen or args.json else TroubleLines(sys.stderr),
    )
    _listen_to_desktop(ways, watch, stop)
    with log_to(context.data / "watch.log", hide=secrets.hide):
        try:
            return _run(watch, context, screen, journal=journal, clock=clock, stop=stop)
        finally:
            for plan in plans:
                plan.stop()


def _run(
    watch: Watch,
    context: Context,
    screen: ScreenWay | None,
    *,
    journal: Journal,
    clock: Clock,
    stop: threading.Event,
) -> int:
    """Run the watch, with its screen if it has one."""
    if screen is None:
        watch.run(stop)
        return 0
    from suntrack.commands.watch_screen import run_screen

    return run_screen(watch, context, screen, journal=journal, clock=clock, stop=stop)


def _listen_to_desktop(ways: Sequence[Notifier], watch: Watch, stop: threading.Event) -> None:
    """Take the cook's answers on desktop notices, in a thread, where the desktop has them."""
    if platform.system() != "Linux":
        return
    from suntrack.notify.linux import DesktopNotifier
    from suntrack.notify.linux_answers import DesktopAnswers

    for way in ways:
        if isinstance(way, DesktopNotifier):
            answers = DesktopAnswers(way, watch.answer)
            threading.Thread(target=answers.run, args=(stop,), daemon=True).start()


def _replay(args: argparse.Namespace, context: Context, stop: threading.Event) -> int:
    """Run one day through from midnight to midnight; nothing is noted down."""
    from suntrack.feeds.planner import day_starts_at, make_plan

    on = parse_day(args.date, today=context.today)
    starts_at = day_starts_at(context.config, on)
    plan = make_plan(context.config, on=on, now=starts_at, cache_dir=context.cache)
    clock = ReplayClock(starts_at, speed=_speed(args.replay))
    screen = (
        ScreenWay(bell=context.config.calls.bell)
        if _wants_screen(args) and args.replay != "max"
        else None
    )
    with Journal.in_memory() as journal:
        shown = _ways(args, context, clock=clock, screen=screen, desktop=False)
        ways = [ObedientWay(way, done=lambda key: watch.answer(key, "done")) for way in shown]
        watch = _build(context, clock=clock, journal=journal, ways=ways, plan_source=lambda _: plan)
        to_at = starts_at + timedelta(days=1) - timedelta(minutes=1)
        if screen is None:
            run_replay(watch, clock=clock, to_at=to_at, stop=stop)
            return 0
        from suntrack.commands.watch_screen import replay_screen

        return replay_screen(
            watch, context, screen, journal=journal, clock=clock, to_at=to_at, stop=stop
        )


def _build(
    context: Context,
    *,
    clock: Clock,
    journal: Journal,
    ways: Sequence[Notifier],
    plan_source: Callable[[datetime], DayPlan],
    tomorrow_source: Callable[[datetime], DayPlan] | None = None,
    on_change: Callable[[WatchView], object] | None = None,
) -> Watch:
    """Return the watch with the cook's words and times."""
    units, zone = context.config.units, context.config.site.zone

    def words(alert: Alert, now: datetime) -> tuple[str, str]:
        return alert_words(alert, units=units, zone=zone, now=now)

    return Watch(
        clock=clock,
        journal=journal,
        ways=ways,
        plan_source=plan_source,
        tomorrow_source=tomorrow_source,
        words=words,
        time_text=lambda at: units.time_text(at, zone),
        backups=backups_in(context.config.calls),
        quiet=context.config.calls.quiet,
        on_change=on_change,
    )


def _ways(
    args: argparse.Namespace,
    context: Context,
    *,
    clock: Clock,
    screen: ScreenWay | None,
    desktop: bool = True,
) -> list[Notifier]:
    """Return the ways out: the screen or plain lines, and the desktop if the cook wants it."""
    ways: list[Notifier] = []
    units, zone = context.config.units, context.config.site.zone
    if screen is not None:
        ways.append(screen)
    elif args.json:
        ways.append(JsonWay(sys.stdout, clock=clock, zone=zone))
    elif context.config.calls.terminal:
        bell = context.config.calls.bell
        ways.append(LinesWay(sys.stdout, clock=clock, units=units, zone=zone, bell=bell))
    if desktop and context.config.calls.desktop:
        ways.append(desktop_way())
    return ways


def _wants_screen(args: argparse.Namespace) -> bool:
    """Return True for the dashboard: a real terminal with a keyboard, and nobody asked for lines.

    The screen is drawn on standard error too, so a log or a pipe there gets lines as well.
    """
    from suntrack.screen.style import is_dumb

    if args.headless or args.plain or args.json:
        return False
    has_keyboard = sys.stdin is not None and sys.stdin.isatty()
    return has_keyboard and not any(is_dumb(s, os.environ) for s in (sys.stdout, sys.stderr))


def _speed(text: str) -> float | None:
    """Return how many times faster than life; None for as fast as it goes."""
    if text == "max":
        return None
    try:
        speed = float(text.removesuffix("x"))
    except ValueError:
        speed = 0.0
    if not 0.1 <= speed <= 1e6:
        raise InputError(
            Problem(
                where="--replay",
                found=repr(text),
                allowed="a number from 0.1 to 1000000, or max",
                remedy="Write --replay 600 for a day in under three minutes.",
            )
        )
    return speed
