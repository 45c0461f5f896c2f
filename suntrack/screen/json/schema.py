"""What `--json` prints, as JSON Schema (draft 2020-12), made from the keys beside each answer.

Each command's keys stand as paths with their meanings beside the code that prints them
(`dishes[].load_at`); here they become nested objects and lists.  Every key is always there,
missing values are null, and new keys may come: so all are required and more are allowed.
"""

from __future__ import annotations

import importlib
import re
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Mapping

DRAFT = "https://json-schema.org/draft/2020-12/schema"
TABLES: Mapping[str, tuple[tuple[str, str, str], ...]] = {
    "now": (("now", "json.day", "NOW_KEYS"),),
    "today": (("today", "json.day", "PLAN_KEYS"),),
    "turns": (("turns", "text.turns", "TURNS_KEYS"),),
    "week": (("week", "text.week", "WEEK_KEYS"),),
    "note": (("note", "json.take_out", "NOTE_KEYS"),),
    "notify": (
        ("notify", "text.ways", "NOTIFY_KEYS"),
        ("notify --test", "text.ways", "TEST_KEYS"),
        ("notify --done", "text.ways", "ANSWER_KEYS"),
        ("notify --report", "text.ways", "REPORT_KEYS"),
    ),
    "service": (("service", "text.ways", "SERVICE_KEYS"),),
    "dish": (("dish", "json.dish", "DISH_KEYS"),),
    "dishes": (("dishes", "json.dish", "DISH_KEYS"),),
    "feed": (("feed", "json.feed", "FEED_KEYS"),),
    "box": (("box", "json.box", "BOX_KEYS"),),
    "learn": (("learn", "text.learn", "LEARN_KEYS"),),
    "trial": (("trial", "text.trials", "TRIAL_KEYS"),),
    "record": (("record", "text.record", "RECORD_KEYS"),),
    "sheet": (("sheet", "json.files", "SHEET_KEYS"),),
    "calendar": (("calendar", "json.files", "CALENDAR_KEYS"),),
    "setup": (("setup", "json.files", "SETUP_KEYS"),),
    "completion": (("completion", "json.files", "COMPLETION_KEYS"),),
    "season": (("season", "json.season", "SEASON_KEYS"),),
    "whatif": (("whatif", "json.whatif", "WHATIF_KEYS"),),
}
"""For each command its answers: what is typed, and where the keys stand."""
LISTS = ("dishes",)
"""Commands that answer with a list of what the table says."""


def schema_of(command: str) -> dict[str, Any]:
    """Return the schema of what a command prints with `--json`.

    Raises
    ------
    KeyError
        For a command that prints none.
    """
    answers = [_answer(*answer) for answer in TABLES[command]]
    if command in LISTS:
        answers = [{"type": "array", "items": answer} for answer in answers]
    if len(answers) == 1:
        return {"$schema": DRAFT, **answers[0]}
    return {"$schema": DRAFT, "anyOf": answers}


def _answer(typed: str, module: str, name: str) -> dict[str, Any]:
    """Return the schema of one answer, with what is typed as its title."""
    keys = getattr(importlib.import_module(f"suntrack.screen.{module}"), name)
    return {"title": f"suntrack {typed} --json", **object_of(keys)}


def object_of(keys: Mapping[str, str]) -> dict[str, Any]:
    """Return the schema of an object from paths and meanings.

    Examples
    --------
    >>> object_of({"site": "its name", "dishes[].key": "key of a dish"})["required"]
    ['site', 'dishes']
    """
    mine: dict[str, str] = {}
    below: dict[str, dict[str, str]] = {}
    for path, meaning in keys.items():
        name, rest = _parted(path)
        below.setdefault(name, {})
        if rest:
            below[name][rest] = meaning
        else:
            mine[name] = meaning
    return {
        "type": "object",
        "properties": {name: _value(mine.get(name), parts) for name, parts in below.items()},
        "required": list(below),
    }


def _parted(path: str) -> tuple[str, str]:
    """Return the first name of a path and what is left of it: `[].at` of `box[].at`."""
    found = re.match(r"(\w+)\.?(.*)", path)
    assert found is not None, path
    return found[1], found[2]


def _value(meaning: str | None, parts: Mapping[str, str]) -> dict[str, Any]:
    """Return the schema of one value: a plain one, an object, or a list of either."""
    said = {} if meaning is None else {"description": meaning}
    if not parts:
        return said
    if any(part.startswith("[]") for part in parts):
        inner = {part.removeprefix("[]").removeprefix("."): text for part, text in parts.items()}
        plain = inner.pop("", None)
        return {**said, "type": "array", "items": _value(plain, inner)}
    shape = object_of(parts)
    # What may be missing as a whole says so in its own meaning.
    return (
        {**said, "anyOf": [shape, {"type": "null"}]}
        if "null" in (meaning or "")
        else {**said, **shape}
    )
