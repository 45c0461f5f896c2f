"""The command line: the parser, and which file answers which command.

Nothing heavy is imported here: `--help` has to be instant, and `now` quick.
"""

from __future__ import annotations

import argparse
import importlib
import io
import os
import sys
from typing import TYPE_CHECKING

from suntrack import __version__
from suntrack.cli_help import Parser, example
from suntrack.errors import SuntrackError

if TYPE_CHECKING:
    from collections.abc import Sequence

COMMANDS = {
    "now": "where the sun is, where to face the box, what comes next",
    "today": "is it a cooking day, and the plan: turns, dishes, box temperature",
    "turns": "what each number of turns keeps of the light and of supper",
    "week": "the next seven days, the best to cook on first",
    "watch": "keep the plan on screen and call you for every step",
    "note": "write down what you did or saw: turned, loaded, pulled, a reading, good",
    "notify": "how you are called; try every way, or answer a call",
    "service": "print the files that keep the watch running, for systemd or launchd",
    "dishes": "the dishes the plan knows, your own among them",
    "dish": "one dish: what goes in, when it is done, when it is safe, and why",
    "feed": "the weather services, their terms, and the forecast that is kept",
    "box": "your box for its builder: heat, losses, test figures, mirror, what gets too hot",
    "learn": "what thermometer readings say of your box, and whether the plan uses it",
    "trial": "a trial of your box, step by step: empty, water or power",
    "record": "what came of the chances that were shown",
    "sheet": "the day as one page to print or to read on a phone",
    "calendar": "the day's steps for your calendar, with alarms",
    "setup": "a few questions, and a config file of your own",
    "schema": "what --json prints, as JSON Schema",
    "completion": "the lines that complete commands in bash, zsh or fish",
    "season": "the year: days on which your meals come good, mirror and tilt by month",
    "whatif": "what changes to your box would bring, the best first",
}
BUILDER = ("learn", "trial", "record", "season", "whatif")
"""Commands that look at the box over many days."""
EPILOG = """\
examples:
  suntrack today                      the plan for the day
  suntrack today --date tomorrow      the plan for tomorrow
  suntrack week                       which day is the best
  suntrack now                        what to do at this moment
  suntrack note loaded lentil-soup    it went in just now
  suntrack note reading 245F          what the oven thermometer shows
  suntrack watch                      stay and be called
  suntrack box                        what your box loses, keeps and gets to
"""


def parser() -> argparse.ArgumentParser:
    """Return the parser with every command."""
    top = Parser(
        prog="suntrack",
        description="Plan the day of a home-built box solar cooker.",
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action="version", version=f"suntrack {__version__}")
    commands = top.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for name, meaning in COMMANDS.items():
        command = commands.add_parser(
            name,
            help=meaning,
            description=f"{meaning[:1].upper()}{meaning[1:]}.",
            epilog=example(name),
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        _add_arguments(name, command)
    return top


def _add_arguments(name: str, command: argparse.ArgumentParser) -> None:
    """Add the arguments of one command; kept here so that `--help` loads no command."""
    command.add_argument("--config", metavar="PATH", help="the config file to use")
    command.add_argument("--json", action="store_true", help="print JSON instead of text")
    if name not in ("watch", "notify", "service", "feed", "setup", "schema", "completion"):
        command.add_argument(
            "--at", metavar="TIME", help="instead of the clock: 2026-11-25T10:30+02:00 or 10:30"
        )
    if name in ("today", "turns", "week", "now", "watch", "dishes", "dish", "box", "feed"):
        command.add_argument(
            "--plain", action="store_true", help="plain lines, for screen readers and logs"
        )
    if name in ("today", "turns", "box", "sheet", "calendar"):
        command.add_argument("--date", metavar="DAY", help="2026-11-25, tomorrow, yesterday")
    if name == "watch":
        command.add_argument("--headless", action="store_true", help="no screen, only notices")
        command.add_argument(
            "--replay",
            metavar="SPEED",
            help="run the day through once, SPEED times as fast, or 'max'; notes nothing down",
        )
        command.add_argument("--date", metavar="DAY", help="the day to replay")
    _add_calling_arguments(name, command)
    _add_builder_arguments(name, command)
    _add_paper_arguments(name, command)
    if name == "feed":
        command.add_argument("--fetch", action="store_true", help="ask the service in use now")
    if name == "note":
        command.add_argument(
            "words",
            nargs="+",
            metavar="WORD",
            help="turned | loaded DISH | pulled DISH | reading 245F | core DISH 165F |"
            " skipped | good DISH | failed DISH",
        )
    if name == "dishes":
        command.add_argument("dish", nargs="?", metavar="DISH", help="one dish, as `dish` shows it")
    if name == "dish":
        command.add_argument("words", nargs="+", metavar="NAME", help="its name or short name")
        command.add_argument(
            "--why", action="store_true", help="every rule and number, its source, how sure it is"
        )


def _add_calling_arguments(name: str, command: argparse.ArgumentParser) -> None:
    """Add the arguments of the commands about being called."""
    if name == "notify":
        one = command.add_mutually_exclusive_group()
        one.add_argument("--test", action="store_true", help="send a test by every way")
        one.add_argument("--done", action="store_true", help="you have done what you were told")
        one.add_argument("--later", metavar="TIME", help="tell it again later, such as 10min")
        one.add_argument(
            "--report", nargs="?", const="today", metavar="DAY", help="what became of the calls"
        )
    if name == "service":
        kinds = ("systemd", "launchd")
        command.add_argument("--kind", choices=kinds, help="not the one of this system")


def _add_builder_arguments(name: str, command: argparse.ArgumentParser) -> None:
    """Add the arguments of the commands that look at the box over many days."""
    if name not in BUILDER:
        return
    command.add_argument(
        "--plain", action="store_true", help="plain lines, for screen readers and logs"
    )
    if name == "trial":
        command.add_argument(
            "trial",
            choices=("empty", "water", "power"),
            metavar="NAME",
            help="empty, water or power",
        )
        command.add_argument("--note", metavar="TEMP", help="write down 90C or 194F first")
        command.add_argument("--date", metavar="DAY", help="2026-11-25, tomorrow, yesterday")
    if name in ("season", "whatif"):
        command.add_argument(
            "--weather", metavar="FILE", help="typical weather: epw, csv, tm2; or: clear, usual"
        )
        command.add_argument(
            "--meal",
            action="append",
            metavar="DISH",
            help="judge by this dish, or DISH@18:00, not by your config's; may be repeated",
        )
    if name == "whatif":
        command.add_argument(
            "changes", nargs="*", metavar="CHANGE", help='such as "mirror.length = 50 cm"'
        )
    if name == "learn":
        command.add_argument("--csv", metavar="FILE", help="a logger's file, not the journal")
        one = command.add_mutually_exclusive_group()
        one.add_argument("--use", action="store_true", help="plan with it from now on")
        one.add_argument("--undo", action="store_true", help="plan with the box as built again")


def _add_paper_arguments(name: str, command: argparse.ArgumentParser) -> None:
    """Add the arguments of the commands that write a file or lines for another program."""
    if name == "schema":
        command.add_argument("of", nargs="?", metavar="COMMAND", help="only what this one prints")
    if name in ("sheet", "calendar"):
        command.add_argument("--out", metavar="FILE", help="the file to write; - for the screen")
    if name == "sheet":
        command.add_argument(
            "--chart",
            choices=("all", "box", "sun", "light"),
            help="only the curves, as a picture: .png, or .svg by the name after --out",
        )
    if name == "calendar":
        command.add_argument(
            "--before", default="5min", metavar="TIME", help="how long before a step (5min)"
        )
    if name == "setup":
        _add_setup_arguments(command)
    if name == "completion":
        command.add_argument("shell", choices=("bash", "zsh", "fish"), help="bash, zsh or fish")


def _add_setup_arguments(command: argparse.ArgumentParser) -> None:
    """Add the answers that `setup` can be given in advance."""
    for option, metavar, meaning in (
        ("--place", "NAME", "a large city near you, such as Gaborone"),
        ("--latitude", "DEGREES", "north positive; with --longitude instead of a place"),
        ("--longitude", "DEGREES", "east positive"),
        ("--elevation", "HEIGHT", "above the sea, such as 1010m or 3300ft"),
        ("--time-zone", "ZONE", "such as Africa/Gaborone"),
        ("--inside", "SIZE", 'the box inside: width x depth x height, "58 x 44 x 27 cm"'),
        ("--glasses", "NUMBER", "glasses on top, 1 or 2"),
        ("--mirror", "SIZE", 'length x width, "44 x 60 cm", or none'),
        ("--skyline", "POINTS", '"70-110: 1.5 fists, 250-285: 18 deg", compass bearings, or none'),
        ("--units", "SYSTEM", "metric or inch"),
        ("--air", "RANGE", 'coolest and warmest on an ordinary day, "15 C to 28 C"'),
        ("--meal", "TIME", "when you eat, such as 13:00"),
    ):
        command.add_argument(option, metavar=metavar, help=meaning)
    command.add_argument("--yes", action="store_true", help="ask nothing; take what is usual")
    command.add_argument("--replace", action="store_true", help="write over an older config")


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status."""
    args = parser().parse_args(argv)
    try:
        # A sign that the terminal's encoding lacks is no reason to stop halfway.
        if isinstance(sys.stdout, io.TextIOWrapper):
            sys.stdout.reconfigure(errors="replace")
        module = importlib.import_module(f"suntrack.commands.{args.command}")
        status = int(module.run(args))
        # Now, not at exit: there a reader that has left can no longer be answered for.
        sys.stdout.flush()
    except SuntrackError as error:
        print(f"suntrack: {error}", file=sys.stderr)
        return error.exit_status
    except BrokenPipeError:
        # The reader (head, less) has gone; a traceback would help nobody.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except OSError as error:
        print(f"suntrack: {error.strerror or error}: {error.filename or 'output'}", file=sys.stderr)
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    except KeyboardInterrupt:
        return 130
    return status
