"""Notes as a cook writes them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.errors import InputError
from suntrack.store.note import parse_note

DISHES = ("lentil-soup", "chicken-pieces")


@pytest.mark.parametrize(
    ("words", "kind", "subject"),
    [
        ("turned", "turned", None),
        ("skipped", "skipped", None),
        ("loaded lentil-soup", "loaded", "lentil-soup"),
        ("Loaded Lentil Soup", "loaded", "lentil-soup"),
        ("pulled chicken-pieces", "pulled", "chicken-pieces"),
        ("good lentil soup", "good", "lentil-soup"),
        ("failed chicken-pieces", "failed", "chicken-pieces"),
    ],
)
def test_what_was_done(words: str, kind: str, subject: str | None) -> None:
    note = parse_note(words.split(), dishes=DISHES)
    assert (note.kind, note.subject) == (kind, subject)


@pytest.mark.parametrize(
    ("words", "box_c"),
    # 212 F is 100 C and 32 F is 0 C by the definition of the Fahrenheit scale.
    [("reading 212F", 100.0), ("reading 32 F", 0.0), ("reading 118 C", 118.0)],
)
def test_a_reading_in_either_unit(words: str, box_c: float) -> None:
    assert parse_note(words.split()).data["box_c"] == pytest.approx(box_c)


@pytest.mark.parametrize(
    "words",
    ["", "loaded", "pulled", "turned twice", "skipped it", "reading", "reading 245",
     "reading hot", "reading 900 C", "reading -80 C", "eaten lentil-soup",
     "good", "failed"],
)  # fmt: skip
def test_what_is_no_note_is_refused_with_what_would_be(words: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_note(words.split())
    (problem,) = caught.value.problems
    assert problem.allowed


def test_a_misspelt_dish_is_guessed_but_not_taken() -> None:
    with pytest.raises(InputError) as caught:
        parse_note(["loaded", "lentl-soup"], dishes=DISHES)
    assert "lentil-soup?" in caught.value.problems[0].remedy


@given(st.lists(st.sampled_from(["turned", "loaded", "reading", "lentil-soup", "nan F", "1/0 C"])
       | st.text(max_size=8), max_size=5))  # fmt: skip
def test_whatever_is_typed_the_answer_is_a_note_or_a_report(words: list[str]) -> None:
    try:
        parse_note(words, dishes=DISHES)
    except InputError as error:
        assert all(p.where and p.allowed and p.remedy for p in error.problems)
