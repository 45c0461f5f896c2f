"""From the checking library's complaints to problems a cook can act on."""

from __future__ import annotations

import difflib
import types
import typing
from typing import TYPE_CHECKING, Any

from suntrack.errors import Problem

if TYPE_CHECKING:
    from suntrack.edge.config_model import File
    from suntrack.edge.config_text import ConfigText

KINDS = {
    "string_type": 'text in quotation marks, such as "like this"',
    "bool_type": "true or false",
    "float_type": "a number",
    "int_type": "a whole number",
    "list_type": "a list in square brackets",
    "model_type": "a table of its own, in square brackets",
}
PATTERNS = {"serve": "a time of day such as 18:30", "free": "a stretch such as 6:30-21:00"}


def model_problems(text: ConfigText) -> tuple[File | None, list[Problem]]:
    """Return the checked file, or None with a problem for every key that is wrong."""
    from pydantic import ValidationError

    from suntrack.edge.config_model import File

    if not text.data and text.problems:
        return None, []
    try:
        return File.model_validate(text.data), []
    except ValidationError as error:
        complaints = error.errors(include_url=False)
        return None, [_problem(dict(complaint), text, File) for complaint in complaints]


def _problem(complaint: dict[str, Any], text: ConfigText, root: type[File]) -> Problem:
    """Return one complaint in the project's form."""
    path, kind = tuple(complaint["loc"]), complaint["type"]
    where = text.where(path)
    if kind == "extra_forbidden":
        return _unknown_key(where, path, _keys_at(root, path[:-1]))
    if kind == "missing":
        return Problem(
            where=where,
            found="nothing",
            allowed=f"a value for {path[-1]}",
            remedy="Add the key; config/suntrack.toml shows every one.",
        )
    return Problem(
        where=where,
        found=repr(complaint["input"]),
        allowed=_allowed(complaint, path),
        remedy=_remedy(root, path),
    )


def _unknown_key(where: str, path: tuple[Any, ...], known: list[str]) -> Problem:
    """Return the problem of a key that does not exist, with the near one."""
    near = difflib.get_close_matches(str(path[-1]), known, n=1, cutoff=0.5)
    remedy = f"Did you mean {near[0]}?" if near else "Remove it."
    return Problem(where=where, found=repr(path[-1]), allowed=", ".join(known), remedy=remedy)


def _allowed(complaint: dict[str, Any], path: tuple[Any, ...]) -> str:
    """Return what may stand there, in words."""
    kind, context = complaint["type"], complaint.get("ctx", {})
    if kind == "value_error":
        return str(context["error"])
    if kind == "literal_error":
        return str(context["expected"]).replace("'", '"')
    if kind == "string_pattern_mismatch":
        name = next((part for part in reversed(path) if isinstance(part, str)), "")
        return PATTERNS.get(name, str(complaint["msg"]))
    limits = {"greater_than_equal": ("ge", "at least"), "less_than_equal": ("le", "at most")}
    if kind in limits:
        key, words = limits[kind]
        return f"{words} {context[key]:g}"
    return KINDS.get(kind, str(complaint["msg"]))


def _remedy(root: type[File], path: tuple[Any, ...]) -> str:
    """Return what to do: keys with a default can simply go."""
    field = _field_at(root, path)
    if field is not None and not field.is_required() and field.default is not None:
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
        table = _table_in(field.annotation) if field is not None else None
    return table


def _table_in(annotation: Any) -> Any:
    """Return the table class inside an annotation such as `list[PotTable]` or `X | None`."""
    if hasattr(annotation, "model_fields"):
        return annotation
    if typing.get_origin(annotation) in (list, types.UnionType, typing.Union):
        inside = (_table_in(part) for part in typing.get_args(annotation))
        return next((table for table in inside if table is not None), None)
    return None
