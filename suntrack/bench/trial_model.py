"""What the model expects of a guided trial on a clear day, so that nobody tries in vain."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.bench.trials import WATER_KG, as_told, square_w_m2
from suntrack.bench.water_load import water_pots
from suntrack.box.heat.network import thermal
from suntrack.box.heat.simulate import simulate
from suntrack.learn.logged_day import PotStay, logged_day
from suntrack.plan.inputs import ObservedReading

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.bench.trials import Trial, TrialDay
    from suntrack.box.build import Pot
    from suntrack.box.heat.simulate import Trace
    from suntrack.box.residuals import LoggedDay

HALF, TWO_THIRDS = 1.0 / 2.0, 2.0 / 3.0
"""How full a slow cooker is tested (New Mexico State University extension, January 2016)."""
TAP_C = 20.0
"""Cold tap water (our choice).  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlook:
    """What a trial is up against."""

    expected_c: float | None
    """On a clear day: the empty box at its hottest, the water at the end; None for water
    without a pot that fits.  [C]"""
    pot: str | None
    """The pot for two litres; None for other trials, and without pots."""
    air_c: float
    """Mean of a usual day while it runs."""
    square_w_m2: float
    """Weakest clear sun square to the beam while it runs."""


def outlook_of(trial: Trial, day: TrialDay, *, pots: Sequence[Pot], boiling_c: float) -> Outlook:
    """Return what the model expects of a trial, done as it says under a clear sky.

    Parameters
    ----------
    trial : Trial
    day : TrialDay
        Its sky is the clear one.
    pots : sequence of Pot
        The cook's own.  [-]
    boiling_c : float
        Where water boils at the site.  [C]
    """
    chosen = [water_pot(pots)] if trial.name == "water" and pots else list(pots)
    at_s = np.array([step.at.timestamp() for step in trial.steps])
    return Outlook(
        expected_c=_expected_c(trial, day, pots=chosen, boiling_c=boiling_c),
        pot=chosen[0].name if trial.name == "water" and chosen else None,
        air_c=float(np.interp(at_s, day.sun.at_s, day.weather.air_c[0]).mean()),
        square_w_m2=float(square_w_m2(day, at_s).min()),
    )


def _expected_c(
    trial: Trial, day: TrialDay, *, pots: Sequence[Pot], boiling_c: float
) -> float | None:
    if trial.water_kg is None:
        return float(np.max(_run(_logged(trial, day, ()), day).oven_c))
    charges, _ = water_pots(
        pots, box=day.box, water_kg=trial.water_kg, boiling_c=boiling_c, start_c=TAP_C
    )
    if not charges:
        return None
    stays = [PotStay(charge=one, loaded_at=trial.starts_at, pulled_at=None) for one in charges]
    trace = _run(_logged(trial, day, stays), day)
    return float(np.min(trace.pots_c[0, :, -1]))


def water_pot(pots: Sequence[Pot]) -> Pot:
    """Return the pot that two litres fill most nearly by half to two thirds, dark ones first."""
    middle = 0.5 * (HALF + TWO_THIRDS)
    return min(pots, key=lambda pot: (not pot.dark, abs(WATER_KG / pot.capacity_l - middle)))


def _logged(trial: Trial, day: TrialDay, pots: Sequence[PotStay]) -> LoggedDay:
    """Return the day of a trial, done as it says; what is read does not matter."""
    return logged_day(
        day.box,
        day.site,
        sun=day.sun,
        weather=day.weather,
        readings=[ObservedReading(at=step.at, box_c=0.0) for step in trial.steps],
        aims=as_told(trial),
        pots=pots,
    )


def _run(logged: LoggedDay, day: TrialDay) -> Trace:
    return simulate(
        thermal(day.box),
        light=logged.light,
        climate=logged.climate,
        pots=logged.pots,
        load_step=logged.load_step,
        pull_step=logged.pull_step if logged.pots else None,
        step_s=logged.step_s,
        start_c=logged.start_c,
    )
