"""The moment as a record: what `now` and the dashboard show, taken from the plan and the sun.

Here is what is true at one moment; how it is said is in `words`, how it is laid out in
`blocks` and `plain`.  The caller brings the sun's position; no sky is computed here.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from suntrack.plan.records import (
        BoxSample,
        DayPlan,
        DishPlan,
        DishStatus,
        Step,
        TakeOut,
        Turn,
        Verdict,
        Window,
    )

JUST_DUE = timedelta(minutes=1)
"""A step stays the next one for a minute after it is due, so that nobody misses it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DishNow:
    """One dish while it is in the box, by the plan."""

    key: str
    """Its key."""
    name: str
    """What the cook calls it."""
    core_c: float
    """Its middle by the plan.  [C]"""
    done: float
    """Share of the way to done, 0 to 1.  [-]"""
    safe: bool
    """Has the heat its food rule asks for; never true of a dish that is not safe today."""
    status: DishStatus
    """How it stands, in one word."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NowView:
    """What a cook may ask at one moment."""

    at: datetime
    """The moment."""
    sun_elevation_deg: float
    """Above the level horizon.  [deg]"""
    sun_azimuth_deg: float
    """Clockwise from true north.  [deg]"""
    face_true_deg: float | None
    """Where the plan faces the box now; None while it is put away.  [deg]"""
    face_compass_deg: float | None
    """Where the box faces on a compass; None while it is put away.  [deg]"""
    mirror_deg: float | None
    """Mirror angle from the glass; None without a mirror, or while it is put away.  [deg]"""
    sun_to_face_deg: float | None
    """From the way the box faces to the sun: to the right is positive, -180 to 180.  [deg]"""
    next_step: Step | None
    """What is due next; None for nothing."""
    after_that: Step | None
    """What is due then; None for nothing."""
    box_c: float | None
    """Air in the box by the plan; None outside the planned stretch.  [C]"""
    window: Window
    """When the empty box is hot enough."""
    verdict: Verdict
    """Is it a cooking day?"""
    site_name: str
    """As the cook named it."""
    declination_deg: float
    """Compass needle east of true north is positive.  [deg]"""
    declination_in_date: bool
    """False when the magnetic model is past its five years."""
    any_way: bool = False
    """True when the box may face any way."""
    sunrise_at: datetime | None = None
    """The next sunrise after `at`, when it is known."""
    cooking: tuple[DishNow, ...] = ()
    """The dishes in the box."""
    take_out: tuple[TakeOut, ...] = ()
    """What has to come out of it, or is not known to the plan."""


def now_view(
    plan: DayPlan,
    *,
    at: datetime,
    sun_elevation_deg: float,
    sun_azimuth_deg: float,
    declination_in_date: bool = True,
    sunrise_at: datetime | None = None,
) -> NowView:
    """Return what the plan says of one moment, with the sun where the caller found it."""
    aim = aim_at(plan, at)
    ahead = steps_ahead(plan.steps, at)
    rises = plan.sunrise_at if plan.sunrise_at is not None and plan.sunrise_at > at else sunrise_at
    return NowView(
        at=at,
        sun_elevation_deg=sun_elevation_deg,
        sun_azimuth_deg=sun_azimuth_deg,
        face_true_deg=aim.face_true_deg if aim else None,
        face_compass_deg=aim.face_compass_deg if aim else None,
        mirror_deg=aim.mirror_deg if aim else None,
        sun_to_face_deg=right_of_deg(sun_azimuth_deg, aim.face_true_deg) if aim else None,
        any_way=aim is not None and aim.any_way,
        next_step=ahead[0] if ahead else None,
        after_that=ahead[1] if len(ahead) > 1 else None,
        box_c=box_at(plan.box, at),
        window=plan.window,
        verdict=plan.verdict,
        site_name=plan.site_name,
        declination_deg=plan.declination_deg,
        declination_in_date=declination_in_date,
        sunrise_at=rises,
        cooking=tuple(found for dish in plan.dishes if (found := dish_at(dish, at)) is not None),
        take_out=plan.take_out,
    )


def aim_at(plan: DayPlan, at: datetime) -> Turn | None:
    """Return the aim in force; None until the box is set out and once it is covered.

    Nor on a day whose plan never sets it out, and for the minute in which it is to be.
    """
    covered = any(step.kind == "cover" and step.at <= at for step in plan.steps)
    waits = any(step.kind == "preheat" for step in steps_ahead(plan.steps, at))
    if covered or waits or all(step.kind != "preheat" for step in plan.steps):
        return None
    return max(
        (turn for turn in plan.turns.turns if turn.at <= at),
        key=lambda turn: turn.at,
        default=None,
    )


def steps_ahead(steps: Sequence[Step], at: datetime) -> tuple[Step, ...]:
    """Return the steps still to come, the one that is due this minute included."""
    return tuple(step for step in steps if step.at > at - JUST_DUE)


def box_at(samples: Sequence[BoxSample], at: datetime) -> float | None:
    """Return the planned box temperature between two samples; None outside them.  [C]"""
    for before, after in pairwise(samples):
        if before.at <= at <= after.at:
            share = (at - before.at) / (after.at - before.at)
            return before.box_c + share * (after.box_c - before.box_c)
    return None


def dish_at(dish: DishPlan, at: datetime) -> DishNow | None:
    """Return a dish at a moment; None while it is not in the box."""
    if dish.load_at is None or at < dish.load_at or (dish.pull_at and at >= dish.pull_at):
        return None
    for before, after in pairwise(dish.curve):
        if before.at <= at <= after.at:
            share = (at - before.at) / (after.at - before.at)
            return DishNow(
                key=dish.key,
                name=dish.name,
                core_c=before.core_c + share * (after.core_c - before.core_c),
                done=before.done + share * (after.done - before.done),
                safe=before.safe and dish.status not in ("not safe", "refused", "spoiled"),
                status=dish.status,
            )
    return None


def right_of_deg(bearing_deg: float, face_deg: float) -> float:
    """Return how far a bearing lies to the right of where a box faces, -180 to 180.  [deg]"""
    return (bearing_deg - face_deg + 180.0) % 360.0 - 180.0
