"""The table of an alert's life: complete, without dead ends, and final where it says so."""

from __future__ import annotations

import itertools
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.alerts.lifecycle import (
    EVENTS,
    FINAL,
    OPEN,
    OUTCOMES,
    OVER,
    STATES,
    TABLE,
    Event,
    IllegalEventError,
    State,
    after,
    diagram,
)

ANY_EVENTS = st.lists(st.sampled_from(EVENTS), max_size=30)


def live(events: list[Event], state: State = "planned") -> list[State]:
    """Return the states an alert goes through; an illegal event leaves it where it is."""
    states = [state]
    for event in events:
        try:
            states.append(after(states[-1], event))
        except IllegalEventError:
            states.append(states[-1])
    return states


@given(ANY_EVENTS)
def test_no_sequence_of_events_leaves_the_table(events: list[Event]) -> None:
    assert set(live(events)) <= set(STATES)


@given(ANY_EVENTS, st.sampled_from(sorted(FINAL)))
def test_what_is_final_stays(events: list[Event], final: State) -> None:
    """After the cook has answered, nothing whatever moves the alert again."""
    assert set(live(events, final)) == {final}


@given(ANY_EVENTS)
def test_it_is_only_ever_sent_from_sending(events: list[Event]) -> None:
    """The intent comes before the outcome, in every history."""
    for before, now in itertools.pairwise(live(events)):
        if now in ("sent", "unknown", "refused") and now != before:
            assert before == "sending"


@given(ANY_EVENTS)
def test_nothing_over_is_sent_without_being_planned_again(events: list[Event]) -> None:
    for before, now in itertools.pairwise(live(events)):
        if before in OVER:
            assert now in OVER | {"planned"}


def test_every_state_can_be_reached_and_every_event_means_something() -> None:
    reached: set[State] = {"planned"}
    for _ in STATES:
        reached |= {to for (state, _), to in TABLE.items() if state in reached}
    assert reached == set(STATES)
    assert {event for _, event in TABLE} == set(EVENTS)
    assert set(OPEN) | OVER == set(STATES)


def test_the_cook_can_answer_and_time_can_pass_in_every_open_state() -> None:
    for state in OPEN:
        assert after(state, "acknowledge") == "acknowledged"
        assert after(state, "settle") == "settled"
        assert after(state, "lapse") == "lapsed"
        assert after(state, "replace") == "replaced"
        assert after(state, "snooze") == "snoozed"


def test_a_late_outcome_is_no_error_and_changes_nothing_that_is_over() -> None:
    for state, event in itertools.product(sorted(OVER), OUTCOMES):
        assert after(state, event) == state


@pytest.mark.parametrize(
    ("state", "event"),
    [
        ("planned", "again"),
        ("sent", "send"),
        ("sending", "send"),
        ("acknowledged", "send"),
        ("acknowledged", "again"),
        ("acknowledged", "snooze"),
        ("acknowledged", "move"),
        ("settled", "move"),
        ("lapsed", "send"),
        ("replaced", "send"),
    ],
)
def test_an_illegal_event_raises_and_names_both(state: State, event: Event) -> None:
    with pytest.raises(IllegalEventError) as caught:
        after(state, event)
    assert (caught.value.state, caught.value.event) == (state, event)
    assert state in str(caught.value)
    assert event in str(caught.value)


def test_the_diagram_says_what_the_table_says() -> None:
    """Read back, the printed text gives the table again, step for step."""
    read: dict[tuple[str, str], str] = {}
    state = ""
    for line in diagram().splitlines():
        step = re.fullmatch(r"    (.+) -> (.+)", line)
        if step is None:
            state = line.removesuffix("  (final)")
            assert line.endswith("(final)") == (state in FINAL)
            continue
        for event in step[1].split(", "):
            read[state, event] = state if step[2] == "(stays)" else step[2]
    assert read == dict(TABLE)
