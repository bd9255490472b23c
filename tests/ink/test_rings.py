"""Closed strokes: rings of the pen close without a step, however the hand wanders."""

import numpy as np
import pytest

from inkline.ink.strokes import _closed_up


def test_values_along_a_ring_end_where_they_began():
    lengths = np.array([2.0, 3.0, 5.0, 6.0])
    points = np.array([[0.0, 0.0], [1.0, 2.0], [4.0, 2.0], [0.4, -0.8]])
    closed = _closed_up(points, lengths)
    assert closed[-1] == pytest.approx(closed[0])
    assert closed[0] == pytest.approx(points[0])
    assert closed[1] - points[1] == pytest.approx([-0.1, 0.2])


def test_widths_close_as_points_do():
    widths = np.array([1.0, 1.2, 1.4])
    assert _closed_up(widths, np.array([0.0, 1.0, 2.0])) == pytest.approx([1.0, 1.0, 1.0])
