"""The year of a box and of the meals, for programs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from suntrack.screen.json.day import rounded

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.year.meal_season import DishYear, MealSeason
    from suntrack.year.season import Month, Season

MONTH_KEYS = {
    "month": "1 to 12",
    "days": "its days",
    "meal_days": "days on which all dishes that may go in come good together; null without dishes",
    "dish_days": "days on which each dish comes good with the box to itself, in the order of "
    "`meals.dishes`; 0 for one that does not go in; null without dishes",
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
MEAL_KEYS = {
    "days": "days of the year on which all dishes that may go in come good together",
    "fit": "false when they have not all a pot, or room, on one day",
    "first": "first such day after the longest stretch without one; null for never",
    "last": "last such day before that stretch, in the south often earlier in the year; null for "
    "never",
    "break_days": "how long that stretch is; null when no day is good",
    "best_months": "the months with the greatest share of such days, 1 to 12",
    "dishes[].key": "the dish",
    "dishes[].name": "its name",
    "dishes[].serve": "when it is wanted, on the clock",
    "dishes[].refused": "why it does not go into this box at all; null for a dish that may",
    "dishes[].days": "days of the year on which it comes good with the box to itself: done and "
    "safe by its meal, no safety clock run out",
}
SEASON_KEYS: Mapping[str, str] = {
    "source": "clear sky, usual sky (clouds of other places), or the name of the place of a "
    "typical year",
    "away_km": "how far that place is, where it is far; null otherwise",
    "threshold_c": "the threshold of the empty box",
    "hours": "how long it has to be above it",
    "hot_days": "cooking days of the year",
    "first": "first day of the year on which the box cooks; null for never",
    "last": "last such day; null for never",
    "meals": "null without dishes",
    **{f"meals.{key}": meaning for key, meaning in MEAL_KEYS.items()},
    **{f"months[].{key}": meaning for key, meaning in MONTH_KEYS.items()},
}


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
        "meals": None if season.meals is None else _meals(season.meals),
        "months": [_month(month, i, season.meals) for i, month in enumerate(season.months)],
    }


def _meals(meals: MealSeason) -> dict[str, Any]:
    span = meals.span
    return {
        "days": meals.days,
        "fit": meals.fit,
        "first": span.first.isoformat() if span else None,
        "last": span.last.isoformat() if span else None,
        "break_days": span.break_days if span else None,
        "best_months": list(meals.best_months),
        "dishes": [_dish(dish) for dish in meals.dishes],
    }


def _dish(dish: DishYear) -> dict[str, Any]:
    return {
        "key": dish.meal.dish.key,
        "name": dish.meal.dish.name,
        "serve": dish.meal.serve.isoformat("minutes"),
        "refused": dish.refused or None,
        "days": dish.days,
    }


def _month(month: Month, place: int, meals: MealSeason | None) -> dict[str, Any]:
    mirror = month.mirror
    return {
        "month": month.month,
        "days": month.days,
        "meal_days": None if meals is None else meals.together[place],
        "dish_days": None if meals is None else [dish.by_month[place] for dish in meals.dishes],
        "hot_days": month.hot_days,
        "noon_days": month.noon_days,
        "evening_days": month.evening_days,
        "peak_c": rounded(month.peak_c),
        "mirror_deg": rounded(mirror.mirror_deg if mirror else None),
        "mirror_light_kept": rounded(mirror.light_kept if mirror else None, 3),
        "tilt_deg": rounded(month.tilt_deg),
        "tilt_gain": rounded(month.tilt_gain, 3),
    }
