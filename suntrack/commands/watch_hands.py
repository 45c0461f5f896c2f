"""What a key of the dashboard does: the same notes and answers as `note` and `notify` write."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import TYPE_CHECKING

from suntrack.commands.note import entry_of, note_words, turn_meant, warnings_of
from suntrack.screen.text.dashboard import choice_words, turned_question
from suntrack.screen.text.ways import answer_line
from suntrack.store.journal import Journal
from suntrack.store.journal_answers import answer_calls
from suntrack.watch.daemon import SNOOZE_MIN

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from suntrack.clock import Clock
    from suntrack.commands.context import Context
    from suntrack.plan.records import DayPlan, DishPlan, Turn


class CookHands:
    """The cook at the keyboard of the watch.

    Each key opens the journal for itself, as a command does: the watch looks again only at
    what comes by another connection than its own.
    """

    def __init__(
        self,
        context: Context,
        *,
        clock: Clock,
        plan: Callable[[], DayPlan | None],
    ) -> None:
        self._context, self._clock, self._plan = context, clock, plan

    def done(self) -> str:
        """Answer every open call, as `notify --done` does."""
        return self._answer(later=False)

    def later(self) -> str:
        """Have every open call told again, as `notify --later` does."""
        return self._answer(later=True)

    def _answer(self, *, later: bool) -> str:
        here = self._here()
        until = here.now + timedelta(minutes=SNOOZE_MIN) if later else None
        with Journal.open(here.journal_path) as journal:
            keys = answer_calls(journal, today=here.today, now=here.now, until=until)
        again = here.config.units.time_text(until) if until else None
        return answer_line(keys, again=again)

    def note(self, *said: str) -> str:
        """Write a note as `suntrack note` does, a turn as the plan on the screen has it."""
        here = self._here()
        entry = entry_of(here, said, turns=self._turns())
        warnings = warnings_of(here, entry)
        with Journal.open(here.journal_path) as journal:
            journal.append(entry)
        return " ".join((note_words(here, entry), *warnings))

    def turned_question(self) -> str:
        """Return what a turn noted now would say."""
        return turned_question(turn_meant(self._turns(), self._here().now))

    def dishes(self, kind: str) -> Sequence[tuple[str, str]]:
        """Return the plan's dishes, the next to be noted first, as (key, words)."""
        here, plan = self._here(), self._plan()
        times = {
            entry.subject: here.config.units.time_text(entry.at, here.config.site.zone)
            for entry in here.entries(here.today)
            if entry.kind == kind
        }

        def rank(dish: DishPlan) -> tuple[bool, bool, float]:
            at = dish.load_at if kind == "loaded" else dish.pull_at
            return dish.key in times, at is None, at.timestamp() if at else 0.0

        return [
            (
                dish.key,
                choice_words(dish, kind=kind, noted=times.get(dish.key), units=here.config.units),
            )
            for dish in sorted(plan.dishes if plan else (), key=rank)
        ]

    def _turns(self) -> Sequence[Turn]:
        """Return the turns of the plan on the screen; none before there is one."""
        plan = self._plan()
        return plan.turns.turns if plan else ()

    def _here(self) -> Context:
        """Return the context of this moment."""
        now = self._clock.now().astimezone(self._context.config.site.zone)
        return replace(self._context, now=now)
