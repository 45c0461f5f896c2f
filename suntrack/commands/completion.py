"""`suntrack completion`: the lines with which a shell completes our commands."""

from __future__ import annotations

import argparse

from suntrack.commands.context import context_of, print_json
from suntrack.errors import SuntrackError
from suntrack.food.dishes import builtin_dishes
from suntrack.food.refused import refusal


def run(args: argparse.Namespace) -> int:
    """Print them; nothing is installed."""
    import shtab

    from suntrack.cli import parser
    from suntrack.commands.completion_words import add_words, for_every_word

    top = parser()
    dishes = _dishes(args)
    add_words(top, dishes=tuple(dishes), cooked=[key for key, goes_in in dishes.items() if goes_in])
    script = shtab.complete(top, shell=args.shell)
    if args.shell == "zsh":
        script = for_every_word(script)
    if args.json:
        from suntrack.screen.json.files import completion_json

        print_json(completion_json(args.shell, script))
        return 0
    print(script)
    return 0


def _dishes(args: argparse.Namespace) -> dict[str, bool]:
    """Return the keys of the cook's library, and which may go into a box at all.

    With a config that cannot be read they are those of our own library.
    """
    quiet = argparse.Namespace(config=args.config, json=True)
    try:
        library = context_of(quiet).config.library
    except SuntrackError:
        library = builtin_dishes()
    return {key: refusal(dish, confirmed=True) is None for key, dish in library.items()}
