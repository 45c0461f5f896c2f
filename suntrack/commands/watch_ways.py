"""The ways out that belong to the command itself: its screen, plain lines, JSON lines."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TextIO

from suntrack.notify.channel import Accepted, Notice, Notifier, Outcome, Refused, Unknown, printable
from suntrack.notify.local import TerminalNotifier
from suntrack.screen.plain import event_line

if TYPE_CHECKING:
    from zoneinfo import ZoneInfo

    from suntrack.clock import Clock
    from suntrack.units import Units
    from suntrack.watch.daemon import WatchView


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One notice on the screen."""

    key: str
    """Of the call."""
    title: str
    """What is read at a glance."""
    body: str
    """One line more."""


class ScreenWay:
    """The dashboard: keeps the notices for it to draw, and the bells it still has to ring."""

    name = "terminal"

    def __init__(self, *, bell: bool = True) -> None:
        self.shown: list[Shown] = []
        self.bells = 0
        self._bell = bell

    def send(self, notice: Notice) -> Outcome:
        """Keep the notice; the screen draws it at the next look."""
        self.shown.append(Shown(key=notice.key, title=notice.title, body=notice.body))
        self.bells += {"low": 0, "normal": 1, "urgent": 3}[notice.urgency] if self._bell else 0
        return Accepted()


class LinesWay:
    """One line of plain text for each notice, with its time; for logs and screen readers."""

    name = "terminal"

    def __init__(
        self,
        stream: TextIO,
        *,
        clock: Clock,
        units: Units,
        zone: ZoneInfo,
        bell: bool = True,
    ) -> None:
        self._is_seen = stream.isatty()
        self._out = TerminalNotifier(stream, bell=bell and self._is_seen)
        self._clock, self._units, self._zone = clock, units, zone

    def send(self, notice: Notice) -> Outcome:
        """Write the line; a terminal taking it is the receipt, a file or a pipe is none."""
        body = " ".join(notice.body.split())
        at = self._clock.now().astimezone(self._zone)
        line = event_line(at, notice.title, body, self._units)
        outcome = self._out.send(replace(notice, title=line, body=""))
        if isinstance(outcome, Accepted) and not self._is_seen:
            return Unknown("written where nobody may be looking", repeat=False)
        return outcome


class JsonWay:
    """One JSON object a line, for a program to read."""

    name = "terminal"

    def __init__(self, stream: TextIO, *, clock: Clock, zone: ZoneInfo) -> None:
        self._stream, self._clock, self._zone = stream, clock, zone

    def send(self, notice: Notice) -> Outcome:
        """Write the notice."""
        at = self._clock.now().astimezone(self._zone)
        line = {
            "at": at.isoformat(timespec="seconds"),
            "key": notice.key,
            "title": notice.title,
            "body": notice.body,
            "urgency": notice.urgency,
        }
        try:
            self._stream.write(json.dumps(line, ensure_ascii=False) + "\n")
            self._stream.flush()
        except (OSError, ValueError) as error:
            return Refused(f"the stream is gone: {error}")
        return Accepted()


class ObedientWay:
    """A way whose notices are all done at once, as the cook of a replayed day does."""

    def __init__(self, way: Notifier, *, done: Callable[[str], None]) -> None:
        self._way, self._done = way, done

    @property
    def name(self) -> str:
        """The name of the way behind it."""
        return self._way.name

    def send(self, notice: Notice) -> Outcome:
        """Hand the notice on and say that it is done."""
        outcome = self._way.send(notice)
        self._done(notice.key)
        return outcome


class TroubleLines:
    """Where there is no screen: each trouble of the watch as a line, once when it begins."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._known: tuple[str, ...] = ()

    def __call__(self, view: WatchView) -> None:
        """Write what is new; a stream that is gone is no reason to stop calling."""
        new = [trouble for trouble in view.trouble if trouble not in self._known]
        self._known = view.trouble
        with contextlib.suppress(OSError, ValueError):
            for trouble in new:
                self._stream.write(f"{printable(trouble)}\n")
            self._stream.flush()
