"""Notices over a real D-Bus: a private session bus, and a service of our own on it.

The service is written from the Desktop Notifications Specification
(https://specifications.freedesktop.org/notification-spec/latest/), in a process of its
own, so that it can be stopped, killed or left out like a real one.
"""

from __future__ import annotations

import html
import json
import os
import shutil
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from suntrack.clock import SystemClock
from suntrack.notify.channel import Accepted, Answer, Notice, Outcome, Refused, Unknown
from suntrack.notify.linux import DesktopNotifier
from suntrack.notify.linux_answers import DesktopAnswers

pytestmark = pytest.mark.skipif(
    shutil.which("dbus-daemon") is None, reason="no dbus-daemon on this machine (package dbus)"
)

# Owns the service's name and writes every Notify call as a line of JSON.  Action "press"
# lines on its standard input make it send ActionInvoked, as when a button is pressed.
SERVICE = """
import json, sys, threading
from jeepney import DBusAddress, HeaderFields, MessageType, new_method_return, new_signal, new_error
from jeepney.bus_messages import message_bus
from jeepney.io.blocking import open_dbus_connection

NAME = "org.freedesktop.Notifications"
mode = sys.argv[2]
connection = open_dbus_connection(bus=sys.argv[1])
connection.send_and_get_reply(message_bus.RequestName(NAME))
print(json.dumps({"ready": True}), flush=True)
emitter = DBusAddress("/org/freedesktop/Notifications", interface=NAME)
last = 0

def pressed():
    for line in sys.stdin:
        notice_id, action = line.split()
        connection.send(new_signal(emitter, "ActionInvoked", "us", (int(notice_id), action)))

threading.Thread(target=pressed, daemon=True).start()
while True:
    call = connection.receive()
    fields = call.header.fields
    if call.header.message_type != MessageType.method_call:
        continue
    if fields.get(HeaderFields.member) != "Notify":
        continue
    app, replaces_id, icon, title, body, actions, hints, expires_ms = call.body
    if mode == "refuses":
        connection.send(new_error(call, "org.freedesktop.Notifications.Error.Excess", "s", ("no",)))
        continue
    last = replaces_id or last + 1
    print(json.dumps({
        "app": app, "replaces_id": replaces_id, "title": title, "body": body,
        "actions": actions, "hints": {k: v[1] for k, v in hints.items()},
        "expires_ms": expires_ms, "id": last,
    }), flush=True)
    connection.send(new_method_return(call, "u", (last,)))
"""
TURN = Notice(key="2026-11-25/turn-1", title="Turn 20° to the right", body="Face north.")


class Service:
    """The notification service, running."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self.process = process

    def heard(self) -> dict[str, Any]:
        """Return the next call it took."""
        assert self.process.stdout is not None
        read: dict[str, Any] = json.loads(self.process.stdout.readline())
        return read

    def press(self, notice_id: int, action: str) -> None:
        """Press a button of a notice."""
        assert self.process.stdin is not None
        self.process.stdin.write(f"{notice_id} {action}\n")
        self.process.stdin.flush()


def running(command: list[str]) -> Iterator[subprocess.Popen[str]]:
    """Run a program for as long as a test needs it; woken first if it was stopped."""
    pipe = subprocess.PIPE
    with subprocess.Popen(command, stdin=pipe, stdout=pipe, text=True) as process:
        try:
            yield process
        finally:
            process.send_signal(signal.SIGCONT)
            process.kill()


@pytest.fixture
def bus(tmp_path: Path) -> Iterator[str]:
    """Start a session bus of the test's own and return its address."""
    # A service file would be started by the bus; with none, only ours can be there.
    config = tmp_path / "session.conf"
    config.write_text(
        "<busconfig><type>session</type>"
        f"<listen>unix:dir={tmp_path}</listen>"
        '<policy context="default"><allow send_destination="*" eavesdrop="true"/>'
        '<allow eavesdrop="true"/><allow own="*"/></policy></busconfig>'
    )
    command = ["dbus-daemon", f"--config-file={config}", "--nofork", "--print-address=1"]
    for process in running(command):
        assert process.stdout is not None
        yield process.stdout.readline().strip()


def start_service(bus: str, mode: str) -> Iterator[Service]:
    for process in running([sys.executable, "-c", SERVICE, bus, mode]):
        service = Service(process)
        assert service.heard() == {"ready": True}
        yield service


@pytest.fixture
def service(bus: str) -> Iterator[Service]:
    yield from start_service(bus, "takes")


@pytest.fixture
def refusing_service(bus: str) -> Iterator[Service]:
    yield from start_service(bus, "refuses")


def test_a_notice_is_taken_and_has_an_id(bus: str, service: Service) -> None:
    outcome = DesktopNotifier(address=bus).send(TURN)
    heard = service.heard()
    assert outcome == Accepted(str(heard["id"]))
    assert (heard["title"], heard["body"]) == (TURN.title, TURN.body)
    assert heard["replaces_id"] == 0


@pytest.mark.parametrize(("urgency", "byte"), [("low", 0), ("normal", 1), ("urgent", 2)])
def test_the_urgency_is_the_specifications_byte(
    urgency: Any, byte: int, bus: str, service: Service
) -> None:
    """Urgency levels 0, 1, 2 of the specification; critical ones do not expire by themselves."""
    DesktopNotifier(address=bus).send(Notice(key="2026-11-25/x", title="x", urgency=urgency))
    heard = service.heard()
    assert heard["hints"]["urgency"] == byte
    assert (heard["expires_ms"] == 0) == (urgency == "urgent")


def test_a_newer_notice_takes_the_place_of_the_older(bus: str, service: Service) -> None:
    notifier = DesktopNotifier(address=bus)
    first = notifier.send(TURN)
    assert isinstance(first, Accepted)
    second = notifier.send(Notice(key="2026-11-25/turn-2", title="Turn", replaces=first.id))
    service.heard()
    assert service.heard()["replaces_id"] == int(first.id or 0)
    assert second == first


@pytest.mark.parametrize("replaces", ["", "not a number", None])
def test_a_strange_id_replaces_nothing(replaces: str | None, bus: str, service: Service) -> None:
    DesktopNotifier(address=bus).send(Notice(key="2026-11-25/x", title="x", replaces=replaces))
    assert service.heard()["replaces_id"] == 0


def test_markup_in_a_dish_name_is_shown_and_not_obeyed(bus: str, service: Service) -> None:
    """The body may carry markup by the specification; unescaped by the standard library."""
    name = 'Beans <b>& rice</b> <a href="x">now</a>'
    DesktopNotifier(address=bus).send(Notice(key="2026-11-25/x", title=name, body=name))
    heard = service.heard()
    assert "<" not in heard["body"]
    assert html.unescape(heard["body"]) == name
    assert heard["title"] == name


def test_done_and_snooze_are_offered(bus: str, service: Service) -> None:
    DesktopNotifier(address=bus).send(TURN)
    assert service.heard()["actions"][::2] == ["done", "snooze"]


def test_without_a_service_it_is_refused_at_once_and_nothing_is_started(bus: str) -> None:
    outcome = DesktopNotifier(address=bus).send(TURN)
    assert isinstance(outcome, Refused)
    assert "no notification service" in outcome.reason


def test_without_a_bus_it_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for address in (f"unix:path={tmp_path}/nothing", "tcp:host=localhost", "rubbish"):
        assert isinstance(DesktopNotifier(address=address).send(TURN), Refused)
    monkeypatch.delenv("DBUS_SESSION_BUS_ADDRESS", raising=False)
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    assert isinstance(DesktopNotifier().send(TURN), Refused)


def test_a_service_that_says_no_has_refused(bus: str, refusing_service: Service) -> None:
    outcome = DesktopNotifier(address=bus).send(TURN)
    assert isinstance(outcome, Refused)
    assert "Excess" in outcome.reason


def test_a_hung_service_is_unknown_within_the_limit_and_may_deliver_later(
    bus: str, service: Service
) -> None:
    """Stopped with SIGSTOP it still owns its name; woken, it shows what it was sent."""
    clock, limit_s = SystemClock(), 0.5
    service.process.send_signal(signal.SIGSTOP)
    os.waitid(os.P_PID, service.process.pid, os.WSTOPPED | os.WNOWAIT)
    began_s = clock.monotonic()
    outcome = DesktopNotifier(address=bus, limit_s=limit_s).send(TURN)
    assert isinstance(outcome, Unknown)
    assert outcome.repeat
    # Promised: bounded.  Ten times the limit leaves room for a busy machine.
    assert clock.monotonic() - began_s < 10 * limit_s
    service.process.send_signal(signal.SIGCONT)
    assert service.heard()["title"] == TURN.title


def test_a_bus_that_does_not_greet_is_refused_within_the_limit(tmp_path: Path) -> None:
    import socket

    path = tmp_path / "silent"
    with socket.socket(socket.AF_UNIX) as silent:
        silent.bind(str(path))
        silent.listen()
        outcome = DesktopNotifier(address=f"unix:path={path}", limit_s=0.2).send(TURN)
    assert isinstance(outcome, Refused)


def test_a_bus_that_is_restarted_is_found_again(bus: str, service: Service) -> None:
    """Each notice has its own connection, so a dead one is never carried on."""
    notifier = DesktopNotifier(address=bus)
    outcomes: list[Outcome] = [notifier.send(TURN)]
    service.process.kill()
    service.process.wait(timeout=30)
    for again in start_service(bus, "takes"):
        outcomes.append(notifier.send(TURN))
        again.heard()
    assert [type(outcome) for outcome in outcomes] == [Accepted, Accepted]


@pytest.mark.parametrize("button", ["done", "snooze"])
def test_what_is_pressed_comes_back_with_the_alerts_key(
    button: str, bus: str, service: Service
) -> None:
    notifier = DesktopNotifier(address=bus)
    outcome = notifier.send(TURN)
    assert isinstance(outcome, Accepted)
    stop, answered = threading.Event(), threading.Event()
    answers: list[tuple[str, Answer]] = []

    def on_answer(key: str, answer: Answer) -> None:
        answers.append((key, answer))
        answered.set()

    listener = DesktopAnswers(notifier, on_answer, address=bus)
    thread = threading.Thread(target=listener.run, args=(stop,))
    thread.start()
    try:
        assert listener.listening.wait(30)
        service.press(999, "done")  # another program's notice
        service.press(int(outcome.id or 0), "default")  # not one of our buttons
        service.press(int(outcome.id or 0), button)
        assert answered.wait(30)
    finally:
        stop.set()
        thread.join(30)
    assert answers == [(TURN.key, button)]


@pytest.mark.parametrize("body", [(), (7,), ("seven",), (7, "done", "more")])
def test_a_signal_of_another_form_ends_no_listening(body: tuple[object, ...]) -> None:
    """Anybody on the bus may send one; it is passed over, and nothing is answered by it."""
    answers: list[tuple[str, Answer]] = []
    listener = DesktopAnswers(
        DesktopNotifier(), lambda key, answer: answers.append((key, answer)), address="unix:path=/x"
    )
    listener._pass_on(body)
    assert answers == []
