"""What changes to the box would bring, for programs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from suntrack.screen.json.day import rounded

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.box.warnings import TooHot
    from suntrack.year.compare_designs import Builder, Gain

_HOT_KEYS = {
    "kind": "layer, sealant or glass",
    "part": "its material, lining, or which glass",
    "reached_c": "how hot it gets in the strongest light of the year, held",
    "limit_c": "what it should stay below; null for glass",
}
_GAIN_KEYS = {
    "change": "a change, as it was written; the best first",
    "hotter_k": "how much hotter the empty box gets, in the middle of the days",
    "meal_sooner_min": "how much sooner the first dish is ready, in the mean of the days on which "
    "both are good; null for none",
    "more_meal_days": "days of the year gained on which the dishes come good",
    "weakest_sun": "the weakest sun then, see `weakest_sun`; null for none",
    "weaker_sun": "how much weaker than as it is the sun may be, as a share of the clear one",
    "fit": "false when a dish that goes in as it is no longer does; then no day counts",
    "sooner_min": "how much sooner two litres of water are hot; null where they never are",
    "more_days": "cooking days of the year gained",
    "more_pot_days": "days of the year gained on which the two litres get hot",
}
WHATIF_KEYS: Mapping[str, str] = {
    "source": "usual sky (clouds of other places), clear sky, or the name of the place of a "
    "typical year",
    "sample": "how many days of the year were run",
    "peak_c": "as it is: middle of the days' hottest empty box",
    "hot_days": "as it is: cooking days of the year",
    "dishes[]": "the dishes it is judged by; empty where two litres of water by 18:00 stand for "
    "them",
    "together": "true when they are judged together on one day; false where they have not all a "
    "pot, or room: then a day counts when each would be good with the box to itself",
    "refused[].name": "a dish that does not go into this box",
    "refused[].why": "why not",
    "meal_days": "as it is: days of the year on which they come good",
    "ready": "as it is: when the first of them is ready on a middling good day, on the clock; "
    "null for never",
    "weakest_sun": "as it is: the weakest sun under which they come good, as a share of the clear "
    "one, in the mean of some clear days of the year; null for never",
    **{f"too_hot[].{key}": f"as it is: {meaning}" for key, meaning in _HOT_KEYS.items()},
    **{f"changes[].{key}": meaning for key, meaning in _GAIN_KEYS.items()},
    **{f"changes[].too_hot[].{key}": f"then: {meaning}" for key, meaning in _HOT_KEYS.items()},
}


def whatif_json(builder: Builder) -> dict[str, Any]:
    """Return the answer for programs."""
    return {
        "source": builder.source,
        "sample": builder.sample,
        "peak_c": rounded(builder.peak_c),
        "hot_days": builder.hot_days,
        "dishes": list(builder.dishes),
        "together": builder.together,
        "refused": [{"name": name, "why": why} for name, why in builder.refused],
        "meal_days": builder.meal_days,
        "ready": builder.ready.isoformat("minutes") if builder.ready else None,
        "weakest_sun": rounded(builder.weakest_sun, 3),
        "too_hot": [_hot(part) for part in builder.too_hot],
        "changes": [_gain(gain) for gain in builder.gains],
    }


def _gain(gain: Gain) -> dict[str, Any]:
    return {
        "change": gain.words,
        "hotter_k": rounded(gain.hotter_k),
        "meal_sooner_min": rounded(gain.meal_sooner_min, 0),
        "more_meal_days": gain.more_meal_days,
        "weakest_sun": rounded(gain.weakest_sun, 3),
        "weaker_sun": rounded(gain.weaker_sun, 3),
        "fit": gain.fit,
        "sooner_min": rounded(gain.sooner_min, 0),
        "more_days": gain.more_days,
        "more_pot_days": gain.more_pot_days,
        "too_hot": [_hot(part) for part in gain.too_hot],
    }


def _hot(part: TooHot) -> dict[str, Any]:
    return {
        "kind": part.kind,
        "part": part.part,
        "reached_c": rounded(part.reached_c),
        "limit_c": rounded(part.limit_c),
    }
