"""Notices on a terminal: read at a glance, harmless whatever a dish is called."""

from __future__ import annotations

import io

from hypothesis import given
from hypothesis import strategies as st

from suntrack.notify.channel import Accepted, Notice, Refused
from suntrack.notify.local import TerminalNotifier

PULL = Notice(
    key="2026-11-25/pull-lentil-soup",
    title="Lentil soup comes out",
    body="Dry oven gloves.\nMissed: 1 turn.",
    urgency="urgent",
)


def test_title_and_body_are_written_below_each_other() -> None:
    stream = io.StringIO()
    assert TerminalNotifier(stream, bell=False).send(PULL) == Accepted()
    assert stream.getvalue().split() == f"{PULL.title} {PULL.body}".split()
    assert len(stream.getvalue().splitlines()) == 3


def test_the_bell_rings_for_what_is_urgent_and_not_for_what_is_not() -> None:
    """BEL is 7 in ASCII (ISO 646)."""
    loud, quiet = io.StringIO(), io.StringIO()
    TerminalNotifier(loud).send(PULL)
    TerminalNotifier(quiet).send(Notice(key="2026-11-25/window-opens", title="x", urgency="low"))
    assert "\x07" in loud.getvalue()
    assert "\x07" not in quiet.getvalue()


@given(st.text(), st.text())
def test_no_name_of_a_dish_can_steer_the_terminal(title: str, body: str) -> None:
    """Nothing below 0x20 but the line's own ends, and none of the C1 controls (ECMA-48)."""
    stream = io.StringIO()
    TerminalNotifier(stream, bell=False).send(Notice(key="k", title=title, body=body))
    bad = [c for c in stream.getvalue() if (ord(c) < 0x20 and c != "\n") or 0x7F <= ord(c) < 0xA0]
    assert bad == []


def test_a_terminal_without_the_letters_gets_the_rest() -> None:
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding="ascii")
    assert (
        TerminalNotifier(stream, bell=False).send(Notice(key="k", title="Turn 20° to the right"))
        == Accepted()
    )
    assert raw.getvalue() == b"Turn 20? to the right\n"


def test_a_closed_terminal_is_a_refusal_and_no_crash() -> None:
    stream = io.StringIO()
    stream.close()
    assert isinstance(TerminalNotifier(stream).send(PULL), Refused)


def test_a_full_pipe_is_a_refusal_and_no_crash() -> None:
    class Full(io.StringIO):
        def flush(self) -> None:
            raise OSError(28, "No space left on device")

    assert isinstance(TerminalNotifier(Full()).send(PULL), Refused)
