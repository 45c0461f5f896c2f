"""Scores of forecasts against closed forms, identities and limits."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.sky.scores import brier, fair_crps, murphy_parts, reliability

tenths = st.integers(0, 10).map(lambda n: n / 10.0)
days = st.lists(st.tuples(tenths, st.booleans()), min_size=1, max_size=60)


def test_brier_runs_from_knowing_to_knowing_the_contrary() -> None:
    assert brier([1.0, 0.0], [1, 0]) == 0.0
    assert brier([1.0, 0.0], [0, 1]) == 1.0


def test_a_base_rate_scores_its_own_variance() -> None:
    """Closed form: for a constant chance p that comes true on p of all days, p (1 - p)."""
    came = [1] * 3 + [0] * 7
    assert brier([0.3] * 10, came) == pytest.approx(0.3 * 0.7)


@given(days)
def test_murphy_parts_add_up_to_the_brier_score(rows: list[tuple[float, bool]]) -> None:
    """Murphy 1973: with a bin for every chance, reliability - resolution + uncertainty."""
    chance, came = zip(*rows, strict=True)
    assert murphy_parts(chance, came).brier == pytest.approx(brier(chance, came), abs=1e-12)


@given(days)
def test_a_reliability_table_counts_every_day_once(rows: list[tuple[float, bool]]) -> None:
    chance, came = zip(*rows, strict=True)
    table = reliability(chance, came)
    assert sum(one.count for one in table) == len(rows)
    assert sum(one.count * one.came for one in table) == pytest.approx(sum(came))


def test_a_chance_of_one_is_in_the_last_bin() -> None:
    (only,) = reliability([1.0, 0.85], [1, 1])
    assert only.count == 2
    assert only.foretold == pytest.approx(0.925)


def test_fair_crps_of_a_normal_ensemble_meets_its_closed_form() -> None:
    """Gneiting and Raftery 2007 (from memory): CRPS of N(0, 1) at 0 is 2 phi(0) - 1/sqrt(pi)."""
    members = np.random.default_rng(3).standard_normal((4000, 20))
    closed = 2.0 / np.sqrt(2.0 * np.pi) - 1.0 / np.sqrt(np.pi)
    found = fair_crps(members, np.zeros(4000))
    assert found.mean() == pytest.approx(closed, abs=4.0 * found.std() / np.sqrt(4000))


def test_fair_crps_does_not_depend_on_how_many_members_there_are() -> None:
    """What "fair" means (Ferro 2014): 3 members and 50 of one law score alike on average."""
    random = np.random.default_rng(5)
    few = fair_crps(random.standard_normal((20_000, 3)), np.ones(20_000))
    many = fair_crps(random.standard_normal((20_000, 50)), np.ones(20_000))
    error = np.hypot(few.std(), many.std()) / np.sqrt(20_000)
    assert few.mean() == pytest.approx(many.mean(), abs=4.0 * error)


@given(st.lists(st.floats(-50.0, 50.0), min_size=2, max_size=12), st.floats(-50.0, 50.0))
def test_fair_crps_is_the_mean_distance_less_half_the_mean_of_pairs(
    members: list[float], value: float
) -> None:
    """The definition itself, over all pairs of different members."""
    pairs = [abs(a - b) for a, b in combinations(members, 2)]
    expected = np.mean([abs(one - value) for one in members]) - 0.5 * np.mean(pairs)
    assert float(fair_crps(members, value)) == pytest.approx(float(expected), abs=1e-9)


@pytest.mark.parametrize(("chance", "came"), [([], []), ([0.5], [1, 0]), ([[0.5]], [[1]])])
def test_rows_that_do_not_fit_are_refused(chance: list[float], came: list[int]) -> None:
    with pytest.raises(ValueError, match="give one day or more"):
        brier(chance, came)


def test_one_member_has_no_fair_score() -> None:
    with pytest.raises(ValueError, match="at least two members"):
        fair_crps([[1.0]], [1.0])
