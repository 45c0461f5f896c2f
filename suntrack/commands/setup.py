"""`suntrack setup`: a few questions, a config of the cook's own, and the first plan."""

from __future__ import annotations

import argparse
import os
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from suntrack.clock import SystemClock
from suntrack.commands.asking import ask, say, width, with_arrow_keys, wrapped
from suntrack.commands.context import print_json
from suntrack.commands.setup_answers import answered, config_answers, doubts, given_answers
from suntrack.config.first_run.text import config_text, write_checked
from suntrack.errors import InputError, Problem
from suntrack.screen.text.setup import WELCOME, WRITE_OVER, next_lines, usual_words
from suntrack.store.paths import FILE, dishes_dir

if TYPE_CHECKING:
    from datetime import datetime, time

    from suntrack.commands.setup_answers import Answered


def run(args: argparse.Namespace) -> int:
    """Ask, write, plan, and say what to do next."""
    path = Path(args.config).expanduser() if args.config else dishes_dir(os.environ).parent / FILE
    asks = not args.yes
    if asks:
        with_arrow_keys()
    _may_write(path, args, asks=asks)
    if asks and not args.json:
        say(WELCOME)
    so_far = answered(given_answers(args), asks=asks)
    told = tuple(doubts(so_far, now=SystemClock().now()))
    guessed = any(text.startswith("elevation ") for text in so_far.usual)
    write_checked(path, config_text(config_answers(so_far.found, guessed_elevation=guessed)))
    if args.json:
        from suntrack.screen.json.files import setup_json

        print_json(setup_json(path, so_far.usual, told))
        return 0
    print(f"Written: {path}")
    status = _first_plan(path, so_far)
    print()
    for line in (usual_words(so_far.usual), *told):
        if line:
            say(line)
    print("\n".join(next_lines(wrapped(str(path)), width=width())))
    return status


def _first_plan(path: Path, so_far: Answered) -> int:
    """Show the plan of the next day that has a meal to cook for."""
    from suntrack.commands import today

    here = SystemClock().now().astimezone(ZoneInfo(so_far.found["zone"]))
    date = first_day(here, meal=so_far.found["meal"])
    return today.run(
        argparse.Namespace(config=str(path), json=False, plain=False, at=None, date=date)
    )


def first_day(now: datetime, *, meal: time) -> str:
    """Return the day to plan first: today's plan is of no use once its meal is over."""
    return "tomorrow" if now.time() >= meal else "today"


def _may_write(path: Path, args: argparse.Namespace, *, asks: bool) -> None:
    """Ask before an older config is written over; without asking, refuse."""
    if not path.exists() or args.replace:
        return
    if asks and ask(WRITE_OVER.format(path=path)).lower() in ("yes", "y"):
        return
    raise InputError(
        Problem(
            where="--config",
            found=f"{str(path)!r}, a config that is there already",
            allowed="a file that is new",
            remedy="Nothing was changed. Name another file with --config, or add --replace.",
        )
    )
