"""How many turns the meal needs: the fewest that keep its chance.

A dozen numbers of turns are tried under the skies of the day; where no forecast stands behind
the plan, under the clear sky and under weaker and weaker ones, so that "chance" becomes "how
weak the sun may be".  Fewer turns make a cooler box, so all that is still to go in may go in
earlier.  The fewest turns that give up no more than a little of the best are followed.

Lost: a fixed share of the light, which asks for turns that no dish needs.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypedDict

import numpy as np

from suntrack.plan.chance import all_good, good_by_wish
from suntrack.plan.dishes.candidates import load_candidates
from suntrack.plan.dishes.outcome import expected_pull
from suntrack.plan.dishes.oven import day_oven
from suntrack.plan.turns.aims import MOST_TURNS, turns_name

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from numpy.typing import NDArray

    from suntrack.plan.dishes.outcome import Cooking
    from suntrack.plan.frame import Frame
    from suntrack.plan.inputs import DayInputs
    from suntrack.plan.records import TurnChoice
    from suntrack.plan.turns.aims import AimedDay, Aimer
    from suntrack.plan.turns.search import Aims

LOSS, SUN_LOSS = 0.03, 0.05
"""Chance of supper, and share of the clear sun, that fewer turns may cost (our choice).  [-]"""
WEAKEST = 0.3
"""The weakest sun tried where there is no forecast, as a share of the clear one.  [-]"""
SUNS = 24
"""How many suns are tried then.  [-]"""
MOST_SKIES = 34
"""Skies that the numbers of turns are tried under; more would hardly tell them apart.  [-]"""
EARLIER = (0, 3, 6, 12)
"""How many load times earlier everything may go in.  [-]"""
TRIED = (0, 1, 2, 3, 4, 5, 6, 8, 10, 12, MOST_TURNS)
"""Numbers of turns that are tried.  [-]"""


class _Skies(TypedDict, total=False):
    """Keywords of `day_oven` that say under which skies the box stands."""

    light_factors: NDArray[np.float64]
    """On the light of each run.  [-]"""
    skies: slice
    """Which of the weather's."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TurnsNeeded:
    """The ways to turn, each with what it does for the meal."""

    inputs: DayInputs
    """What the day is planned from."""
    frame: Frame
    """The stretch of the day that is planned."""
    aimer: Aimer
    """From aims to days."""
    going: Mapping[int, Cooking]
    """What goes in, with its load, by the number of its wish."""
    counted: frozenset[int]
    """Those of them that the plan promises in time; the others only cool the box."""
    light_factor: NDArray[np.float64]
    """What readings make of the light of each step, (steps,).  [-]"""
    stop: Callable[[], bool]
    """Once it returns True no more ways are tried."""

    def tried(self, best: Sequence[Aims]) -> tuple[AimedDay, ...]:
        """Return each number of turns to come, once, with the chance of what is going.

        `best` is the best way for each number of turns, see `Aimer.best`.
        """
        ways: list[AimedDay] = []
        for count in TRIED:
            aims = best[count]
            if ways and self.stop():
                break
            if not ways or aims.starts != ways[-1].aims.starts:
                ways.append(self.rated(aims, name=turns_name(aims.turns)))
        return tuple(ways)

    def enough(self, ways: Sequence[AimedDay]) -> list[AimedDay]:
        """Return the ways that keep the chance of the meal, fewest turns first."""
        usual = self.aimer.usual([way.aims for way in ways])
        most = max(kept(way.choice) for way in ways)
        if not self.counted or most == 0.0:
            return [way for way in ways if way.aims.turns >= usual.turns]
        return [way for way in ways if kept(way.choice) >= most - self.loss]

    def rated(self, aims: Aims, *, name: str) -> AimedDay:
        """Return a way of turning to the degree, with what it does for the meal."""
        day = self.aimer.day(aims, name=name)
        if not self.counted:
            return day
        share = self.chance(day)
        if self._has_skies:
            return replace(day, choice=replace(day.choice, chance=share))
        good = round(share * SUNS)
        # Of the clear sun, though a reading may say that today's is weaker.
        suns = np.linspace(1.0, WEAKEST, SUNS) * self.light_factor[-1]
        weakest = float(suns[good - 1]) if good else None
        return replace(day, choice=replace(day.choice, weakest_sun=weakest))

    def chance(self, aimed: AimedDay) -> float:
        """Return the share of skies, or suns, on which everything counted comes good.

        The best of loading as planned and of loading everything earlier.
        """
        going, loads = self.going, self._loads()
        oven = day_oven(
            self.inputs,
            aimed=aimed,
            steps=self.frame.steps,
            pots=[cooking.charge for cooking in going.values()],
            **self._skies(),
        )
        step_min = self.frame.day.step_s / 60.0
        out = [expected_pull(c, steps=oven.steps, step_min=step_min) for c in going.values()]
        core_c = replace(oven, out=tuple(out))(loads)
        return max(self._share(core_c[i], loads[i]) for i in range(len(loads)))

    def _share(self, core_c: NDArray[np.float64], load: NDArray[np.intp]) -> float:
        """Return the share of skies, cores (skies, dishes, steps + 1), on which all is good."""
        loaded = {
            i: replace(cooking, load_step=int(step))
            for (i, cooking), step in zip(self.going.items(), load, strict=True)
        }
        return all_good(good_by_wish(core_c, loaded), self.counted)

    @property
    def loss(self) -> float:
        """How much of what a way does for the meal may be given up.  [-]"""
        return LOSS if self._has_skies else SUN_LOSS

    @property
    def _has_skies(self) -> bool:
        """Whether a forecast, or the usual sky, stands behind the day."""
        return bool(self.inputs.weather.global_horizontal_w_m2.shape[0] > 1)

    def _skies(self) -> _Skies:
        """Return the keywords of `day_oven` for the skies to try."""
        if self._has_skies:
            count = self.inputs.weather.global_horizontal_w_m2.shape[0] - 1
            every = -(-count // MOST_SKIES)
            return _Skies(light_factors=self.light_factor[None], skies=slice(1, None, every))
        suns = np.linspace(1.0, WEAKEST, SUNS)
        return _Skies(light_factors=suns[:, None] * self.light_factor)

    def _loads(self) -> NDArray[np.intp]:
        """Return the loads as planned and ever earlier, (ways, dishes)."""
        rows = []
        for by in EARLIER:
            row = []
            for cooking in self.going.values():
                may = load_candidates(self.inputs, cooking, frame=self.frame)
                place = int(np.searchsorted(may, cooking.load_step)) - by
                row.append(int(may[max(0, min(place, may.size - 1))]))
            rows.append(row)
        return np.unique(np.array(rows, np.intp), axis=0)


def kept(choice: TurnChoice) -> float:
    """Return what a way of turning does for the meal, more being better.  [-]"""
    if choice.chance is not None:
        return choice.chance
    return 0.0 if choice.weakest_sun is None else 1.0 - choice.weakest_sun
