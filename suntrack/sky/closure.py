"""Which hour a feed's radiation belongs to, asked of the radiation itself.

Global light is diffuse light plus beam times the sine of the sun's height.  The three only
add up when the sun is taken where it was meant: in the middle of the interval before the
stamp, at the stamp itself, or in the middle of the interval after it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

Label = Literal["mean before", "instant", "mean after"]
"""What a value stands for: the interval that ends at its stamp, the stamp, or the next."""

SHARE_OF_STEP: dict[Label, float] = {"mean before": -0.5, "instant": 0.0, "mean after": 0.5}
"""Where the sun stands for each, in steps after the stamp."""
FEWEST_ROWS = 12
"""Sunlit rows that a finding needs: a whole day of them (our choice)."""
CLEARLY = 0.6
"""How much smaller the best error has to be than the expected label's (our choice): on
measured hours of 2012 at NREL SRRL it was a third.  [-]"""
DAYLIGHT_DEG = 8.0


def closure_rms_w_m2(
    stamps_at_s: NDArray[np.float64],
    *,
    global_horizontal_w_m2: NDArray[np.float64],
    beam_normal_w_m2: NDArray[np.float64],
    diffuse_horizontal_w_m2: NDArray[np.float64],
    sun_elevation_deg: Callable[[NDArray[np.float64]], NDArray[np.float64]],
) -> dict[Label, float]:
    """Return how badly the three lights add up under each meaning of the stamp.

    Parameters
    ----------
    stamps_at_s : ndarray, shape (rows,)
        Seconds since 1970 UTC, evenly spaced.  [s]
    global_horizontal_w_m2, beam_normal_w_m2, diffuse_horizontal_w_m2 : ndarray, shape (rows,)
        As the feed stamps them; nan is left out.  [W/m2]
    sun_elevation_deg : callable
        Height of the sun at given moments [s].  [deg]

    Returns
    -------
    rms_w_m2 : dict
        Root mean square of diffuse + beam sin(height) - global by label; empty with fewer
        than twelve sunlit rows, since then nothing can be said.  [W/m2]
    """
    step_s = float(np.median(np.diff(stamps_at_s))) if stamps_at_s.size > 1 else 0.0
    heights = {
        label: np.radians(sun_elevation_deg(stamps_at_s + share * step_s))
        for label, share in SHARE_OF_STEP.items()
    }
    # The same rows for each label, or the one with the fewest low suns would win.
    used = np.isfinite(global_horizontal_w_m2 + beam_normal_w_m2 + diffuse_horizontal_w_m2)
    for height in heights.values():
        used &= height > np.radians(DAYLIGHT_DEG)
    used &= beam_normal_w_m2 > 0.0
    if np.count_nonzero(used) < FEWEST_ROWS:
        return {}
    rms = {}
    for label, height in heights.items():
        rest = diffuse_horizontal_w_m2 + beam_normal_w_m2 * np.sin(height)
        rms[label] = float(np.sqrt(np.mean((rest - global_horizontal_w_m2)[used] ** 2)))
    return rms


def label_of(rms_w_m2: dict[Label, float], *, expected: Label) -> Label:
    """Return what the stamps stand for: the expected label unless another is clearly better."""
    if not rms_w_m2:
        return expected
    best = min(rms_w_m2, key=lambda label: rms_w_m2[label])
    return best if rms_w_m2[best] < CLEARLY * rms_w_m2[expected] else expected


def as_mean_before(values: NDArray[np.float64], label: Label) -> NDArray[np.float64]:
    """Return values stamped by `label` as means of the interval before each stamp.

    Parameters
    ----------
    values : ndarray, shape (..., rows)
        Evenly spaced.
    label : Label

    Returns
    -------
    means : ndarray
        In the shape of `values`; nan in the first row where the interval before it is not
        known.
    """
    if label == "mean before":
        return values
    before = np.full_like(values, np.nan)
    if label == "instant":
        before[..., 1:] = 0.5 * (values[..., :-1] + values[..., 1:])
    else:
        before[..., 1:] = values[..., :-1]
    return before
