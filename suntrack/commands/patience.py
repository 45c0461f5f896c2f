"""Long planning with somebody waiting: say what goes on, and let Ctrl-C take the best so far."""

from __future__ import annotations

import signal
import sys
import threading
from contextlib import contextmanager, nullcontext
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator
    from contextlib import AbstractContextManager
    from types import FrameType

WAITING = "Planning the day; Ctrl-C shows the best found so far."


class Patience:
    """Whether the cook has had enough."""

    def __init__(self) -> None:
        self.over = False

    def __call__(self) -> bool:
        """Return True once Ctrl-C was pressed."""
        return self.over


@contextmanager
def patience() -> Iterator[Patience]:
    """Yield a question to ask between pieces of work; a second Ctrl-C ends the program.

    Only where somebody can press it: in the main thread, with a terminal to say so on.
    """
    mine = Patience()
    before = signal.getsignal(signal.SIGINT)
    in_main = threading.current_thread() is threading.main_thread()
    if not in_main or before == signal.SIG_IGN:
        yield mine
        return

    def enough(_number: int, _frame: FrameType | None) -> None:
        mine.over = True
        signal.signal(signal.SIGINT, before)

    signal.signal(signal.SIGINT, enough)
    try:
        with _told():
            yield mine
    finally:
        signal.signal(signal.SIGINT, before)


def _told() -> AbstractContextManager[object]:
    """Return what shows that something goes on, where there is a terminal."""
    if not sys.stderr.isatty():
        return nullcontext()
    from rich.console import Console

    return Console(stderr=True).status(WAITING)
