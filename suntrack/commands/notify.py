"""`suntrack notify`: how you are called; try every way once; answer what you were called for."""

from __future__ import annotations

import argparse
import os
import sys
from datetime import timedelta
from typing import TYPE_CHECKING, Any

from suntrack.alerts.report import reported
from suntrack.commands.context import Context, context_of, parse_day, print_json
from suntrack.commands.far_ways import backups_in, far_ways
from suntrack.config.secrets import Secrets
from suntrack.errors import InputError, Problem
from suntrack.notify.channel import Accepted, Notice, Notifier, Outcome, Refused
from suntrack.notify.delivery import hand_over
from suntrack.notify.local import TerminalNotifier
from suntrack.notify.other import desktop_way
from suntrack.screen.text import ways as words
from suntrack.store.journal_answers import answer_calls
from suntrack.units import parse_duration_min

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.alerts.history import AlertEvent

LONGEST_LATER_MIN = 12 * 60.0


def run(args: argparse.Namespace) -> int:
    """Tell the ways, or try them; a way that did not take its test makes the status 1."""
    context = context_of(args)
    if args.done or args.later is not None:
        return _answer(context, args)
    if args.report is not None:
        return _tell_report(context, args)
    secrets = Secrets(os.environ, context.config.calls.secrets)
    ways = _ways(context, secrets, is_json=args.json)
    if not args.test:
        _tell(context, ways, is_json=args.json)
        return 0
    notice = Notice(
        key=f"{context.today.isoformat()}/test", title=words.TEST_TITLE, body=words.TEST_BODY
    )
    outcomes = hand_over(dict.fromkeys((way.name for way in ways), notice), ways)
    _report(outcomes, is_json=args.json)
    return int(not outcomes or not all(isinstance(o, Accepted) for o in outcomes.values()))


def _answer(context: Context, args: argparse.Namespace) -> int:
    """Answer every call that waits for one, as the buttons of a desktop notice do."""
    minutes = None if args.later is None else _minutes(args.later)
    until = None if minutes is None else context.now + timedelta(minutes=minutes)
    with context.journal() as journal:
        keys = answer_calls(journal, today=context.today, now=context.now, until=until)
    if args.json:
        stamp = until.isoformat(timespec="seconds") if until else None
        print_json({"answered": list(keys), "until": stamp})
    else:
        again = context.config.units.time_text(until) if until else None
        print(words.answer_line(keys, again=again))
    return 0


def _tell_report(context: Context, args: argparse.Namespace) -> int:
    """Print what became of the calls of a day."""
    on = parse_day(args.report, today=context.today, where="--report")
    events: tuple[AlertEvent, ...] = ()
    if context.journal_path.exists():
        with context.journal() as journal:
            events = journal.alert_events(on)
    calls = reported(events)
    zone, units = context.config.site.zone, context.config.units
    if args.json:
        print_json({"date": on.isoformat(), "calls": [words.call_json(c, zone) for c in calls]})
        return 0
    for line in words.report_lines(calls, units=units, zone=zone):
        print(line)
    return 0


def _minutes(text: str) -> float:
    """Return a time span to wait; raise InputError for what is none.  [min]"""
    try:
        minutes = parse_duration_min(text)
    except ValueError:
        minutes = 0.0
    if not 1.0 <= minutes <= LONGEST_LATER_MIN:
        raise InputError(
            Problem(
                where="--later",
                found=repr(text),
                allowed="1 min to 12 h",
                remedy='Write --later "10 min".',
            )
        )
    return minutes


def _ways(context: Context, secrets: Secrets, *, is_json: bool) -> list[Notifier]:
    """Return every way that `watch` would use."""
    calls = context.config.calls
    ways: list[Notifier] = []
    if calls.terminal:
        # Its own words must not stand among the JSON.
        stream = sys.stderr if is_json else sys.stdout
        ways.append(TerminalNotifier(stream, bell=calls.bell and stream.isatty()))
    if calls.desktop:
        ways.append(desktop_way())
    return [*ways, *far_ways(calls, secrets)]


def _tell(context: Context, ways: list[Notifier], *, is_json: bool) -> None:
    """Print how the cook is called; never an address."""
    calls = context.config.calls
    names, backups = [way.name for way in ways], backups_in(calls)
    if not is_json:
        units = context.config.units
        for line in words.way_lines(names, backups=backups, quiet=calls.quiet, units=units):
            print(line)
        return
    hours = [
        {"from": f"{starts:%H:%M}", "to": f"{ends:%H:%M}"} for starts, ends in calls.quiet.stretches
    ]
    print_json(
        {
            "ways": [{"name": name, "backup": name in backups} for name in names],
            "quiet": {"hours": hours, "tells": sorted(calls.quiet.tells)},
        }
    )


def _report(outcomes: Mapping[str, Outcome], *, is_json: bool) -> None:
    """Print how each way did."""
    results = [(name, *_said(outcome)) for name, outcome in outcomes.items()]
    if is_json:
        print_json({"ways": [_as_json(*result) for result in results]})
        return
    for result in results:
        print(words.result_line(*result))
    if not results:
        print(words.NO_WAYS)


def _as_json(name: str, outcome: str, reason: str) -> dict[str, Any]:
    return {"name": name, "outcome": outcome, "reason": reason or None}


def _said(outcome: Outcome) -> tuple[str, str]:
    """Return an outcome as one word, and its reason."""
    if isinstance(outcome, Accepted):
        return "accepted", ""
    return ("refused" if isinstance(outcome, Refused) else "unknown"), outcome.reason
