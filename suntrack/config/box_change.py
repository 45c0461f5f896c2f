"""A box with one thing changed, as a builder writes it: `mirror.length = 50 cm`.

The change is put into the cook's own file, in memory, and the whole is checked by the rules
of the config: units, ranges, and what goes together.

    mirror.length = 50 cm            any key of [box]
    wall.2.thickness = 80 mm         a layer of the wall, inside first
    front = none                     a solid front; mirror = none does without
    front = glass                    a front glazed like the top
    side_mirrors.length = 30 cm      a mirror at each side, or longer ones
    top.glasses = 2, leak = 0.1 W/K  several at once
"""

from __future__ import annotations

import copy
import tomllib
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from suntrack.config.problems import model_complaints
from suntrack.config.reader import box_of
from suntrack.config.rules import check_pieces
from suntrack.config.text import Complaint, read_config_text
from suntrack.errors import InputError, Problem, did_you_mean
from suntrack.food.dishes import builtin_dishes

if TYPE_CHECKING:
    from suntrack.box.build import Box
    from suntrack.config.reader import Config

FORM = "a key of [box] and its value, such as mirror.length = 50 cm"
TABLES = ("front", "mirror", "side_mirrors")
"""Parts that a box may have or not."""
NONE = "none"


def changed_box(config: Config, words: str) -> Box:
    """Return the config's box with a change; raise InputError with every mistake in it."""
    from suntrack.config.pieces import read_file, take_pieces

    text = read_config_text(config.path)
    text.data = copy.deepcopy(text.data)
    for one in words.split(","):
        _put(text.data["box"], one, words)
    # What else is wrong with the file was told when it was read.
    dishes = {*builtin_dishes(), *config.library}
    parsed, errors = read_file(text.data, dishes=dishes)
    complaints = [*model_complaints(errors, text), *check_pieces(take_pieces(text))]
    if complaints or parsed is None:
        raise InputError(*(_problem(one, words) for one in dict.fromkeys(complaints)))
    return replace(box_of(parsed.box), learned=config.box.learned)


def _put(box: dict[str, Any], one: str, words: str) -> None:
    """Put one change into the table of the box."""
    key, mark, value = (part.strip() for part in one.partition("="))
    path = key.removeprefix("box.").split(".")
    if not mark or not value or not all(path):
        raise _mistake(words, repr(one.strip()), FORM, "Write it so.")
    if len(path) == 1 and path[0] in TABLES:
        _whole(box, path[0], value, words)
        return
    table: Any = box
    for name in path[:-1]:
        table = _inside(table, name, words)
    table[path[-1]] = _value(value)


def _whole(box: dict[str, Any], name: str, value: str, words: str) -> None:
    """Take a part out of the box, or put a front in."""
    if value == NONE:
        box.pop(name, None)
    elif name == "front" and value == "glass":
        box["front"] = copy.deepcopy(box["top"])
    else:
        allowed = {"front": "none, or glass", "mirror": "none, or its length and width"}
        said = allowed.get(name, "none, or their length, such as side_mirrors.length = 30 cm")
        raise _mistake(words, repr(value), said, "Write one of these.")


def _inside(table: Any, name: str, words: str) -> Any:
    """Return a table inside a table; a layer by its number from the inside."""
    if isinstance(table, list):
        if name.isdigit() and 1 <= int(name) <= len(table):
            return table[int(name) - 1]
        allowed = f"a layer from 1, inside, to {len(table)}"
        raise _mistake(words, repr(name), allowed, "Write wall.2.thickness.")
    found = table.setdefault(name, {}) if name in TABLES else table.get(name)
    if isinstance(found, dict | list):
        return found
    known = ("top", *TABLES, "wall", "lining")
    remedy = did_you_mean(name, known, otherwise="config/suntrack.toml shows every key.")
    raise _mistake(words, repr(name), ", ".join(known), remedy)


def _value(text: str) -> Any:
    """Return a number or a truth as such, and everything else as the text that it is."""
    try:
        found = tomllib.loads(f"value = {text}")["value"]
    except tomllib.TOMLDecodeError:
        return text
    return found if isinstance(found, str | int | float) else text


def _problem(complaint: Complaint, words: str) -> Problem:
    """Return a complaint with the change as its place."""
    key = ".".join(str(part + 1) if isinstance(part, int) else part for part in complaint.path)
    return Problem(
        where=f'whatif "{words}": {key.removeprefix("box.")}',
        found=complaint.found,
        allowed=complaint.allowed,
        remedy=complaint.remedy.replace("remove the line to use the default", "leave it"),
    )


def _mistake(words: str, found: str, allowed: str, remedy: str) -> InputError:
    return InputError(
        Problem(where=f'whatif "{words}"', found=found, allowed=allowed, remedy=remedy)
    )
