"""Moments of the planned day as the dashboard sees them, and the screen of each as characters."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from planned_day import at, made_plan, skied

from suntrack.plan.records import BoxSample, DayPlan, Step, Verdict
from suntrack.plan.standing import as_of
from suntrack.screen.charset import Charset
from suntrack.screen.dashboard.app import Look, WatchApp
from suntrack.screen.dashboard.view import Call, Dashboard, DashboardView, Reading
from suntrack.screen.moment import now_view
from suntrack.screen.text.notices import NO_PLAN_YET
from suntrack.units import Units

AMERICAN = Units(temperature="F", length="in", mass="lb", clock="12")


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """What is drawn, how, and which keys are pressed first."""

    view: DashboardView | None
    """None before there is a plan."""
    units: Units = Units()  # noqa: RUF009 (frozen)
    ink: Charset = Charset()  # noqa: RUF009 (frozen)
    keys: tuple[str, ...] = ()

    @property
    def look(self) -> Look:
        """What the app is handed."""
        if self.view is None:
            return Look(dashboard=None, lines=(NO_PLAN_YET,))
        return Look(dashboard=Dashboard(self.view, units=self.units, ink=self.ink))


class Still:
    """A watch that is always seen in one way."""

    def __init__(self, look: Look) -> None:
        self._look = look

    def look(self) -> Look:
        """Return what there is to see."""
        return self._look


class NoHands:
    """Hands that write nothing and say so."""

    def done(self) -> str:
        """Answer nothing."""
        return "Written down: done."

    def later(self) -> str:
        """Answer nothing."""
        return "You are called again in 5 minutes."

    def note(self, *said: str) -> str:
        """Note nothing."""
        return f"Written down: {' '.join(said)}."

    def turned_question(self) -> str:
        """Return a question."""
        return "Write down that the box faces north-east, 88° on a compass, now?"

    def dishes(self, kind: str) -> Sequence[tuple[str, str]]:
        """Return the dishes of the day."""
        return (
            ("lentil-soup", f"Lentil soup, {kind} at 9:31"),
            ("chicken-stew", "Chicken stew with sweet potatoes, planned for 10:50"),
        )


def seen(
    plan: DayPlan, now: datetime, sun: tuple[float, float], *calls: Call, read: float | None = None
) -> DashboardView:
    """Return the dashboard of a moment; `sun` is its height and where it stands.  [deg]"""
    readings = (Reading(at=at(10, 20), box_c=read),) if read else ()
    view = now_view(plan, at=now, sun_elevation_deg=sun[0], sun_azimuth_deg=sun[1])
    return DashboardView(plan=plan, now=view, calls=calls, readings=readings)


def dull(sample: BoxSample) -> BoxSample:
    """Return the box on a day with little light: two fifths as hot, and nothing in it."""
    box_c = 20.0 + 0.4 * (sample.empty_c - 20.0)
    return replace(sample, box_c=box_c, empty_c=box_c, low_c=None, middle_c=None, high_c=None)


def idle(plan: DayPlan) -> DayPlan:
    """Return a dull day: nothing is cooked, the box stays put away."""
    soup, chicken = plan.dishes
    return replace(
        plan,
        verdict=Verdict(cook=False, chance=0.08, reason="The box does not get hot enough."),
        window=replace(plan.window, opens_at=None, closes_at=None, peak_c=64.0),
        turns=replace(plan.turns, turns=()),
        steps=(),
        guards=(),
        revisions=(),
        chances=replace(plan.chances, holds=0.08, good=0.0, changes=()) if plan.chances else None,
        dishes=tuple(
            replace(dish, status="not done", load_at=None, done_at=None, safe_at=None,
                    pull_at=None, pull_by=None, curve=(), chance=None, mends=())
            for dish in (soup, chicken)
        ),
        box=tuple(map(dull, plan.box)),
    )  # fmt: skip


def spoiled(plan: DayPlan) -> DayPlan:
    """Return the evening on which the chicken stayed in for too long."""
    soup, chicken = plan.dishes
    late = replace(plan, dishes=(soup, replace(chicken, red_at=at(15))), made_at=at(20))
    return as_of(late, at=at(20, 35))


SET_OUT = Call(at=at(8, 10), title="Set out the empty box", state="acknowledged")
SOUP_IN = Call(at=at(9, 30), title="Lentil soup goes in", state="acknowledged")
TURN = Call(
    at=at(10, 40),
    title="Turn 25° to the left, to east-north-east, 88° on a compass; mirror 104° from the glass",
    state="sent",
    waits=True,
)
TROUBLE = Call(
    at=at(11, 20),
    title="The message to your phone did not go out; it is tried again.",
    state="trouble",
)


def moments() -> Mapping[str, Moment]:
    """Return every moment by its name."""
    plan = made_plan()
    forecast = skied(plan)
    morning = seen(forecast, at(6, 40), (19.0, 104.0))
    cooking = seen(forecast, at(11, 38), (82.0, 55.0), SET_OUT, SOUP_IN, TURN, TROUBLE, read=96.0)
    clear = seen(plan, at(10, 12), (63.0, 83.0), SET_OUT, SOUP_IN, read=84.0)
    return {
        "no-plan": Moment(view=None),
        "morning": Moment(view=morning),
        "cooking": Moment(view=cooking),
        "cooking-clear-sky": Moment(view=clear),
        "cooking-ascii": Moment(view=cooking, ink=Charset(ascii=True)),
        "cooking-american": Moment(view=cooking, units=AMERICAN),
        "due": Moment(view=seen(forecast, at(13, 0), (76.0, 285.0), SET_OUT, SOUP_IN)),
        "evening": Moment(view=seen(plan, at(17, 40), (13.0, 252.0), SET_OUT, SOUP_IN)),
        "nothing-cooks": Moment(view=seen(idle(forecast), at(9, 15), (53.0, 89.0))),
        "spoiled": Moment(view=seen(spoiled(plan), at(20, 35), (-20.0, 240.0), SET_OUT)),
        "ask-turned": Moment(view=cooking, keys=("t",)),
        "ask-loaded": Moment(view=cooking, keys=("l",)),
        "ask-reading": Moment(view=cooking, keys=("r", "2", "4")),
        "help": Moment(view=cooking, keys=("question_mark",)),
    }


def screen_of(moment: Moment, *, width: int, height: int) -> list[str]:
    """Return the characters of the screen, row by row, as wide as the terminal."""
    app = WatchApp(Still(moment.look), NoHands(), units=moment.units, ink=moment.ink)
    rows: list[str] = []

    async def draw() -> None:
        async with app.run_test(size=(width, height)) as pilot:
            await pilot.press(*moment.keys)
            before: list[str] = []
            while not before or before != rows:
                before[:] = rows
                await pilot.pause()
                rows[:] = [strip.text for strip in app.screen._compositor.render_strips()]

    asyncio.run(draw())
    return rows


def times_of(steps: Sequence[Step], units: Units) -> list[str]:
    """Return when each step is, as a screen writes it."""
    return [units.time_text(step.at) for step in steps]
