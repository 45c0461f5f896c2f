"""A plan on disk: which file it is, written whole, read back or simply not there.

Kept so that `now` can answer without planning again.  A file that does not fit, because
it is from another version or damaged, is no error; what is in it is written and read by
`suntrack.store.plan_codec`.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.plan.records import DayPlan
from suntrack.store.journal import NOTED
from suntrack.store.plan_codec import plan_from_cache, plan_to_cache

if TYPE_CHECKING:
    from collections.abc import Iterable

    from suntrack.store.journal import Entry

LAYOUT = 2


def plan_path(
    cache_dir: Path,
    *,
    on: date,
    fingerprint: str,
    entries: Iterable[Entry],
    asked_at: datetime | None = None,
    forecast: str = "",
) -> Path:
    """Return the file of a day's plan, for one config, one forecast and what was noted so far.

    A plan for a moment that was asked about (`asked_at`) has a file of its own, so that a
    what-if never takes the place of the plan that is followed.
    """
    noted = [(e.kind, e.at.isoformat(), e.subject) for e in entries if e.kind in NOTED]
    text = repr((LAYOUT, fingerprint, noted, asked_at and asked_at.isoformat(), forecast))
    digest = hashlib.sha256(text.encode()).hexdigest()[:16]
    return cache_dir / f"plan-{on.isoformat()}-{digest}.json"


def write_plan(path: Path, plan: DayPlan) -> None:
    """Keep a plan: whole or not at all; a folder that cannot be written is no reason to stop."""
    part = path.with_name(f"{path.name}.{os.getpid()}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        part.write_text(json.dumps(plan_to_cache(plan)), encoding="utf-8")
        part.replace(path)
    except OSError:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)


def read_plan(path: Path) -> DayPlan | None:
    """Return a kept plan; None when there is none that fits."""
    try:
        return plan_from_cache(json.loads(path.read_text(encoding="utf-8")))
    except (OSError, ValueError, TypeError, KeyError):
        return None
