"""Chances, gusts and rain for programs: a part of `today --json`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from suntrack.screen.json.numbers import rounded, stamp

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.plan.records import Chances, Guarding

CHANCE_KEYS: Mapping[str, str] = {
    "chances": "what many possible skies make of the plan; null when none stand behind it",
    "chances.skies": "how many skies were counted",
    "chances.holds": "share on which the empty box holds the threshold for two hours",
    "chances.good": "share on which all that goes in is done and safe by its meal; null for none",
    "chances.alone": "where nothing goes in, the best chance of a dish alone; null elsewhere",
    "chances.sampling_error": "standard error of a share at most, from the number of skies",
    "chances.changes[].kind": "earlier, without or smaller: what would raise the chance",
    "chances.changes[].dish": "name of the dish it concerns; null for all",
    "chances.changes[].by_min": "how many minutes earlier; null for other kinds",
    "chances.changes[].chance": "the chance it gives",
}
GUARD_KEYS: Mapping[str, str] = {
    "guards[].kind": "gust or rain, forecast for the planned stretch",
    "guards[].starts_at": "from when",
    "guards[].ends_at": "until when",
    "guards[].gust_m_s": "the strongest gust; null for rain",
    "guards[].rain_chance": "the greatest chance of rain, 0 to 1; null for gusts",
}


def chances_json(chances: Chances | None) -> dict[str, Any] | None:
    """Return what the skies make of the plan, for programs."""
    if chances is None:
        return None
    return {
        "skies": chances.skies,
        "holds": rounded(chances.holds, 2),
        "good": rounded(chances.good, 2),
        "alone": rounded(chances.alone, 2),
        "sampling_error": rounded(chances.sampling_error, 3),
        "changes": [
            {
                "kind": change.kind,
                "dish": change.dish,
                "by_min": change.by_min,
                "chance": rounded(change.chance, 2),
            }
            for change in chances.changes
        ],
    }


def guard_json(guard: Guarding) -> dict[str, Any]:
    """Return gusts or rain, for programs."""
    is_gust = guard.kind == "gust"
    return {
        "kind": guard.kind,
        "starts_at": stamp(guard.starts_at),
        "ends_at": stamp(guard.ends_at),
        "gust_m_s": rounded(guard.most) if is_gust else None,
        "rain_chance": None if is_gust else rounded(guard.most, 2),
    }
