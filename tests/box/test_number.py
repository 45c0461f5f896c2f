"""The arithmetic that floats and arrays share."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.box.number import flag, fourth_root, larger, magnitude, number, positive

FINITE = st.floats(-1e6, 1e6)


@given(FINITE, FINITE)
def test_one_float_and_an_array_of_one_agree(a: float, b: float) -> None:
    """The simulator runs the same lines on both."""
    one, other = np.array([a]), np.array([b])
    assert larger(a, b) == pytest.approx(max(a, b), abs=1e-9)
    assert positive(a) == max(a, 0.0)
    assert float(np.asarray(larger(one, other))[0]) == larger(a, b)
    assert np.array_equal(magnitude(one), [abs(a)])
    assert float(np.asarray(flag(one > b))[0]) == flag(a > b)


def test_a_plain_float_stays_plain_and_a_list_becomes_an_array() -> None:
    assert type(number(3.0)) is float
    assert np.array_equal(number([1, 2]), [1.0, 2.0])
    assert fourth_root(16.0) == pytest.approx(2.0)


def test_nan_stays_nan() -> None:
    assert np.isnan(positive(float("nan")))
    assert np.isnan(larger(np.array([np.nan]), 0.0)).all()
