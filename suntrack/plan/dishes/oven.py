"""The box on one day as an oven to search with: load and pull steps in, temperatures out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from suntrack.box.heat.convection import swinbank_sky_c
from suntrack.box.heat.network import Thermal, thermal
from suntrack.box.heat.simulate import Climate, Trace, simulate
from suntrack.box.heat.structs import PotCharge
from suntrack.box.light.gain import BoxLight, box_light
from suntrack.plan.rays import Skies, rays_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from suntrack.plan.inputs import DayInputs
    from suntrack.plan.turns.aims import AimedDay


STRIDE_S = 60.0
"""Longest stride of a planned day: within 0.3 K of short ones, and half the work.  [s]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DayOven:
    """One box, aimed through one stretch of one day, with its pots."""

    thermal: Thermal
    """The box as conductances and stores."""
    light: BoxLight
    """What it takes in, a row for each run."""
    climate: Climate
    """The air around it."""
    pots: tuple[PotCharge, ...]
    """What goes in."""
    step_s: float
    """Length of a step.  [s]"""
    steps: int
    """Of the stretch."""
    start_c: float
    """The box before it is set out.  [C]"""
    out: tuple[int, ...] = ()
    """When each pot comes out while loads are searched; empty for never.  [step]"""

    def run(
        self, *, load_step: NDArray[np.intp], pull_step: NDArray[np.intp] | None = None
    ) -> Trace:
        """Return what happens for many choices of load and pull steps, shape (days, pots)."""
        stays = np.full((1, load_step.shape[1]), self.steps, np.intp)
        return simulate(
            self.thermal,
            light=self.light,
            climate=self.climate,
            pots=self.pots,
            load_step=load_step,
            pull_step=stays if pull_step is None else pull_step,
            step_s=self.step_s,
            start_c=self.start_c,
            longest_s=STRIDE_S,
        )

    def empty(self) -> Trace:
        """Return what happens when nothing goes in."""
        bare = DayOven(
            thermal=self.thermal,
            light=self.light,
            climate=self.climate,
            pots=(),
            step_s=self.step_s,
            steps=self.steps,
            start_c=self.start_c,
        )
        return bare.run(load_step=np.zeros((1, 0), np.intp))

    def __call__(self, load_step: NDArray[np.intp]) -> NDArray[np.float64]:
        """Return cores for the search, (days, skies, dishes, steps + 1).  [C]"""
        skies = self.light.inside_w.shape[0]
        out = np.array([self.out], np.intp) if self.out else None
        core_c = self.run(load_step=np.repeat(load_step, skies, axis=0), pull_step=out).core_c
        return core_c.reshape(len(load_step), skies, *core_c.shape[1:])


def day_oven(
    inputs: DayInputs,
    *,
    aimed: AimedDay,
    steps: slice,
    pots: Sequence[PotCharge],
    light_factors: ArrayLike = (1.0,),
    skies: Skies = 0,
) -> DayOven:
    """Return the oven of a stretch of the day.

    It stands under the sky planned for, or under each of many skies as a run of its own.

    Each of `light_factors`, a number or a row of one for each step, scales the light and makes a
    run of its own; this is how thermometer readings make the day brighter or dimmer than the sky
    that was assumed.
    """
    # Temperature and wind are alike in every sky.
    air_c = inputs.weather.air_c[:1, steps]
    light = box_light(
        inputs.box,
        **rays_of(inputs, steps=steps, skies=skies),
        face_deg=aimed.face_deg,
        mirror_deg=aimed.mirror_deg,
    )
    return DayOven(
        thermal=thermal(inputs.box),
        light=_scaled(light, _by_step(light_factors) * aimed.lit),
        climate=Climate(
            air_c=air_c,
            sky_c=np.asarray(swinbank_sky_c(air_c)),
            wind_m_s=inputs.weather.wind_m_s[:1, steps],
        ),
        pots=tuple(pots),
        step_s=inputs.weather.step_s,
        steps=air_c.shape[1],
        start_c=float(air_c[0, 0]),
    )


def _by_step(light_factors: ArrayLike) -> NDArray[np.float64]:
    """Return factors as rows over steps: one number stands for all steps of its row."""
    factors = np.asarray(light_factors, np.float64)
    return factors[:, None] if factors.ndim == 1 else factors


def _scaled(light: BoxLight, factors: NDArray[np.float64]) -> BoxLight:
    """Return light as one run for each row of factors, (rows, steps)."""
    each, each_pane = factors, factors[..., None]
    return BoxLight(
        inside_w=light.inside_w * each,
        top_panes_w=light.top_panes_w * each_pane,
        front_panes_w=light.front_panes_w * each_pane,
        top_w=light.top_w * each,
        front_w=light.front_w * each,
        mirror_w=light.mirror_w * each,
    )
