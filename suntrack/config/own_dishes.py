"""The cook's own dishes: files of a folder, read beside the library, all mistakes at once.

A file has the form of the library's own (`suntrack/food/dishes.toml`); every mistake is told
with its file and line.  A dish of a key that the library has takes its place, but is held to
all that one asks for; what a dish may not say of itself is in `suntrack.food.guard`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.config.dish_files import dish_files
from suntrack.config.text import TOML_REMEDY, Complaint, ConfigText, Source, read_source
from suntrack.config.toml_lines import line_of
from suntrack.errors import Problem
from suntrack.food.dishes import builtin_dishes, builtin_foods, read_file
from suntrack.food.table import path_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from suntrack.food.dish import Dish

FORM = "Mend that line; config/dishes/morogo.toml shows the form."
KEY = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
LONGEST_KEY, LONGEST_TEXT = 40, 400
MOST_FILES = 200
"""More than any kitchen has; keeps a wrong folder from being read through."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnFiles:
    """The files of the folders, as far as they can be read at all."""

    sources: tuple[Source, ...]
    """In the order in which they count: later ones take the place of earlier ones."""
    problems: tuple[Problem, ...]
    """Every mistake, in the order of the file."""
    texts: dict[Path, bytes]
    """Every byte that was read, by file."""

    @property
    def keys(self) -> frozenset[str]:
        """Names under which dishes stand, good or bad."""
        return frozenset(key for source in self.sources for key in source.data) - {"food"}


def read_own_files(folders: Sequence[Path]) -> OwnFiles:
    """Return every `*.toml` of some folders, each folder by name; a folder may be missing."""
    sources: list[Source] = []
    texts: dict[Path, bytes] = {}
    problems: list[Problem] = []
    for folder in folders:
        found = dish_files(folder)
        if len(found) > MOST_FILES:
            problems.append(_too_many(folder, len(found)))
        for path in found[:MOST_FILES]:
            text = ConfigText(main=path)
            source = read_source(path, text, remedy="Check the file, or take it out of the folder.")
            sources += [] if source is None else [source]
            texts |= text.texts
            problems += (_in_form(problem) for problem in text.problems)
    return OwnFiles(sources=tuple(sources), problems=tuple(problems), texts=texts)


def _too_many(folder: Path, count: int) -> Problem:
    return Problem(
        where=str(folder),
        found=f"{count} files",
        allowed=f"up to {MOST_FILES}",
        remedy="Name a folder that holds dishes only.",
    )


def _in_form(problem: Problem) -> Problem:
    """Return a problem of reading with the remedy for a file of dishes."""
    return replace(problem, remedy=FORM) if problem.remedy == TOML_REMEDY else problem


def library_with(
    own: OwnFiles, *, boiling_c: float
) -> tuple[Mapping[str, Dish], tuple[Problem, ...]]:
    """Return the library with the cook's own dishes put in, and every problem of those.

    `boiling_c` is where water boils at the site.
    """
    builtin = builtin_dishes(boiling_c=boiling_c)
    dishes: dict[str, Dish] = {}
    problems = [*own.problems, *_twice(own)]
    for source in own.sources:
        place = _places(source)
        parsed = read_file(
            source.data,
            place=place,
            boiling_c=boiling_c,
            foods=builtin_foods(),
            own=str(source.path),
            library=builtin,
        )
        problems += parsed.problems
        for key in source.data:
            problems += _key_problems(key, place=place)
        for key, dish in parsed.dishes.items():
            problems += _text_problems(dish, place=place)
            dishes[key] = dish
    return {**builtin, **dishes}, tuple(problems)


def _places(source: Source) -> Callable[[tuple[str, ...]], str]:
    """Return the function that says where a key of a file is, such as `mine.toml:12: soup.z_c`."""

    def place(path: tuple[str, ...]) -> str:
        line = line_of(source.lines, path)
        shown = path_text(path)
        return f"{source.path}:{line}: {shown}" if line else f"{source.path}: {shown}"

    return place


def _twice(own: OwnFiles) -> Iterator[Problem]:
    """Yield for each dish that stands in two files of one folder: which counts is a guess."""
    seen: dict[tuple[Path, str], Path] = {}
    for source in own.sources:
        for key in (key for key in source.data if key != "food"):
            other = seen.setdefault((source.path.parent, key), source.path)
            if other != source.path:
                yield Problem(
                    where=_places(source)((key,)),
                    found=f"{key!r}, which stands in {other.name} too",
                    allowed="each dish once in a folder",
                    remedy="Rename one of the two.",
                )


def _key_problems(key: str, *, place: Callable[[tuple[str, ...]], str]) -> Iterator[Problem]:
    """Yield when a dish's short name is none that a shell takes as it is."""
    if key != "food" and (len(key) > LONGEST_KEY or not KEY.fullmatch(key)):
        yield Problem(
            where=place((key,)),
            found=repr(key),
            allowed="small letters, digits and hyphens, such as [lentil-soup]",
            remedy="Write the short name so; the long one is its name key.",
        )


def _text_problems(dish: Dish, *, place: Callable[[tuple[str, ...]], str]) -> Iterator[Problem]:
    """Yield for texts that a screen cannot show as they are."""
    texts = {"name": dish.name, "source": dish.source, "refused": dish.refused or ""}
    texts |= {step.when.replace(" ", "_"): step.text for step in dish.advance}
    for key, text in (*texts.items(), *(("advice", advice) for advice in dish.advice)):
        longest = LONGEST_KEY if key == "name" else LONGEST_TEXT
        if len(text) > longest or not text.isprintable():
            yield Problem(
                where=place((dish.key, key)),
                found=ascii(text)[:60],
                allowed=f"up to {longest} letters and signs on one line",
                remedy="Shorten it, on one line.",
            )


def no_such_folder(value: str) -> Complaint:
    """Return the complaint of `include.dishes` when there is no such folder."""
    return Complaint(
        path=("include", "dishes"),
        found=f'"{value}", which is no folder',
        allowed='a folder of dish files, beside this file or from the root, such as "dishes"',
        remedy="Check the path, or remove this line.",
    )
