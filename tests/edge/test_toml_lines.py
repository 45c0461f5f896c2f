"""Where keys stand in a TOML file, against the standard parser."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.edge.toml_lines import key_lines, line_of

TEXT = """\
# a comment with [brackets] and key = 1
top = 1

[site]
name = "a # not a comment"   # but this is
sky = [
  { azimuth = 1, height = 2 },
  { azimuth = 3 },  # [trap]
]
text = '''
[not.a.table]
key = "no"
'''
after = 2

[[pot]]
name = "one"

[[pot]]
"quoted.name" = "two"
a.b = 3

[box.top]
glasses = 2
"""


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("top",), 2),
        (("site",), 4),
        (("site", "name"), 5),
        (("site", "sky"), 6),
        (("site", "sky", 1, "azimuth"), 6),
        (("site", "text"), 10),
        (("site", "after"), 14),
        (("pot", 0, "name"), 17),
        (("pot", 1, "quoted.name"), 20),
        (("pot", 1, "a", "b"), 21),
        (("pot", 1, "missing"), 19),
        (("box", "top", "glasses"), 24),
        (("box",), 23),
        (("nowhere",), None),
    ],
)
def test_lines_of_keys(path: tuple[str | int, ...], line: int | None) -> None:
    assert line_of(key_lines(TEXT), path) == line


keys = st.from_regex(r"\A[a-z][a-z0-9_-]{0,6}\Z")
words = st.text("abc #[]{}=\\'\"\n", max_size=12)
values = st.one_of(
    st.integers(-99, 99).map(str),
    st.booleans().map(lambda value: str(value).lower()),
    words.map(json.dumps),
    words.filter(lambda w: "'" not in w and "\n" not in w).map(lambda w: f"'{w}'"),
    words.filter(lambda w: "'''" not in w and not w.endswith("'")).map(lambda w: f"'''{w}'''"),
    st.lists(st.integers(0, 9).map(str), max_size=3).map(lambda v: "[\n  " + ",\n  ".join(v) + "]"),
    st.dictionaries(keys, st.integers(0, 9).map(str), max_size=2).map(
        lambda d: "{ " + ", ".join(f"{k} = {v}" for k, v in d.items()) + " }"
    ),
)
tables = st.dictionaries(keys, st.dictionaries(keys, values, max_size=4), max_size=4)


@given(content=tables)
def test_every_key_is_found_on_its_own_line(content: dict[str, dict[str, str]]) -> None:
    """Any file the standard parser reads: each key's line is where it was written."""
    lines: list[str] = []
    expected: dict[tuple[str, ...], int] = {}
    for table, entries in content.items():
        lines.append(f"[{table}]")
        expected[(table,)] = sum(line.count("\n") + 1 for line in lines)
        for key, value in entries.items():
            expected[table, key] = sum(line.count("\n") + 1 for line in lines) + 1
            lines.append(f"{key} = {value}  # x = [")
    text = "\n".join(lines) + "\n"
    tomllib.loads(text)
    found = key_lines(text)
    assert {path: found.get(path) for path in expected} == expected


def leaves(value: Any, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """Return the paths of everything that is not a table or a list of tables."""
    if isinstance(value, dict):
        return [leaf for key, part in value.items() for leaf in leaves(part, (*path, key))]
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return [leaf for i, part in enumerate(value) for leaf in leaves(part, (*path, i))]
    return [path]


def test_every_key_of_the_example_has_a_line_that_names_it() -> None:
    text = (Path(__file__).parents[2] / "config" / "suntrack.toml").read_text(encoding="utf-8")
    lines = key_lines(text)
    for path in leaves(tomllib.loads(text)):
        number = line_of(lines, path)
        assert number is not None
        assert str(path[-1]) in text.splitlines()[number - 1]
