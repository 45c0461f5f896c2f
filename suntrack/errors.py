"""The project's errors, and the one form a mistake in somebody's input takes.

    SuntrackError
      InputError       the cook's own input: config, command line, dish file  -> exit 2
      JournalError     the journal cannot be read or written                  -> exit 1
      NoticeError      a notice could not be handed over                      -> exit 1
      FeedError        a forecast feed gave nothing that can be used          -> exit 1

Exceptions carry their pieces as attributes, so that a screen can lay them out.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Iterable

FeedErrorKind = Literal[
    "offline", "slow", "busy", "limit", "refused", "not covered", "moved", "broken", "content"
]
"""offline: nobody answers.  slow: the answer takes too long.  busy: come back in minutes.
limit: too much was asked.  refused: something about the request is not wanted.  not covered:
the place is outside.  moved: another address.  broken: the body cannot be read.  content: it
can be read and is wrong."""


def near_words(word: str, known: Iterable[str], *, most: int = 1, alike: float = 0.5) -> list[str]:
    """Return the known words that a word may have been meant to be, the nearest first.

    `alike` is how much of them has to be the same, 0 to 1.

    Examples
    --------
    >>> near_words("chikken-pieces", ["chilli", "chicken-pieces"])
    ['chicken-pieces']
    """
    from difflib import get_close_matches

    return get_close_matches(word, list(known), n=most, cutoff=alike)


def did_you_mean(
    word: str, known: Iterable[str], *, otherwise: str = "", alike: float = 0.5
) -> str:
    """Return the question with the nearest known word; `otherwise` where none is near."""
    near = near_words(word, known, alike=alike)
    return f"Did you mean {near[0]}?" if near else otherwise


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One mistake in somebody's input, in four pieces."""

    where: str
    """File and line, key path, or option: `config/suntrack.toml:12: box.mirror.length`."""
    found: str
    """What stands there, quoted."""
    allowed: str
    """What may stand there."""
    remedy: str
    """What to do about it."""

    def __str__(self) -> str:
        """Return the four pieces as the cook reads them."""
        return f"{self.where}: found {self.found}; allowed: {self.allowed}. {self.remedy}"


class SuntrackError(Exception):
    """The root of the family."""

    exit_status = 1


class InputError(SuntrackError):
    """One or more mistakes in somebody's input, reported together."""

    exit_status = 2

    def __init__(self, *problems: Problem) -> None:
        self.problems = problems
        super().__init__("\n".join(str(problem) for problem in problems))


class JournalError(SuntrackError):
    """The journal cannot be read or written."""


class NoticeError(SuntrackError):
    """A notice could not be handed over."""


class FeedError(SuntrackError):
    """A forecast feed gave nothing usable: why, and when to ask it again."""

    def __init__(
        self,
        message: str,
        *,
        kind: FeedErrorKind,
        again: bool = False,
        wait: timedelta | None = None,
    ) -> None:
        super().__init__(message)
        self.message = message
        """A sentence for the cook."""
        self.kind = kind
        self.again = again
        """True when asking again within a minute may help."""
        self.wait = wait
        """How long to leave the feed alone; None for the usual time after a failure."""
