"""A box, its pots and its food that are not ours: the world a plan is judged in.

Written apart from `suntrack.box` and `suntrack.food`, and otherwise: five nodes with fixed
coefficients for the box, light by sampled rays of an isotropic sky, food by one lag of its
middle, doneness by minutes of a simmer.  Coefficients are handbook orders of magnitude (from
memory: Duffie and Beckman, chapters 3, 5 and 7) with room for a leaky or a dirty box.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

STEP_S = 30.0
WIDTH_M, DEPTH_M, HEIGHT_M, MIRROR_M = 0.56, 0.42, 0.27, 0.44
TOP_M2, FRONT_M2 = WIDTH_M * DEPTH_M, WIDTH_M * HEIGHT_M
NORMAL_GLASS = 0.70
"""Two clear panes of 4 mm float, square to the light.  [-]"""
EVEN_GLASS = 0.58
"""The same for light from all over the sky.  [-]"""
TAKEN = 0.93
"""Share of what comes in that stays in the dark box.  [-]"""
REFLECTANCE = 0.82
ABSORBER_J_K = 4200.0
WALL_J_K = 5200.0
PANE_J_K = 8000.0 * (TOP_M2 + FRONT_M2)
ABSORBER_M2 = 0.80
INNER_WALL_W_K, OUTER_WALL_W_K = 0.95, 1.15
LEAK_W_K = 0.18
LIGHTS = ("beam_w_m2", "sky_w_m2", "ground_w_m2")


@dataclass(frozen=True, slots=True, kw_only=True)
class Flaws:
    """How a real box differs from the one its cook wrote down."""

    loss: float = 1.0
    """On what walls, glass and seals lose.  [-]"""
    light: float = 1.0
    """On what comes in: dirt, an old mirror, grey paint.  [-]"""
    heat: float = 1.0
    """On what the box itself has to be warmed.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Food:
    """A dish as this world cooks it."""

    key: str
    mass_kg: float
    start_c: float
    lag_s: float
    """Time constant of its middle behind the liquid around it.  [s]"""
    simmer_min: float
    """Minutes at 95 C that make it done.  [min]"""
    z_k: float
    """Ten times as long for so many degrees less.  [K]"""
    floor_c: float
    """Below this nothing counts.  [C]"""
    safe_c: float
    """What official advice asks of its middle.  [C]"""
    clock_min: float
    """How long it may take from cold to 57 C (Food Code and its like).  [min]"""
    pot_m2: float
    pot_j_k: float


FOODS = {
    "lentil-soup": Food(
        key="lentil-soup", mass_kg=1.8, start_c=20.0, lag_s=120.0, simmer_min=40.0, z_k=22.0,
        floor_c=75.0, safe_c=60.0, clock_min=240.0, pot_m2=0.20, pot_j_k=650.0,
    ),
    "winter-squash": Food(
        key="winter-squash", mass_kg=1.2, start_c=20.0, lag_s=900.0, simmer_min=16.0, z_k=27.0,
        floor_c=70.0, safe_c=60.0, clock_min=240.0, pot_m2=0.11, pot_j_k=250.0,
    ),
    "chicken-pieces": Food(
        key="chicken-pieces", mass_kg=1.5, start_c=27.0, lag_s=420.0, simmer_min=14.0, z_k=31.0,
        floor_c=70.0, safe_c=73.9, clock_min=120.0, pot_m2=0.14, pot_j_k=450.0,
    ),
}  # fmt: skip


def pane_share(cosine: Floats) -> Floats:
    """Return the share of beam that two panes pass, by the cosine of its angle.  [-]

    The usual one-number form of test reports, 1 - b (1 / cos - 1) with b = 0.17.
    """
    cosine = np.clip(cosine, 0.0, 1.0)
    share = 1.0 - 0.17 * (1.0 / np.maximum(cosine, 1e-3) - 1.0)
    return np.where(cosine > 0.05, NORMAL_GLASS * np.clip(share, 0.0, 1.0), 0.0)


def light_inside_w(
    *, elevation_deg: Floats, azimuth_deg: Floats, dni: Floats, dhi: Floats, ghi: Floats,
    face_deg: Floats, mirror_deg: Floats,
) -> Floats:  # fmt: skip
    """Return what the box takes in, by rays sampled on its mirror.  [W]"""
    up = np.sin(np.radians(elevation_deg))
    level = np.cos(np.radians(elevation_deg))
    off = np.radians(azimuth_deg - face_deg)
    ahead, aside = level * np.cos(off), level * np.sin(off)
    day = up > 0.02
    beam = np.where(day, dni, 0.0)
    top = beam * np.maximum(up, 0.0) * pane_share(up) * TOP_M2
    front = beam * np.maximum(ahead, 0.0) * pane_share(ahead) * FRONT_M2
    even = EVEN_GLASS * (dhi * (0.85 * TOP_M2 + 0.5 * FRONT_M2) + 0.2 * ghi * 0.5 * FRONT_M2)
    mirror = beam * _mirror_m2(up, ahead, aside, np.radians(mirror_deg))
    return np.asarray(TAKEN * (top + front + even + np.where(day, mirror, 0.0)))


def _mirror_m2(up: Floats, ahead: Floats, aside: Floats, angle: Floats) -> Floats:
    """Return the area of beam that the mirror throws through the top glass.  [m2]

    Coordinates: x ahead of the box, y aside, z up; the hinge is at x = 0, the glass lies from
    x = 0 to DEPTH_M in front of it, the mirror rises at `angle` from the glass.
    """
    along_x, along_z = np.cos(angle), np.sin(angle)
    normal_x, normal_z = np.sin(angle), -np.cos(angle)
    facing = ahead * normal_x + up * normal_z
    total = np.zeros_like(up)
    for v in (np.arange(8) + 0.5) / 8 * MIRROR_M:
        # A ray comes down along -(ahead, aside, up) and leaves mirrored in the plate.
        out_x = -ahead + 2.0 * facing * normal_x
        out_z = -up + 2.0 * facing * normal_z
        run = np.where(out_z < -1e-3, -v * along_z / np.minimum(out_z, -1e-3), np.inf)
        land_x = v * along_x + run * out_x
        lands = (facing > 0.0) & np.isfinite(run) & (land_x > 0.0) & (land_x < DEPTH_M)
        shift = np.abs(np.where(np.isfinite(run), run * aside, WIDTH_M))
        wide = np.clip(1.0 - shift / WIDTH_M, 0.0, 1.0)
        part = pane_share(-out_z) * wide * np.where(lands, facing, 0.0)
        total += part * REFLECTANCE * WIDTH_M * MIRROR_M / 8
    return total


def boil_c(elevation_m: float) -> float:
    """Return where water boils at a height.  [C]  (one degree for 300 m, kitchen rule)."""
    return 100.0 - elevation_m / 300.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Day:
    """The weather of a day on the grid of this world, each (steps,)."""

    inside_w: Floats
    """What the box takes in as its cook turns it, (steps,).  [W]"""
    air_c: Floats
    wind_m_s: Floats
    boil_c: float


def run(day: Day, flaws: Flaws, foods: Sequence[Food], loads: NDArray[np.intp],
        pulls: NDArray[np.intp]) -> tuple[Floats, Floats]:  # fmt: skip
    """Return the box, (runs, steps), and the middles of the dishes, (runs, dishes, steps).  [C]

    `loads` and `pulls` are steps, (runs, dishes).
    """
    runs, count = loads.shape
    steps = day.inside_w.size
    absorber, wall, inner, outer = (np.full(runs, day.air_c[0]) for _ in range(4))
    pot = np.tile([food.start_c for food in foods], (runs, 1)).astype(float)
    middle = pot.copy()
    pot_j = np.array([food.mass_kg * 3750.0 + food.pot_j_k for food in foods])
    pot_m2 = np.array([food.pot_m2 for food in foods])
    lag = np.array([food.lag_s for food in foods])
    box_c = np.zeros((runs, steps))
    middles = np.zeros((runs, count, steps))
    glass_m2 = TOP_M2 + FRONT_M2
    for step in range(steps):
        air, wind = day.air_c[step], day.wind_m_s[step]
        inside = (loads <= step) & (pulls > step)
        share = np.minimum((inside * pot_m2).sum(axis=1) / (ABSORBER_M2 + 0.4), 0.45)
        got = flaws.light * day.inside_w[step]
        leak = LEAK_W_K * flaws.loss
        to_pots = 4.0 * pot_m2 * inside
        hollow = 4.5 * ABSORBER_M2 + 4.0 * glass_m2 + to_pots.sum(axis=1) + leak
        hot = (
            4.5 * ABSORBER_M2 * absorber + 4.0 * glass_m2 * inner
            + (to_pots * pot).sum(axis=1) + leak * air
        ) / hollow  # fmt: skip
        mean_k = 273.15 + 0.5 * (absorber + inner)
        glow = 4.0 * 5.67e-8 * 0.85 * mean_k**3 * glass_m2 * 0.9
        pot_glow = 7.0 * pot_m2 * inside
        pot_heat = to_pots * (hot[:, None] - pot) + pot_glow * (absorber[:, None] - pot)
        lit = (got * share)[:, None] * np.where(inside, pot_m2, 0.0)
        lit = lit / np.maximum((inside * pot_m2).sum(axis=1), 1e-9)[:, None]
        pot_heat = pot_heat + lit
        gap = (
            flaws.loss
            * glass_m2
            * (2.2 + 4.0 * 5.67e-8 * 0.78 * (273.15 + 0.5 * (inner + outer)) ** 3)
        )
        sky_c = air - 14.0
        out_w = glass_m2 * ((5.0 + 3.2 * wind) * (outer - air) + 5.0 * (outer - sky_c))
        flow_in = INNER_WALL_W_K * flaws.loss * (absorber - wall)
        flow_out = OUTER_WALL_W_K * flaws.loss * (wall - air)
        gain = got * (1.0 - share) + 4.5 * ABSORBER_M2 * (hot - absorber)
        gain = gain - glow * (absorber - inner) - flow_in
        gain = gain - (pot_glow * (absorber[:, None] - pot)).sum(axis=1)
        absorber = absorber + STEP_S * gain / (ABSORBER_J_K * flaws.heat)
        to_inner = glow * (mean_k * 0 + absorber - inner) + 4.0 * glass_m2 * (hot - inner)
        inner = inner + STEP_S * (to_inner - gap * (inner - outer)) / PANE_J_K
        outer = outer + STEP_S * (gap * (inner - outer) - out_w) / PANE_J_K
        wall = wall + STEP_S * (flow_in - flow_out) / (WALL_J_K * flaws.heat)
        # Vapour past the lid: a twentieth of an open pan's, gone through the seals.
        dried = 0.35 * np.exp(0.062 * (np.minimum(pot, 100.0) - 60.0)) * inside
        pot = np.where(inside, pot + STEP_S * (pot_heat - dried) / pot_j, pot)
        pot = np.minimum(pot, day.boil_c)
        middle = np.where(inside, middle + STEP_S * (pot - middle) / lag, middle)
        box_c[:, step] = hot
        middles[:, :, step] = middle
    return box_c, middles


@dataclass(frozen=True, slots=True, kw_only=True)
class Eaten:
    """What became of a dish at its meal."""

    good: bool
    """Done and safe on the table."""
    safe: bool
    thrown: bool
    """Its clock ran out before it was hot."""


def eaten(food: Food, middle_c: Floats, *, load: int, pull: int, serve: int) -> Eaten:
    """Return what a dish is when it is served."""
    until = min(pull, serve, middle_c.size)
    core = middle_c[load:until]
    if core.size == 0:
        return Eaten(good=False, safe=False, thrown=False)
    rate = np.where(core >= food.floor_c, 10.0 ** ((core - 95.0) / food.z_k), 0.0)
    done = rate.sum() * STEP_S / 60.0 >= food.simmer_min
    slow = (core < 57.0).cumprod().sum() * STEP_S / 60.0 > food.clock_min
    safe = bool(core.max() >= food.safe_c) and not slow
    cooled = bool((core[int(core.argmax()) :] < 57.0).any())
    return Eaten(good=bool(done) and safe and not cooled, safe=safe, thrown=bool(slow))
