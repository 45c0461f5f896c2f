"""From the plan to the charts of the day sheet: the box, the sun, the light."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from suntrack.screen.curves import GRAIN_C, box_range_c
from suntrack.screen.sheet.chart import Chart, Curve
from suntrack.screen.text import day as words

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from suntrack.plan.light_curve import LightSample
    from suntrack.plan.records import BoxSample, DayPlan
    from suntrack.units import Units

WATTS = 100.0
"""The scale of light ends at a multiple of this.  [W]"""


def charts_of(plan: DayPlan, units: Units, shine: Sequence[LightSample] = ()) -> tuple[Chart, ...]:
    """Return the charts there is something for, all over the same hours."""
    up = [sample for sample in shine if sample.sun_deg > 0.0]
    known = [*(sample.at for sample in plan.box), *(sample.at for sample in up)]
    if not known or min(known) == max(known):
        return ()
    span = (min(known), max(known))
    found = (
        box_chart_of(plan, units, span=span),
        sun_chart_of(up, units, span=span),
        light_chart_of(up, span=span),
    )
    return tuple(chart for chart in found if chart is not None)


def box_chart_of(
    plan: DayPlan, units: Units, *, span: tuple[datetime, datetime] | None = None
) -> Chart | None:
    """Return the box through the day, with the band of its skies; None for no samples."""
    if len(plan.box) < 2:
        return None
    limit = plan.window.threshold_c
    banded = [sample for sample in plan.box if sample.high_c is not None]
    low, high = box_range_c(plan.box, limit)
    high = max([high, *(sample.high_c or high for sample in banded)])
    coldest = min([low, *(sample.low_c for sample in banded if sample.low_c is not None)])
    low = math.floor(coldest / GRAIN_C) * GRAIN_C
    starts_at, ends_at = span or (plan.box[0].at, plan.box[-1].at)
    return Chart(
        name="box",
        title="Box temperature",
        told=words.window_words(plan.window, units),
        curves=(*_band(banded), *_box_lines(plan.box, limit=limit)),
        starts_at=starts_at,
        ends_at=ends_at,
        low=low,
        high=high,
        marks=tuple((c, units.temperature_text(c)) for c in _apart(low, limit, high)),
    )


def _apart(low: float, middle: float, high: float) -> list[float]:
    """Return the values to write at the edge; the middle one only where it stands clear."""
    near = 0.12 * (high - low)
    return [low, *([middle] if low + near < middle < high - near else []), high]


def _band(samples: Sequence[BoxSample]) -> list[Curve]:
    """Return the band that 8 of 10 skies stay in; nothing without skies."""
    if len(samples) < 2:
        return []
    highs = tuple(sample.high_c or sample.box_c for sample in samples)
    lows = tuple(sample.low_c or sample.box_c for sample in samples)
    at = tuple(sample.at for sample in samples)
    return [Curve(name="8 of 10 days", role="band", at=at, values=highs, lows=lows)]


def _box_lines(samples: Sequence[BoxSample], *, limit: float) -> list[Curve]:
    at = tuple(sample.at for sample in samples)
    return [
        Curve(name="hot enough", role="threshold", at=(at[0], at[-1]), values=(limit, limit)),
        Curve(name="empty", role="empty", at=at, values=tuple(s.empty_c for s in samples)),
        Curve(name="loaded", role="loaded", at=at, values=tuple(s.box_c for s in samples)),
    ]


def sun_chart_of(
    up: Sequence[LightSample], units: Units, *, span: tuple[datetime, datetime]
) -> Chart | None:
    """Return the height of the sun over what hides it; None when it does not rise."""
    if len(up) < 2:
        return None
    best = max(up, key=lambda sample: sample.sun_deg)
    hidden = sum(sample.sun_deg <= sample.skyline_deg for sample in up)
    at = tuple(sample.at for sample in up)
    ground = tuple(max(sample.skyline_deg, 0.0) for sample in up)
    high = math.ceil(max(best.sun_deg, *ground) / 10.0) * 10.0
    return Chart(
        name="sun",
        title="Sun over the skyline",
        told=f"The sun is highest at {units.time_text(best.at)}, {best.sun_deg:.0f} degrees."
        f" The skyline hides it for about {hidden * 10} minutes of the day.",
        curves=(
            Curve(name="skyline", role="skyline", at=at, values=ground, lows=(0.0,) * len(at)),
            Curve(name="sun", role="sun", at=at, values=tuple(s.sun_deg for s in up)),
        ),
        starts_at=span[0],
        ends_at=span[1],
        low=0.0,
        high=high,
        marks=((0.0, "0°"), (high, f"{high:.0f}°")),
    )


def light_chart_of(up: Sequence[LightSample], *, span: tuple[datetime, datetime]) -> Chart | None:
    """Return the light that gets in by each way; None when none does."""
    most = max((max(s.top_w, s.front_w, s.mirror_w) for s in up), default=0.0)
    if len(up) < 2 or most <= 0.0:
        return None
    at = tuple(sample.at for sample in up)
    ways = {
        "top": ("top glass", tuple(s.top_w for s in up)),
        "front": ("front glass", tuple(s.front_w for s in up)),
        "mirror": ("by the mirror", tuple(s.mirror_w for s in up)),
    }
    high = math.ceil(most / WATTS) * WATTS
    used = {role: (name, watts) for role, (name, watts) in ways.items() if max(watts) > 0.0}
    return Chart(
        name="light",
        title="Light taken in",
        told=" ".join(f"At most {max(watts):.0f} watts: {name}." for name, watts in used.values()),
        curves=tuple(
            Curve(name=name, role=role, at=at, values=watts) for role, (name, watts) in used.items()
        ),
        starts_at=span[0],
        ends_at=span[1],
        low=0.0,
        high=high,
        marks=((0.0, "0 W"), (high, f"{high:.0f} W")),
    )
