"""What the journal of an earlier day says is still in the box."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Any

from suntrack.alerts.leftover import Inside

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from suntrack.store.journal import Entry


def still_inside(entries: Sequence[Entry]) -> tuple[Inside, ...]:
    """Return the dishes of a day that went in and did not come out.

    What was noted counts first.  A dish that was only planned counts too: a cook who
    follows the plan need not write it down, and the watch has told them to put it in.
    """
    shown = next((entry for entry in reversed(entries) if entry.kind == "plan"), None)
    plan: Mapping[str, Any] = shown.data if shown is not None else {}
    planned = {} if _is_skipped(entries) else _times(plan.get("loads", {}))
    loads = planned | _noted(entries, "loaded")
    out, pulls = _noted(entries, "pulled"), _times(plan.get("pulls", {}))
    names = plan.get("names", {})
    return tuple(
        Inside(
            dish=dish,
            name=names.get(dish) or dish.replace("-", " ").capitalize(),
            load_at=load_at,
            pull_at=pulls[dish] if pulls.get(dish, load_at) > load_at else None,
        )
        for dish, load_at in loads.items()
        if dish not in out or out[dish] < load_at
    )


def _noted(entries: Iterable[Entry], kind: str) -> dict[str, datetime]:
    """Return when each dish was noted last."""
    return {entry.subject: entry.at for entry in entries if entry.kind == kind and entry.subject}


def _is_skipped(entries: Iterable[Entry]) -> bool:
    return any(entry.kind == "skipped" for entry in entries)


def _times(written: Mapping[str, str]) -> dict[str, datetime]:
    return {dish: datetime.fromisoformat(at) for dish, at in written.items()}
