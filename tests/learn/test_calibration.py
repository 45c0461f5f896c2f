"""Learning under skies that are not clear: measured ones, and small ones made by hand."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from benchmarks import learned_skies
from benchmarks.learned_skies import Trial, try_box

from suntrack.learn.logged_day import CLEAR_SPREAD, light_doubt, told_spread

BOXES = 6


@pytest.fixture(scope="module")
def cloudy() -> list[Trial]:
    """Return boxes on cloudy days whose light was told as it was."""
    rng = np.random.default_rng(1)
    return [try_box(rng, "cloudy", "the light") for _ in range(BOXES)]


@pytest.fixture(scope="module")
def forecast() -> list[Trial]:
    """Return boxes on days of sun and cloud, as a forecast told them, errors and all."""
    rng = np.random.default_rng(2)
    return [try_box(rng, "mixed", "a forecast") for _ in range(BOXES)]


@pytest.mark.parametrize("kind", ["cloudy", "forecast"])
def test_three_days_halve_the_error_on_new_days(kind: str, request: pytest.FixtureRequest) -> None:
    """NREL SRRL, summer 2012; factors within 30 %, 1 K of noise: the median box."""
    trials: list[Trial] = request.getfixturevalue(kind)
    assert all(one.usable for one in trials)
    before, after = (np.median([getattr(t, n) for t in trials]) for n in ("before_k", "after_k"))
    assert after < 0.5 * before


def test_the_truth_lies_in_the_range_that_is_told(
    cloudy: list[Trial], forecast: list[Trial]
) -> None:
    """Nine times of ten: 36 factors, whose share has a sampling error of 5 % and more."""
    held = np.mean([one.within() for one in (*cloudy, *forecast)])
    assert 0.78 <= held <= 1.0


def test_cloudy_days_of_which_nothing_was_told_teach_nothing() -> None:
    rng = np.random.default_rng(3)
    assert not any(try_box(rng, "cloudy", "nothing").usable for _ in range(3))


def test_clear_days_need_nobody_to_tell_their_light() -> None:
    rng = np.random.default_rng(4)
    trials = [try_box(rng, "clear", "nothing") for _ in range(4)]
    assert all(one.usable for one in trials)
    assert np.median([t.after_k for t in trials]) < 0.5 * np.median([t.before_k for t in trials])


def test_the_kinds_of_days_are_those_of_the_measured_summer() -> None:
    """61 days, 30 of June and 31 of August; every one is of one kind."""
    assert sum(len(learned_skies.days_of(kind)) for kind in learned_skies.KINDS) == 61
    assert min(learned_skies.measured()) == date(2012, 6, 1)


def test_hours_that_were_told_are_doubted_the_more_the_cloudier() -> None:
    spread = told_spread(np.array([0.3, 0.6, 0.9, 1.0, np.nan]))
    assert (np.diff(spread[:4]) < 0.0).all()
    assert np.isnan(spread[4])


def test_an_hour_taken_as_clear_can_only_have_been_darker() -> None:
    """Three hours of 1800 s steps: told, taken as clear, dark."""
    light_w = np.array([100.0, 100.0, 200.0, 200.0, 0.0, 0.0])
    index = np.array([0.6, 0.6, np.nan, np.nan, np.nan, np.nan])
    doubt = light_doubt(light_w, index, step_s=1800.0)
    assert doubt.hour.tolist() == [0, 0, 1, 1, -1, -1]
    assert doubt.only_dimmer.tolist() == [False, True]
    assert doubt.spread[1] == CLEAR_SPREAD
    assert doubt.spread[0] > CLEAR_SPREAD
