"""A day's plan kept as JSON values and read back exactly, for the cache on disk.

The dataclasses' own type hints are the only schema.  Instants keep their zone by name, as
RFC 9557 writes it: `2026-11-25T08:10:00+02:00[Africa/Gaborone]`.  What a program or a
person should read is in `asjson`.
"""

from __future__ import annotations

import types
from dataclasses import MISSING, fields, is_dataclass
from datetime import date, datetime
from functools import cache
from typing import TYPE_CHECKING, Any, Literal, Union, get_args, get_origin, get_type_hints
from zoneinfo import ZoneInfo

from suntrack.plan.records import DayPlan

if TYPE_CHECKING:
    from collections.abc import Mapping


def plan_to_cache(plan: DayPlan) -> dict[str, Any]:
    """Return a plan as JSON values, to full precision."""
    return {field.name: _written(getattr(plan, field.name)) for field in fields(plan)}


def plan_from_cache(data: Mapping[str, Any]) -> DayPlan:
    """Return the plan that `plan_to_cache` wrote; raise ValueError for anything else."""
    plan = _read(data, DayPlan)
    assert isinstance(plan, DayPlan)
    return plan


def _written(value: Any) -> Any:
    """Return a value of a record as a JSON value."""
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: _written(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple):
        return [_written(item) for item in value]
    if isinstance(value, datetime):
        return instant_text(value)
    return value.isoformat() if isinstance(value, date) else value


def instant_text(at: datetime) -> str:
    """Return an aware instant with its offset, and its zone where it has one by name."""
    zone = at.tzinfo.key if isinstance(at.tzinfo, ZoneInfo) else None
    return at.isoformat() + (f"[{zone}]" if zone else "")


def instant_of(text: str) -> datetime:
    """Return the instant that `instant_text` wrote; raise ValueError."""
    stamp, _, zone = text.partition("[")
    at = datetime.fromisoformat(stamp)
    if at.tzinfo is None:
        raise ValueError(f"{text}: no offset from UTC")
    return at.astimezone(ZoneInfo(zone.removesuffix("]"))) if zone else at


def _read(value: Any, hint: Any) -> Any:
    """Return a JSON value as what a type hint asks for; raise ValueError."""
    if is_dataclass(hint) and isinstance(hint, type):
        return _record(value, hint)
    origin = get_origin(hint)
    if origin in (Union, types.UnionType):
        return _one_of(value, get_args(hint))
    if origin is tuple:
        item = get_args(hint)[0]
        return tuple(_read(each, item) for each in _expect(value, list))
    if origin is Literal:
        if value not in get_args(hint):
            raise ValueError(f"{value!r} is none of {get_args(hint)}")
        return value
    return _simple(value, hint)


def _simple(value: Any, hint: Any) -> Any:
    """Return a number, a text, an instant or a date."""
    if hint is datetime:
        return instant_of(_expect(value, str))
    if hint is date:
        return date.fromisoformat(_expect(value, str))
    if hint is float and isinstance(value, int) and not isinstance(value, bool):
        return float(value)
    return _expect(value, hint)


def _expect(value: Any, kind: type) -> Any:
    """Return a value of a kind; raise ValueError when it is of another."""
    if type(value) is not kind:
        raise ValueError(f"expected {kind.__name__}, found {type(value).__name__}")
    return value


def _one_of(value: Any, hints: tuple[Any, ...]) -> Any:
    """Return a value of an optional field."""
    if value is None and type(None) in hints:
        return None
    (hint,) = (each for each in hints if each is not type(None))
    return _read(value, hint)


@cache
def _hints(record: type) -> dict[str, Any]:
    return get_type_hints(record)


def _record(value: Any, record: type) -> Any:
    """Return a record; every field has to be there that has no default, and no other."""
    given = _expect(value, dict)
    known = {field.name: field for field in fields(record)}
    unknown = sorted(set(given) - set(known))
    missing = sorted(
        name
        for name, field in known.items()
        if name not in given and field.default is MISSING and field.default_factory is MISSING
    )
    if unknown or missing:
        raise ValueError(f"{record.__name__}: unknown {unknown}, missing {missing}")
    return record(**{name: _read(each, _hints(record)[name]) for name, each in given.items()})
