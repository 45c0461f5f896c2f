"""The year of a box: a chart in characters, sentences, and JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from suntrack.day.season import EVENING, HOT_WATER_C, NOON
from suntrack.screen.asjson import keys_table, rounded
from suntrack.screen.page import Page, Section

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date

    from suntrack.day.season import Month, Season
    from suntrack.units import Units

NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
BAR = 16
"""Columns of a whole month, so that a row fits 40."""
MONTH_KEYS = {
    "month": "1 to 12",
    "days": "its days",
    "hot_days": "cooking days: the empty box is above the threshold for long enough",
    "noon_days": "days on which two litres of water are hot by 12:30",
    "evening_days": "the same by 18:00",
    "peak_c": "middle of the days' hottest empty box",
    "mirror_deg": "best mirror angle to leave alone all month; null without a mirror",
    "mirror_light_kept": "share of the light of a mirror set all the time that it keeps; null "
    "without a mirror",
    "tilt_deg": "tilt of the box that takes in most light, the mirror set all the time",
    "tilt_gain": "light at this tilt against the tilt as built",
}
SEASON_KEYS: Mapping[str, str] = {
    "source": "clear sky, or the name of the place of a typical year",
    "away_km": "how far that place is, where it is far; null otherwise",
    "threshold_c": "the threshold of the empty box",
    "hours": "how long it has to be above it",
    "hot_days": "cooking days of the year",
    "first": "first day of the year on which the box cooks; null for never",
    "last": "last such day; null for never",
    **{f"months[].{key}": meaning for key, meaning in MONTH_KEYS.items()},
}


def season_schema_text() -> str:
    """Return the keys as a table in Markdown, for DEVELOPERS.md."""
    return keys_table("season --json", SEASON_KEYS)


def season_json(season: Season, *, away_km: float | None) -> dict[str, Any]:
    """Return the year for programs."""
    return {
        "source": season.source,
        "away_km": rounded(away_km, 0),
        "threshold_c": rounded(season.threshold_c),
        "hours": rounded(season.hours),
        "hot_days": season.hot_days,
        "first": season.first.isoformat() if season.first else None,
        "last": season.last.isoformat() if season.last else None,
        "months": [_month(month) for month in season.months],
    }


def _month(month: Month) -> dict[str, Any]:
    mirror = month.mirror
    return {
        "month": month.month,
        "days": month.days,
        "hot_days": month.hot_days,
        "noon_days": month.noon_days,
        "evening_days": month.evening_days,
        "peak_c": rounded(month.peak_c),
        "mirror_deg": rounded(mirror.mirror_deg if mirror else None),
        "mirror_light_kept": rounded(mirror.light_kept if mirror else None, 3),
        "tilt_deg": rounded(month.tilt_deg),
        "tilt_gain": rounded(month.tilt_gain, 3),
    }


def season_page(
    season: Season, units: Units, *, box_name: str, away_km: float | None, solid: str, empty: str
) -> Page:
    """Return the year as a page; `solid` and `empty` are the marks of a bar."""
    return Page(
        title=f"The year of {box_name}",
        intro=(_sky_words(season, units, away_km), _what_counts(season, units)),
        sections=(
            Section(title="Cooking days", drawn=_chart(season, solid, empty), lines=()),
            Section(
                title="Two litres hot",
                drawn=_meals(season, units),
                lines=(
                    "Set out with the sun, the box turned every half hour and the mirror set each"
                    f" time; hot means {units.temperature_text(HOT_WATER_C)} for half an hour."
                    " Food has rules of its own: suntrack dish NAME.",
                ),
            ),
            Section(title="Mirror and tilt", drawn=_angles(season), lines=_angle_notes(season)),
            Section(title="The cooking year", lines=(_span_words(season),)),
        ),
    )


def _sky_words(season: Season, units: Units, away_km: float | None) -> str:
    if season.source == "clear sky":
        return (
            "Under a clear sky every day: no month is really so good. Give a file of typical"
            " weather with --weather."
        )
    if away_km is None:
        return f"Typical weather of {season.source}."
    away = f"{away_km:.0f} km" if units.length == "cm" else f"{away_km / 1.609344:.0f} miles"
    return f"Typical weather of {season.source}, which is {away} from your site."


def _what_counts(season: Season, units: Units) -> str:
    mark = units.temperature_text(season.threshold_c)
    return f"A cooking day: the empty box is at {mark} or more for {season.hours:g} hours."


def _chart(season: Season, solid: str, empty: str) -> tuple[str, ...]:
    rows = []
    for month in season.months:
        filled = round(BAR * month.hot_days / month.days)
        bar = solid * filled + empty * (BAR - filled)
        rows.append(f"{NAMES[month.month - 1]}  {bar}  {month.hot_days:2d} of {month.days}")
    return (*rows, f"Year {' ' * BAR}  {season.hot_days} of {sum(m.days for m in season.months)}")


def _meals(season: Season, units: Units) -> tuple[str, ...]:
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
    return f"First cooking day {_day(season.first)}, last {_day(season.last)}, by the calendar."


def _day(on: date) -> str:
    return f"{on.day} {NAMES[on.month - 1]}"
