"""What every command needs: the config, the moment, the journal's place, the way to print."""

from __future__ import annotations

import argparse
import json
import os
import re
import sys
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from suntrack.clock import SystemClock
from suntrack.config.kept import read_config
from suntrack.errors import InputError, Problem
from suntrack.store.compiled import keep_compiled
from suntrack.store.learned import with_learned
from suntrack.store.paths import cache_dir, data_dir, dishes_dir, find_config

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from suntrack.config.record import Config
    from suntrack.store.journal import Entry, Journal

WHEN = "an ISO 8601 time such as 2026-11-25T10:30+02:00, or 10:30 (am, pm) for today at the site"
YEARS = range(1900, 2200)
"""The years that can be asked about; the sun holds for more, but calendars end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """One run of one command."""

    config: Config
    """The cook's config, with what was learned."""
    now: datetime
    """In the site's time zone."""
    asked_at: bool
    """True when `now` was given with --at instead of read from the clock."""
    cache: Path
    """The folder for what can be computed again."""
    data: Path
    """The folder of the journal."""
    compiled: bool = True
    """True when the simulator was compiled before and is kept."""

    @property
    def today(self) -> date:
        """The local date at the site."""
        return self.now.date()

    @property
    def journal_path(self) -> Path:
        """Where the journal is."""
        return self.data / "journal.db"

    def entries(self, on: date) -> tuple[Entry, ...]:
        """Return the journal's entries of a day; none when there is no journal yet."""
        if not self.journal_path.exists():
            return ()
        with self.journal() as journal:
            return journal.entries(on)

    def journal(self) -> Journal:
        """Open the journal; where a damaged one was put aside, say so: notes may be lost.

        Only the one that puts it aside knows of it, so nobody else would say it later.
        """
        from suntrack.store.journal import Journal

        journal = Journal.open(self.journal_path)
        if journal.told is not None:
            print(f"suntrack: {journal.told}", file=sys.stderr)
        return journal


def context_of(args: argparse.Namespace) -> Context:
    """Return the context that the command line asks for; raise InputError on mistakes."""
    found = find_config(args.config, cwd=Path.cwd(), env=os.environ)
    data = data_dir(os.environ)
    cache = cache_dir(os.environ)
    read = read_config(found.path, dishes_dir=dishes_dir(os.environ), cache=cache)
    config = with_learned(read, data)
    if found.is_example and not args.json:
        print(f"No config of your own yet; this is the example, {found.path}.", file=sys.stderr)
    now = SystemClock().now().astimezone(config.site.zone)
    asked = getattr(args, "at", None)
    return Context(
        config=config,
        now=now if asked is None else parse_when(asked, now=now),
        asked_at=asked is not None,
        cache=cache,
        data=data,
        compiled=keep_compiled(cache, env=os.environ),
    )


def say_first_time(context: Context) -> None:
    """Tell somebody at a terminal why the first plan on this machine takes so long."""
    if not context.compiled:
        say_wait("Preparing the simulator for this machine, about ten seconds, once.")


def say_wait(words: str) -> None:
    """Tell somebody at a terminal what takes its time."""
    if sys.stderr.isatty():
        from suntrack.commands.asking import wrapped

        print(wrapped(words), file=sys.stderr)


def parse_when(text: str, *, now: datetime) -> datetime:
    """Return the instant that `--at` names, in the zone of `now`."""
    try:
        clock = re.fullmatch(r"(\d{1,2}):(\d\d)\s*(am|pm)?", text.strip().lower())
        if clock:
            hour, half = int(clock[1]), clock[3]
            if half:
                hour = hour % 12 + (12 if half == "pm" else 0)
            return now.replace(hour=hour, minute=int(clock[2]), second=0, microsecond=0)
        at = datetime.fromisoformat(text)
        _known_year(at, where="--at")
    except ValueError:
        raise InputError(
            Problem(where="--at", found=repr(text), allowed=WHEN, remedy="Write the time so.")
        ) from None
    return (at if at.tzinfo else at.replace(tzinfo=now.tzinfo)).astimezone(now.tzinfo)


def parse_day(text: str | None, *, today: date, where: str = "--date") -> date:
    """Return the day that an option such as `--date` names; today when it was not given."""
    words = {None: 0, "today": 0, "tomorrow": 1, "yesterday": -1}
    if text in words:
        return today + timedelta(days=words[text])
    try:
        on = date.fromisoformat(str(text))
    except ValueError:
        raise InputError(
            Problem(
                where=where,
                found=repr(text),
                allowed="a date such as 2026-11-25, or today, tomorrow, yesterday",
                remedy="Write the date so.",
            )
        ) from None
    _known_year(on, where=where)
    return on


def _known_year(on: date, *, where: str) -> None:
    if on.year not in YEARS:
        raise InputError(
            Problem(
                where=where,
                found=f"the year {on.year}",
                allowed=f"a year from {YEARS[0]} to {YEARS[-1]}",
                remedy="Check the year.",
            )
        )


def print_json(data: Mapping[str, Any] | Sequence[Any]) -> None:
    """Print JSON for a program to read, in ASCII where standard output is not UTF-8."""
    is_utf8 = (sys.stdout.encoding or "utf-8").lower().replace("-", "") == "utf8"
    print(json.dumps(data, indent=2, ensure_ascii=not is_utf8))
