"""Judging simulated days: cold pieces under hot liquid, waiting in the kitchen, taken out."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from suntrack.box.build import Pot
from suntrack.food.charge import pot_charge, settling_delta_k
from suntrack.food.dishes import builtin_dishes
from suntrack.plan.dishes.judge import Judge, in_box, settled

STEPS = 240
STEP_S = 120.0
STEW = builtin_dishes()["beef-stew"]
POT = Pot(
    name="pot", capacity_l=4.0, mass_kg=1.3, material="enamelled steel", diameter_m=0.24,
    height_m=0.12,
)  # fmt: skip
CHARGE = pot_charge(STEW, POT, mass_kg=STEW.mass_kg, boiling_c=96.6)
SETTLING_DELTA_K = settling_delta_k(STEW, CHARGE, step_s=STEP_S, steps=STEPS)


def judge(*, apart: bool, pull_step: int | None = None) -> Judge:
    return Judge(
        dish=STEW,
        step_s=STEP_S,
        air_c=np.full(STEPS + 1, 25.0),
        pull_step=pull_step,
        settling_delta_k=SETTLING_DELTA_K if apart else None,
    )


def heating(load: np.ndarray) -> np.ndarray:
    """Return cores that wait at the mean start and then warm towards 95 C in about an hour."""
    since = np.maximum(np.arange(STEPS + 1) - load[:, None], 0)
    return np.asarray(95.0 - (95.0 - CHARGE.start_c) * np.exp(-since * STEP_S / 3600.0))


def test_the_middle_goes_in_as_cold_as_the_refrigerator() -> None:
    """5 C, whatever the liquid's heat makes the mean."""
    load = np.array([0, 50, 100])
    inside_c = judge(apart=True).inside(heating(load), load)
    assert inside_c[np.arange(3), load] == pytest.approx([5.0] * 3)
    assert np.all(inside_c[1, :50] == 0.0)
    assert np.all(inside_c[2, :100] == 0.0)


def test_each_day_settles_from_its_own_load() -> None:
    load = np.array([0, 50])
    cores = settled(np.zeros((2, STEPS + 1)), load, settling_delta_k=SETTLING_DELTA_K)
    assert cores[0, :100] == pytest.approx(cores[1, 50:150])
    assert np.all(cores[1, :50] == 0.0)
    assert settled(cores, load, settling_delta_k=None) is cores


def test_what_is_taken_out_cooks_no_further() -> None:
    load = np.array([10])
    inside_c = judge(apart=True, pull_step=60).inside(heating(load), load)
    assert np.all(inside_c[0, 61:] == 0.0)
    assert np.all(inside_c[0, 10:61] > 0.0)


@settings(deadline=None, max_examples=30)
@given(load=st.integers(0, 120), later=st.integers(0, 60))
def test_cold_pieces_are_never_ready_sooner_than_the_mean(load: int, later: int) -> None:
    """And a later load is never ready sooner."""
    loads = np.array([load, load + later])
    cores = heating(loads)
    apart, even = (judge(apart=how)(cores, loads) for how in (True, False))
    assert np.all(apart.ready_step >= even.ready_step)
    assert apart.ready_step[1] >= apart.ready_step[0]


def test_without_a_load_nothing_counts() -> None:
    assert np.all(in_box(np.full((1, 11), 80.0), np.array([20])) == 0.0)
