"""From a planned day to what its skies make of it: chances for the plan, its dishes, its box."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from suntrack.plan.chance import DayChances, SkyDay, day_chances
from suntrack.plan.chance_advice import worthwhile_changes
from suntrack.plan.dishes.candidates import load_candidates

if TYPE_CHECKING:
    from suntrack.plan.dishes.schedule import Cooked
    from suntrack.plan.frame import Frame
    from suntrack.plan.inputs import DayInputs
    from suntrack.plan.records import BoxSample, Chances, DishPlan


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outlook:
    """What is added to a plan when many skies stand behind it."""

    chances: Chances | None
    """For the day as a whole; None without skies."""
    dishes: tuple[DishPlan, ...]
    """The plan's dishes, with their chances."""
    found: DayChances | None
    """All that was counted; None without skies."""

    def box(self, samples: tuple[BoxSample, ...], *, every: int) -> tuple[BoxSample, ...]:
        """Return the samples of the box, one in so many steps, with the band of the skies."""
        if self.found is None:
            return samples
        return tuple(
            replace(sample, low_c=float(low), middle_c=float(middle), high_c=float(high))
            for sample, (low, middle, high) in zip(
                samples, self.found.band_c[:, ::every].T, strict=True
            )
        )


def outlook(inputs: DayInputs, *, frame: Frame, cooked: Cooked) -> Outlook:
    """Return what the day's skies make of the plan; the plan as it is where there are none."""
    day = cooked.skies
    if day is None:
        return Outlook(chances=None, dishes=cooked.plans, found=None)
    promised = [i for i in cooked.going if cooked.plans[i].status == "ready"]
    found = day_chances(
        day,
        going=cooked.going,
        counted=frozenset(promised or cooked.going),
        threshold_c=inputs.threshold_c,
    )
    chances = found.chances
    if chances.good is None:
        chances = replace(chances, alone=_alone(inputs, frame=frame, day=day, cooked=cooked))
    elif not inputs.heard.skipped:
        changes = worthwhile_changes(inputs, frame=frame, day=day, going=cooked.going, found=found)
        chances = replace(chances, changes=changes)
    dishes = tuple(replace(p, chance=found.by_dish.get(i)) for i, p in enumerate(cooked.plans))
    return Outlook(chances=chances, dishes=dishes, found=found)


def _alone(inputs: DayInputs, *, frame: Frame, day: SkyDay, cooked: Cooked) -> float | None:
    """Return the best chance of what was left out, each alone and as early as it can go in."""
    found = []
    for i, cooking in cooked.left_out.items():
        may = load_candidates(inputs, cooking, frame=frame)
        early = replace(cooking, load_step=int(np.min(may, initial=cooking.load_step)))
        found.append(float(day.good({i: early})[i].mean()))
    return max(found, default=None)
