"""What changes bring: the rules of the config for writing them, physics for their sign."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import time, timedelta
from pathlib import Path

import numpy as np
import pytest
from planned_days import meals_in

from suntrack.config.box_change import changed_box
from suntrack.config.reader import Config, load_config
from suntrack.errors import InputError
from suntrack.screen.json.whatif import WHATIF_KEYS, whatif_json
from suntrack.screen.page import page_lines
from suntrack.screen.text.whatif import whatif_page
from suntrack.sky.usual_year import usual_year
from suntrack.sky.year import YearSky, clear_year
from suntrack.units import Units
from suntrack.year.compare_designs import Builder, Gain, Kitchen, weigh
from suntrack.year.meal_pots import Meal
from suntrack.year.usual_changes import Change, usual_changes

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "config" / "suntrack.toml"


@pytest.fixture(scope="module")
def sky(config: Config) -> YearSky:
    """Return a clear year, one day in thirty."""
    return clear_year(config.site, year=2026, utc_offset_h=2.0).every(30)


def weighed(
    config: Config,
    sky: YearSky,
    *words: str,
    threshold_c: float = 100.0,
    meals: Sequence[Meal] = (),
) -> Builder:
    return weigh(
        config.box,
        [Change(words=one, box=changed_box(config, one)) for one in words],
        kitchen=Kitchen(
            site=config.site,
            pots=config.pots,
            meals=tuple(meals),
            free=config.free,
            threshold_c=threshold_c,
            hours=2.0,
        ),
        sky=sky,
        clear=sky.every(4),
    )


def gain(builder: Builder, words: str) -> Gain:
    return next(one for one in builder.gains if one.words == words)


@pytest.mark.parametrize(
    ("words", "old", "new"),
    [
        ("mirror.length = 50 cm", 'length = "44 cm"', 'length = "50 cm"'),
        ("box.mirror.length=19.685 in", 'length = "44 cm"', 'length = "19.685 in"'),
        ("leak = 0.3 W/K", 'leak = "0.15 W/K"', 'leak = "0.3 W/K"'),
        ("wall.1.thickness = 80 mm", 'thickness = "50 mm"', 'thickness = "80 mm"'),
        ("wall.1.material = glass wool", 'material = "mineral wool"', 'material = "glass wool"'),
        ("mirror.reflectance = 0.9", "reflectance = 0.85", "reflectance = 0.9"),
    ],
)
def test_a_change_is_what_the_file_would_say(
    config: Config, tmp_path: Path, words: str, old: str, new: str
) -> None:
    text = EXAMPLE.read_text(encoding="utf-8")
    # Commented lines have the same keys; what is in use begins its line.
    assert text.count(f"\n{old}") == 1
    path = tmp_path / "suntrack.toml"
    path.write_text(text.replace(f"\n{old}", f"\n{new}"), encoding="utf-8")
    assert changed_box(config, words) == load_config(path).box


def test_parts_come_and_go(config: Config) -> None:
    bare = changed_box(config, "front = none, mirror = none")
    assert bare.front is None
    assert bare.mirror is None
    assert changed_box(config, "front = glass").front == config.box.top
    winged = changed_box(config, "side_mirrors.length = 30 cm")
    assert winged.side_mirrors is not None
    assert winged.side_mirrors.length_m == pytest.approx(0.3)
    assert changed_box(config, "side_mirrors = none").side_mirrors is None
    assert changed_box(config, "top.tempered = true").top.tempered


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("mirror.lenght = 50 cm", "Did you mean length?"),
        ("miror.length = 50 cm", "Did you mean mirror?"),
        ("dept = 50 cm", "Did you mean depth?"),
        ("mirror.length = 50", "its unit"),
        ("mirror.length = 50 kg", "10 cm to 3 m"),
        ("wall.4.thickness = 5 cm", "a layer from 1, inside, to 2"),
        ("wall.x.thickness = 5 cm", "a layer from 1"),
        ("wall.1.material = mineral wol", "Did you mean mineral wool?"),
        ("front = maybe", "none, or glass"),
        ("depth", "a key of [box]"),
        ("depth =", "a key of [box]"),
        ("..= 3", "a key of [box]"),
        ("top_frame = 20 cm", "top_frame"),
        ("depth.x = 3", "top, front, mirror, side_mirrors, wall, lining"),
    ],
)
def test_mistakes_say_where_and_what_is_near(config: Config, words: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        changed_box(config, words)
    message = str(caught.value)
    assert told in message
    assert f'whatif "{words}"' in message
    assert caught.value.exit_status == 2


def test_what_was_learned_stays(config: Config) -> None:
    learned = replace(config.box.learned, loss=1.2)
    taught = replace(config, box=replace(config.box, learned=learned))
    assert changed_box(taught, "leak = 0.1 W/K").learned == learned


def test_a_change_that_changes_nothing_brings_nothing(config: Config, sky: YearSky) -> None:
    same = weighed(config, sky, "mirror.length = 44 cm").gains[0]
    assert same.hotter_k == 0.0
    assert same.sooner_min == 0.0
    assert same.more_days == same.more_pot_days == same.more_meal_days == 0
    assert same.weaker_sun == 0.0
    assert same.fit


def test_the_sign_of_a_change_is_that_of_its_physics(config: Config, sky: YearSky) -> None:
    """Heat balance: less loss or more light never cools; the best stands first."""
    builder = weighed(
        config,
        sky,
        "leak = 0.6 W/K",
        "leak = 0.05 W/K",
        "mirror = none",
        "mirror.reflectance = 0.95",
        "top.glasses = 1",
        "wall.1.thickness = 100 mm",
    )
    for words in ("leak = 0.05 W/K", "mirror.reflectance = 0.95", "wall.1.thickness = 100 mm"):
        assert gain(builder, words).hotter_k > 0.0, words
        assert (gain(builder, words).sooner_min or -1.0) > 0.0, words
    for words in ("leak = 0.6 W/K", "mirror = none", "top.glasses = 1"):
        assert gain(builder, words).hotter_k < 0.0, words
    assert [one.hotter_k < 0.0 for one in builder.gains] == [False] * 3 + [True] * 3


CHANGES = ("leak = 0.6 W/K", "leak = 0.05 W/K", "mirror = none", "top.glass = extra-white")


@pytest.mark.parametrize("water", [False, True])
def test_what_lets_in_more_or_loses_less_stands_a_weaker_sun(
    config: Config, sky: YearSky, *, water: bool
) -> None:
    """Heat balance, for the cook's own meals and for the two litres of water alike."""
    meals = [] if water else meals_in(config)[:1]
    builder = weighed(config, sky, *CHANGES, meals=meals)
    assert builder.dishes == (() if water else ("Lentil soup",))
    assert builder.weakest_sun is not None
    assert 0.3 <= builder.weakest_sun < 1.0
    better = [gain(builder, words) for words in ("leak = 0.05 W/K", "top.glass = extra-white")]
    worse = [gain(builder, words) for words in ("leak = 0.6 W/K", "mirror = none")]
    assert all(one.weaker_sun >= 0.0 for one in better)
    assert all(one.weaker_sun < 0.0 for one in worse)
    assert all((one.meal_sooner_min or -1.0) > 0.0 for one in better)
    assert all((one.meal_sooner_min or 1.0) < 0.0 for one in worse)


def test_under_clouds_days_tell_changes_apart(config: Config) -> None:
    cloudy = usual_year(config.site, year=2026, utc_offset_h=2.0).every(12)
    builder = weighed(config, cloudy, *CHANGES, meals=meals_in(config))
    assert 0 < builder.meal_days < 365
    assert gain(builder, "mirror = none").more_meal_days < 0
    assert gain(builder, "top.glass = extra-white").more_meal_days >= 0
    days = [one.more_meal_days for one in builder.gains]
    assert days == sorted(days, reverse=True)


def test_the_luck_of_a_sample_is_told(config: Config) -> None:
    """Two standard errors of a share p of n days out of N: sqrt(p (1 - p) / n (1 - n / N))."""
    cloudy = usual_year(config.site, year=2026, utc_offset_h=2.0).every(12)
    builder = weighed(config, cloudy, meals=meals_in(config)[:1])
    half = replace(builder, meal_days=182, sample=91)
    told = " ".join(page_lines(whatif_page(half, Units(), box_name="the box")))
    # 2 x 365 sqrt(0.25 / 91 x 0.75) = 33.1
    assert "one day in 4 of the year" in told
    assert "off by about 33 either way" in told
    every = replace(builder, meal_days=365, sample=91)
    assert "either way" not in " ".join(page_lines(whatif_page(every, Units(), box_name="a box")))


def test_a_box_that_no_longer_takes_the_dishes_wins_nothing(config: Config, sky: YearSky) -> None:
    """Three pots of 25, 20 and 20 cm cover more than a floor of 40 by 30 cm (areas of squares)."""
    builder = weighed(
        config, sky, "width = 40 cm, depth = 30 cm", "height = 28 cm", meals=meals_in(config)
    )
    small = gain(builder, "width = 40 cm, depth = 30 cm")
    assert not small.fit
    assert small.more_meal_days == -builder.meal_days
    assert small.meal_sooner_min is None
    assert builder.gains[-1] is small
    lines = page_lines(whatif_page(builder, Units(), box_name="the box"))
    assert any("no longer fit" in line for line in lines)


def test_dishes_without_room_beside_each_other_are_judged_one_by_one(
    config: Config, sky: YearSky
) -> None:
    keys = ("lentil-soup", "split-pea-soup", "chickpeas", "stuffed-bird")
    meals = [Meal(dish=config.library[key], serve=time(18)) for key in keys]
    builder = weighed(config, sky, "leak = 0.05 W/K", meals=meals)
    assert len(builder.dishes) == 3
    assert not builder.together
    assert builder.meal_days > 0
    assert builder.gains[0].fit
    told = " ".join(page_lines(whatif_page(builder, Units(), box_name="the box")))
    assert "each with the box to itself" in told
    name, why = builder.refused[0]
    assert f"Not in this box: {name}. {why[:20]}" in told


def test_the_limits_are_those_of_clear_days_too(config: Config, sky: YearSky) -> None:
    """Materials are judged in the strongest light, not in that of a clouded sample."""
    dark = sky.dimmed(np.array([0.2]))
    words = "wall.1.material = expanded polystyrene"
    builder = weigh(
        config.box,
        [Change(words=words, box=changed_box(config, words))],
        kitchen=Kitchen(site=config.site, pots=config.pots),
        sky=dark,
        clear=sky,
    )
    assert any(part.part == "expanded polystyrene" for part in builder.gains[0].too_hot)


def test_days_are_counted_over_the_whole_year(config: Config, sky: YearSky) -> None:
    """At a threshold that no day reaches without its mirror, taking it away costs them all."""
    builder = weighed(config, sky, "mirror = none, top.glasses = 1", threshold_c=115.0)
    assert 0 <= builder.hot_days <= 365
    assert builder.gains[0].more_days <= 0
    assert builder.hot_days + builder.gains[0].more_days >= 0


def test_polystyrene_beside_the_lining_is_warned_of(config: Config, sky: YearSky) -> None:
    """It may be 75 C hot (tables of pipe insulation; a data sheet of extruded foam has 74)."""
    builder = weighed(config, sky, "wall.1.material = expanded polystyrene")
    parts = {part.part: part for part in builder.gains[0].too_hot}
    assert parts["expanded polystyrene"].limit_c == pytest.approx(75.0)
    lines = page_lines(whatif_page(builder, Units(), box_name="the box"))
    assert any(line.startswith("Take care: The expanded polystyrene") for line in lines)


@pytest.mark.parametrize("inches", [False, True])
@pytest.mark.parametrize("bare", [False, True])
def test_every_usual_change_can_be_built_and_differs(
    config: Config, *, inches: bool, bare: bool
) -> None:
    box = changed_box(config, "front = none, mirror = none") if bare else config.box
    words = usual_changes(box, inches=inches)
    assert len(words) >= 5
    for one in words:
        assert changed_box(config, one) != config.box or bare, one
    assert not any("poly" in one for one in words), "no foam beside a hot lining"


def test_every_key_is_told(config: Config, sky: YearSky) -> None:
    data = whatif_json(weighed(config, sky, "leak = 0.3 W/K", meals=meals_in(config)[:1]))
    assert {re.split(r"[\[.]", key)[0] for key in WHATIF_KEYS} == set(data)
    assert all(f"changes[].{key}" in WHATIF_KEYS or key == "too_hot" for key in data["changes"][0])


def test_the_days_of_the_sample_are_spread_over_the_year(sky: YearSky) -> None:
    gaps = {after - before for before, after in zip(sky.dates, sky.dates[1:], strict=False)}
    assert gaps == {timedelta(days=30)}
