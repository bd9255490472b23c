"""Splines against scipy's, a general-purpose reference library, and against cubics."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import CubicSpline

from inkline.geometry.splines import Ends, spline_through

NAMES = {Ends.FREE: "natural", Ends.SMOOTH: "not-a-knot", Ends.CLOSED: "periodic"}


@pytest.mark.parametrize("ends", Ends)
@given(
    gaps=st.lists(st.floats(0.05, 9.0), min_size=3, max_size=12),
    seed=st.integers(0, 2**32 - 1),
)
def test_it_is_the_spline_of_a_reference_library(ends, gaps, seed):
    at = np.concatenate(([0.0], np.cumsum(gaps)))
    values = np.random.default_rng(seed).standard_normal((len(at), 2))
    if ends is Ends.CLOSED:
        values[-1] = values[0]
    wanted = np.concatenate((np.linspace(0.0, at[-1], 97), at))
    got = spline_through(at, values, wanted, ends=ends)
    reference = CubicSpline(at, values, bc_type=NAMES[ends])(wanted)
    assert got == pytest.approx(reference, rel=1e-8, abs=1e-8)


def test_three_knots_are_enough_with_free_ends():
    at, values = np.array([0.0, 1.0, 3.0]), np.array([[0.0], [2.0], [1.0]])
    wanted = np.linspace(0.0, 3.0, 31)
    reference = CubicSpline(at, values, bc_type="natural")(wanted)
    assert spline_through(at, values, wanted, ends=Ends.FREE) == pytest.approx(reference)


def test_smooth_ends_give_a_cubic_back():
    at, wanted = np.array([0.0, 0.5, 2.0, 3.0, 4.5]), np.linspace(0.0, 4.5, 50)
    cubic = np.polynomial.Polynomial([1.0, -2.0, 0.5, 0.25])
    got = spline_through(at, cubic(at)[:, None], wanted, ends=Ends.SMOOTH)
    assert got[:, 0] == pytest.approx(cubic(wanted))
