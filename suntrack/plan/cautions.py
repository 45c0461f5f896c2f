"""Which cautions belong to a day; their words are in `suntrack.screen.text.day`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.box.wind import tying_wind_m_s

if TYPE_CHECKING:
    from collections.abc import Iterable

    from suntrack.box.build import Box
    from suntrack.food.dish import Dish
    from suntrack.plan.records import Guarding

GLARE, FIXED_GLARE = "glare", "glare, fixed mirror"
WIND, FIXED_WIND = "wind", "wind, fixed mirror"
SIDES = "side mirrors"
MIRRORLESS = "{}, no mirror"
"""A caution of this name speaks of no mirror."""


def usual_cautions(box: Box) -> tuple[str, ...]:
    """Return the names of the cautions that belong to a box on every day."""
    if not has_mirror(box):
        bare = (MIRRORLESS.format(name) for name in (GLARE, "children", "fire"))
        return ("burns", "glass", *bare)
    sides = (SIDES,) if box.side_mirrors is not None else ()
    return ("burns", FIXED_GLARE if is_fixed(box) else GLARE, *sides, "glass", "children", "fire")


def has_mirror(box: Box) -> bool:
    """Return True for a box with any mirror."""
    return box.mirror is not None or box.side_mirrors is not None


def is_fixed(box: Box) -> bool:
    """Return True for a box with a mirror that cannot be folded down."""
    back, sides = box.mirror, box.side_mirrors
    return (back is not None and back.fixed_angle_deg is not None) or (
        sides is not None and sides.fixed
    )


def cautions_for(
    *,
    box: Box,
    dishes: Iterable[Dish],
    warmest_air_c: float,
    strongest_wind_m_s: float,
    guards: Iterable[Guarding] = (),
) -> tuple[str, ...]:
    """Return the names of the cautions to show, most general first."""
    found = list(usual_cautions(box))
    expected = {guard.kind for guard in guards}
    if strongest_wind_m_s >= tying_wind_m_s(box) or "gust" in expected:
        windy = FIXED_WIND if is_fixed(box) else WIND
        found.append(windy if has_mirror(box) else MIRRORLESS.format(WIND))
    if "rain" in expected:
        found.append("rain")
    if any(dish.safety != "none" for dish in dishes):
        found.append("food")
    # The two-hour rule of the food agencies becomes one hour above 90 F.
    if warmest_air_c > 32.2:
        found.append("hot day")
    return tuple(found)
