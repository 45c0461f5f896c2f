"""What the cook presses on a desktop notice: `Done`, or `In 5 minutes`.

Listens to the notification service's ActionInvoked signal on a connection of its own.
A bus that is lost is looked for again; what was pressed meanwhile is lost with it.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from jeepney import MatchRule
from jeepney.bus_messages import message_bus

from suntrack.notify.channel import Answer
from suntrack.notify.linux import NOTIFICATIONS, SERVICE, DesktopNotifier, open_session

if TYPE_CHECKING:
    from jeepney.io.blocking import DBusConnection

OnAnswer = Callable[[str, Answer], object]
LOOK_EVERY_S = 0.5
RETRY_S = 30.0
PRESSED = MatchRule(
    type="signal", interface=SERVICE, member="ActionInvoked", path=NOTIFICATIONS.object_path
)
log = logging.getLogger(__name__)


class DesktopAnswers:
    """Passes on what is pressed on the notices of one notifier."""

    def __init__(
        self, notifier: DesktopNotifier, on_answer: OnAnswer, *, address: str | None = None
    ) -> None:
        self._notifier, self._on_answer, self._address = notifier, on_answer, address
        self.listening = threading.Event()
        """Set once the bus has promised to pass the signal on."""

    def run(self, stop: threading.Event) -> None:
        """Listen until `stop` is set; meant for a thread of its own."""
        while not stop.is_set():
            try:
                with open_session(self._address, limit_s=LOOK_EVERY_S * 10) as connection:
                    self._listen(connection, stop)
            except (OSError, EOFError, KeyError, ValueError, RuntimeError, StopIteration) as error:
                log.info("no answers from the desktop for now: %r", error)
                stop.wait(RETRY_S)

    def _listen(self, connection: DBusConnection, stop: threading.Event) -> None:
        """Pass on signals as they come."""
        asked = message_bus.AddMatch(PRESSED.serialise())
        connection.send_and_get_reply(asked, timeout=LOOK_EVERY_S * 10)
        with connection.filter(PRESSED, bufsize=20) as pressed:
            self.listening.set()
            while not stop.is_set():
                try:
                    message = connection.recv_until_filtered(pressed, timeout=LOOK_EVERY_S)
                except TimeoutError:
                    continue
                self._pass_on(message.body)

    def _pass_on(self, body: Sequence[object]) -> None:
        """Pass on one answer, if the notice is ours; anybody on the bus may send anything."""
        if len(body) != 2:
            log.info("an answer of a form that is not known: %r", body)
            return
        notice_id, action = body
        key = self._notifier.keys.get(str(notice_id))
        if key is not None and (action == "done" or action == "snooze"):
            self._on_answer(key, action)
