"""A plan on disk: written as plain JSON, read back from the records' own type hints.

Kept so that `now` can answer without planning again.  A file that does not fit, because
it is from another version or damaged, is simply not there.
"""

from __future__ import annotations

import contextlib
import dataclasses
import hashlib
import json
import os
import types
import typing
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from suntrack.day.records import DayPlan
from suntrack.edge.journal import NOTED

if TYPE_CHECKING:
    from collections.abc import Iterable

    from suntrack.edge.journal import Entry

LAYOUT = 1


def plan_path(cache_dir: Path, *, on: date, fingerprint: str, entries: Iterable[Entry]) -> Path:
    """Return the file of a day's plan, for one config and what was noted so far."""
    noted = [(e.kind, e.at.isoformat(), e.subject) for e in entries if e.kind in NOTED]
    text = repr((LAYOUT, fingerprint, noted))
    digest = hashlib.sha256(text.encode()).hexdigest()[:16]
    return cache_dir / f"plan-{on.isoformat()}-{digest}.json"


def write_plan(path: Path, plan: DayPlan) -> None:
    """Keep a plan: whole or not at all; a folder that cannot be written is no reason to stop."""
    part = path.with_name(f"{path.name}.{os.getpid()}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        part.write_text(json.dumps(to_plain(plan)), encoding="utf-8")
        part.replace(path)
    except OSError:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)


def read_plan(path: Path, *, zone: ZoneInfo) -> DayPlan | None:
    """Return a kept plan, its times in the site's zone; None when there is none that fits."""
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
        plan: DayPlan = from_plain(DayPlan, data, zone)
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return plan


def to_plain(value: Any) -> Any:
    """Return records, instants and tuples as what JSON knows."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {
            field.name: to_plain(getattr(value, field.name)) for field in dataclasses.fields(value)
        }
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple):
        return [to_plain(part) for part in value]
    return value


def from_plain(kind: Any, value: Any, zone: ZoneInfo) -> Any:
    """Return plain JSON as the record, instant or tuple that a type hint asks for."""
    if value is None:
        return None
    if typing.get_origin(kind) in (types.UnionType, typing.Union):
        (kind,) = (part for part in typing.get_args(kind) if part is not types.NoneType)
    if kind is datetime:
        return datetime.fromisoformat(value).astimezone(zone)
    if kind is date:
        return date.fromisoformat(value)
    if typing.get_origin(kind) is tuple:
        return tuple(from_plain(typing.get_args(kind)[0], part, zone) for part in value)
    if dataclasses.is_dataclass(kind) and isinstance(kind, type):
        hints = typing.get_type_hints(kind)
        return kind(**{name: from_plain(hints[name], value[name], zone) for name in hints})
    return value
