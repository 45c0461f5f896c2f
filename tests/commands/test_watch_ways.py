"""The ways of the command itself, where there is no screen."""

from __future__ import annotations

import io
import subprocess
import sys
from datetime import UTC, datetime

from suntrack.commands.watch_ways import TroubleLines
from suntrack.watch.daemon import WatchView


def view(*troubles: str) -> WatchView:
    return WatchView(
        at=datetime(2026, 11, 25, tzinfo=UTC), plan=None, alerts=(), states={}, undelivered=(),
        trouble=troubles,
    )  # fmt: skip


def test_a_trouble_is_a_line_once_when_it_begins_and_again_when_it_comes_back() -> None:
    stream = io.StringIO()
    lines = TroubleLines(stream)
    for troubles in (["phone"], ["phone"], ["phone", "disk\x1b[31m"], [], ["phone"]):
        lines(view(*troubles))
    assert stream.getvalue().splitlines() == ["phone", "disk [31m", "phone"]


def test_a_stream_that_is_gone_stops_nothing() -> None:
    stream = io.StringIO()
    stream.close()
    TroubleLines(stream)(view("phone"))


def test_the_watch_itself_loads_nothing_that_a_plan_or_a_far_way_needs() -> None:
    """Those live in processes of their own, so that the watch stays small."""
    code = (
        "import sys\n"
        "import suntrack.commands.watch\n"
        "heavy = {'pvlib', 'pandas', 'scipy', 'apprise', 'numba', 'suntrack.feeds.planner',\n"
        "         'rich', 'textual'}\n"
        "print(sorted(heavy & set(sys.modules)))\n"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (run.stdout.strip(), run.stderr) == ("[]", "")
