"""How the commands that answer with a page of sentences print it."""

from __future__ import annotations

import argparse
import os
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from suntrack.screen.page import Page


def show(page: Page, args: argparse.Namespace) -> None:
    """Print a page as this terminal can show it."""
    from suntrack.screen.page import page_block, page_lines
    from suntrack.screen.style import ink_for, is_dumb, make_console

    ink = ink_for(sys.stdout)
    if args.plain or is_dumb(sys.stdout, os.environ):
        print("\n".join(page_lines(page, ink=ink)))
        return
    console = make_console(sys.stdout, os.environ)
    console.print(page_block(page, console.width, ink=ink))
