"""How fast the pen goes, against published laws of movement."""

import numpy as np
import pytest

from inkline.ink.timing import curve_slowing, timing


def test_a_straight_stroke_peaks_at_1875_thousandths_of_its_mean_speed():
    """Minimum-jerk movement: peak speed 1.875 A / D.

    Source: Flash and Hogan, J. Neurosci. 5:1688, 1985.
    """
    places = np.linspace(0.0, 50.0, 2001)
    pace = timing(places, np.zeros(2001), np.zeros(0, dtype=int), speed=40.0, reference=1.0)
    assert pace.times[-1] == pytest.approx(50.0 / 40.0)
    assert pace.speeds.max() / pace.mean_speed == pytest.approx(1.875, rel=1e-4)
    # Worked values of the same law: x(0.25) = 0.103516, x(0.75) = 0.896484.
    assert np.interp([0.25, 0.75], pace.times / pace.times[-1], places / 50.0) == pytest.approx(
        [0.103516, 0.896484], abs=1e-4
    )


def test_speed_in_a_curve_follows_the_two_thirds_power_law():
    """v x curvature^(1/3) is constant on an ellipse x = a cos wt, y = b sin wt.

    Source: Lacquaniti, Terzuolo and Viviani, 1983.
    """
    angles = np.linspace(0, 2 * np.pi, 720)
    a, b = 30.0, 10.0
    bend = a * b / (a**2 * np.sin(angles) ** 2 + b**2 * np.cos(angles) ** 2) ** 1.5
    slowing = curve_slowing(bend, reference=bend.min())
    assert slowing.min() > 0.25  # the clip is not at work
    product = slowing * bend ** (1 / 3)
    assert np.ptp(product) / product.mean() < 0.01
