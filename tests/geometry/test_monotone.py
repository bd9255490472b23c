"""Monotone cubics, against SciPy's PCHIP interpolation."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from inkline.geometry.monotone import monotone_values

ROWS = st.lists(
    st.tuples(st.floats(0.01, 5.0), st.integers(-300, 300).map(lambda value: value / 100.0)),
    min_size=2,
    max_size=9,
)


@settings(max_examples=200, deadline=None)
@given(ROWS)
def test_values_are_those_of_scipy(rows):
    steps, values = np.array(rows).T
    places = np.cumsum(steps)
    wanted = np.linspace(places[0], places[-1], 57)
    expected = PchipInterpolator(places, values)(wanted)
    np.testing.assert_allclose(monotone_values(places, values, wanted), expected, atol=1e-12)


@settings(max_examples=100, deadline=None)
@given(ROWS)
def test_values_never_leave_those_on_either_side(rows):
    steps, values = np.array(rows).T
    places = np.cumsum(steps)
    wanted = np.linspace(places[0], places[-1], 57)
    after = np.clip(np.searchsorted(places, wanted), 1, len(places) - 1)
    got = monotone_values(places, values, wanted)
    ends = np.array([values[after - 1], values[after]])
    assert (got >= ends.min(axis=0) - 1e-12).all()
    assert (got <= ends.max(axis=0) + 1e-12).all()
