"""Reach of ink at each height against shapely's buffers and crossings."""

from itertools import pairwise
from unittest.mock import patch

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.lettering.profiles import RoundStroke, contour_reach, inked_runs, stroke_reach

coordinate = st.floats(-50, 50, allow_nan=False, width=32)
polylines = st.lists(st.tuples(coordinate, coordinate), min_size=2, max_size=7, unique=True)
modest = settings(max_examples=60, deadline=None)
HEIGHTS = np.linspace(-70, 70, 83)


def reach_of_stroke(points, *, radius, closed, heights=HEIGHTS):
    return stroke_reach([RoundStroke(points, radius, closed)], heights)


def reach_by_shapely(area):
    """Smallest x of an area on each horizontal line, infinite where they don't meet."""
    lines = shapely.linestrings([[[-200, y], [200, y]] for y in HEIGHTS])
    cuts = shapely.intersection(lines, area)
    left = shapely.bounds(cuts)[:, 0]
    return np.where(np.isnan(left), np.inf, left)


@modest
@given(polylines, st.sampled_from([0.5, 4.0, 20.0]), st.booleans())
def test_round_ended_strokes_reach_as_far_as_a_buffer(points, radius, closed):
    closed = closed and len(points) > 2
    segments = [
        shapely.LineString(pair) for pair in pairwise([*points, points[0]] if closed else points)
    ]
    # Segment by segment, since a buffer of a whole line first simplifies it by a hundredth of the
    # radius.
    inner, outer = (
        shapely.union_all([segment.buffer(radius * factor, quad_segs=256) for segment in segments])
        for factor in (1 - 1e-4, 1 + 1e-4)
    )
    got = reach_of_stroke(np.array(points, dtype=float), radius=radius, closed=closed)
    assert (got <= reach_by_shapely(inner)).all()
    assert (got >= reach_by_shapely(outer)).all()


@modest
@given(polylines.filter(lambda points: len(points) > 2))
def test_contours_reach_as_far_as_their_ring(points):
    ring = shapely.LinearRing(points)
    got = contour_reach([np.array(points, dtype=float)], HEIGHTS)
    wanted = reach_by_shapely(ring)
    both = np.isfinite(got) & np.isfinite(
        wanted
    )  # a tip that only touches a line may be met or missed
    np.testing.assert_allclose(got[both], wanted[both], atol=1e-6)
    clear = np.abs(HEIGHTS[:, None] - np.array(points)[:, 1]).min(axis=1) > 1e-6
    assert (np.isfinite(got) == np.isfinite(wanted))[clear].all()


def test_a_press_of_the_pen_is_a_disc():
    got = reach_of_stroke(
        np.array([[3.0, 1.0], [3.0, 1.0]]),
        radius=5.0,
        closed=False,
        heights=np.array([-4.5, 1.0, 4.0, 7.0]),
    )
    np.testing.assert_allclose(got, [np.inf, -2.0, -1.0, np.inf])


def test_level_edges_count_with_their_left_end():
    box = np.array([[2.0, 0.0], [6.0, 0.0], [6.0, 1.0], [2.0, 1.0]])
    np.testing.assert_allclose(contour_reach([box], np.array([0.0, 1.0])), [2.0, 2.0])


def test_no_contours_reach_nowhere():
    assert np.isinf(contour_reach([], HEIGHTS)).all()


def test_runs_of_a_ring_with_a_hole():
    outer = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])
    hole = np.array([[2.0, 2.0], [2.0, 8.0], [7.0, 8.0], [7.0, 2.0]])
    assert inked_runs([outer, hole], height=5.0).tolist() == [[0, 2], [7, 10]]
    assert inked_runs([outer, hole], height=1.0).tolist() == [[0, 10]]
    assert inked_runs([outer, hole], height=11.0).tolist() == []


@pytest.mark.parametrize("height", [2.0, 8.0])
def test_runs_through_corners_stay_paired(height):
    diamond = np.array([[0.0, 5.0], [5.0, 2.0], [10.0, 5.0], [5.0, 8.0]])
    runs = inked_runs([diamond], height=height)
    assert runs.shape[1] == 2


def test_a_stroke_that_swells_reaches_as_far_as_the_hulls_of_its_discs():
    angle = np.linspace(0.3, 5.5, 200)
    points = 40.0 * np.column_stack((np.cos(angle), np.sin(angle)))
    radii = 6.0 + 3.0 * np.sin(2.0 * angle)
    discs = [
        shapely.Point(point).buffer(radius, quad_segs=128)
        for point, radius in zip(points, radii, strict=True)
    ]
    area = shapely.union_all([shapely.union(a, b).convex_hull for a, b in pairwise(discs)])
    got, expected = (
        reach_of_stroke(points, radius=radii, closed=False),
        reach_by_shapely(area),
    )
    inked = np.isfinite(expected)
    assert (np.isfinite(got) == inked).all()
    assert got[inked] == pytest.approx(
        expected[inked], abs=0.2
    )  # the hulls lean a little on their discs


def test_one_radius_for_all_points_is_the_same_as_one():
    points = np.array([[0.0, -30.0], [10.0, 0.0], [-5.0, 30.0]])
    one, all_ = (reach_of_stroke(points, radius=r, closed=True) for r in (4.0, np.full(3, 4.0)))
    assert np.array_equal(one, all_)


def reach_of_all_discs(points, radii, *, closed):
    """As `stroke_reach`, but with whole discs, so that nothing depends on what hides what."""
    with patch("inkline.lettering.profiles._LEAN", 2 * np.pi):
        return reach_of_stroke(points, radius=radii, closed=closed)


@settings(max_examples=150, deadline=None)
@given(polylines, st.data(), st.booleans(), st.sampled_from(["any", "even", "curve"]))
def test_what_lies_behind_other_ink_is_left_out_without_a_trace(points, data, closed, kind):
    radius = st.floats(0.25, 30, allow_nan=False, width=32)
    radii = np.array([data.draw(radius) for _ in points])
    points = np.array(points, dtype=float)
    if kind != "any":
        radii[:] = radii[0]
    if kind == "curve":
        dense = np.linspace(0, len(points) - 1, 40)
        points = np.column_stack([np.interp(dense, range(len(points)), one) for one in points.T])
        radii = radii[0] + 0.2 * radii[0] * np.sin(dense)
    got = reach_of_stroke(points, radius=radii, closed=closed)
    assert np.array_equal(got, reach_of_all_discs(points, radii, closed=closed))


@modest
@given(st.lists(st.tuples(polylines, st.booleans()), max_size=4))
def test_several_strokes_reach_as_far_as_each_of_them(rows):
    strokes = [RoundStroke(np.array(points, dtype=float), 3.0, closed) for points, closed in rows]
    each = [stroke_reach([one], HEIGHTS) for one in strokes]
    wanted = np.min([np.full(len(HEIGHTS), np.inf), *each], axis=0)
    assert np.array_equal(stroke_reach(strokes, HEIGHTS), wanted)
