"""Words for directions: bearings, turns, and how the shadow of a stick should fall.

Right and left are always as seen standing behind the box and looking the way it faces,
so the words are the same in both hemispheres.  Nobody is ever told to look at the sun.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.units import Units

if TYPE_CHECKING:
    from suntrack.plan.records import Turn
    from suntrack.screen.moment import NowView

POINTS = (
    "north", "north-north-east", "north-east", "east-north-east",
    "east", "east-south-east", "south-east", "south-south-east",
    "south", "south-south-west", "south-west", "west-south-west",
    "west", "west-north-west", "north-west", "north-north-west",
)  # fmt: skip
NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")

FIST_DEG = 10.0
"""A fist at arm's length covers about this much (common practice, no source).  [deg]"""
OVERHEAD_DEG = 80.0
"""Above this a shadow is under a fifth of its stick's height, too short to aim by.  [deg]"""
STRAIGHT_DEG = 2.5
"""Nearer than this nobody can tell from straight (our choice).  [deg]"""
METRIC = Units()
ANY_WAY = "any way round: it takes its light from above"
"""Of a box that facing the sun brings nothing."""


def bearing_words(true_deg: float) -> str:
    """Return the nearest of the sixteen points, such as `north-east`."""
    return POINTS[round(true_deg / 22.5) % 16]


def face_words(true_deg: float, compass_deg: float) -> str:
    """Return where to face: the direction over the land, and what a compass shows there."""
    return f"{bearing_words(true_deg)}, {degrees(compass_deg % 360.0)} on a compass"


def degrees(angle_deg: float) -> str:
    """Return an angle to the degree, such as `20°`; a bearing of 360 is 0."""
    whole = round(angle_deg)
    return f"{0 if whole == 360 else whole + 0}°"


def side(angle_deg: float) -> str:
    """Return `right` for a positive angle and `left` for a negative one."""
    return "right" if angle_deg > 0 else "left"


def fists(angle_deg: float) -> str:
    """Return an angle in fists at arm's length, to the half, such as `one and a half fists`."""
    halves = max(1, round(abs(angle_deg) / FIST_DEG * 2.0))
    whole, half = divmod(halves, 2)
    if whole == 0:
        return "half a fist"
    number = NUMBERS[whole] if whole < len(NUMBERS) else str(whole)
    plural = "" if halves == 2 else "s"
    return f"{number}{' and a half' if half else ''} fist{plural}"


def turn_words(turn: Turn) -> str:
    """Return which way and how far to turn, such as `Turn 20° to the right`."""
    if round(abs(turn.turn_by_deg)) == 0:
        return "Leave the box as it stands"
    return f"Turn {degrees(abs(turn.turn_by_deg))} to the {side(turn.turn_by_deg)}"


def turn_hint(turn: Turn) -> str:
    """Return the turn in fists; nothing when there is hardly any."""
    if abs(turn.turn_by_deg) < STRAIGHT_DEG:
        return ""
    return f"{fists(turn.turn_by_deg)} at arm's length along the horizon".capitalize()


def mirror_words(mirror_deg: float | None) -> str:
    """Return the mirror's angle; nothing without a mirror."""
    return "" if mirror_deg is None else f"mirror {degrees(mirror_deg)} from the glass"


def side_mirror_words(side_mirrors_deg: float | None) -> str:
    """Return how side mirrors are set, once for the day; nothing without any."""
    if side_mirrors_deg is None:
        return ""
    return f"side mirrors {degrees(side_mirrors_deg)} from the glass, left so all day"


def sun_words(view: NowView, units: Units = METRIC) -> str:
    """Return where the sun is, or when it rises."""
    if view.sun_elevation_deg <= 0.0:
        return _down(view, units)
    where = f"{degrees(view.sun_elevation_deg)} high in the {bearing_words(view.sun_azimuth_deg)}"
    if view.sun_elevation_deg > OVERHEAD_DEG:
        where = f"almost overhead, {degrees(view.sun_elevation_deg)} high"
    return f"The sun is {where}."


def shadow_rule(view: NowView, units: Units = METRIC) -> str:
    """Return how to check the aim by the shadow of an upright stick.

    The shadow points away from the sun.  With the sun to the right of where the box
    faces, the shadow falls to the left of straight back, by the same angle.
    """
    if view.sun_elevation_deg <= 0.0:
        return _down(view, units)
    if view.face_true_deg is None or view.sun_to_face_deg is None:
        return _not_out(view, units)
    if view.any_way:
        return f"The box may stand {ANY_WAY}."
    if view.sun_elevation_deg > OVERHEAD_DEG:
        return f"Shadows are too short to aim by. {_by_compass(view)}"
    if abs(view.sun_to_face_deg) > 90.0:
        # No order to face it so: a turn may be due that nobody has made.
        return "The sun is behind the box; no shadow helps to aim it."
    return f"Stand a stick upright beside the box: its shadow should fall {_shadow(view)}"


def _not_out(view: NowView, units: Units) -> str:
    """Return that the box is not out, and when it will be if that is still to come."""
    step = view.next_step
    if step is not None and step.kind == "preheat":
        return f"The box is not set out yet; its first aim is for {units.time_text(step.at)}."
    return "By the plan the box is not out now. If it is, cover it."


def _shadow(view: NowView) -> str:
    """Return how the shadow falls, when the sun is in front and shadows are long enough."""
    angle_deg = view.sun_to_face_deg or 0.0
    if abs(angle_deg) < STRAIGHT_DEG:
        return "straight back, in line with the sides of the box."
    # The sun on one side throws the shadow to the other.
    return (
        f"{degrees(abs(angle_deg))} to the {side(-angle_deg)} of straight back, "
        f"about {fists(angle_deg)} at arm's length."
    )


def _by_compass(view: NowView) -> str:
    """Return where to face the box by bearing."""
    true_deg = view.face_true_deg or 0.0
    compass_deg = true_deg if view.face_compass_deg is None else view.face_compass_deg
    return f"Face the box {face_words(true_deg, compass_deg)}."


def _down(view: NowView, units: Units) -> str:
    """Return that the sun is down, and when it comes back if that is known."""
    if view.sunrise_at is None:
        return "The sun is down."
    return f"The sun is down; it rises at {units.time_text(view.sunrise_at)}."


def compass_note(view: NowView) -> str:
    """Return how the compass differs from true north here."""
    off = view.declination_deg
    if round(abs(off)) == 0:
        note = "A compass points to true north here."
    else:
        note = f"A compass points {degrees(abs(off))} {'east' if off > 0 else 'west'} of true north"
        note += " here; compass bearings allow for it."
    if not view.declination_in_date:
        note += " The magnetic model is past its years: expect to be off by a degree or two."
    return note
