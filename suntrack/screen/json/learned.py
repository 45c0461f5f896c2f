"""What readings have taught of the box, as programs read it beside a plan."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from suntrack.box.build import Learned
from suntrack.screen.json.numbers import rounded

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.store.learned import Kept

LEARNED_KEYS: Mapping[str, str] = {
    "learned.in_use": "true when the plan is made with factors that readings taught",
    "learned.days": "days that they come from; null without",
    "learned.loss": "factor on what walls, seals and glass lose; 1 without",
    "learned.light": "factor on the light that is taken in; 1 without",
    "learned.store": "factor on the heat that lining and walls hold; 1 without",
}


def learned_json(kept: Kept | None) -> dict[str, Any]:
    """Return the factors that a plan was made with, for programs."""
    factors = asdict(Learned() if kept is None else kept.learned)
    return {
        "in_use": kept is not None,
        "days": None if kept is None else kept.days,
        **{name: rounded(factor, 3) for name, factor in factors.items()},
    }
