"""How a command prints its answer: drawn for this terminal, or as plain lines."""

from __future__ import annotations

import argparse
import os
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from rich.console import RenderableType

    from suntrack.screen.charset import Charset
    from suntrack.screen.page import Page


def show(page: Page, args: argparse.Namespace) -> None:
    """Print a page of sentences as this terminal can show it."""
    from suntrack.screen.page import page_block, page_lines

    show_either(
        args,
        lines=lambda ink: page_lines(page, ink=ink),
        block=lambda width, ink: page_block(page, width, ink=ink),
    )


def show_either(
    args: argparse.Namespace,
    *,
    lines: Callable[[Charset], Iterable[str]],
    block: Callable[[int, Charset], RenderableType],
) -> None:
    """Print plain lines where they are asked for or the terminal is dumb, else the block.

    Only the one that is printed is made; `block` gets the width in columns.
    """
    from suntrack.screen.style import ink_for, is_dumb, make_console

    ink = ink_for(sys.stdout)
    if args.plain or is_dumb(sys.stdout, os.environ):
        print("\n".join(lines(ink)))
        return
    console = make_console(sys.stdout, os.environ)
    console.print(block(console.width, ink))
