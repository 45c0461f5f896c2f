"""The life of an alert, as one table.

An alert is handed to the cook by several ways (a terminal, a desktop), and each way has
its own line through this table.  The cook's answers and the passing of time belong to the
alert as a whole: they move every line at once.

It begins *planned*.  Before anything leaves the machine the intent is written down, and
the alert is *sending*; so a power cut can never hide that something may have gone out.
Then the way answers.  *Sent* means that it took the notice and said so.  *Refused* means
that it said no, and why.  *Unknown* means that nobody can tell: it did not answer in time,
or we were killed in between.  A hung service may still deliver later, so unknown is not
refused; what is sent again goes under the same key and says "again".

From there the cook decides.  *Acknowledged* is final: after it nothing is ever sent under
the key, whatever the clock does.  *Snoozed* waits and is then sent like new.  *Settled* is
the other good end: the cook wrote in the journal that the thing was done, so there is
nothing to say.  Two ends come by themselves: *lapsed*, no longer worth telling, and
*replaced*, a newer alert says it better (the next turn makes the last one pointless).

An answer that comes late, after an end, changes nothing, but it is no error either: a
way's outcome can be on its road while the cook already answers.  A cook may also answer
an old notice, so a lapsed or replaced alert can still be acknowledged.

One thing can bring an alert back: a new plan that moves it clearly later (a slower pot).
Then it is *moved*, planned once more; but an acknowledged or settled one never is.

Whatever is not in the table is a mistake of ours: it raises, and the state stays.
Nothing here sends, waits or writes; the daemon does what follows from a state.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, get_args

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

State = Literal[
    "planned",
    "sending",
    "sent",
    "refused",
    "unknown",
    "snoozed",
    "acknowledged",
    "settled",
    "lapsed",
    "replaced",
]
Event = Literal[
    "send",
    "accepted",
    "refused",
    "no answer",
    "again",
    "acknowledge",
    "snooze",
    "settle",
    "lapse",
    "replace",
    "move",
]
STATES: tuple[State, ...] = get_args(State)
EVENTS: tuple[Event, ...] = get_args(Event)

OPEN: tuple[State, ...] = ("planned", "sending", "sent", "refused", "unknown", "snoozed")
FINAL: frozenset[State] = frozenset({"acknowledged", "settled"})
OVER: frozenset[State] = FINAL | {"lapsed", "replaced"}
OUTCOMES: tuple[Event, ...] = ("accepted", "refused", "no answer")


class IllegalEventError(ValueError):
    """An event that the table does not allow in this state."""

    def __init__(self, state: State, event: Event) -> None:
        self.state, self.event = state, event
        super().__init__(f"an alert that is {state!r} cannot take {event!r}")


def _all(states: Iterable[State], event: Event, to: State) -> dict[tuple[State, Event], State]:
    """Return one event that does the same in several states."""
    return {(state, event): to for state in states}


TABLE: Mapping[tuple[State, Event], State] = {
    # Handing over: the intent first, the answer after it.
    ("planned", "send"): "sending",
    ("snoozed", "send"): "sending",
    ("sending", "accepted"): "sent",
    ("sending", "refused"): "refused",
    ("sending", "no answer"): "unknown",
    # Once more: killed in between, no answer, refused, or sent and not acknowledged.
    **_all(("sending", "unknown", "refused", "sent"), "again", "sending"),
    # The cook, and the passing of time.
    **_all((*OPEN, "lapsed", "replaced"), "acknowledge", "acknowledged"),
    **_all(OPEN, "snooze", "snoozed"),
    **_all(OPEN, "settle", "settled"),
    **_all(OPEN, "lapse", "lapsed"),
    **_all(OPEN, "replace", "replaced"),
    **_all((*OPEN, "lapsed", "replaced"), "move", "planned"),
    # Late answers change nothing: a second yes, an outcome after an end or during a snooze.
    ("acknowledged", "acknowledge"): "acknowledged",
    ("settled", "acknowledge"): "settled",
    **{
        (state, event): state
        for state in ("snoozed", "acknowledged", "settled", "lapsed", "replaced", "planned")
        for event in OUTCOMES
    },
}
"""From (state, event) to the next state; what is not here is illegal."""


def after(state: State, event: Event) -> State:
    """Return the state after an event; raise IllegalEventError when the table has no such step."""
    try:
        return TABLE[state, event]
    except KeyError:
        raise IllegalEventError(state, event) from None


def diagram() -> str:
    """Return the table as text, a state with its ways out, for DEVELOPERS.md."""
    lines = []
    for state in STATES:
        ways: dict[State, list[Event]] = {}
        for event in EVENTS:
            if (state, event) in TABLE:
                ways.setdefault(TABLE[state, event], []).append(event)
        lines.append(state + ("  (final)" if state in FINAL else ""))
        for to, events in ways.items():
            lines.append(f"    {', '.join(events)} -> {'(stays)' if to == state else to}")
    return "\n".join(lines) + "\n"
