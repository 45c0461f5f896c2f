"""`suntrack dishes`: the dishes the plan knows, the cook's own among them."""

from __future__ import annotations

import argparse
import sys
import textwrap
from typing import TYPE_CHECKING

from suntrack.commands.asking import width
from suntrack.commands.context import context_of, print_json
from suntrack.commands.dish import run as show_one
from suntrack.commands.dish import sheet_of
from suntrack.food.refused import refusal

if TYPE_CHECKING:
    from suntrack.food.dish import Dish


def run(args: argparse.Namespace) -> int:
    """List every dish, or show one in full."""
    if args.dish is not None:
        args.words, args.why = [args.dish], False
        return show_one(args)
    context = context_of(args)
    library = context.config.library
    if args.json:
        from suntrack.screen.json.dish import dish_json

        print_json([dish_json(sheet_of(context, dish)) for dish in library.values()])
        return 0
    from suntrack.screen.style import ink_for

    ink, longest = ink_for(sys.stdout), max(len(key) for key in library)
    for dish in library.values():
        line = f"{dish.key:<{longest}}  {dish.name}{_mark(dish)}"
        if sys.stdout.isatty():
            line = textwrap.fill(line, width(), subsequent_indent=" " * (longest + 2))
        print(ink.text(line))
    return 0


def _mark(dish: Dish) -> str:
    """Return what sets a dish apart in the list."""
    marks = ["your own"] if dish.own else []
    if refusal(dish, confirmed=True) is not None:
        marks.append("not for this box")
    elif dish.gate is not None:
        marks.append("asks for your word")
    return f" ({', '.join(marks)})" if marks else ""
