"""The planner as a process of its own: makes one plan, prints it, and is gone.

The watch starts it, so that a look at the clock never waits for a plan, and so that the
memory a plan takes is given back when it is made.  Not a command for cooks.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import sys
from datetime import timedelta

from suntrack.commands.context import context_of
from suntrack.commands.plans import kept_plan, note_shown
from suntrack.errors import JournalError, SuntrackError
from suntrack.store.plan_codec import plan_to_cache


def main() -> int:
    """Print the plan of today or tomorrow as JSON; an error is one line, and a status."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--config", default=None)
    parser.add_argument("--days", type=int, default=0)
    args = parser.parse_args()
    args.json = True
    try:
        context = context_of(args)
        plan = kept_plan(context, context.today + timedelta(days=args.days), fetch=True)
        # A full disk must not cost the cook their calls.
        with contextlib.suppress(JournalError):
            note_shown(context, plan)
    except SuntrackError as error:
        print(error, file=sys.stderr)
        return error.exit_status
    print(json.dumps(plan_to_cache(plan)))
    return 0


if __name__ == "__main__":
    sys.exit(main())
