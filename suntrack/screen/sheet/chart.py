"""Charts of the day sheet as SVG: curves and areas over the hours, with titles to be read out.

The drawing carries classes, never colours; a line is told from its neighbours by its dashes
as well, so that it can be read on a grey printer.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import timedelta
from html import escape
from typing import TYPE_CHECKING

from suntrack.screen.curves import hour_text

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import datetime

    from suntrack.units import Units

WIDTH, HEIGHT = 360.0, 202.0
LEFT, RIGHT, TOP, BOTTOM = 46.0, 6.0, 8.0, 52.0
LETTER = 8.0
"""Mean width of a letter of the key as it is printed, in a wide type."""
HOURS = 3
"""Every third hour has its name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """A line through the day; with `lows` the area between both."""

    name: str
    """What the cook calls it."""
    role: str
    """Its class in the style sheet."""
    at: tuple[datetime, ...]
    """The moment."""
    values: tuple[float, ...]
    """At each moment."""
    lows: tuple[float, ...] = ()
    """Lower edge of a band; empty for a line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """What one chart shows."""

    name: str
    """Unique on the sheet; the ids of its title and description begin with it."""
    title: str
    """What stands above it."""
    told: str
    """What the drawing says, for those who cannot see it."""
    curves: tuple[Curve, ...]
    """What is drawn."""
    starts_at: datetime
    """When it begins."""
    ends_at: datetime
    """When it is over."""
    low: float
    """Its lower end."""
    high: float
    """Its upper end."""
    marks: tuple[tuple[float, str], ...]
    """Values at the left edge, and how each is written."""

    def x(self, at: datetime) -> float:
        """Return how far right a moment stands."""
        share = (at - self.starts_at) / (self.ends_at - self.starts_at)
        return LEFT + share * (WIDTH - LEFT - RIGHT)

    def y(self, value: float) -> float:
        """Return how far down a value stands."""
        share = (value - self.low) / (self.high - self.low)
        return HEIGHT - BOTTOM - share * (HEIGHT - BOTTOM - TOP)


def chart_svg(chart: Chart, units: Units) -> str:
    """Return the drawing as a part of a page, whose style sheet has its classes."""
    return "\n".join(
        (
            f'<svg viewBox="0 0 {WIDTH:g} {HEIGHT:g}" role="img"'
            f' aria-labelledby="{chart.name}-title {chart.name}-told">',
            f'<title id="{chart.name}-title">{escape(chart.title)}</title>',
            f'<desc id="{chart.name}-told">{escape(chart.told)}</desc>',
            *chart_lines(chart, units),
            "</svg>",
        )
    )


def chart_lines(chart: Chart, units: Units) -> Iterator[str]:
    """Yield the pieces of the drawing, `WIDTH` by `HEIGHT`."""
    yield from _hours(chart, units)
    yield from _marks(chart)
    yield from (_drawn(chart, curve) for curve in chart.curves)
    yield from _key(chart)


def _hours(chart: Chart, units: Units) -> Iterator[str]:
    """Yield a line for every third hour, with its name where there is room."""
    at = chart.starts_at.replace(minute=0, second=0, microsecond=0)
    while at <= chart.ends_at:
        if at >= chart.starts_at and at.hour % HOURS == 0:
            x, foot = chart.x(at), HEIGHT - BOTTOM
            yield f'<path class="grid" d="M{x:.1f} {TOP:g}V{foot:g}"/>'
            where = min(max(x, LEFT + 8.0), WIDTH - RIGHT - 14.0)
            name = escape(hour_text(at, units))
            yield f'<text x="{where:.1f}" y="{foot + 13:g}" text-anchor="middle">{name}</text>'
        at += timedelta(hours=1)


def _marks(chart: Chart) -> Iterator[str]:
    for value, text in chart.marks:
        y = chart.y(value)
        yield f'<path class="grid" d="M{LEFT:g} {y:.1f}H{WIDTH - RIGHT:g}"/>'
        yield f'<text x="{LEFT - 4:g}" y="{y + 4:.1f}" text-anchor="end">{escape(text)}</text>'


def _drawn(chart: Chart, curve: Curve) -> str:
    """Return a curve or an area as one path; what is not known is a gap."""
    if curve.lows:
        points = _points(chart, curve.at, curve.values)
        back = _points(chart, curve.at[::-1], curve.lows[::-1])
        path = "M" + "L".join([*points, *back]) + "Z" if points else ""
    else:
        path = _line(chart, curve)
    return f'<path class="{curve.role}" d="{path}"/>'


def _points(chart: Chart, at: Sequence[datetime], values: Sequence[float]) -> list[str]:
    pairs = zip(at, values, strict=True)
    return [f"{chart.x(a):.1f} {chart.y(v):.1f}" for a, v in pairs if not math.isnan(v)]


def _line(chart: Chart, curve: Curve) -> str:
    parts, move = [], "M"
    for at, value in zip(curve.at, curve.values, strict=True):
        if math.isnan(value):
            move = "M"
            continue
        parts.append(f"{move}{chart.x(at):.1f} {chart.y(value):.1f}")
        move = "L"
    return "".join(parts)


def _key(chart: Chart) -> Iterator[str]:
    """Yield what each line means, under the hours, in a second row where one is too short."""
    x, y = 4.0, HEIGHT - BOTTOM + 30.0
    for curve in chart.curves:
        wide = 28.0 + LETTER * len(curve.name)
        if x > 4.0 and x + wide > WIDTH:
            x, y = 4.0, y + 16.0
        shape = f"M{x:.1f} {y - 4:g}h16" if not curve.lows else f"M{x:.1f} {y - 8:g}h16v8h-16Z"
        yield f'<path class="{curve.role}" d="{shape}"/>'
        yield f'<text x="{x + 19:.1f}" y="{y:g}">{escape(curve.name)}</text>'
        x += wide
