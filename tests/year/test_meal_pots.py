"""Meals in their pots, as a plan seats and refuses them."""

from __future__ import annotations

from datetime import time

import numpy as np
import pytest

from suntrack.config.reader import Config
from suntrack.food.properties import boiling_c
from suntrack.sky.year import clear_year
from suntrack.year.dish_days import DishDays, grain
from suntrack.year.exposure import outing
from suntrack.year.meal_pots import Meal, cookbook


def test_a_pot_is_free_again_a_quarter_of_an_hour_after_its_meal(config: Config) -> None:
    """The planner's own washing time; the second dish goes in after it, on every day."""
    noon = Meal(dish=config.library["cabbage"], serve=time(12))
    supper = Meal(dish=config.library["root-stew"], serve=time(18))
    book = cookbook([supper, noon], box=config.box, pots=config.pots[:1], site=config.site)
    assert book.all_fit
    late, early = book.together
    assert late is not None
    assert early is not None
    assert (late.free_from, early.free_from) == (time(12, 15), None)
    alone = book.alone[0]
    assert alone is not None
    assert alone.free_from is None
    sky = clear_year(config.site, year=2026, utc_offset_h=2.0, every=90)
    days = outing(config.box, config.site, sky)
    first = DishDays.of(days, late).first() * grain(days)
    assert (first >= days.step_of(time(12, 15))).all()
    assert (first <= days.step_of(time(12, 30))).all()


def test_the_amount_is_the_cook_s_or_the_library_s(config: Config) -> None:
    dish = config.library["lentil-soup"]
    one, two = (
        cookbook(
            [Meal(dish=dish, serve=time(13), mass_kg=kg, pot="wide pot")],
            box=config.box,
            pots=config.pots,
            site=config.site,
        ).alone[0]
        for kg in (None, 1.0)
    )
    assert one is not None
    assert two is not None
    # Soup is near water, 4.18 kJ/(kg K) (steam tables); lentils take some of it off.
    assert one.charge.pot_j_k - two.charge.pot_j_k == pytest.approx(
        (dish.mass_kg - 1.0) * 4180.0, rel=0.15
    )
    assert one.charge.boiling_c == boiling_c(elevation_m=config.site.elevation_m)


def test_too_much_for_every_pot_is_told(config: Config) -> None:
    feast = Meal(dish=config.library["lentil-soup"], serve=time(13), mass_kg=20.0)
    book = cookbook([feast], box=config.box, pots=config.pots, site=config.site)
    assert "too much" in book.refused[0]
    assert book.going == ()


def test_days_with_hot_air_are_judged_apart(config: Config) -> None:
    """USDA FSIS: one hour instead of two above 90 F, 32.2 C."""
    sky = clear_year(config.site, year=2026, utc_offset_h=2.0, every=60)
    days = outing(config.box, config.site, sky)
    book = cookbook(
        [Meal(dish=config.library["cabbage"], serve=time(13))],
        box=config.box,
        pots=config.pots,
        site=config.site,
    )
    portion = book.alone[0]
    assert portion is not None
    mild = DishDays.of(days, portion)
    assert set(mild.like.tolist()) == {0}
    days.climate.air_c[2, 100:] = 35.0
    warm = DishDays.of(days, portion)
    assert np.flatnonzero(warm.like == warm.like[2]).tolist() == [2]
    assert (warm.air_c[warm.like[2]][100:] > 32.2).all()
    assert (warm.air_c[warm.like[2]][:100] <= 32.2).all()
