"""`suntrack schema [COMMAND]`: what `--json` prints, as JSON Schema."""

from __future__ import annotations

import argparse

from suntrack.commands.context import print_json
from suntrack.errors import InputError, Problem, did_you_mean
from suntrack.screen.json.schema import TABLES, schema_of


def run(args: argparse.Namespace) -> int:
    """Print the schema of one command, or of all by their names."""
    if args.of is None:
        print_json({command: schema_of(command) for command in TABLES})
        return 0
    if args.of not in TABLES:
        raise InputError(
            Problem(
                where="schema",
                found=repr(args.of),
                allowed=", ".join(TABLES),
                remedy=did_you_mean(args.of, TABLES, otherwise="Leave it out to get all of them."),
            )
        )
    print_json(schema_of(args.of))
    return 0
