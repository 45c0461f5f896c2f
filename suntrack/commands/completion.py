"""`suntrack completion`: the lines with which a shell completes our commands."""

from __future__ import annotations

import argparse

from suntrack.commands.context import print_json


def run(args: argparse.Namespace) -> int:
    """Print them; nothing is installed."""
    import shtab

    from suntrack.cli import parser

    script = shtab.complete(parser(), shell=args.shell)
    if args.json:
        from suntrack.screen.files_json import completion_json

        print_json(completion_json(args.shell, script))
        return 0
    print(script)
    return 0
