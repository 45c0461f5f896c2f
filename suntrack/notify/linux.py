"""Notices on a Linux desktop, over D-Bus.

The service is described in the Desktop Notifications Specification,
https://specifications.freedesktop.org/notification-spec/latest/ .  Each call has its own
connection and time limit: the bus may be restarted under a running watch, and a hung
service must not hold up the other ways.  A service that is not running is not started:
one that cannot start (no screen) would block.

A service that does not answer in time may still show the notice later; the outcome is
unknown then, and the next try carries the same key, on which many services replace.

jeepney over D-Bus, each call with its own time limit.  Lost: senders that report success when
nothing was shown.
"""

from __future__ import annotations

import html
import logging
import os
from typing import TYPE_CHECKING, Any

from jeepney import DBusAddress, DBusErrorResponse, new_method_call
from jeepney.bus_messages import message_bus
from jeepney.io.blocking import DBusConnection, open_dbus_connection
from jeepney.wrappers import unwrap_msg

from suntrack.clock import SystemClock
from suntrack.notify.channel import Accepted, Notice, Outcome, Refused, Unknown, printable

if TYPE_CHECKING:
    from jeepney.low_level import Message

    from suntrack.alerts.alert import Urgency

SERVICE = "org.freedesktop.Notifications"
NOTIFICATIONS = DBusAddress("/org/freedesktop/Notifications", bus_name=SERVICE, interface=SERVICE)
log = logging.getLogger(__name__)
CLOCK = SystemClock()
"""For the limits on waiting, which are real time even when a day is replayed."""
LIMIT_S = 5.0
"""How long one notice may take in all.  [s]"""
URGENCY_BYTE: dict[Urgency, int] = {"low": 0, "normal": 1, "urgent": 2}
"""The `urgency` hint of the specification: low, normal, critical."""
NEVER_EXPIRES, AS_THE_SERVICE_LIKES = 0, -1
ACTIONS = ["done", "Done", "snooze", "In 5 minutes"]


class DesktopNotifier:
    """The way to the desktop's own notices."""

    name = "desktop"

    def __init__(self, *, address: str | None = None, limit_s: float = LIMIT_S) -> None:
        self._address = address
        self._limit_s = limit_s
        self.keys: dict[str, str] = {}
        """Which alert each notice id stands for, so that an answer finds its way back."""

    def send(self, notice: Notice) -> Outcome:
        """Show a notice, or take the place of an earlier one."""
        ends_at_s = CLOCK.monotonic() + self._limit_s
        try:
            with open_session(self._address, limit_s=self._limit_s) as connection:
                return self._show(connection, notice, ends_at_s=ends_at_s)
        except TimeoutError:
            return Refused(f"the session bus did not answer in {self._limit_s:.0f} s")
        except (OSError, KeyError, ValueError, RuntimeError, StopIteration) as error:
            log.info("no session bus: %r", error)
            return Refused("there is no desktop here to show it on (no session bus)")

    def _show(self, connection: DBusConnection, notice: Notice, *, ends_at_s: float) -> Outcome:
        """Ask whether the service is there, then hand the notice over."""
        asked = _ask(connection, message_bus.NameHasOwner(SERVICE), ends_at_s=ends_at_s)
        if not asked[0]:
            return Refused("no notification service is running on this desktop")
        try:
            answer = _ask(connection, notify_call(notice), ends_at_s=ends_at_s)
        except TimeoutError:
            return Unknown(f"the notification service did not answer in {self._limit_s:.0f} s")
        except DBusErrorResponse as error:
            return Refused(f"the notification service said no: {error.name}")
        except (OSError, EOFError) as error:
            return Unknown(f"the session bus was lost while it was told ({error!r})")
        self.keys[str(answer[0])] = notice.key
        return Accepted(str(answer[0]))


def open_session(address: str | None, *, limit_s: float) -> DBusConnection:
    """Return a connection to the session bus, with a limit on greeting it."""
    where = address or os.environ.get("DBUS_SESSION_BUS_ADDRESS") or _usual_address()
    return open_dbus_connection(bus=where, auth_timeout=limit_s)


def _usual_address() -> str:
    """Return where a session bus of this user usually is, for one started without a session."""
    folder = os.environ.get("XDG_RUNTIME_DIR") or f"/run/user/{os.getuid()}"
    return f"unix:path={folder}/bus"


def _ask(connection: DBusConnection, message: Message, *, ends_at_s: float) -> tuple[Any, ...]:
    """Return the body of a reply; raise TimeoutError when the time is over."""
    left_s = max(0.0, ends_at_s - CLOCK.monotonic())
    return tuple(unwrap_msg(connection.send_and_get_reply(message, timeout=left_s)))


def notify_call(notice: Notice) -> Message:
    """Return the Notify call for a notice."""
    hints = {
        "urgency": ("y", URGENCY_BYTE[notice.urgency]),
        # Two services' own ways to say "instead of the last one under this name".
        "x-canonical-private-synchronous": ("s", notice.key),
        "x-dunst-stack-tag": ("s", notice.key),
    }
    replaces = notice.replaces or ""
    replaces_id = int(replaces) if replaces.isdecimal() else 0
    expires_ms = NEVER_EXPIRES if notice.urgency == "urgent" else AS_THE_SERVICE_LIKES
    # The body may carry markup, so ours must not look like it; the title never does.
    body = html.escape(printable(notice.body), quote=False)
    title = printable(notice.title).replace("\n", " ")
    pieces = ("suntrack", replaces_id, "", title, body, ACTIONS, hints, expires_ms)
    return new_method_call(NOTIFICATIONS, "Notify", "susssasa{sv}i", pieces)
