import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from inkline.geometry.roots import root_between


@given(
    scale=st.floats(0.01, 50.0),
    at=st.floats(0.91, 11.9),
    power=st.sampled_from([1, 3, 5]),
    tolerance=st.sampled_from([1e-2, 1e-4, 1e-9]),
)
@settings(max_examples=200, deadline=None)
def test_it_is_scipys_to_the_last_bit(scale, at, power, tolerance):
    # SciPy's scipy.optimize.brentq, which Brent's method is taken from here and there.
    def function(x):
        return scale * (math.tanh(x) + x**power - math.tanh(at) - at**power)

    found = root_between(function, 0.9, 12.0, tolerance=tolerance)
    assert found == brentq(function, 0.9, 12.0, xtol=tolerance)
    assert abs(found - at) <= tolerance + 1e-9


@pytest.mark.parametrize(
    ("function", "root"),
    [
        (lambda x: x - 1.0, 1.0),
        (lambda x: x - 3.0, 3.0),
        (math.cos, math.pi / 2),
        (lambda x: float(np.sign(x - 2.0)), 2.0),
    ],
)
def test_roots_at_ends_of_bent_lines_and_of_jumps(function, root):
    assert math.isclose(root_between(function, 1.0, 3.0, tolerance=1e-12), root, abs_tol=1e-11)


def test_a_function_without_a_change_of_sign_is_refused():
    with pytest.raises(ValueError, match=r"change its sign between 1\.0 and 3\.0"):
        root_between(lambda x: x, 1.0, 3.0, tolerance=1e-6)
