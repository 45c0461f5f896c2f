"""`suntrack completion`: the lines with which a shell completes our commands."""

from __future__ import annotations

import argparse


def run(args: argparse.Namespace) -> int:
    """Print them; nothing is installed."""
    import shtab

    from suntrack.cli import parser

    print(shtab.complete(parser(), shell=args.shell))
    return 0
