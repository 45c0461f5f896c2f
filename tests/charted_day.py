"""A day's sun and light by hand, for the charts of the sheet."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from suntrack.plan.light_curve import LightSample
from suntrack.plan.records import DayPlan
from suntrack.screen.sheet.chart import Chart
from suntrack.screen.sheet.curves import charts_of
from suntrack.units import Units


def shine_of_day(plan: DayPlan) -> tuple[LightSample, ...]:
    start = plan.box[0].at
    return tuple(
        LightSample(
            at=start + timedelta(minutes=10 * i),
            sun_deg=85.0 - abs(i - 37) * 2.2,
            skyline_deg=max(14.0 - i, 0.0),
            top_w=190.0 - 5.0 * abs(i - 37),
            front_w=90.0,
            mirror_w=60.0,
        )
        for i in range(75)
    )


def charts_on(plan: DayPlan, units: Units | None = None) -> tuple[Chart, ...]:
    return charts_of(plan, units or Units(), shine_of_day(plan))


def heavy(plan: DayPlan) -> DayPlan:
    """Return a day with more than most kitchens will do: six dishes, twenty steps."""
    return replace(plan, dishes=plan.dishes * 3, steps=(*plan.steps, *plan.steps[:10]))
