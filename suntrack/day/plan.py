"""The day's plan: the road from light to steps, walked once.

    frame -> aims -> kitchen (pots, loads, fates) -> window, verdict, steps, cautions

Everything here is composition; each stop is a module of its own.
"""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np

from suntrack.day.aims import AimedDay, aim_day
from suntrack.day.cautions import cautions_for
from suntrack.day.frame import Frame, frame_day
from suntrack.day.kitchen import Cooked, cook
from suntrack.day.records import BoxSample, DayPlan, SkyNote, Step, Window
from suntrack.day.steps import day_steps
from suntrack.day.verdict import verdict_of
from suntrack.day.window import cooking_window

if TYPE_CHECKING:
    from suntrack.day.inputs import DayInputs

SAMPLE_MIN = 10
"""How often the plan's box curve is sampled.  [min]"""


def plan_day(inputs: DayInputs) -> DayPlan:
    """Return the plan of a day."""
    frame = frame_day(inputs)
    aimed = aim_day(inputs, grid=frame.grid, first_step=frame.first)
    cooked = cook(inputs, frame=frame, aimed=aimed)
    empty_c = cooked.empty.oven_c[0]
    window = cooking_window(empty_c, grid=frame.grid, threshold_c=inputs.threshold_c)
    verdict = verdict_of(window, cooked.plans, skipped=inputs.heard.skipped)
    return DayPlan(
        date=inputs.date,
        site_name=inputs.site.name,
        made_at=inputs.made_at,
        sunrise_at=_instant(frame, frame.events.rises_at_s),
        sunset_at=_instant(frame, frame.events.sets_at_s),
        solar_noon_at=datetime.fromtimestamp(frame.events.noon_at_s, tz=inputs.site.zone),
        declination_deg=inputs.declination_deg,
        verdict=verdict,
        window=window,
        turns=aimed.follow,
        turn_choices=aimed.choices,
        box=_box_curve(frame, cooked),
        dishes=cooked.plans,
        steps=_steps(inputs, aimed, cooked, window),
        cautions=_cautions(inputs, frame),
        sky=SkyNote(source=inputs.weather.source, issued_at=inputs.weather.issued_at),
    )


def _instant(frame: Frame, at_s: float | None) -> datetime | None:
    """Return an instant in local time; None stays None."""
    return None if at_s is None else datetime.fromtimestamp(at_s, tz=frame.day.zone)


def _box_curve(frame: Frame, cooked: Cooked) -> tuple[BoxSample, ...]:
    """Return the box, loaded and empty, every ten minutes."""
    every = max(1, round(SAMPLE_MIN * 60 / frame.day.step_s))
    loaded_c, empty_c = cooked.loaded.oven_c[0], cooked.empty.oven_c[0]
    return tuple(
        BoxSample(at=frame.grid.at(step), box_c=float(loaded_c[step]), empty_c=float(empty_c[step]))
        for step in range(0, frame.grid.steps + 1, every)
    )


def _steps(inputs: DayInputs, aimed: AimedDay, cooked: Cooked, window: Window) -> tuple[Step, ...]:
    """Return the steps; none on a skipped day."""
    if inputs.heard.skipped:
        return ()
    return day_steps(
        on=inputs.date,
        zone=inputs.site.zone,
        turns=aimed.follow,
        plans=cooked.plans,
        dishes=inputs.dishes,
        window=window,
    )


def _cautions(inputs: DayInputs, frame: Frame) -> tuple[str, ...]:
    """Return the cautions that belong to the day."""
    return cautions_for(
        box=inputs.box,
        dishes=[inputs.dishes[wish.dish] for wish in inputs.wishes],
        warmest_air_c=float(np.max(inputs.weather.air_c[0, frame.steps])),
        strongest_wind_m_s=float(np.max(inputs.weather.wind_m_s[0, frame.steps])),
    )
