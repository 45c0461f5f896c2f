"""The day's plan: the road from light to steps, walked once.

    frame -> turning (aims, kitchen: pots, loads, fates) -> mends -> outlook (chances)
        -> window, verdict, steps, cautions

Everything here is composition; each stop is a module of its own.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np

from suntrack.plan.cautions import cautions_for
from suntrack.plan.frame import Frame, frame_day
from suntrack.plan.outlook import Outlook, outlook
from suntrack.plan.records import (
    BoxSample,
    DayPlan,
    Guarding,
    SkyNote,
    Step,
    TurnChoice,
    Window,
)
from suntrack.plan.remedies import with_mends
from suntrack.plan.revision import revisions
from suntrack.plan.standing import clock_run_on
from suntrack.plan.steps import day_steps
from suntrack.plan.turns.settle import settle
from suntrack.plan.verdict import verdict_of
from suntrack.plan.wind_rain import day_guards, with_guards
from suntrack.plan.window import cooking_window

if TYPE_CHECKING:
    from collections.abc import Callable

    from suntrack.plan.dishes.schedule import Cooked
    from suntrack.plan.inputs import DayInputs
    from suntrack.plan.turns.aims import AimedDay

SAMPLE_MIN = 10
"""How often the plan's box curve is sampled.  [min]"""


def plan_day(inputs: DayInputs, *, stop: Callable[[], bool] = lambda: False) -> DayPlan:
    """Return the plan of a day; once `stop` returns True, with the best loads found so far."""
    frame = frame_day(inputs)
    settled = settle(inputs, frame=frame, last_use=_last_use(inputs, frame), stop=stop)
    aimed, cooked = settled.aimed, settled.cooked
    cooked = replace(cooked, plans=with_mends(inputs, frame=frame, aimed=aimed, cooked=cooked))
    skies = outlook(inputs, frame=frame, cooked=cooked)
    empty_c = cooked.empty.oven_c[0]
    window = cooking_window(empty_c, grid=frame.grid, threshold_c=inputs.threshold_c)
    verdict = verdict_of(
        window,
        skies.dishes,
        skipped=inputs.heard.skipped,
        ends_at=frame.grid.at(frame.grid.steps),
        chances=skies.chances,
    )
    guards = day_guards(inputs, frame)
    plan = DayPlan(
        date=inputs.date,
        site_name=inputs.site.name,
        made_at=inputs.made_at,
        sunrise_at=_instant(frame, frame.events.rises_at_s),
        sunset_at=_instant(frame, frame.events.sets_at_s),
        solar_noon_at=datetime.fromtimestamp(frame.events.noon_at_s, tz=inputs.site.zone),
        declination_deg=inputs.declination_deg,
        verdict=verdict,
        window=window,
        turns=_told_chance(aimed.choice, aimed.choice, skies),
        turn_choices=tuple(_told_chance(c, aimed.choice, skies) for c in settled.choices),
        turn_table=tuple(_told_chance(c, aimed.choice, skies) for c in settled.table),
        box=_box_curve(frame, cooked, skies),
        dishes=tuple(clock_run_on(d, known=inputs.dishes[d.key]) for d in skies.dishes),
        steps=with_guards(_steps(inputs, aimed, cooked, window), guards),
        cautions=_cautions(inputs, frame, guards),
        sky=inputs.sky or SkyNote(source=inputs.weather.source, issued_at=inputs.weather.issued_at),
        chances=skies.chances,
        guards=guards,
        side_mirrors_deg=inputs.box.side_mirrors.angle_deg if inputs.box.side_mirrors else None,
    )
    return replace(plan, revisions=revisions(inputs, plan))


def _told_chance(choice: TurnChoice, follow: TurnChoice, skies: Outlook) -> TurnChoice:
    """Return a way to turn, the followed one with the chance that the plan itself tells.

    The others are only tried: under fewer skies, with everything as early as would help.
    """
    good = None if skies.chances is None else skies.chances.good
    if good is None or choice.chance is None or choice.turns != follow.turns:
        return choice
    return replace(choice, chance=good)


def _last_use(inputs: DayInputs, frame: Frame) -> int:
    """Return the step of the day up to which aiming matters: the last meal, else the end."""
    if not inputs.wishes:
        return frame.last
    last_meal = max(frame.day.step_after(wish.serve_at) for wish in inputs.wishes)
    shortest = frame.aimed + round(3600.0 / frame.day.step_s)
    return min(max(last_meal, shortest), frame.last)


def _instant(frame: Frame, at_s: float | None) -> datetime | None:
    """Return an instant in local time; None stays None."""
    return None if at_s is None else datetime.fromtimestamp(at_s, tz=frame.day.zone)


def _box_curve(frame: Frame, cooked: Cooked, skies: Outlook) -> tuple[BoxSample, ...]:
    """Return the box, loaded and empty, every ten minutes."""
    every = max(1, round(SAMPLE_MIN * 60 / frame.day.step_s))
    loaded_c, empty_c = cooked.loaded.oven_c[0], cooked.empty.oven_c[0]
    samples = tuple(
        BoxSample(at=frame.grid.at(step), box_c=float(loaded_c[step]), empty_c=float(empty_c[step]))
        for step in range(0, frame.grid.steps + 1, every)
    )
    return skies.box(samples, every=every)


def _steps(inputs: DayInputs, aimed: AimedDay, cooked: Cooked, window: Window) -> tuple[Step, ...]:
    """Return the steps; none when nothing is cooked, nor for what has been taken out.

    On a skipped day only taking out what is already in is left.
    """
    steps = day_steps(
        on=inputs.date,
        zone=inputs.site.zone,
        turns=aimed.choice,
        plans=cooked.plans,
        dishes=inputs.dishes,
        window=window,
    )
    if not inputs.heard.skipped:
        out = {w.dish for w in inputs.wishes if w.pulled_at is not None}
        cooks = any(plan.load_at is not None for plan in cooked.plans)
        if not cooks and (cooked.plans or window.opens_at is None):
            return ()
        return tuple(step for step in steps if step.dish not in out)
    inside = {w.dish for w in inputs.wishes if w.loaded_at is not None and w.pulled_at is None}
    return tuple(step for step in steps if step.kind == "pull" and step.dish in inside)


def _cautions(inputs: DayInputs, frame: Frame, guards: tuple[Guarding, ...]) -> tuple[str, ...]:
    """Return the cautions that belong to the day."""
    return cautions_for(
        box=inputs.box,
        dishes=[inputs.dishes[wish.dish] for wish in inputs.wishes],
        warmest_air_c=float(np.max(inputs.weather.air_c[0, frame.steps])),
        strongest_wind_m_s=float(np.max(inputs.weather.wind_m_s[0, frame.steps])),
        guards=guards,
    )
