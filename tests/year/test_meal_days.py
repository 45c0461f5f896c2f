"""A year of days judged by dishes: against the planner, day by day, and what has to hold.

The days are of NREL's TMY3 of Greensboro NC and TMY2 of Miami, as pvlib ships them.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import time
from pathlib import Path

import numpy as np
import pvlib
import pytest
from planned_days import all_ready_by_habit, good_at_any_mark, meals_in, plan_inputs

from suntrack.config.reader import Config
from suntrack.feeds.season_sky import AskedYear, asked_year
from suntrack.food.official import HOT_DAY_C
from suntrack.sky.year import YearSky, clear_year
from suntrack.year.exposure import outing
from suntrack.year.meal_days import MealYear, meal_year
from suntrack.year.meal_pots import Meal, cookbook

DATA = Path(pvlib.__file__).parent / "data"
CAROLINA, MIAMI = "723170TYA.CSV", "12839.tm2"


def meal(config: Config, key: str, serve: str = "13:00", **more: object) -> Meal:
    return replace(Meal(dish=config.library[key], serve=time.fromisoformat(serve)), **more)  # type: ignore[arg-type]


def year_of(
    config: Config, sky: YearSky, *meals: Meal, free: tuple[tuple[time, time], ...] = ()
) -> MealYear:
    book = cookbook(meals, box=config.box, pots=config.pots, site=config.site)
    return meal_year(config.box, config.site, sky, book=book, free=free)


@pytest.fixture(scope="module")
def clear(config: Config) -> YearSky:
    return clear_year(config.site, year=2026, utc_offset_h=2.0, every=40)


@pytest.fixture(scope="module")
def carolina(config: Config) -> AskedYear:
    return asked_year(config, str(DATA / CAROLINA), year=2026, usual="clear")


def test_days_are_what_the_planner_says(config: Config, carolina: AskedYear) -> None:
    """The planner's own kitchen, the box turned by its half-hour habit, day by day.

    A few marginal days may differ: the year walks longer strides and turns to the degree.
    Counted over more years, and for plans as made, by `tests/benchmarks/agree_season.py`.
    """
    sky = carolina.sky.every(12)
    meals = meals_in(config)
    book = cookbook(meals, box=config.box, pots=config.pots, site=carolina.site)
    found = meal_year(config.box, carolina.site, sky, book=book, free=config.free)
    for picked in ([0], [1], [2], [0, 1, 2]):
        mine = found.together if len(picked) > 1 else found.good[picked[0]]
        theirs = np.array(
            [
                all_ready_by_habit(plan_inputs(config, carolina, sky, day, picked))
                for day in range(len(sky.dates))
            ]
        )
        assert 0 < theirs.sum() < theirs.size
        assert (mine != theirs).sum() <= 2, picked


def test_no_day_is_good_that_no_mark_makes_good(config: Config, carolina: AskedYear) -> None:
    """Against every ten-minute mark (`tests/benchmarks/search_season.py` counts whole years)."""
    sky = carolina.sky.every(9)
    there = replace(config, site=carolina.site)
    for mine in (meal(config, "chicken-pieces", "18:00"), meal(config, "fish-fillets")):
        found = year_of(there, sky, mine, free=config.free).good[0]
        every = good_at_any_mark(config, carolina, sky, mine)
        assert not (found & ~every).any()
        assert (every & ~found).sum() <= 1
        assert 0 < every.sum() < every.size


def test_clouds_and_clocks_are_judged_on_the_day_they_come(
    config: Config, carolina: AskedYear
) -> None:
    """Days are independent: in one batch, alone, or in another order they come out alike."""
    sky = carolina.sky.every(25)
    meals = [meal(config, "lentil-soup"), meal(config, "chicken-pieces", "18:00")]
    book = cookbook(meals, box=config.box, pots=config.pots, site=carolina.site)
    whole = meal_year(config.box, carolina.site, sky, book=book)
    every = meal_year(config.box, carolina.site, sky.every(3), book=book)
    np.testing.assert_array_equal(whole.good[:, 1::3], every.good)
    np.testing.assert_array_equal(whole.together[1::3], every.together)


def test_together_is_never_more_than_each_alone(config: Config, carolina: AskedYear) -> None:
    sky = carolina.sky.every(9)
    meals = [
        meal(config, "lentil-soup"),
        meal(config, "winter-squash", pot="baking tin"),
        meal(config, "chicken-pieces", "18:00"),
    ]
    found = year_of(replace(config, site=carolina.site), sky, *meals)
    assert (found.together <= found.good.all(axis=0)).all()
    assert np.isfinite(found.ready_s).sum() == found.good.sum()
    assert 0 < found.together.sum() < found.good[2].sum()


def test_a_weaker_sun_makes_no_dish_good(config: Config, clear: YearSky) -> None:
    """Energy: dimmed light heats less."""
    shares = np.array([1.0, 0.7, 0.5, 0.3])
    found = year_of(config, clear.dimmed(shares), meal(config, "lentil-soup"))
    good = found.good[0].reshape(shares.size, -1).sum(axis=1)
    assert good[0] == len(clear.dates)
    assert good[-1] == 0
    assert (np.diff(good) <= 0).all()


def test_a_refused_dish_is_refused_and_never_counts(config: Config, clear: YearSky) -> None:
    """FDA Bad Bug Book: kidney beans are boiled first; USDA: no stuffed birds (food rules)."""
    meals = [meal(config, "kidney-beans"), meal(config, "stuffed-bird"), meal(config, "cabbage")]
    book = cookbook(meals, box=config.box, pots=config.pots, site=config.site)
    assert "boil" in book.refused[0]
    assert book.refused[1]
    assert not book.refused[2]
    found = meal_year(config.box, config.site, clear, book=book)
    assert not found.good[:2].any()
    np.testing.assert_array_equal(found.together, found.good[2])
    told = cookbook(
        [replace(meals[0], confirmed=True)], box=config.box, pots=config.pots, site=config.site
    )
    assert told.refused == ("",)


def test_meat_is_not_counted_in_a_pot_without_a_tight_lid(config: Config) -> None:
    """USDA on slow cooking: moist and lidded (as the food rules cite it)."""
    tin = meal(config, "chicken-pieces", pot="baking tin")
    book = cookbook([tin], box=config.box, pots=config.pots, site=config.site)
    assert book.refused[0]


def test_what_has_no_room_beside_the_others_is_told(config: Config, clear: YearSky) -> None:
    meals = [meal(config, key) for key in ("lentil-soup", "split-pea-soup", "chickpeas")]
    book = cookbook(meals, box=config.box, pots=config.pots, site=config.site)
    assert len(book.going) == 3
    assert not book.all_fit
    found = meal_year(config.box, config.site, clear, book=book)
    assert found.good.any()
    assert not found.together.any()


def test_nobody_there_nothing_goes_in(config: Config, clear: YearSky) -> None:
    """A dish that would have to be loaded before the cook is there is not good."""
    evening = ((time(19, 0), time(0)),)
    found = year_of(config, clear, meal(config, "lentil-soup", "19:30"), free=evening)
    assert not found.good.any()
    early = ((time(0), time(9, 0)), (time(18, 0), time(0)))
    away = year_of(config, clear, meal(config, "lentil-soup", "18:00"), free=early)
    home = year_of(config, clear, meal(config, "lentil-soup", "18:00"))
    assert away.good.sum() <= home.good.sum()
    assert away.good.any()


def test_a_meal_before_the_sun_is_never_good(config: Config, clear: YearSky) -> None:
    found = year_of(config, clear, meal(config, "lentil-soup", "06:00"))
    assert not found.good.any()
    assert not found.together.any()


def test_hot_air_runs_the_clocks_double(config: Config) -> None:
    """USDA FSIS: above 90 F one hour stands for two; the day is judged with its own air."""
    miami = asked_year(config, str(DATA / MIAMI), year=2026, usual="clear")
    july = miami.sky.every(31)
    days = outing(config.box, miami.site, july)
    assert (days.climate.air_c > HOT_DAY_C.value).any()
    hot = replace(july, air_c=np.maximum(july.air_c, 33.0))
    there = replace(config, site=miami.site)
    stew = meal(config, "goat-stew", "18:00")
    # More heat from outside can only help the pot, so what is lost is lost to the clocks.
    assert year_of(there, hot, stew).good.sum() <= year_of(there, july, stew).good.sum()


def test_the_box_waits_covered_for_the_cook(config: Config, clear: YearSky) -> None:
    days = outing(config.box, config.site, clear, free=((time(9, 0), time(12, 0)),))
    step = days.step_of(time(9, 0))[0]
    assert days.light.inside_w[:, :step].max() == 0.0
    assert (days.light.inside_w[:, step + 1] > 0.0).all()
    assert not days.there[:, days.step_of(time(12, 0))[0] :].any()
    np.testing.assert_allclose(np.diff(days.climate.air_c[:, :step], axis=1), 0.0)


def test_meals_keep_to_the_clock_that_changes(config: Config) -> None:
    """In New York clocks went forward on 8 March 2026 (US rule: second Sunday, from memory)."""
    site = replace(
        config.site, latitude_deg=40.7, longitude_deg=-74.0, time_zone="America/New_York"
    )
    sky = clear_year(site, year=2026, utc_offset_h=-5.0)
    days = outing(config.box, site, sky)
    steps = days.step_of(time(13, 0))
    before, after = steps[66 - 1], steps[66 + 1]
    assert sky.dates[66].isoformat() == "2026-03-08"
    assert (before - after) * days.step_s == pytest.approx(3600.0)


def test_without_any_sun_no_day_is_good(config: Config) -> None:
    """At 75 degrees north the sun stays down from November to February."""
    site = replace(config.site, latitude_deg=75.0, longitude_deg=20.0, time_zone="Etc/GMT-1")
    sky = clear_year(site, year=2026, utc_offset_h=1.0, every=20)
    found = year_of(replace(config, site=site), sky, meal(config, "lentil-soup"))
    dark = [i for i, on in enumerate(sky.dates) if on.month in (12, 1)]
    assert not found.good[0, dark].any()


def test_a_mirror_that_is_set_once_a_day_stays_as_it_is_set(config: Config, clear: YearSky) -> None:
    """One angle all day takes in no more light than one that follows."""
    assert config.box.mirror is not None
    still = replace(config.box, mirror=replace(config.box.mirror, once_a_day=True))
    moved = outing(config.box, config.site, clear).light.inside_w.sum(axis=1)
    kept = outing(still, config.site, clear).light.inside_w.sum(axis=1)
    assert (kept < moved).all()
    assert (kept > 0.8 * moved).all()


def test_while_nobody_is_there_nobody_turns_the_box(config: Config, clear: YearSky) -> None:
    """Aimed for the middle of the absence it takes in less than followed, more than left behind."""
    free = ((time(0), time(9)), (time(15), time(0)))
    home = outing(config.box, config.site, clear).light.inside_w
    days = outing(config.box, config.site, clear, free=free)
    gone = slice(int(days.step_of(time(9))[0]) + 1, int(days.step_of(time(15))[0]))
    away = days.light.inside_w[:, gone].sum(axis=1)
    followed = home[:, gone].sum(axis=1)
    assert (away < followed).all()
    assert (away > 0.6 * followed).all()
    early = outing(config.box, config.site, clear, free=((time(0), time(8)),)).light.inside_w
    # The last turn before eight is at half past seven, and is for the whole rest of the day.
    last = int(days.step_of(time(7, 30))[0])
    np.testing.assert_allclose(early[:, :last], home[:, :last])
