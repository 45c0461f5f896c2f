"""What changes to the box would bring, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.screen.page import Page, Section
from suntrack.screen.text.box import too_hot_words
from suntrack.screen.text.meals import NO_PROMISE
from suntrack.screen.text.measures import in_units
from suntrack.screen.text.season import USUAL_WORDS
from suntrack.sky.usual_year import SOURCE as USUAL
from suntrack.year.compare_designs import SUNS, YEAR_DAYS
from suntrack.year.season import EVENING

if TYPE_CHECKING:
    from suntrack.box.warnings import TooHot
    from suntrack.units import Units
    from suntrack.year.compare_designs import Builder, Gain

FRONT = "A mirror in front of the glass is left out: the light model has none there."
MODEL = "Our simulation, not a test in the sun."
WEAK_SUN = (
    "The weakest sun is that of some clear days spread over the year, dimmed until the meal is"
    " just missed, in shares of the clear sun: the lower, the more haze and cloud the box stands."
)
RANKED = (
    "Ranked by days gained, then by the weakest sun, then by time, then by heat. Differences of"
    " a few days are luck."
)


def whatif_page(builder: Builder, units: Units, *, box_name: str) -> Page:
    """Return the answer as a page."""
    return Page(
        title=f"What if {box_name} were built otherwise",
        intro=(_sky_words(builder), _sample_words(builder)),
        sections=(
            Section(title="The box as it is", lines=_now(builder, units)),
            *(_section(gain, builder, units) for gain in builder.gains),
            Section(title="How to read it", lines=(RANKED, WEAK_SUN, NO_PROMISE)),
            Section(title="Left out", lines=(FRONT,)),
        ),
    )


def _sky_words(builder: Builder) -> str:
    if builder.source == USUAL:
        return USUAL_WORDS
    if builder.source == "clear sky":
        return "Under a clear sky every day; give a file of typical weather with --weather."
    return f"Typical weather of {builder.source}."


def _sample_words(builder: Builder) -> str:
    """Return how many days stand for the year, and what luck that leaves in a number of days.

    Twice the standard error of a share counted on some of so many days (Cochran, "Sampling
    Techniques", section 3.2, from memory): about nineteen times of twenty it is no more.
    """
    if builder.sample >= YEAR_DAYS:
        return f"{MODEL} It runs every day of the year."
    every = f"{MODEL} It runs one day in {round(YEAR_DAYS / builder.sample)} of the year"
    share = builder.meal_days / YEAR_DAYS
    left = 1.0 - builder.sample / YEAR_DAYS
    luck = round(2.0 * YEAR_DAYS * (share * (1.0 - share) / builder.sample * left) ** 0.5)
    if luck == 0:
        return f"{every}."
    return (
        f"{every}, so the number of good days may be off by about {luck} either way; changes are"
        " compared on the same days and tell more."
    )


def _meal(builder: Builder, units: Units) -> str:
    """Return what the box is judged by."""
    if not builder.dishes:
        return f"two litres of water hot by {units.clock_text(EVENING)}"
    if len(builder.dishes) == 1:
        return builder.dishes[0]
    when = "on one day" if builder.together else "each with the box to itself"
    return f"{', '.join(builder.dishes[:-1])} and {builder.dishes[-1]}, {when}"


def _first(builder: Builder) -> str:
    return builder.dishes[0] if builder.dishes else "Two litres of water"


def _now(builder: Builder, units: Units) -> tuple[str, ...]:
    """Return the box as it is."""
    peak = units.temperature_text(builder.peak_c)
    lines = [
        f"Judged by: {_meal(builder, units)}. Good on {_days(builder.meal_days)} of the year.",
        f"Empty it gets to {peak} on a middling day; it is above its threshold for two hours on"
        f" {_days(builder.hot_days)}.",
    ]
    if builder.ready is not None:
        when = units.clock_text(builder.ready)
        lines.append(f"{_first(builder)}: ready at {when} on a middling good day, loaded early.")
    lines.append(f"Weakest sun: {_sun(builder.weakest_sun)}.")
    lines += [f"Not in this box: {name}. {in_units(why, units)}" for name, why in builder.refused]
    return (*lines, *_care(builder.too_hot, units))


def _sun(weakest_sun: float | None) -> str:
    """Return a weakest sun."""
    if weakest_sun is None:
        return "not even the clear sun is enough"
    if weakest_sun >= SUNS[0]:
        return "the clear sun is just enough, on some days not"
    mark = " or less" if weakest_sun <= SUNS[-1] else ""
    return f"{weakest_sun:.0%} of the clear sun{mark}"


def _section(gain: Gain, builder: Builder, units: Units) -> Section:
    known = {(part.kind, part.part) for part in builder.too_hot}
    new = tuple(part for part in gain.too_hot if (part.kind, part.part) not in known)
    return Section(title=gain.words, lines=(*_gain_words(gain, builder, units), *_care(new, units)))


def _care(parts: tuple[TooHot, ...], units: Units) -> tuple[str, ...]:
    return tuple(f"Take care: {too_hot_words(part, units)}" for part in parts)


def _gain_words(gain: Gain, builder: Builder, units: Units) -> tuple[str, ...]:
    warmer = f"The empty box {_hotter(gain.hotter_k, units)}"
    if not gain.fit:
        return (f"{warmer}, but the dishes no longer fit: no day counts.",)
    said = [f"{_more(gain.more_meal_days)} good in the year"]
    if gain.meal_sooner_min is not None:
        said.append(f"{_first(builder)} ready {_sooner(gain.meal_sooner_min)}")
    return (f"{', '.join(said)}.", f"{warmer}; weakest sun: {_sun(gain.weakest_sun)}.")


def _hotter(kelvin: float, units: Units) -> str:
    """Return how much hotter."""
    heat = units.difference_text(abs(kelvin))
    if heat == units.difference_text(0.0):
        return "as hot as before"
    return f"{heat} {'hotter' if kelvin > 0 else 'cooler'}"


def _sooner(minutes: float) -> str:
    """Return how much sooner."""
    whole = round(abs(minutes))
    if whole == 0:
        return "no sooner"
    return f"{whole} min {'sooner' if minutes > 0 else 'later'}"


def _more(days: int) -> str:
    if days == 0:
        return "No day more"
    return f"{_days(abs(days))} {'more' if days > 0 else 'fewer'}"


def _days(days: int) -> str:
    return "1 day" if days == 1 else f"{days} days"
