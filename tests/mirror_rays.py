"""An independent oracle for mirrors: rays, one by one, from the sun to the glass.

Plates stand in the world's frame and rays bounce until they are lost; there is no box frame,
no polygon and no order of mirrors here, and nothing is shared with the code under test.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]
BOUNCES = 12
"""More than this were never needed."""


@dataclass(frozen=True, kw_only=True)
class Plate:
    """A flat rectangle."""

    middle: Vector
    """Of the edge it is hinged at."""
    out: Vector
    """Unit vector from that edge to the opposite one."""
    edge: Vector
    """Unit vector along that edge."""
    shines: Vector
    """Unit vector square to it, on the side that reflects or lets light in."""
    length: float
    width: float

    def meet(self, start: Vector, way: Vector) -> Vector:
        """Return how far along its way each ray meets the plate, inf where it does not."""
        with np.errstate(divide="ignore", invalid="ignore"):
            away = ((self.middle - start) @ self.shines) / (way @ self.shines)
            spot = start + away[:, None] * way - self.middle
        along, aside = spot @ self.out, spot @ self.edge
        hit = (along > 0) & (along < self.length) & (np.abs(aside) < self.width / 2)
        return np.where(hit & (away > 1e-9), away, np.inf)


def open_box(
    *,
    tilt: float,
    top: tuple[float, float],
    back: tuple[float, float, float, float],
    sides: tuple[float, float, float, float],
) -> list[Plate]:
    """Return glass, back mirror and both side mirrors; lengths, widths, gaps and angles.

    Angles are between glass and mirror, through the sky; the box looks along x, z is up.
    """
    b = np.radians(tilt)
    front, off = np.array([np.cos(b), 0.0, -np.sin(b)]), np.array([np.sin(b), 0.0, np.cos(b)])
    right = np.array([0.0, 1.0, 0.0])
    centre = top[0] / 2.0 * front
    plates = [
        Plate(middle=0 * front, out=front, edge=right, shines=off, length=top[0], width=top[1])
    ]
    hinges = [
        (front, right, -back[2] * front, back),
        (-right, front, centre + (top[1] / 2.0 + sides[2]) * right, sides),
        (right, front, centre - (top[1] / 2.0 + sides[2]) * right, sides),
    ]
    for inward, edge, middle, (length, width, _, angle) in hinges:
        p = np.radians(angle)
        plates.append(
            Plate(
                middle=middle,
                out=np.cos(p) * inward + np.sin(p) * off,
                edge=edge,
                shines=np.sin(p) * inward - np.cos(p) * off,
                length=length,
                width=width,
            )
        )
    return plates


def sun_over(height: float, offset: float) -> Vector:
    """Return the unit vector to a sun so high and so far aside of where the box looks."""
    a, g = np.radians(height), np.radians(offset)
    return np.array([np.cos(a) * np.cos(g), np.cos(a) * np.sin(g), np.sin(a)])


def beam_of_rays(sun: Vector, *, half_m: float, each_way: int) -> tuple[Vector, float]:
    """Return starts of rays on a square across the beam, one at random in each small cell."""
    across = np.cross(sun, [0.3, 0.5, 0.8])
    across /= np.linalg.norm(across)
    other = np.cross(sun, across)
    cell = 2.0 * half_m / each_way
    rng = np.random.default_rng(20261125)
    row, column = np.meshgrid(np.arange(each_way), np.arange(each_way))
    spot = np.stack([row.ravel(), column.ravel()]) + rng.uniform(size=(2, each_way**2))
    spot = spot * cell - half_m
    return 10.0 * sun + spot[0][:, None] * across + spot[1][:, None] * other, cell**2


def by_bounces(
    plates: list[Plate], sun: Vector, *, half_m: float, each_way: int
) -> tuple[list[float], list[float]]:
    """Follow every ray; return what meets the first plate and what each plate is struck by.

    Both are areas square to the beam.  The first list goes by how many mirrors the light met
    on its way to the glass, the second by plate: light that it meets first of all.
    """
    start, cell_m2 = beam_of_rays(sun, half_m=half_m, each_way=each_way)
    way = np.broadcast_to(-sun, start.shape)
    arrived, struck = [], [0.0] * len(plates)
    for bounce in range(BOUNCES):
        away = np.stack([plate.meet(start, way) for plate in plates])
        first = away.argmin(axis=0)
        met = np.isfinite(away.min(axis=0))
        rays, ways, following = [], [], 0.0
        for i, plate in enumerate(plates):
            here = met & (first == i) & (way @ plate.shines < 0.0)
            if bounce == 0:
                struck[i] = float(here.sum()) * cell_m2
            if i == 0:
                following = float(here.sum()) * cell_m2
                continue
            turned = way[here] - 2.0 * (way[here] @ plate.shines)[:, None] * plate.shines
            rays.append(start[here] + away[i, here][:, None] * way[here])
            ways.append(turned)
        arrived.append(following)
        start, way = np.concatenate(rays), np.concatenate(ways)
        if not len(start):
            break
    return arrived + [0.0] * (BOUNCES - len(arrived)), struck
