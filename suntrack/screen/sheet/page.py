"""The day as one sheet: a page for the kitchen wall and for a phone, whole in itself.

No font, script or picture comes from elsewhere; a policy in the head forbids it as well.
The order is that of the work: the answer, the steps, the dishes, the care, the curves.
"""

from __future__ import annotations

import re
from html import escape
from typing import TYPE_CHECKING

from suntrack.screen.sheet.chart import chart_svg
from suntrack.screen.sheet.fit import Amount, fitting
from suntrack.screen.sheet.style import style_sheet
from suntrack.screen.text import day as words
from suntrack.screen.text.measures import in_units
from suntrack.screen.text.notices import GLOVES
from suntrack.screen.text.revision import mend_lines, revision_lines

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from suntrack.plan.records import DayPlan, DishPlan, Step
    from suntrack.screen.sheet.chart import Chart
    from suntrack.units import Units

MADE_BY = '<meta name="generator" content="suntrack">'
POLICY = "default-src 'none'; style-src 'unsafe-inline'"
COLUMNS = (
    ("in", "In"), ("done", "Done"), ("safe heat", "Safe heat"), ("out", "Out"), ("meal", "Meal"),
)  # fmt: skip
KEPT = re.compile(r"(\d) (am|pm|%|°C|°F|mm|cm|in|kg)(?!\w)")
PAPER_STAYS = "A sheet does not follow the sky; the command suntrack now does."
PAGE = """\
<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="{policy}">
{made_by}
<title>{title}</title>
<style>
{style}</style>
</head>
<body>
<main>
{body}
</main>
</body>
</html>
"""


def sheet_html(plan: DayPlan, units: Units, *, charts: Sequence[Chart] = ()) -> str:
    """Return the sheet of a day as one HTML file, with the charts of `charts_of`."""
    fit = fitting(amount_of(plan, units, charts=len(charts)))
    return PAGE.format(
        policy=POLICY,
        made_by=MADE_BY,
        title=_said(_place(plan)),
        style=style_sheet(fit),
        body="\n".join(_body(plan, units, charts)),
    )


def amount_of(plan: DayPlan, units: Units, *, charts: int) -> Amount:
    """Return what stands on the sheet, to be counted."""
    steps = [(words.step_words(s, plan, units), words.step_detail(s, plan)) for s in plan.steps]
    outs = words.take_out_lines(plan, units)
    return Amount(
        head=(
            *("", ""),
            *outs,
            f"{plan.verdict.reason} {words.window_words(plan.window, units)}" * 2,
        ),
        why=(*_why(plan, units), _made(plan, units)),
        steps=tuple((what, "" if hint == GLOVES else hint) for what, hint in steps),
        dishes=tuple(_dish_texts(dish, units) for dish in plan.dishes),
        charts=charts,
        care=tuple(_cautions(plan, units)),
    )


def _dish_texts(dish: DishPlan, units: Units) -> tuple[str, ...]:
    return (f"{dish.name} ({dish.pot})", _stands(dish, units), *_notes(dish, units))


def _body(plan: DayPlan, units: Units, charts: Sequence[Chart]) -> Iterator[str]:
    yield from _answer(plan, units)
    yield '<div class="parts">'
    yield from _steps(plan, units)
    yield from _dishes(plan, units)
    yield "</div>"
    yield from _care(plan, units)
    yield from _charts(charts, units, place=_place(plan))


def _place(plan: DayPlan) -> str:
    return f"{plan.site_name}, {words.date_words(plan.date)}"


def _answer(plan: DayPlan, units: Units) -> Iterator[str]:
    """Yield the place, the day, the answer, and why."""
    role = "yes" if plan.verdict.cook else "no"
    yield f'<header><p class="place">{_said(_place(plan))}</p>'
    yield from (f'<p class="no">{_said(line)}</p>' for line in words.take_out_lines(plan, units))
    yield f'<h1 class="{role}">{_said(words.headline(plan))}</h1>'
    yield f"<p>{_said(plan.verdict.reason)} {_said(words.window_words(plan.window, units))}</p>"
    yield '<div class="why">'
    yield from (f"<p>{_said(line)}</p>" for line in _why(plan, units))
    yield f'<p class="made">{_said(_made(plan, units))}</p></div></header>'


def _why(plan: DayPlan, units: Units) -> tuple[str, ...]:
    return (*revision_lines(plan, units), *words.chance_lines(plan, units))


def _steps(plan: DayPlan, units: Units) -> Iterator[str]:
    """Yield the steps, each with a box to tick."""
    yield '<section aria-labelledby="steps"><h2 id="steps">Steps</h2>'
    if not plan.steps:
        yield "<p>No steps.</p>"
    yield '<ol class="steps">'
    yield from (_step(i, step, plan, units) for i, step in enumerate(plan.steps, start=1))
    yield "</ol></section>"


def _step(number: int, step: Step, plan: DayPlan, units: Units) -> str:
    detail = words.step_detail(step, plan)
    kind = "hint gloves" if detail == GLOVES else "hint"
    hint = f'<span class="{kind}">{_said(detail)}</span>' if detail else ""
    when = _said(words.step_when(step, plan, units))
    what = _said(words.step_words(step, plan, units))
    name = f"step-{number}"
    return (
        f'<li><input type="checkbox" id="{name}">'
        f'<time datetime="{step.at.isoformat()}">{when}</time>'
        f'<label for="{name}">{what}{hint}</label></li>'
    )


def _dishes(plan: DayPlan, units: Units) -> Iterator[str]:
    """Yield the dishes as a table: done and safe heat are two columns."""
    if not plan.dishes:
        return
    heads = "".join(f'<th scope="col">{head}</th>' for head in ("Dish", *dict(COLUMNS).values()))
    yield '<section aria-labelledby="dishes"><h2 id="dishes">Dishes</h2>'
    yield f"<table><thead><tr>{heads}</tr></thead>"
    for dish in plan.dishes:
        yield from _dish(dish, units)
    yield "</table></section>"


def _dish(dish: DishPlan, units: Units) -> Iterator[str]:
    facts = dict(words.dish_facts(dish, units))
    pot = f' <span class="pot">({_said(dish.pot)})</span>' if dish.pot else ""
    cells = "".join(f"<td>{escape(facts.get(key, '-'))}</td>" for key, _ in COLUMNS)
    yield f'<tbody><tr><th scope="row">{_said(dish.name)}{pot}</th>{cells}</tr>'
    said = f'<span class="status">{_said(_stands(dish, units))}</span>'
    notes = _list(_notes(dish, units))
    yield f'<tr><td class="note" colspan="{len(COLUMNS) + 1}">{said}{notes}</td></tr></tbody>'


def _stands(dish: DishPlan, units: Units) -> str:
    """Return how a dish stands, and the times that have no column."""
    shown = dict(COLUMNS)
    rest = [f"{what} {at}" for what, at in words.dish_facts(dish, units) if what not in shown]
    said = ", ".join((words.status_words(dish), *rest))
    return f"{said[:1].upper()}{said[1:]}."


def _notes(dish: DishPlan, units: Units) -> tuple[str, ...]:
    return (*(in_units(note, units) for note in dish.notes), *mend_lines(dish, units))


def _charts(charts: Sequence[Chart], units: Units, *, place: str) -> Iterator[str]:
    """Yield the curves; on a sheet of their own they say again of which day they are."""
    if not charts:
        return
    again = f'<span class="again">: {_said(place)}</span>'
    yield '<section class="charts" aria-labelledby="curves">'
    yield f'<h2 id="curves">The day in curves{again}</h2>'
    yield '<div class="row">'
    for chart in charts:
        yield f"<figure><figcaption>{_said(chart.title)}</figcaption>{chart_svg(chart, units)}"
        yield "</figure>"
    yield "</div></section>"


def _cautions(plan: DayPlan, units: Units) -> list[str]:
    lines = [words.guard_words(guard, units) for guard in plan.guards]
    return lines + [words.caution_words(name) for name in plan.cautions]


def _care(plan: DayPlan, units: Units) -> Iterator[str]:
    lines = _cautions(plan, units)
    if lines:
        yield '<section class="care" aria-labelledby="care"><h2 id="care">Take care</h2>'
        yield f"{_list(lines)}</section>"


def _made(plan: DayPlan, units: Units) -> str:
    """Return which sky stands behind the day, and when that was."""
    made = f"Planned at {units.time_text(plan.made_at)} on {words.date_words(plan.made_at.date())}."
    return " ".join((*words.sky_lines(plan.sky, units), made, PAPER_STAYS))


def _list(lines: Iterable[str]) -> str:
    items = "".join(f"<li>{_said(line)}</li>" for line in lines)
    return f"<ul>{items}</ul>" if items else ""


def _said(text: str) -> str:
    """Return a text for the page, with no line broken between a number and its unit."""
    return escape(KEPT.sub("\\1\N{NO-BREAK SPACE}\\2", text))
