"""A household lives with the commands as a person would, and its world can be told from ours."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date
from pathlib import Path

from households.household import (
    HABITS,
    Habits,
    Life,
    config_of,
    drawn_flaws,
    hours,
    lived,
    seeded,
)
from households.truth import FOODS, Flaws
from households.weather import measured


def life_in(folder: Path, habits: Habits, *, on: date = date(2018, 6, 14)) -> Life:
    sky = measured("desert", on)
    assert sky is not None
    return Life(
        sky=sky,
        flaws=Flaws(),
        habits=habits,
        config=config_of("desert", habits, folder),
        home=folder / "journal",
        rng=seeded("test", on),
    )


def test_the_same_words_draw_the_same_box_and_others_another() -> None:
    assert drawn_flaws(seeded("box", 1)) == drawn_flaws(seeded("box", 1))
    assert drawn_flaws(seeded("box", 1)) != drawn_flaws(seeded("box", 2))


def test_drawn_boxes_stay_in_their_ranges() -> None:
    drawn = [drawn_flaws(seeded("box", i)) for i in range(50)]
    assert all(0.7 <= flaws.loss <= 1.6 and 0.8 <= flaws.light <= 1.05 for flaws in drawn)


def test_nobody_asks_while_away(tmp_path: Path) -> None:
    asked = [at.hour for at in hours(life_in(tmp_path, HABITS["away at work"]))]
    assert asked == [6, 7, 8, 17, 18]


def test_a_step_is_never_done_before_its_time(tmp_path: Path) -> None:
    life = life_in(tmp_path, HABITS["by eye, late"])
    at = life.sky.first_at
    assert all(life.moment(at, at) >= at for _ in range(50))
    on_time = replace(life.habits, late_min=0.0)
    assert life_in(tmp_path, on_time).moment(at, at) == at


def test_food_follows_the_warm_box_and_never_boils_over(tmp_path: Path) -> None:
    """Limits: no middle is hotter than boiling water, nor colder than it went in."""
    life = life_in(tmp_path, Habits())
    life.aims, life.loads = [(0, 180.0, 97.0)], dict.fromkeys(FOODS, 480)
    _, middles = life.truth(1200)
    boil = life.day().boil_c
    assert middles.max() <= boil + 1e-9
    assert middles[:, 480:].min() >= 19.9


def test_a_bright_morning_is_lived_through_the_commands(tmp_path: Path) -> None:
    """No command is refused, and the journal has every turn and load that was noted."""
    life = life_in(tmp_path, Habits(late_min=6.0, thermometer_off_c=4.4, free=("6:00-11:00",)))
    found = lived(life)
    assert not found["called off"]
    assert not [key for key in found["counts"] if key.startswith("refused")]
    with closing(sqlite3.connect(tmp_path / "journal" / "journal.db")) as journal:
        kinds = [row[0] for row in journal.execute("select kind from entry")]
    assert kinds.count("turned") == len(life.aims) > 0
    assert kinds.count("loaded") == len(life.loads) > 0
