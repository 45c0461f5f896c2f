"""Which meals a year is judged by, as the cook writes them."""

from __future__ import annotations

from dataclasses import replace
from datetime import time
from pathlib import Path

import pytest

from suntrack.commands.meals import meals_of
from suntrack.config.reader import Config, load_config
from suntrack.errors import InputError
from suntrack.year.meal_pots import Meal

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def example() -> Config:
    return load_config(ROOT / "config" / "suntrack.toml")


def test_without_a_word_they_are_those_of_the_config(example: Config) -> None:
    meals = meals_of(example, None)
    assert [(meal.dish.key, meal.serve, meal.pot) for meal in meals] == [
        ("lentil-soup", time(13), "wide pot"),
        ("winter-squash", time(13), "baking tin"),
        ("chicken-pieces", time(18), "small pot"),
    ]
    assert [meal.mass_kg for meal in meals] == [1.8, None, None]
    assert meals_of(replace(example, dishes=()), None) == ()


@pytest.mark.parametrize(
    ("word", "serve"),
    [
        ("cabbage", time(18)),
        ("cabbage@12:15", time(12, 15)),
        ("Braised Cabbage @ 6:30 pm", time(18, 30)),
        ("braised-cabbage@1:05am", time(1, 5)),
    ],
)
def test_another_dish_is_the_library_s(example: Config, word: str, serve: time) -> None:
    """At the last meal of the config where no time is said."""
    assert meals_of(example, [word]) == (Meal(dish=example.library["cabbage"], serve=serve),)


def test_a_dish_of_the_config_is_as_it_stands_there_but_for_its_time(example: Config) -> None:
    (meal,) = meals_of(example, ["lentil-soup@17:30"])
    assert (meal.serve, meal.mass_kg, meal.pot) == (time(17, 30), 1.8, "wide pot")
    (meal,) = meals_of(example, ["lentil-soup"])
    assert meal.serve == time(13)


def test_an_empty_config_has_supper_at_six(example: Config) -> None:
    (meal,) = meals_of(replace(example, dishes=()), ["cabbage"])
    assert meal.serve == time(18)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["lentl-soup"], ["Did you mean lentil-soup"]),
        (["cabbage@"], ["a time such as 18:00"]),
        (["cabbage@noon", "@18:00"], ["a time such as 18:00", "suntrack dishes"]),
        (["cabbage@24:00"], ["a time such as 18:00"]),
        (["cabbage", "Braised cabbage"], ["'cabbage' twice"]),
        ([""], ["the name of a dish"]),
    ],
)
def test_every_mistake_is_told_at_once(example: Config, words: list[str], told: list[str]) -> None:
    with pytest.raises(InputError) as caught:
        meals_of(example, words)
    message = str(caught.value)
    assert all(one in message for one in told)
    assert all(str(problem).startswith("--meal") for problem in caught.value.problems)
    assert caught.value.exit_status == 2
