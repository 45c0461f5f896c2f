"""Charts of a day as one picture that stands alone: for a message, a wall, a paper of one's own.

It says which place and day it is and what was answered, and at its foot what no curve can
show.  Its colours are written out, because not every drawer of SVG knows style variables.
"""

from __future__ import annotations

import textwrap
from html import escape
from typing import TYPE_CHECKING

from suntrack.screen.sheet.chart import HEIGHT, WIDTH, chart_lines
from suntrack.screen.sheet.style import picture_style
from suntrack.screen.text import day as words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from suntrack.plan.records import DayPlan
    from suntrack.screen.sheet.chart import Chart
    from suntrack.units import Units

MADE_BY_SVG = "<!-- made by suntrack -->"
"""Stands in every picture, so that a newer one may take its place."""
ALL = "all"
CHART_NAMES = ("box", "sun", "light")
"""Which charts there may be, by their `Chart.name`."""
ROOM = 8.0
"""Around the whole."""
LINE = 15.0
LETTERS, BOLD_LETTERS = 60, 46
"""How many stand on a line of each kind of type; reckoned wide."""
BOX_IS_NOT_FOOD = "The heat of the box is not that of the food."
PICTURE_STAYS = "A picture does not follow the sky; the command suntrack now does."
NOTHING = "There is nothing to draw for this day."


def chosen(charts: Sequence[Chart], name: str) -> tuple[Chart, ...]:
    """Return the charts of a name in `CHART_NAMES`, or every one for `ALL`."""
    return tuple(chart for chart in charts if name in (ALL, chart.name))


def picture_svg(plan: DayPlan, charts: Sequence[Chart], units: Units) -> str:
    """Return the picture as an SVG file; without charts it says that there are none."""
    place = f"{plan.site_name}, {words.date_words(plan.date)}"
    told = " ".join((words.headline(plan), *(chart.told for chart in charts)))
    lines = list(_parts(plan, place, charts, units))
    wide, high = WIDTH + 2.0 * ROOM, ROOM + sum(room for room, _ in lines)
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide:g} {high:g}"'
            f' width="{2.0 * wide:g}" height="{2.0 * high:g}" role="img"'
            ' aria-labelledby="title told">',
            MADE_BY_SVG,
            f'<title id="title">{escape(place)}</title>',
            f'<desc id="told">{escape(told)}</desc>',
            f"<style>{picture_style()}</style>",
            f'<rect class="paper" width="{wide:g}" height="{high:g}"/>',
            *_placed(lines),
            "</svg>\n",
        )
    )


def _parts(
    plan: DayPlan, place: str, charts: Sequence[Chart], units: Units
) -> Iterator[tuple[float, str]]:
    """Yield each part from top to bottom: how high it is, and its drawing from its own top."""
    yield from _text(place, "quiet", LETTERS)
    yield from _text(words.headline(plan), "yes" if plan.verdict.cook else "no", BOLD_LETTERS)
    if not charts:
        yield from _text(NOTHING, "said", LETTERS)
    for chart in charts:
        yield LINE + 5.0, f'<text class="caption" y="{LINE:g}">{escape(chart.title)}</text>'
        yield HEIGHT, "\n".join(chart_lines(chart, units))
    yield from _text(_foot(plan, units), "quiet", LETTERS)


def _foot(plan: DayPlan, units: Units) -> str:
    made = f"Planned at {units.time_text(plan.made_at)} on {words.date_words(plan.made_at.date())}."
    sky = words.sky_lines(plan.sky, units)
    return " ".join((*sky, made, PICTURE_STAYS, BOX_IS_NOT_FOOD, words.caution_words("food")))


def _text(said: str, kind: str, letters: int) -> Iterator[tuple[float, str]]:
    for line in textwrap.wrap(said, width=letters):
        yield LINE, f'<text class="{kind}" y="{LINE - 3.0:g}">{escape(line)}</text>'


def _placed(lines: Sequence[tuple[float, str]]) -> Iterator[str]:
    """Yield the parts, each below the one before."""
    y = ROOM / 2.0
    for room, drawing in lines:
        yield f'<g transform="translate({ROOM:g} {y:g})">{drawing}</g>'
        y += room
