"""The two commonest ways in which an answer is of no use."""

from __future__ import annotations

from suntrack.errors import FeedError


def content(message: str) -> FeedError:
    """Return the error of an answer that can be read and must not be used."""
    return FeedError(message, kind="content")


def broken(message: str, *, again: bool = False) -> FeedError:
    """Return the error of an answer that cannot be read."""
    return FeedError(message, kind="broken", again=again)
