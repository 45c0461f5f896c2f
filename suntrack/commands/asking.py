"""Questions at a terminal: wrapped to its width, and asked again until they can be answered."""

from __future__ import annotations

import contextlib
import shutil
import textwrap
from typing import TYPE_CHECKING, Any

from suntrack.errors import InputError, Problem
from suntrack.screen.text.setup import ANSWER_BY, ASKED_OF, WANTED

if TYPE_CHECKING:
    from collections.abc import Callable

WIDEST = 88
"""Longer lines are hard to read."""
ROOM = 24
"""What has to be left of a line for an answer to stand behind its question.  [columns]"""


def width() -> int:
    """Return how wide a line may be: the terminal's last column is the cursor's."""
    return max(min(shutil.get_terminal_size().columns - 1, WIDEST), 20)


def wrapped(text: str, *, indent: str = "") -> str:
    """Return a text in lines that the terminal does not break by itself."""
    return textwrap.fill(
        text,
        width(),
        initial_indent=indent,
        subsequent_indent=indent,
        break_on_hyphens=False,
        break_long_words=False,
    )


def say(text: str, *, indent: str = "") -> None:
    """Print a text, wrapped."""
    print(wrapped(text, indent=indent))


def with_arrow_keys() -> None:
    """Let an answer be edited; where the system has no such thing, it is typed anew."""
    with contextlib.suppress(ImportError):
        import readline

        # Its marks around what is pasted would stand in logs, and no answer is longer than a line.
        readline.parse_and_bind("set enable-bracketed-paste off")


def ask(question: str) -> str:
    """Return what somebody answers; raise InputError where nobody can."""
    shown = wrapped(question)
    left = width() - len(shown.splitlines()[-1])
    prompt = f"{shown} " if left >= ROOM else f"{shown}\n> "
    try:
        return input(prompt).strip()
    except EOFError:
        print()
        raise InputError(
            Problem(where="setup", found=ASKED_OF, allowed="answers", remedy=ANSWER_BY)
        ) from None


def asked(
    question: str,
    *,
    default: str,
    read: Callable[[str], Any],
    allowed: Callable[[ValueError], str],
) -> tuple[Any, str]:
    """Return an answer that could be read, and how it was written; empty for Enter."""
    while True:
        text = ask(question)
        try:
            return read(text or default), text
        except ValueError as error:
            say(WANTED.format(allowed=allowed(error)), indent="  ")
