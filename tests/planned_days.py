"""Days of a year as the planner takes them, for comparing the season with it."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time
from typing import TYPE_CHECKING

import numpy as np

from suntrack.plan.dishes.schedule import cook
from suntrack.plan.frame import frame_day
from suntrack.plan.inputs import DayInputs
from suntrack.plan.make import plan_day
from suntrack.plan.turns.aims import aimer_of
from suntrack.sky.sun import SunTable
from suntrack.sky.weather import Weather
from suntrack.year.dish_days import DishDays, grain
from suntrack.year.exposure import outing
from suntrack.year.meal_pots import Meal, cookbook

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from suntrack.config.reader import Config
    from suntrack.feeds.season_sky import AskedYear
    from suntrack.plan.records import Wish
    from suntrack.sky.year import YearSky

LIGHTS = (
    "global_horizontal_w_m2",
    "beam_normal_w_m2",
    "diffuse_horizontal_w_m2",
    "air_c",
    "wind_m_s",
)


def meals_in(config: Config) -> list[Meal]:
    """Return the dishes of a config as the season takes them."""
    return [
        Meal(
            dish=config.library[wish.dish],
            serve=wish.serve,
            mass_kg=wish.mass_kg,
            pot=wish.pot,
            confirmed=wish.confirmed,
        )
        for wish in config.dishes
    ]


def good_at_any_mark(
    config: Config, asked: AskedYear, sky: YearSky, meal: Meal
) -> NDArray[np.bool_]:
    """Return on which days a dish by itself is good when every ten-minute mark is tried."""
    book = cookbook([meal], box=config.box, pots=config.pots, site=asked.site)
    (portion,) = book.alone
    assert portion is not None
    days = outing(config.box, asked.site, sky, free=config.free)
    dish = DishDays.of(days, portion)
    rows, marks = np.nonzero(dish.may)
    load = marks * grain(days)
    core_c = days.cores(rows, load[:, None], pots=[portion.charge], pull=dish.serve[rows][:, None])
    good = np.zeros(len(sky.dates), bool)
    good[rows[dish.judged(rows, load, core_c[:, 0]).good]] = True
    return good


def plan_inputs(
    config: Config, asked: AskedYear, sky: YearSky, day: int, picked: Sequence[int]
) -> DayInputs:
    """Return one day, as it stands at midnight, with some of the config's dishes."""
    on, zone = sky.dates[day], asked.site.zone
    there = replace(config, site=asked.site)
    wishes: tuple[Wish, ...] = there.wishes_on(on)
    return DayInputs(
        date=on,
        made_at=datetime.combine(on, time(0), tzinfo=zone),
        site=asked.site,
        box=config.box,
        pots=config.pots,
        dishes=config.library,
        wishes=tuple(wishes[i] for i in picked),
        free=there.free_on(on),
        weather=Weather(
            at_s=sky.at_s[day] - sky.step_s / 2.0,
            step_s=sky.step_s,
            source="measured",
            **{name: getattr(sky, name)[day][None] for name in LIGHTS},
        ),
        sun=SunTable(
            at_s=sky.at_s[day],
            elevation_deg=sky.elevation_deg[day],
            azimuth_deg=sky.azimuth_deg[day],
        ),
        threshold_c=config.threshold_c,
        declination_deg=0.0,
    )


def all_ready(inputs: DayInputs) -> bool:
    """Return whether the plan of a day has every dish ready by its meal."""
    return all(dish.status == "ready" for dish in plan_day(inputs).dishes)


def all_ready_by_habit(inputs: DayInputs) -> bool:
    """Return the same with the planner's kitchen, the box turned by its half-hour habit."""
    frame = frame_day(inputs)
    last = max(frame.day.step_after(wish.serve_at) for wish in inputs.wishes)
    part = frame.day.part(frame.aimed, min(max(last, frame.aimed + 12), frame.last))
    tail = frame.grid.steps - frame.lead - part.steps
    aimer = aimer_of(inputs, grid=part, first_step=frame.aimed, lead=frame.lead, tail=tail)
    cooked = cook(inputs, frame=frame, aimed=aimer.day(aimer.habit(), name="habit"))
    return all(dish.status == "ready" for dish in cooked.plans)
