"""What a builder reads about a box: every number in their units, every sentence.

Rows are pairs of (what, how much); `box_block` and `box_plain` lay them out.  Which numbers
there are is decided in `suntrack.bench.box_report`.
"""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from suntrack.box.materials import materials
from suntrack.screen.text.day import MONTHS
from suntrack.units import INCH_M, QUART_L, span_words

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from suntrack.bench.box_report import BoxSheet
    from suntrack.bench.hinge import HingeAdvice, SideAdvice
    from suntrack.bench.simulated_tests import Standstill
    from suntrack.box.light.fixed_mirror import FixedMirror
    from suntrack.box.sizes import LayerFacts
    from suntrack.box.warnings import TooHot
    from suntrack.units import Units

__all__ = [
    "FIRST_HEATING", "FOOD_NOTE", "HINGE_NOTE", "INTRO", "SIDE_NOTE", "area_text",
    "cooling_words", "hinge_rows", "hottest_words", "layer_rows", "loss_rows", "room_text",
    "side_rows", "size_rows", "state_rows", "store_rows", "sun_lines", "thin_text",
    "too_hot_words", "used_head",
]  # fmt: skip

INTRO = (
    "Our simulation, not a test in the sun. Seals that leak more than the config says, damp"
    " walls and dusty glass make a real box cooler."
)
FIRST_HEATING = (
    "Before the first food, let the box heat up empty in full sun on two days, and air it well:"
    " new paint, glue and sealant give off fumes until they are baked in."
)
HINGE_NOTE = (
    "Angles are between glass and mirror, through the sky; 90° stands square on the glass."
    " Light is counted inside the box, under a clear sky from the sun's first to its last light"
    " here, the box turned to the sun, against a mirror set all the time."
)
FOOD_NOTE = (
    "Nothing here says that food is safe. Check it with a food thermometer; what your local food"
    " authority says comes first."
)
SIDE_NOTE = (
    "Side mirrors are set once and left. Shares are of the light inside with both at their best"
    " angle, to 3°, the mirror at the back set all the time; light that meets three mirrors, one"
    " after the other, is not counted."
)
LEVEL_OF_THE_STANDARD_W_M2 = 600.0
"""IS 13429 asks for this much sun on level ground, or more (from memory).  [W/m2]"""
FOOT_M = 12 * INCH_M
WAYS: Mapping[str, str] = {
    "top": "top glass",
    "front": "front glass",
    "walls": "walls and floor",
    "leak": "leaks",
}
"""The ways heat leaves a box."""

Row = tuple[str, str]


def area_text(square_metres: float, units: Units) -> str:
    """Return an area, such as `0.235 m²` or `2.53 ft²`."""
    if units.length == "cm":
        return f"{square_metres:.3f} m²"
    return f"{square_metres / FOOT_M**2:.2f} ft²"


def thin_text(metres: float, units: Units) -> str:
    """Return the thickness of a layer, such as `6 mm` or `0.24 in`."""
    if units.length == "cm":
        return f"{metres * 1000.0:.3g} mm"
    return f"{metres / INCH_M:.2f} in"


def room_text(litres: float, units: Units) -> str:
    """Return a volume, such as `69 L` or `73 qt`."""
    return f"{litres:.0f} L" if units.length == "cm" else f"{litres / QUART_L:.0f} qt"


def size_rows(sheet: BoxSheet, units: Units) -> tuple[Row, ...]:
    """Return areas and volume."""
    sizes = sheet.sizes
    rows = [("glass on top", area_text(sizes.top_glass_m2, units))]
    if sizes.front_glass_m2:
        rows.append(("glass in front", area_text(sizes.front_glass_m2, units)))
    if sizes.mirror_m2:
        rows.append(("mirror", area_text(sizes.mirror_m2, units)))
    if sizes.side_mirrors_m2:
        rows.append(("side mirrors, both", area_text(sizes.side_mirrors_m2, units)))
    rows += [
        ("floor", area_text(sizes.floor_m2, units)),
        ("dark lining", area_text(sizes.lining_m2, units)),
        ("room inside", room_text(sizes.volume_l, units)),
    ]
    return tuple(rows)


def layer_rows(sheet: BoxSheet, units: Units) -> tuple[Row, ...]:
    """Return each layer of the wall, inside first: what passes, what it stores, how hot."""
    layers = zip(sheet.sizes.layers, sheet.hottest.layers_c, strict=True)
    return tuple(
        (f"{layer.material}, {thin_text(layer.thickness_m, units)}", _layer_words(layer, c, units))
        for layer, c in layers
    )


def _layer_words(layer: LayerFacts, face_c: float, units: Units) -> str:
    """Return one layer by the square metre, with its inner face at its hottest."""
    limit_c = materials()[layer.material].highest_c
    limit = f", limit {units.temperature_text(limit_c)}" if limit_c is not None else ""
    return (
        f"{layer.conductance_w_m2k:.3g} W/m²K, stores {layer.store_j_m2k / 1000.0:.1f} kJ/m²K,"
        f" at the hottest {units.temperature_text(face_c)}{limit}"
    )


def store_rows(sheet: BoxSheet) -> tuple[Row, ...]:
    """Return what the whole box passes and stores for each degree (kelvin)."""
    sizes = sheet.sizes
    return (
        ("all walls pass", f"{sizes.walls_w_k:.2f} W/K"),
        ("leaks pass", f"{sizes.leak_w_k:.2f} W/K, as in the config"),
        ("lining and air store", f"{sizes.lining_j_k / 1000.0:.1f} kJ/K"),
        ("walls store", f"{sizes.walls_j_k / 1000.0:.1f} kJ/K"),
        ("glass stores", f"{sizes.glass_j_k / 1000.0:.1f} kJ/K"),
    )


def sun_lines(sheet: BoxSheet, units: Units) -> tuple[str, ...]:
    """Return the sun, the air and the wind of the tests."""
    sun = sheet.sun
    dimmed = sun.level_w_m2 < sun.clear_level_w_m2 - 0.5
    which = f"a clear noon of {sun.clear_level_w_m2:.0f}, dimmed" if dimmed else "the clear noon"
    lines = [
        f"Sun of the tests: {sun.level_w_m2:.0f} W/m² on level ground ({which}), of it"
        f" {sun.diffuse_horizontal_w_m2:.0f} from the sky; {sun.square_w_m2:.0f} square to the"
        f" sun, which stands {sun.elevation_deg:.0f}° high.",
        f"Air {units.temperature_text(sun.air_c)}, wind {units.wind_text(sheet.wind_m_s)}; the"
        " box faces the sun and stands empty until it no longer rises.",
    ]
    if sun.level_w_m2 < LEVEL_OF_THE_STANDARD_W_M2:
        lines.append(
            f"IS 13429 asks for {LEVEL_OF_THE_STANDARD_W_M2:.0f} W/m² or more (from memory):"
            " this day is too weak for its tests."
        )
    return tuple(lines)


def state_rows(still: Standstill, units: Units) -> tuple[Row, ...]:
    """Return the temperatures of the empty box once it no longer rises."""
    temperature = units.temperature_text
    rows = [
        ("oven thermometer", temperature(still.oven_c)),
        ("air inside", temperature(still.air_c)),
        ("lining", temperature(still.lining_c)),
        ("wall, inner half", temperature(still.wall_c)),
    ]
    for place, panes in (("top", still.top_panes_c), ("front", still.front_panes_c)):
        if panes is not None:
            rows.append((f"{place} glass, inner", temperature(panes[0])))
            rows.append((f"{place} glass, outer", temperature(panes[1])))
    return tuple(rows)


def loss_rows(still: Standstill) -> tuple[tuple[str, float, str], ...]:
    """Return where the heat goes: way, share, words; a front that is no glass is left out."""
    return tuple(
        (WAYS[name], share, f"{still.lost_w[name]:.0f} W, {100.0 * share:.0f} %")
        for name, share in still.shares.items()
        if still.lost_w[name] or name != "front"
    )


def cooling_words(still: Standstill) -> str:
    """Return how quickly the box cools."""
    span = span_words(timedelta(seconds=still.cooling_s))
    return f"Once the sun is gone it loses 63 % of its excess over the air in {span}."


def hinge_rows(advice: HingeAdvice, sheet: BoxSheet, units: Units) -> tuple[Row, ...]:
    """Return how to set the mirror."""
    rows = []
    if sheet.at is not None and advice.now_deg is not None:
        rows.append((f"now, {units.time_text(sheet.at)}", f"{advice.now_deg:.0f}°"))
    rows += [
        (f"noon, {units.time_text(sheet.sun.at)}", f"{advice.noon_deg:.0f}°"),
        ("fixed, this day", _kept(advice.day)),
        (f"fixed, {sheet.span_days} days", _kept(advice.span)),
    ]
    if advice.built is not None:
        rows.append((f"as built, {sheet.span_days} days", _kept(advice.built)))
    without = f"{100.0 * advice.without:.0f} % of the light"
    no_mirror = "no mirror" if sheet.sides is None else "none at the back"
    rows.append((f"{no_mirror}, {sheet.span_days} days", without))
    return tuple(rows)


def side_rows(advice: SideAdvice, sheet: BoxSheet) -> tuple[Row, ...]:
    """Return how the side mirrors stand, how they could, and what they bring."""
    kept, without = 100.0 * advice.light_kept, 100.0 * advice.without
    return (
        (f"as set, {sheet.span_days} days", f"{advice.angle_deg:.0f}°, keeps {kept:.0f} %"),
        (f"best to leave, {sheet.span_days} days", f"{advice.best_deg:.0f}°"),
        (f"no side mirrors, {sheet.span_days} days", f"{without:.0f} % of the light"),
    )


def used_head(sheet: BoxSheet) -> str:
    """Return how the mirrors stand while the box is used; nothing without any."""
    back = "" if sheet.mirror_deg is None else f"mirror {sheet.mirror_deg:.0f}°"
    sides = "" if sheet.sides is None else f"sides {sheet.sides.angle_deg:.0f}°"
    return ", ".join(part for part in (back, sides) if part)


def _kept(fixed: FixedMirror) -> str:
    return f"{fixed.mirror_deg:.0f}°, keeps {100.0 * fixed.light_kept:.0f} % of the light"


def hottest_words(sheet: BoxSheet, units: Units) -> str:
    """Return what the warnings are worked out for."""
    hottest = sheet.hottest
    return (
        f"Left empty in the strongest light of these {sheet.span_days} days"
        f" ({_day_and_time(hottest.at, units)}), held until it no longer rises, without wind and"
        f" with {units.temperature_text(hottest.outdoors_c)} outside, the lining reaches about"
        f" {units.temperature_text(hottest.still.lining_c)}."
    )


def _day_and_time(at: datetime, units: Units) -> str:
    return f"{at.day} {MONTHS[at.month - 1]}, {units.time_text(at)}"


def too_hot_words(part: TooHot, units: Units) -> str:
    """Return a warning and what to do about it."""
    reached = units.temperature_text(part.reached_c)
    limit = "" if part.limit_c is None else units.temperature_text(part.limit_c)
    match part.kind:
        case "layer":
            return (
                f"The {part.part} in the wall reaches about {reached} on its inner face; it"
                f" should stay below {limit}. Above that, {part.spoils}."
            )
        case "sealant":
            return (
                f"The {part.part} reaches about {reached}; ordinary silicone sealant should stay"
                f" below {limit}. Use high-temperature sealant, and only where it cannot touch"
                " food."
            )
        case "glass":
            return (
                f"The inner glass of the {part.part} reaches about {reached} in the middle while"
                " its framed edge stays cooler, and ordinary glass can crack. Use tempered"
                " glass, leave it room to grow in its frame, and never let cold water touch it"
                " hot."
            )
