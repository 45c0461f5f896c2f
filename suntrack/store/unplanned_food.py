"""What the cook noted as loaded that is not for this box, or is none of the day's dishes."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from suntrack.food.refused import refusal
from suntrack.plan.records import TakeOut
from suntrack.store.leftover import still_inside

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from datetime import date, datetime

    from suntrack.config.reader import Config
    from suntrack.store.journal import Entry


def strays(
    entries: Iterable[Entry], *, config: Config, on: date, now: datetime
) -> tuple[TakeOut, ...]:
    """Return what is in the box by the cook's notes and should not be, or is not in the plan.

    Only what was noted counts: a plan never asks for such food to be put in.
    """
    noted = [entry for entry in entries if entry.kind != "plan" and entry.at <= now]
    found = (
        stray(one.dish, loaded_at=one.load_at, config=config, on=on) for one in still_inside(noted)
    )
    return tuple(one for one in found if one is not None)


def left_over(
    before: Iterable[Entry], today: Iterable[Entry], *, config: Config, now: datetime
) -> tuple[TakeOut, ...]:
    """Return what was noted as loaded the day before and never as pulled, then or since.

    Only what was noted counts: of what was only planned nobody knows that it went in.
    """
    noted = [entry for entry in before if entry.kind != "plan"]
    since = {
        entry.subject for entry in today if entry.kind in ("loaded", "pulled") and entry.at <= now
    }
    return tuple(
        TakeOut(
            kind="left over",
            dish=one.dish,
            name=config.library[one.dish].name if one.dish in config.library else one.name,
            loaded_at=one.load_at.astimezone(config.site.zone),
        )
        for one in still_inside(noted)
        if one.dish not in since
    )


def stray(dish: str, *, loaded_at: datetime, config: Config, on: date) -> TakeOut | None:
    """Return what is wrong with a dish being in the box; None when the day has it so."""
    if dish not in config.library:
        return None
    known = config.library[dish]
    wishes = [wish for wish in config.wishes_on(on) if wish.dish == dish]
    lids = {pot.name: pot.lid for pot in config.pots}
    reasons = [
        refusal(
            known,
            confirmed=wish.confirmed,
            lid=None if wish.pot is None else lids.get(wish.pot),
        )
        for wish in wishes
    ] or [refusal(known, confirmed=False)]
    here_at = loaded_at.astimezone(config.site.zone)
    plain = TakeOut(kind="not wanted", dish=dish, name=known.name, loaded_at=here_at)
    # Of two wishes for the same dish one may be allowed: then that one may be inside.
    if all(reasons):
        return replace(plain, kind="refused", reason=reasons[0] or "")
    return None if wishes else plain


def was_loaded(dish: str, entries: Sequence[Entry], *, now: datetime) -> bool:
    """Return whether a dish went in by now, by a note or by a plan that was shown."""
    known = [entry for entry in entries if entry.kind != "pulled" and entry.at <= now]
    return any(one.dish == dish and one.load_at <= now for one in still_inside(known))
