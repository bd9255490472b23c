"""Lines of artwork as strokes of a pen, against places worked by hand."""

import numpy as np
import pytest

from inkline.artwork.model import LineCap, LineJoin, Pen, Subpath
from inkline.finishing.crossings import crossings_of_lines, joined_lines, room_at_corners
from inkline.finishing.lines import PenLine, line_of_bar, pen_lines

FRAME = np.array([[10.0, 10.0], [110.0, 10.0], [110.0, 60.0], [10.0, 60.0]])


def run(points, *, closed=False):
    return Subpath(points=np.array(points, dtype=np.float64), closed=closed)


def ends(lines):
    return [line.points[[0, -1]].tolist() for line in lines]


def test_a_frame_is_four_rules_that_fill_its_corners():
    lines = pen_lines(run(FRAME, closed=True), Pen(width=4.0))
    assert all(line.is_straight for line in lines)
    assert ends(lines) == [
        [[8, 10], [112, 10]],
        [[110, 8], [110, 62]],
        [[112, 60], [8, 60]],
        [[10, 62], [10, 8]],
    ]


def test_round_ends_meet_without_running_over():
    lines = pen_lines(run(FRAME, closed=True), Pen(width=4.0, cap=LineCap.ROUND))
    assert ends(lines)[0] == [[10, 10], [110, 10]]


def test_points_along_a_straight_line_are_left_out():
    (line,) = pen_lines(run([[0, 0], [30, 0.01], [60, 0], [100, 0]]), Pen(width=2.0))
    assert line.is_straight
    assert ends([line]) == [[[0, 0], [100, 0]]]


def test_square_ends_reach_half_a_width_further():
    (line,) = pen_lines(run([[0, 0], [100, 0]]), Pen(width=6.0, cap=LineCap.SQUARE))
    assert ends([line]) == [[[-3, 0], [103, 0]]]


def test_corners_that_are_cut_off_get_less_ink():
    pen = Pen(width=4.0, join=LineJoin.BEVEL)
    first = pen_lines(run(FRAME, closed=True), pen)[0]
    assert first.points[0, 0] == pytest.approx(10.0 - 0.3 * 4.0)


def test_a_small_figure_stays_one_stroke():
    (line,) = pen_lines(run([[0, 0], [8, 8], [16, 0]]), Pen(width=4.0))
    assert len(line.points) == 3
    (ring,) = pen_lines(run([[0, 0], [8, 0], [8, 8], [0, 8]], closed=True), Pen(width=4.0))
    assert ring.closed


def test_a_circle_stays_one_closed_stroke():
    turns = np.linspace(0.0, 2.0 * np.pi, 60, endpoint=False)
    circle = 40.0 * np.stack((np.cos(turns), np.sin(turns)), axis=1)
    (line,) = pen_lines(run(circle, closed=True), Pen(width=3.0))
    assert line.closed
    assert not line.is_straight


@pytest.mark.parametrize(("cap", "n"), [(LineCap.BUTT, 0), (LineCap.ROUND, 1), (LineCap.SQUARE, 1)])
def test_a_line_that_goes_nowhere_leaves_what_its_cap_leaves(cap, n):
    """SVG 2, 13.5.3."""
    assert len(pen_lines(run([[5, 5], [5, 5]]), Pen(width=4.0, cap=cap))) == n


def test_a_thin_bar_is_a_line():
    bar = np.array([[10.0, 20.0], [110.0, 20.0], [110.0, 24.0], [10.0, 24.0]])
    line = line_of_bar(bar, most_px=10.0)
    assert line.width == pytest.approx(4.0)
    assert line.points.tolist() == [[10.0, 22.0], [110.0, 22.0]]


@pytest.mark.parametrize(
    "shape",
    [
        [[0, 0], [100, 0], [100, 40], [0, 40]],
        [[0, 0], [100, 0], [100, 4]],
        [[0, 0], [100, 0], [120, 4], [20, 4]],
        [[0, 0], [100, 0], [100, 4], [50, 9], [0, 4]],
        [[0, 0], [100, 0], [100, 12], [0, 12]],
    ],
)
def test_other_shapes_are_none(shape):
    assert line_of_bar(np.array(shape, dtype=np.float64), most_px=10.0) is None


def rule(x0, y0, x1, y1, width=2.0):
    points = np.array([[x0, y0], [x1, y1]], dtype=np.float64)
    return PenLine(points=points, width=width, closed=False, is_round=False)


def test_crossings_lie_where_lines_cross_or_meet():
    across = rule(0, 50, 100, 50)
    down = [rule(x, 0, x, 100) for x in (20, 60)]
    meets, apart = rule(80, 51, 80, 90), rule(90, 53, 90, 90)
    found = crossings_of_lines([across, *down, meets, apart])
    assert found[0].places == (20.0, 60.0, 80.0)
    assert found[1].places == (50.0,)
    assert found[3].places == (0.0,)
    assert found[4].places == ()
    assert not any(one.corners for one in found)


def test_corners_are_where_ends_meet():
    level, upright, stem = rule(0, 0, 100, 0), rule(101, -1, 101, 60), rule(40, 0, 40, 60)
    found = crossings_of_lines([level, upright, stem])
    assert [one.corners for one in found] == [(100.0,), (1.0,), ()]
    assert room_at_corners(level, found[0].corners) == (np.inf, pytest.approx(0.7 * level.width))
    assert room_at_corners(stem, ()) == (np.inf, np.inf)


def test_dashes_leave_their_gaps_open():
    pen = Pen(width=4.0, dashes=(20.0, 8.0, 5.0))
    (line,) = pen_lines(run([[0, 0], [20, 0]]), pen)
    assert line.room == pytest.approx(0.15 * 5.0)
    (line,) = pen_lines(run([[0, 0], [20, 0]]), Pen(width=4.0, dashes=(9, 3), cap=LineCap.ROUND))
    assert line.room == 0.0


def test_lines_that_go_straight_on_run_into_each_other():
    left, right = rule(10, 50, 60, 50, width=8.0), rule(60, 50, 120, 50, width=4.0)
    up, apart = rule(60, 50, 60, 10), rule(130, 50, 160, 50)
    joined = joined_lines([left, right, up, apart])
    assert ends(joined) == [
        [[10, 50], [62, 50]],
        [[58, 50], [120, 50]],
        [[60, 50], [60, 10]],
        [[130, 50], [160, 50]],
    ]
