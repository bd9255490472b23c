"""Lines with gaps, against spans worked by hand."""

import numpy as np
import pytest

from inkline.artwork.dashes import dashed_line
from inkline.artwork.model import Subpath

LINE = Subpath(points=np.array([[0.0, 0.0], [60.0, 0.0], [100.0, 0.0]]), closed=False)
SQUARE = Subpath(points=np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]]), closed=True)


def spans(parts):
    return [(part.points[0, 0], part.points[-1, 0]) for part in parts]


@pytest.mark.parametrize(
    ("dashes", "offset", "expected"),
    [
        ((30.0, 20.0), 0.0, [(0, 30), (50, 80)]),
        ((30.0, 20.0), 10.0, [(0, 20), (40, 70), (90, 100)]),
        ((30.0, 20.0), -10.0, [(10, 40), (60, 90)]),
        ((30.0, 20.0), 40.0, [(10, 40), (60, 90)]),
        ((40.0,), 0.0, [(0, 40), (80, 100)]),
        ((30.0, 10.0, 5.0), 0.0, [(0, 30), (40, 45), (75, 85), (90, 100)]),
        ((200.0, 5.0), 0.0, [(0, 100)]),
        ((0.0, 50.0), 0.0, [(0, 0), (50, 50), (100, 100)]),
    ],
)
def test_a_line_is_cut_as_the_pattern_says(dashes, offset, expected):
    """SVG 2, 13.5.6: an odd list is repeated, a negative offset runs backwards."""
    assert spans(dashed_line(LINE, dashes, offset)) == [pytest.approx(span) for span in expected]


def test_a_stroke_runs_on_over_the_start_of_a_closed_line():
    parts = dashed_line(SQUARE, (8.0, 8.0), 0.0)
    assert len(parts) == 2
    assert np.allclose(parts[0].points, [[0.0, 8.0], [0.0, 0.0], [8.0, 0.0]])


def test_points_between_are_kept():
    (first, _) = dashed_line(LINE, (70.0, 20.0), 0.0)
    assert len(first.points) == 3


def test_a_pattern_too_fine_is_none():
    assert dashed_line(LINE, (0.001, 0.001), 0.0) is None
