import numpy as np
import pytest
from scipy.signal import lfilter

from inkline.ink.pressing import _lagged


@pytest.mark.parametrize("share", [1e-3, 0.08, 0.7, 5.0])
def test_what_follows_with_a_lag_is_a_filter_of_the_first_order(share):
    # SciPy's scipy.signal.lfilter, begun at rest where the values begin.
    values = np.random.default_rng(4).standard_normal(300)
    gain = 1.0 - np.exp(-share)
    expected, _ = lfilter([gain], [1.0, gain - 1.0], values, zi=[(1.0 - gain) * values[0]])
    assert np.allclose(_lagged(values, share), expected, rtol=0.0, atol=1e-15)
    assert np.allclose(_lagged(np.full(9, 0.3), share), 0.3)
