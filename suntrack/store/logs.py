"""The log of the watch: a few files under the data folder, readable, without secrets."""

from __future__ import annotations

import logging
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from logging.handlers import RotatingFileHandler
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

LARGEST_BYTES, OLD_FILES = 256 * 1024, 3
FORM = "%(asctime)s %(levelname)s %(name)s: %(message)s"
ADDRESS = re.compile(r"(?<=://)[^\s'\"]+")
"""What stands behind `://` may hold a password, whether we put it there or not."""
Hide = Callable[[str], str]


class _Form(logging.Formatter):
    """Lines with ISO 8601 times, tracebacks included, and nothing secret in them."""

    def __init__(self, hide: Hide) -> None:
        super().__init__(FORM, datefmt="%Y-%m-%dT%H:%M:%S%z")
        self._hide = hide

    def format(self, record: logging.LogRecord) -> str:
        """Return a record as it is written."""
        return ADDRESS.sub("...", self._hide(super().format(record)))


class _File(RotatingFileHandler):
    """A log that is not worth stopping for: on a full disk its lines are dropped."""

    def handleError(self, record: logging.LogRecord) -> None:  # noqa: N802 - the base's
        """Drop the line."""


@contextmanager
def log_to(path: Path, *, hide: Hide = str) -> Iterator[None]:
    """Write the project's log to a file as long as the block lasts.

    Only our own lines: what a library logs may hold what it was given to send.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    handler = _File(
        path, maxBytes=LARGEST_BYTES, backupCount=OLD_FILES, encoding="utf-8", delay=True
    )
    handler.setFormatter(_Form(hide))
    root = logging.getLogger("suntrack")
    before, propagates = root.level, root.propagate
    root.addHandler(handler)
    root.setLevel(logging.INFO)
    # A service manager keeps what stands on standard error; there it would stand twice.
    root.propagate = False
    logging.getLogger("apscheduler").addHandler(logging.NullHandler())
    try:
        root.info("the watch begins")
        yield
        root.info("the watch ends")
    finally:
        root.removeHandler(handler)
        root.setLevel(before)
        root.propagate = propagates
        handler.close()
