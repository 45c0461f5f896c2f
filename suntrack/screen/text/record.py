"""The record of chances in words and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from suntrack.screen.json.day import rounded
from suntrack.screen.page import Page, Section

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.learn.chance_record import Scored

TITLES = {"dishes": "Dishes: done and safe in time", "box": "The empty box: hot enough"}
HOW = (
    "Each day's first shown chance counts. Best is your own word: suntrack note good DISH, or"
    " failed DISH. Without it a dish came true when you noted it as pulled by its meal, and did"
    " not when you pulled it later. Pulled before the plan had it done and safe, or after the box"
    " was read cooler than was likely, it is not known and does not count."
)
BOX_HOW = (
    "The box came true when you noted a reading at its threshold or above; it did not when you"
    " only read less, in its hot hours, with nothing in it."
)
RECORD_KEYS: Mapping[str, str] = {
    "kinds[].kind": "dishes or box",
    "kinds[].counted": "chances of which it is known what came",
    "kinds[].unknown": "chances of which nothing was noted",
    "kinds[].brier": "mean squared distance of the chance from what came; null without any",
    "kinds[].brier_of_mean": "the same for always saying how often it came in all",
    "kinds[].noise": "differences of the score under this are noise; null without any",
    "kinds[].enough": "true when there are enough days to tell anything",
    "kinds[].width": "factor on how wide skies are dressed that the record asks for",
    "kinds[].bins[].count": "chances of a fifth of the scale; empty fifths are left out",
    "kinds[].bins[].foretold": "their mean",
    "kinds[].bins[].came": "share of them that came true",
}


def record_json(kinds: Mapping[str, Scored]) -> dict[str, Any]:
    """Return the record for programs."""
    return {"kinds": [{"kind": kind, **_kind(scored)} for kind, scored in kinds.items()]}


def _kind(scored: Scored) -> dict[str, Any]:
    return {
        "counted": scored.counted,
        "unknown": scored.unknown,
        "brier": rounded(scored.brier, 3),
        "brier_of_mean": rounded(scored.brier_of_mean, 3),
        "noise": rounded(scored.noise, 3),
        "enough": scored.enough,
        "width": rounded(scored.width, 2),
        "bins": [
            {
                "count": one.count,
                "foretold": rounded(one.foretold, 2),
                "came": rounded(one.came, 2),
            }
            for one in scored.bins
        ],
    }


def record_page(kinds: Mapping[str, Scored], *, site_name: str) -> Page:
    """Return the record as a page."""
    return Page(
        title=f"What came of the chances, {site_name}",
        intro=(HOW, BOX_HOW),
        sections=tuple(
            Section(title=TITLES[kind], lines=_lines(scored)) for kind, scored in kinds.items()
        ),
    )


def outcome_words(name: str, *, was_good: bool) -> str:
    """Return the cook's word on a dish as it was understood."""
    if was_good:
        return (
            f"Noted: {name} came good in time, by your word. The record counts it; no safety clock"
            " looks at it."
        )
    return (
        f"Noted: {name} did not come good in time. The record counts it; what to do with food that"
        " did not get hot enough, suntrack now says."
    )


def _lines(scored: Scored) -> tuple[str, ...]:
    unknown = f"{scored.unknown} more without a note." if scored.unknown else ""
    if scored.brier is None or scored.brier_of_mean is None or scored.noise is None:
        nothing = "Nothing to count yet: it takes a forecast (suntrack feed) and your notes."
        return (nothing, *([unknown] if unknown else []))
    lines = [f"Counted: {scored.counted}. {unknown}".strip()]
    lines += [
        f"Of {one.count} with about {one.foretold:.0%}, {one.came:.0%} came true."
        for one in scored.bins
    ]
    lines.append(
        f"Brier score {scored.brier:.2f} (0 is best); always saying the mean would have"
        f" {scored.brier_of_mean:.2f}. Differences under {scored.noise:.2f} are noise."
    )
    if not scored.enough:
        lines.append("Too few days to tell: after 60 the record begins to mean something.")
    return tuple(lines)
