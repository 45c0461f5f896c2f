"""The cautions in words.  Which of them belong to a day is decided in `suntrack.plan.cautions`."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

CAUTIONS: Mapping[str, str] = {
    "burns": (
        "Pots, handles and glass burn, and steam scalds. Wear dry oven gloves, and open the"
        " lid away from your face."
    ),
    "glare": (
        "Never look at the sun or into the mirror, and keep faces out of its light. Turn the"
        " mirror down before you lean in."
    ),
    "glare, fixed mirror": (
        "Never look at the sun or into the mirror, and keep faces out of its light. Cover it, or"
        " stand so that its light misses you, before you lean in."
    ),
    "side mirrors": (
        "Side mirrors throw light to the left and right, at the height of faces, when the sun"
        " is low or the box is turned. Let nobody stand or sit there, keep your own face out of"
        " it when you lean in, and fasten their hinges: they catch wind from every side."
    ),
    "glass": (
        "Hot glass cracks: no cold water, no cold pot on it. Do not cook under a cracked pane."
    ),
    "children": "Keep children and animals away from the hot box and out of the mirror's light.",
    "fire": (
        "Keep dry grass, paper and cloth away from the box, and let nothing that burns lie in"
        " the mirror's light."
    ),
    "glare, no mirror": "Never look at the sun, not even to aim the box.",
    "children, no mirror": "Keep children and animals away from the hot box.",
    "fire, no mirror": "Keep dry grass, paper and cloth away from the box.",
    "wind, no mirror": (
        "Wind is forecast: weigh the box down before gusts shake it. Do not carry a hot box."
    ),
    "wind": "Wind is forecast: tie the mirror back, and fold it down when gusts shake it.",
    "wind, fixed mirror": (
        "Wind is forecast: tie the mirror and weigh the box down before gusts shake it. Do not"
        " carry a hot box."
    ),
    "rain": (
        "Rain is likely: keep the cover at hand. Hot glass cracks under cold water, so cover the"
        " box before the rain comes, never after, and never pour or wipe water on hot glass."
    ),
    "food": (
        "These times are planned, not measured. Check the middle of meat, poultry, fish and"
        " eggs with a food thermometer. What your local food authority says comes first."
    ),
    "hot day": (
        "It is hot outside: food that spoils may stand warm for one hour at most, not two."
        " Keep it cold until it goes in."
    ),
}  # fmt: skip


def caution_words(name: str) -> str:
    """Return a caution's sentence; a name that is already a sentence stays as it is."""
    return CAUTIONS.get(name, name)
