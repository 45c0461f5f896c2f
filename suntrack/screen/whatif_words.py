"""What changes to the box would bring, in words and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from suntrack.screen.asjson import keys_table, rounded
from suntrack.screen.box_words import too_hot_words
from suntrack.screen.page import Page, Section

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.box.warnings import TooHot
    from suntrack.day.whatif import Builder, Gain
    from suntrack.units import Units

SIDES = "Side mirrors are left out: the light model has one mirror, at the back."
SAMPLE = (
    "Our simulation, not a test in the sun, on one day in five of the year. A cooking day: the"
    " empty box is above its threshold for two hours or more."
)
_HOT_KEYS = {
    "kind": "layer, sealant or glass",
    "part": "its material, lining, or which glass",
    "reached_c": "how hot it gets in the strongest light of the year, held",
    "limit_c": "what it should stay below; null for glass",
}
WHATIF_KEYS: Mapping[str, str] = {
    "source": "clear sky, or the name of the place of a typical year",
    "peak_c": "as it is: middle of the days' hottest empty box",
    "hot_days": "as it is: cooking days of the year",
    **{f"too_hot[].{key}": f"as it is: {meaning}" for key, meaning in _HOT_KEYS.items()},
    "changes[].change": "a change, as it was written; the best first",
    "changes[].hotter_k": "how much hotter the empty box gets, in the middle of the days",
    "changes[].sooner_min": "how much sooner two litres of water are hot; null where they never "
    "are",
    "changes[].more_days": "cooking days of the year gained",
    "changes[].more_pot_days": "days of the year gained on which the two litres get hot",
    **{f"changes[].too_hot[].{key}": f"then: {meaning}" for key, meaning in _HOT_KEYS.items()},
}


def whatif_schema_text() -> str:
    """Return the keys as a table in Markdown, for DEVELOPERS.md."""
    return keys_table("whatif --json", WHATIF_KEYS)


def whatif_json(builder: Builder) -> dict[str, Any]:
    """Return the answer for programs."""
    return {
        "source": builder.source,
        "peak_c": rounded(builder.peak_c),
        "hot_days": builder.hot_days,
        "too_hot": [_hot(part) for part in builder.too_hot],
        "changes": [
            {
                "change": gain.words,
                "hotter_k": rounded(gain.hotter_k),
                "sooner_min": rounded(gain.sooner_min, 0),
                "more_days": gain.more_days,
                "more_pot_days": gain.more_pot_days,
                "too_hot": [_hot(part) for part in gain.too_hot],
            }
            for gain in builder.gains
        ],
    }


def _hot(part: TooHot) -> dict[str, Any]:
    return {
        "kind": part.kind,
        "part": part.part,
        "reached_c": rounded(part.reached_c),
        "limit_c": rounded(part.limit_c),
    }


def whatif_page(builder: Builder, units: Units, *, box_name: str) -> Page:
    """Return the answer as a page."""
    sky = (
        "Under a clear sky every day; give a file of typical weather with --weather."
        if builder.source == "clear sky"
        else f"Typical weather of {builder.source}."
    )
    now = (
        f"As it is: {units.temperature_text(builder.peak_c)} at its hottest on a middling day,"
        f" {_days(builder.hot_days)} of cooking a year."
    )
    return Page(
        title=f"What if {box_name} were built otherwise",
        intro=(SAMPLE, sky),
        sections=(
            Section(title="The box", lines=(now, *_care(builder.too_hot, units))),
            *(_section(gain, builder, units) for gain in builder.gains),
            Section(title="Left out", lines=(SIDES,)),
        ),
    )


def _section(gain: Gain, builder: Builder, units: Units) -> Section:
    known = {(part.kind, part.part) for part in builder.too_hot}
    new = tuple(part for part in gain.too_hot if (part.kind, part.part) not in known)
    return Section(title=gain.words, lines=(_gain_words(gain, units), *_care(new, units)))


def _care(parts: tuple[TooHot, ...], units: Units) -> tuple[str, ...]:
    return tuple(f"Take care: {too_hot_words(part, units)}" for part in parts)


def _gain_words(gain: Gain, units: Units) -> str:
    heat = units.difference_text(abs(gain.hotter_k))
    said = [f"{heat} {'hotter' if gain.hotter_k >= 0 else 'cooler'}"]
    if gain.sooner_min is not None:
        when = "sooner" if gain.sooner_min >= 0 else "later"
        said.append(f"two litres hot {abs(gain.sooner_min):.0f} min {when}")
    said.append(f"{_more(gain.more_days)} of cooking a year")
    return f"{', '.join(said)}."


def _more(days: int) -> str:
    return f"{_days(abs(days))} {'more' if days >= 0 else 'fewer'}"


def _days(days: int) -> str:
    return "1 day" if days == 1 else f"{days} days"
