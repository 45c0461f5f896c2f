"""From the checking library's complaints to complaints a cook can act on."""

from __future__ import annotations

import json
import types
import typing
from typing import TYPE_CHECKING, Any

from suntrack.config.text import Complaint, hide_address
from suntrack.errors import did_you_mean

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.config.text import ConfigText

KINDS = {
    "string_type": 'text in quotation marks, such as "like this"',
    "bool_type": "true or false, without quotation marks",
    "list_type": "a list in square brackets",
    "model_type": "a table under a header of its own, in single square brackets",
}
PATTERNS: Mapping[str, Mapping[str, str]] = {
    "24": {
        "serve": "a time of day such as 18:30",
        "free": "a stretch such as 6:30-21:00, until 9:00 or after 16:00",
        "hours": "a stretch such as 21:30-6:00",
    },
    "12": {
        "serve": "a time of day such as 6:30 pm",
        "free": "a stretch such as 6:30 am - 9:00 pm, until 9:00 am or after 4:00 pm",
        "hours": "a stretch such as 9:30 pm - 6:00 am",
    },
}
"""Times in the form of the cook's own clock."""
LONGEST_FOUND = 60


def model_complaints(errors: list[dict[str, Any]], text: ConfigText) -> list[Complaint]:
    """Return a complaint for every key that is wrong."""
    from suntrack.config.model import File

    found = [_complaint(error, text.data, File) for error in errors]
    return [complaint for complaint in found if complaint.path[0] not in text.unread]


def _complaint(error: dict[str, Any], data: dict[str, Any], root: type[Any]) -> Complaint:
    """Return one complaint in the project's form."""
    path, kind = _written(error["loc"], data), error["type"]
    if kind == "extra_forbidden":
        return _unknown_key(path, _keys_at(root, path[:-1]))
    if kind == "missing":
        return Complaint(
            path=path,
            found="nothing",
            allowed=f"a value for {path[-1]}",
            remedy="Add the key; config/suntrack.toml shows every one.",
        )
    return Complaint(
        path=path,
        found=_shown(error["input"], hidden=path[0] == "way" and path[-1] == "url"),
        allowed=_allowed(error, path, clock=_clock(data)),
        remedy=error.get("ctx", {}).get("remedy") or _remedy(root, path),
    )


def _written(path: tuple[str | int, ...], data: Any) -> tuple[str | int, ...]:
    """Return a path without entries of a list that the cook wrote as one value."""
    for i, part in enumerate(path):
        if isinstance(part, int) and not isinstance(data, list):
            return path[:i]
        try:
            data = data[part]
        except (KeyError, IndexError, TypeError):
            return path
    return path


def _shown(value: Any, *, hidden: bool = False) -> str:
    """Return a value as it stands in a file, cut to the width of a line; never a password."""
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    if isinstance(value, str) and ("://" in value or hidden):
        return "an address (not shown here)" if hidden else hide_address(value)
    is_plain = isinstance(value, str | bool)
    shown = json.dumps(value, ensure_ascii=False) if is_plain else str(value)
    return shown if len(shown) <= LONGEST_FOUND else f"{shown[:LONGEST_FOUND]}..."


def _unknown_key(path: tuple[Any, ...], known: list[str]) -> Complaint:
    """Return the complaint of a key that does not exist, with the near one."""
    remedy = did_you_mean(str(path[-1]), known, otherwise="Remove it.")
    return Complaint(path=path, found=_shown(path[-1]), allowed=", ".join(known), remedy=remedy)


def _clock(data: dict[str, Any]) -> str:
    """Return the clock that the file asks for, 12 or 24; 24 where it says nothing of use."""
    show = data.get("show")
    return "12" if isinstance(show, dict) and show.get("clock") == "12" else "24"


def _allowed(error: dict[str, Any], path: tuple[Any, ...], *, clock: str) -> str:
    """Return what may stand there, in words."""
    kind, context = error["type"], error.get("ctx", {})
    if kind == "refusal":
        return str(context["allowed"])
    if kind == "literal_error":
        return str(context["expected"]).replace("'", '"')
    if kind == "string_pattern_mismatch":
        name = next((part for part in reversed(path) if isinstance(part, str)), "")
        return PATTERNS[clock].get(name, str(error["msg"]))
    if kind == "too_short":
        return f"at least {context['min_length']}"
    if kind == "too_long":
        return f"at most {context['max_length']}"
    return KINDS.get(kind, str(error["msg"]))


def _remedy(root: type[Any], path: tuple[Any, ...]) -> str:
    """Return what to do: keys with a default can simply go."""
    field = _field_at(root, path)
    if field is not None and not field.is_required():
        return "Correct it, or remove the line to use the default."
    return "Correct it."


def _keys_at(root: type[Any], path: tuple[Any, ...]) -> list[str]:
    """Return the keys that the table at a path may have."""
    table = _table_at(root, path)
    return sorted(table.model_fields) if table is not None else []


def _field_at(root: type[Any], path: tuple[Any, ...]) -> Any:
    """Return the description of the field at a path; None inside lists."""
    table = _table_at(root, path[:-1])
    return None if table is None else table.model_fields.get(str(path[-1]))


def _table_at(root: type[Any], path: tuple[Any, ...]) -> Any:
    """Return the class of the table at a path; None when it is not a table."""
    table: Any = root
    for part in path:
        if isinstance(part, int):
            continue
        field = getattr(table, "model_fields", {}).get(part)
        table = table_in(field.annotation) if field is not None else None
    return table


def table_in(annotation: Any) -> Any:
    """Return the table class inside an annotation such as `list[PotTable]` or `X | None`."""
    if hasattr(annotation, "model_fields"):
        return annotation
    if typing.get_origin(annotation) in (list, types.UnionType, typing.Union):
        inside = (table_in(part) for part in typing.get_args(annotation))
        return next((table for table in inside if table is not None), None)
    return None
