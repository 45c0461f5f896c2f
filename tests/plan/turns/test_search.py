"""Turns: the dynamic programme against every other way of choosing them."""

from __future__ import annotations

from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from suntrack.plan.turns.search import KEPT, best_turns, fewest, habit, light_of

tables = st.tuples(st.integers(1, 4), st.integers(1, 7)).flatmap(
    lambda shape: arrays(np.float64, shape, elements=st.integers(0, 50).map(float))
)


def exhaustive(light: np.ndarray, turns: int, may_turn: np.ndarray) -> float:
    """Try every placing of `turns` turns; independent of the code under test."""
    steps = light.shape[1]
    places = [step for step in range(1, steps) if may_turn[step]]
    best = -np.inf
    for cuts in combinations(places, turns):
        edges = [0, *cuts, steps]
        total = sum(light[:, a:b].sum(axis=1).max() for a, b in pairwise(edges))
        best = max(best, total)
    return float(best)


@given(light=tables, turns=st.integers(0, 3), seed=st.integers(0, 99))
def test_programme_equals_trying_everything(light: np.ndarray, turns: int, seed: int) -> None:
    """The exact method is checked against exhaustive search on small days."""
    may_turn = np.random.default_rng(seed).random(light.shape[1:]) < 0.7
    found = best_turns(light, most_turns=turns, may_turn=may_turn)[turns]
    wanted = max(exhaustive(light, k, may_turn) for k in range(turns + 1))
    assert found.light == pytest.approx(wanted)
    assert light_of(light, starts=found.starts, rows=found.rows) == pytest.approx(wanted)


@given(light=tables, seed=st.integers(0, 99))
def test_turns_fall_only_where_they_may(light: np.ndarray, seed: int) -> None:
    may_turn = np.random.default_rng(seed).random(light.shape[1:]) < 0.5
    for choice in best_turns(light, most_turns=4, may_turn=may_turn):
        assert all(may_turn[start] for start in choice.starts[1:])
        assert list(choice.starts) == sorted(set(choice.starts))


@given(light=tables)
def test_more_turns_never_keep_less_and_never_more_than_following(light: np.ndarray) -> None:
    kept = [choice.light for choice in best_turns(light, most_turns=6)]
    assert kept == sorted(kept)
    assert kept[-1] <= light.max(axis=0).sum() + 1e-9


def test_enough_turns_equal_following_the_sun() -> None:
    light = np.eye(5)
    assert best_turns(light, most_turns=4)[4].light == pytest.approx(5.0)


@given(light=tables, every=st.integers(1, 5), ahead=st.integers(0, 3))
def test_habit_is_one_of_the_choices_the_programme_could_make(
    light: np.ndarray, every: int, ahead: int
) -> None:
    row_at = light.argmax(axis=0)
    kept = habit(light, every=every, row_at=row_at, ahead=ahead)
    best = best_turns(light, most_turns=kept.turns)[kept.turns]
    assert kept.light <= best.light + 1e-9


def test_aiming_half_an_interval_ahead_beats_aiming_at_the_sun() -> None:
    """The advance that unattended alignment papers advise: half the interval.

    Source: Zhu and Kim, "unattended alignment", solarcooking.org/unattendedalignment.htm
    (found): "usually ... half of the interval between adjustments".
    """
    aim_deg = np.arange(0.0, 91.0)[:, None]
    sun_deg = np.linspace(15.0, 75.0, 60)
    light = np.cos(np.radians(aim_deg - sun_deg))
    row_at = np.rint(sun_deg).astype(np.intp)
    ahead = habit(light, every=12, row_at=row_at, ahead=6)
    behind = habit(light, every=12, row_at=row_at, ahead=0)
    assert ahead.light > behind.light


def test_fewest_takes_the_smallest_number_that_is_good_enough() -> None:
    light = np.eye(4)
    choices = best_turns(light, most_turns=3)
    assert fewest(choices, at_least=2.0).turns == 1
    assert fewest(choices, at_least=99.0).turns == 3


def test_a_table_that_does_not_fit_is_refused() -> None:
    with pytest.raises(ValueError, match="fit"):
        best_turns(np.ones((2, 3)), most_turns=1, may_turn=np.ones(4, bool))
    with pytest.raises(ValueError, match="fit"):
        best_turns(np.ones((2, 0)), most_turns=1)


@given(light=tables, first=st.integers(0, 3))
def test_the_first_stretch_keeps_the_aim_the_box_already_has(light: np.ndarray, first: int) -> None:
    row = first % light.shape[0]
    for choice in best_turns(light, most_turns=3, first=light[row]):
        assert choice.rows[0] == KEPT
        kept = light_of(light, starts=choice.starts, rows=(row, *choice.rows[1:]))
        assert kept == pytest.approx(choice.light)


@given(light=tables, saved=st.floats(0.0, 5.0), at=st.integers(1, 6))
def test_a_shared_walk_draws_turns_to_it_and_is_not_light(
    light: np.ndarray, saved: float, at: int
) -> None:
    """What a walk is worth weighs in the choice, against trying every pair of places."""
    steps = light.shape[1]
    worth = np.zeros(steps)
    worth[min(at, steps - 1)] = saved
    worth[0] = 0.0

    def value(start: int) -> float:
        return float(light[:, :start].sum(axis=1).max() + light[:, start:].sum(axis=1).max())

    found = best_turns(light, most_turns=1, worth=worth)[1]
    assert light_of(light, starts=found.starts, rows=found.rows) == pytest.approx(found.light)
    best = max([value(0), *(value(start) + worth[start] for start in range(1, steps))])
    mine = found.light + sum(worth[start] for start in found.starts[1:])
    assert mine == pytest.approx(best)
