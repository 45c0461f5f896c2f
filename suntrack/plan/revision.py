"""What a new plan asks for that the one the cook was shown did not, and why."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from suntrack.plan.records import DayPlan, Revision, RevisionCause

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime

    from suntrack.plan.inputs import DayInputs, PreviousPlan

WORTH_TELLING = timedelta(minutes=10)
"""A step that moved by less is the same step (our choice)."""


def revisions(inputs: DayInputs, plan: DayPlan) -> tuple[Revision, ...]:
    """Return what changed since the plan that was shown last, in order of time.

    Parameters
    ----------
    inputs : DayInputs
        Among them what the cook was told, if anything.
    plan : DayPlan
        The new plan.

    Returns
    -------
    revisions : tuple of Revision
        Only of steps that were or are still to come; empty for a first plan.
    """
    earlier = inputs.earlier
    if earlier is None or inputs.heard.skipped:
        return ()
    cause = earlier.cause
    found = [*_loads(inputs, plan, earlier, cause), *_turns(inputs, plan, earlier, cause)]
    return tuple(sorted(found, key=lambda one: one.after or one.before or plan.made_at))


def _loads(
    inputs: DayInputs, plan: DayPlan, earlier: PreviousPlan, cause: RevisionCause
) -> Iterator[Revision]:
    """Yield dishes that go in at another time, no longer, or only now."""
    inside = {wish.dish for wish in inputs.wishes if wish.loaded_at is not None}
    for dish in plan.dishes:
        before = earlier.loads.get(dish.key)
        if dish.key not in inside and _differs(before, dish.load_at):
            yield Revision(
                kind="load", dish=dish.name, before=before, after=dish.load_at, cause=cause
            )


def _turns(
    inputs: DayInputs, plan: DayPlan, earlier: PreviousPlan, cause: RevisionCause
) -> Iterator[Revision]:
    """Yield turns to come that were not asked for, and those that are no longer."""
    now = inputs.made_at
    told = [aim.at for aim in earlier.aims if aim.at > now]
    asked = [turn.at for turn in plan.turns.turns if turn.at > now]
    for at in asked:
        if not any(abs(at - other) <= WORTH_TELLING for other in told):
            yield Revision(kind="turn", before=None, after=at, cause=cause)
    for at in told:
        if not any(abs(at - other) <= WORTH_TELLING for other in asked):
            yield Revision(kind="turn", before=at, after=None, cause=cause)


def _differs(before: datetime | None, after: datetime | None) -> bool:
    """Return whether two times are not the same to the cook."""
    if before is None or after is None:
        return before is not after
    return abs(before - after) >= WORTH_TELLING
