"""Where keys stand in a TOML file, against the standard parser."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.config.toml_lines import key_lines, line_of

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

[[pot.handle]]
width = 1979-05-27 07:32:00
reach = 1.5e-3
"""


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("top",), 2),
        (("site",), 4),
        (("site", "name"), 5),
        (("site", "sky"), 6),
        (("site", "sky", 0, "height"), 7),
        (("site", "sky", 1, "azimuth"), 8),
        (("site", "sky", 1, "height"), 8),
        (("site", "text"), 10),
        (("site", "after"), 14),
        (("pot", 0, "name"), 17),
        (("pot", 1, "quoted.name"), 20),
        (("pot", 1, "a", "b"), 21),
        (("pot", 1, "a"), 21),
        (("pot", 1, "missing"), 19),
        (("box", "top", "glasses"), 24),
        (("box",), 23),
        (("pot", 1, "handle", 0, "reach"), 28),
        (("nowhere",), None),
    ],
)
def test_lines_of_keys(path: tuple[str | int, ...], line: int | None) -> None:
    assert line_of(key_lines(TEXT), path) == line


def test_an_empty_file_has_no_lines() -> None:
    assert key_lines("") == {}
    assert key_lines("# nothing\n") == {}


# A marked value is written as the number of its own line, so that the parser's answer tells
# both: the path it stands under, and the line where the walker has to find that path.

bare = st.from_regex(r"\A[A-Za-z0-9_-]{1,5}\Z")
odd = st.text("ab .#[]{}='\"\\\u00e9\t", max_size=6)
keys = st.one_of(
    bare,
    odd.map(lambda word: json.dumps(word, ensure_ascii=True)),
    odd.filter(lambda word: "'" not in word).map(lambda word: f"'{word}'"),
)
dotted = st.lists(keys, min_size=1, max_size=3).map(" . ".join)
words = st.text("ab #[]{}=,\\'\"\n", max_size=12)
fillers = st.one_of(
    st.sampled_from(["true", "1.5", "-0.5e-3", "1979-05-27 07:32:00", "07:32:00", "inf"]),
    words.map(json.dumps),
    words.filter(lambda w: "'" not in w and "\n" not in w).map(lambda w: f"'{w}'"),
    words.filter(lambda w: "'''" not in w).map(lambda w: f"'''{w.rstrip(chr(39))}'''"),
    words.map(lambda w: '"""' + json.dumps(w)[1:-1].replace("\\n", "\n") + '"""'),
    st.just('""""two quotes inside the end"""""'),
    st.just("'''two quotes inside the end'''''"),
)
gaps = st.sampled_from(["", " ", "\n", " # x = [ { ' \"\n", "\n\n  "])
VALUE, FIRST = "<value>", 1000


@st.composite
def arrays(draw: st.DrawFn, inner: st.SearchStrategy[str]) -> str:
    """Return an array over one or many lines, with comments between its entries."""
    text = "["
    for part in draw(st.lists(inner, max_size=3)):
        text += draw(gaps) + part + draw(gaps) + "," + draw(gaps)
    return text + "]"


def inline(inner: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    """Return inline tables of one line."""
    one_line = inner.filter(lambda text: "\n" not in text)
    pairs = st.lists(st.tuples(dotted, one_line), max_size=3)
    return pairs.map(lambda found: "{ " + ", ".join(f"{k} = {v}" for k, v in found) + " }")


values = st.recursive(
    st.one_of(st.just(VALUE), fillers),
    lambda inner: st.one_of(arrays(inner), inline(inner)),
    max_leaves=6,
)
pairs = st.tuples(dotted, values).map(lambda pair: f"{pair[0]} = {pair[1]}")
headers = st.tuples(st.sampled_from(["[{}]", "[[{}]]"]), dotted).map(lambda h: h[0].format(h[1]))
statements = st.one_of(pairs, pairs, headers, st.just(""), st.just("# [no] = 'x"))


def numbered(lines: list[str]) -> str:
    """Return the statements that the parser takes, each value replaced by a number of its own."""
    text = ""
    for statement in lines:
        longer = text + statement + " # = [\n"
        while VALUE in longer:
            longer = longer.replace(
                VALUE, str(FIRST + longer[: longer.index(VALUE)].count("\n")), 1
            )
        try:
            tomllib.loads(longer)
        except tomllib.TOMLDecodeError:
            continue
        text = longer
    return text


def leaves(value: Any, path: tuple[str | int, ...] = ()) -> list[tuple[tuple[str | int, ...], Any]]:
    """Return every value that is not a table or a list, with its path."""
    if isinstance(value, dict):
        return [leaf for key, part in value.items() for leaf in leaves(part, (*path, key))]
    if isinstance(value, list):
        return [leaf for i, part in enumerate(value) for leaf in leaves(part, (*path, i))]
    return [(path, value)]


@given(lines=st.lists(statements, max_size=8))
def test_any_value_is_found_on_the_line_it_was_written_on(lines: list[str]) -> None:
    """Each marked value is the number of its line: the walker has to agree with the parser."""
    text = numbered(lines)
    found = key_lines(text)
    for path, value in leaves(tomllib.loads(text)):
        assert path in found, text
        if type(value) is int:
            assert found[path] == value - FIRST + 1, text


def test_every_key_of_the_example_has_a_line_that_names_it() -> None:
    text = (Path(__file__).parents[2] / "config" / "suntrack.toml").read_text(encoding="utf-8")
    lines = key_lines(text)
    for path, _ in leaves(tomllib.loads(text)):
        number = line_of(lines, path)
        assert number is not None
        name = next(part for part in reversed(path) if isinstance(part, str))
        assert name in text.splitlines()[number - 1]
