"""The year of a box and of the meals: charts in characters, and sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.screen.page import Page, Section
from suntrack.screen.text.meals import NAMES, bars, day_text, meal_sections
from suntrack.sky.usual_year import SOURCE as USUAL
from suntrack.year.season import EVENING, HOT_WATER_C, NOON

if TYPE_CHECKING:
    from suntrack.units import Units
    from suntrack.year.season import Season

USUAL_WORDS = (
    "Under usual skies: clouds drawn for each day by itself from a year of measurements at seven"
    " stations in the USA, on the sun and the usual air of your site. They know nothing of your"
    " own clouds and seasons. Give a file of typical weather with --weather."
)


def season_page(
    season: Season, units: Units, *, box_name: str, away_km: float | None, solid: str, empty: str
) -> Page:
    """Return the year as a page; `solid` and `empty` are the marks of a bar."""
    months = [month.month for month in season.months]
    whole = [month.days for month in season.months]
    marks = {"solid": solid, "empty": empty}
    hot = bars([month.hot_days for month in season.months], whole, months, **marks)
    meals = season.meals
    return Page(
        title=f"The year of {box_name}",
        intro=(_sky_words(season, units, away_km),),
        sections=(
            *(
                ()
                if meals is None
                else meal_sections(meals, units, months=months, whole=whole, **marks)
            ),
            Section(
                title="Cooking days of the empty box",
                drawn=hot,
                lines=(_what_counts(season, units), _span_words(season)),
            ),
            *(() if meals is not None and meals.going else (_pot(season, units),)),
            Section(title="Mirror and tilt", drawn=_angles(season), lines=_angle_notes(season)),
        ),
    )


def _pot(season: Season, units: Units) -> Section:
    """Return the standard pot, for a cook who names no dish."""
    return Section(
        title="Two litres hot",
        drawn=_pot_days(season, units),
        lines=(
            "Set out with the sun, the box turned every half hour and the mirror set each"
            f" time; hot means {units.temperature_text(HOT_WATER_C)} for half an hour."
            " Food has rules of its own: suntrack dish NAME, suntrack season --meal NAME.",
        ),
    )


def _sky_words(season: Season, units: Units, away_km: float | None) -> str:
    if season.source == "clear sky":
        return (
            "Under a clear sky every day: no month is really so good. Give a file of typical"
            " weather with --weather, or --weather usual for clouds of other places."
        )
    if season.source == USUAL:
        return USUAL_WORDS
    if away_km is None:
        return f"Typical weather of {season.source}."
    away = f"{away_km:.0f} km" if units.length == "cm" else f"{away_km / 1.609344:.0f} miles"
    return f"Typical weather of {season.source}, which is {away} from your site."


def _what_counts(season: Season, units: Units) -> str:
    mark = units.temperature_text(season.threshold_c)
    return f"A cooking day: the empty box is at {mark} or more for {season.hours:g} hours."


def _pot_days(season: Season, units: Units) -> tuple[str, ...]:
    noon, evening = units.clock_text(NOON), units.clock_text(EVENING)
    rows = [f"     {'by ' + noon:>11s}  {'by ' + evening:>11s}"]
    rows += [
        f"{NAMES[month.month - 1]}  {month.noon_days:11d}  {month.evening_days:11d}"
        for month in season.months
    ]
    return tuple(rows)


def _angles(season: Season) -> tuple[str, ...]:
    rows = ["     mirror   keeps    tilt   gains"]
    for month in season.months:
        mirror = month.mirror
        angle = f"{mirror.mirror_deg:5.0f}°" if mirror else "     -"
        kept = f"{mirror.light_kept:5.0%}" if mirror else "    -"
        gain = f"{month.tilt_gain - 1.0:5.0%}"
        rows.append(f"{NAMES[month.month - 1]}  {angle}   {kept}  {month.tilt_deg:5.0f}°   {gain}")
    return tuple(rows)


def _angle_notes(season: Season) -> tuple[str, ...]:
    mirror = (
        "The mirror's angle is from the glass, left alone all month; it keeps so much of the light"
        " of one that is set all the time."
    )
    tilt = "The tilt raises the back of the box; it gains so much light over the box as built."
    return (mirror, tilt) if any(month.mirror for month in season.months) else (tilt,)


def _span_words(season: Season) -> str:
    if season.first is None or season.last is None:
        return "On no day of the year does the box cook."
    if season.hot_days == sum(month.days for month in season.months):
        return "Every day of the year is a cooking day."
    first, last = day_text(season.first), day_text(season.last)
    return f"First cooking day {first}, last {last}, by the calendar."
