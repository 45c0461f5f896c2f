"""Chances in words: how likely, on how many of ten such days, and what would raise it.

All wording of chance is here.  Numbers are tenths, because the skies behind them tell no
more; nothing is ever said to be certain.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from suntrack.plan.records import BoxSample, Change, DayPlan, DishPlan, Guarding, Step
    from suntrack.units import Units

Likelihood = Literal["yes", "likely", "toss-up", "unlikely", "no"]
FROM_TENTHS: tuple[tuple[int, Likelihood], ...] = (
    (9, "yes"),
    (7, "likely"),
    (4, "toss-up"),
    (2, "unlikely"),
    (0, "no"),
)
"""The word for a chance of so many tenths or more (our choice)."""
HEADLINES: dict[Likelihood, str] = {
    "yes": "Yes, cook {day}: {days}.",
    "likely": "Likely a cooking day {day}: {days}.",
    "toss-up": "A toss-up {day}: {days}.",
    "unlikely": "Unlikely {day}: {days}.",
    "no": "No, not {day}: {days}.",
}

GUSTY_CARE = (
    "Weigh the box down, and close the mirror, if it folds, before gusts shake it. Wear dry oven"
    " gloves: its frame may be hot. Closed, it gives no light, and the times of the plan no longer"
    " hold."
)
RAINY_CARE = (
    "Cover the box before the first drops, with dry oven gloves on: hot glass cracks under cold"
    " water. Covered, it gets no sun; what is not done and safe by then goes to the kitchen stove."
)


def tenths_of(chance: float) -> int:
    """Return a chance in tenths, halves upwards."""
    return int(chance * 10.0 + 0.5)


def likelihood(chance: float) -> Likelihood:
    """Return the word for a chance."""
    return next(word for tenths, word in FROM_TENTHS if tenths_of(chance) >= tenths)


def chance_words(chance: float) -> str:
    """Return a chance as days, such as `7 of 10 such days`."""
    tenths = tenths_of(chance)
    if tenths >= 10:
        return "more than 9 of 10 such days"
    if tenths <= 0:
        return "fewer than 1 of 10 such days"
    return f"{tenths} of 10 such days"


def good_days_words(chance: float) -> str:
    """Return how many days are good, such as `7 of 10 such days are good`."""
    verb = "is" if tenths_of(chance) <= 1 else "are"
    return f"{chance_words(chance)} {verb} good"


def chance_headline(chance: float, *, day: str) -> str:
    """Return the answer for a day that has a chance; `day` is `today` or the like."""
    return HEADLINES[likelihood(chance)].format(day=day, days=good_days_words(chance))


def on_such_days(dish: DishPlan) -> str:
    """Return on how many days a dish comes good, for behind its status; often nothing."""
    return "" if dish.chance is None else f" on {chance_words(dish.chance)}"


def chance_lines(plan: DayPlan, units: Units) -> tuple[str, ...]:
    """Return what the day's skies say beyond the verdict; nothing without skies."""
    found = plan.chances
    if found is None or plan.verdict.chance is None:
        return ()
    hot = units.temperature_text(plan.window.threshold_c)
    lines = [f"The empty box holds {hot} for two hours on {chance_words(found.holds)}."]
    band = band_words(plan, units)
    if band:
        lines.append(band)
    lines.append(
        f"Counted over {found.skies} skies; chance alone moves that by"
        f" {max(tenths_of(2.0 * found.sampling_error), 1)} of 10 either way. Errors of the box's"
        " model come on top."
    )
    if found.changes and plan.date >= plan.made_at.date():
        lines.append(f"What would help: {'; '.join(map(change_words, found.changes))}.")
    return tuple(lines)


def band_words(plan: DayPlan, units: Units) -> str:
    """Return between which temperatures the loaded box is at its best hour; often nothing."""
    known = [sample for sample in plan.box if sample.middle_c is not None]
    if not known:
        return ""
    best = max(known, key=_middle_c)
    low, high = (units.temperature_text(c) for c in (best.low_c or 0.0, best.high_c or 0.0))
    at = units.time_text(best.at)
    return f"At {at} the loaded box is between {low} and {high} on 8 of 10 such days."


def _middle_c(sample: BoxSample) -> float:
    return sample.middle_c or 0.0


def change_words(change: Change) -> str:
    """Return one thing to do otherwise, and the chance it gives."""
    gives = f" ({chance_words(change.chance)})"
    match change.kind:
        case "earlier":
            return f"put in {change.by_min} min earlier what is to come, to wait longer{gives}"
        case "without":
            return f"leave out {change.dish}{gives}"
        case "smaller":
            return f"cut {change.dish} half as thick{gives}"


def guard_step_words(step: Step, plan: DayPlan, units: Units) -> str:
    """Return the step that gusts or rain ask for, with what is expected and from when."""
    do = "Tie the mirror" if step.kind == "gust" else "Keep the cover at hand"
    for guard in plan.guards:
        if step.key == f"{guard.kind}-{guard.starts_at:%H%M}":
            at = units.time_text(guard.starts_at)
            if guard.kind == "gust":
                return f"{do}: gusts of up to {units.wind_text(guard.most)} from {at}"
            return f"{do}: rain may come from {at} ({round(100.0 * guard.most)} %)"
    return do


def guard_words(guard: Guarding, units: Units) -> str:
    """Return what is expected, from when to when, and what to do."""
    first, last = units.time_text(guard.starts_at), units.time_text(guard.ends_at)
    if guard.kind == "gust":
        most = units.wind_text(guard.most)
        return f"Gusts of up to {most} from {first} to {last}: tie the mirror. {GUSTY_CARE}"
    chance = f"{round(100.0 * guard.most)} %"
    return f"Rain may come from {first} to {last} ({chance}). {RAINY_CARE}"
