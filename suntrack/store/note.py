"""A note as the cook writes it: `turned`, `loaded DISH`, `reading 245F`, `good DISH`.

Reading the words only; what a note means for the plan is in `suntrack.store.observations`.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from suntrack.errors import InputError, Problem, did_you_mean
from suntrack.units import parse_temperature_c

if TYPE_CHECKING:
    from suntrack.store.journal import EntryKind

FORMS = (
    "turned, loaded DISH, pulled DISH, reading 245F (the box), core DISH 165F (the middle of a"
    " dish), skipped, good DISH or failed DISH (how a dish was, for the record)"
)
OF_DISHES: Mapping[str, EntryKind] = {
    "loaded": "loaded",
    "pulled": "pulled",
    "good": "good",
    "failed": "failed",
}
HOTTEST_CORE_C = 130.0
"""Hotter is no middle of anything that is cooked in a pot.  [C]"""
COLDEST_C, HOTTEST_C = -40.0, 300.0
"""What an oven thermometer in a box can show.  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """The pieces of a journal entry that a note's words give; the time is the caller's."""

    kind: EntryKind
    """What is noted."""
    subject: str | None = None
    """The dish it is about; None for the box."""
    data: Mapping[str, Any] = field(default_factory=dict)
    """What else it says."""


def parse_note(words: Sequence[str], *, dishes: Collection[str] | None = None) -> Note:
    """Return what a note says; raise InputError when it says nothing we know.

    `dishes` are the keys a dish may have; None to take any.
    """
    verb = words[0].lower() if words else ""
    rest = " ".join(words[1:]).strip()
    if verb == "reading":
        return Note(kind="reading", data={"box_c": _box_c(rest)})
    if verb == "core" and len(words) > 2:
        core_c = _core_c(words[-1])
        return Note(
            kind="core", subject=_dish(" ".join(words[1:-1]), dishes), data={"core_c": core_c}
        )
    if verb in OF_DISHES and rest:
        return Note(kind=OF_DISHES[verb], subject=_dish(rest, dishes))
    if verb == "turned" and not rest:
        return Note(kind="turned")
    if verb == "skipped" and not rest:
        return Note(kind="skipped")
    raise _mistake(" ".join(words), FORMS, "Write one of these.")


def _core_c(text: str) -> float:
    """Return the temperature of a middle that a probe gives.  [C]"""
    allowed = "a number and C or F, such as 76 C or 165 F, that food can have"
    try:
        core_c = parse_temperature_c(text)
    except ValueError:
        core_c = float("nan")
    if not COLDEST_C <= core_c <= HOTTEST_CORE_C:
        raise _mistake(text, allowed, "Write it so: note core chicken-pieces 165F.")
    return core_c


def _box_c(text: str) -> float:
    """Return the box temperature that a reading gives.  [C]"""
    allowed = "a number and C or F, such as 120 C or 250 F, that a box can reach"
    try:
        box_c = parse_temperature_c(text)
    except ValueError:
        box_c = float("nan")
    if not COLDEST_C <= box_c <= HOTTEST_C:
        raise _mistake(text, allowed, "Write it so: note reading 245F.")
    return box_c


def _dish(text: str, dishes: Collection[str] | None) -> str:
    """Return a dish's key from its words, such as `lentil soup`."""
    key = "-".join(text.lower().split())
    if dishes is None or key in dishes:
        return key
    remedy = did_you_mean(key, sorted(dishes), otherwise="See: suntrack dishes.", alike=0.6)
    raise _mistake(text, ", ".join(sorted(dishes)), remedy)


def _mistake(found: str, allowed: str, remedy: str) -> InputError:
    """Return the error for a note that cannot be read."""
    return InputError(Problem(where="note", found=repr(found), allowed=allowed, remedy=remedy))
