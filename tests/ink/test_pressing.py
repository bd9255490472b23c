import numpy as np
import pytest
from scipy.signal import lfilter

from inkline.ink.pressing import _lagged


def filtered(values, gain):
    """SciPy's scipy.signal.lfilter, begun at rest where the values begin."""
    return lfilter([gain], [1.0, gain - 1.0], values, zi=[(1.0 - gain) * values[0]])[0]


@pytest.mark.parametrize("share", [1e-3, 0.08, 0.7, 5.0])
def test_what_follows_with_a_lag_is_a_filter_of_the_first_order(share):
    generator = np.random.default_rng(4)
    lines = [generator.standard_normal(count) for count in (40, 300, 1, 9)]
    gains = 1.0 - np.exp(-share * np.array([[1.0, 0.3], [0.5, 1.0], [1.0, 1.0], [2.0, 0.1]]))
    got = _lagged(np.concatenate(lines), np.array([40, 300, 1, 9]), gains)
    expected = [
        np.column_stack([filtered(line, gain) for gain in own])
        for line, own in zip(lines, gains, strict=True)
    ]
    assert np.allclose(got, np.concatenate(expected), rtol=0.0, atol=1e-15)
    assert np.allclose(_lagged(np.full(9, 0.3), np.array([9]), gains[:1]), 0.3)
