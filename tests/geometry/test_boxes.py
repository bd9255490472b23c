import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse.csgraph import connected_components
from shapely import Point, Polygon, box

from inkline.geometry.boxes import rounded_box, touching_clusters


def shoelace(contour):
    x, y = contour.T
    return 0.5 * float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))


def test_no_radius_gives_the_four_corners():
    contour = rounded_box(1, 2, 5, 9, 0)
    assert {tuple(point) for point in contour} == {(1, 2), (5, 2), (5, 9), (1, 9)}
    assert shoelace(contour) == 28


@pytest.mark.parametrize("radius", [0.004, 0.3, 10.0, 34.0])
def test_it_is_the_inner_box_widened_by_a_disc(radius):
    # GEOS through shapely, with arcs of 4000 chords a quarter.
    reference = box(radius, radius, 300 - radius, 200 - radius).buffer(radius, quad_segs=4000)
    drawn = Polygon(rounded_box(0, 0, 300, 200, radius, tolerance=0.002))
    assert drawn.is_valid
    assert drawn.hausdorff_distance(reference) < 0.0025
    assert drawn.difference(reference.buffer(1e-6)).area == 0


@given(
    x0=st.floats(-1000, 1000),
    y0=st.floats(-1000, 1000),
    width=st.floats(0.5, 3000),
    height=st.floats(0.5, 3000),
    share=st.floats(0.001, 1.0),
    tolerance=st.floats(0.001, 0.1),
)
@settings(max_examples=60, deadline=None)
def test_area_bounds_and_winding(x0, y0, width, height, share, tolerance):
    x1, y1 = x0 + width, y0 + height
    radius = share * min(x1 - x0, y1 - y0) / 2
    contour = rounded_box(x0, y0, x1, y1, radius, tolerance=tolerance)
    exact = (x1 - x0) * (y1 - y0) - (4 - math.pi) * radius**2
    assert (
        exact - 2 * math.pi * radius * tolerance - 1e-6
        <= shoelace(contour)
        <= exact + 1e-6 * abs(exact)
    )
    assert np.array_equal(contour.min(axis=0), [x0, y0])
    assert np.array_equal(contour.max(axis=0), [x1, y1])
    assert np.all(np.any(contour != np.roll(contour, 1, axis=0), axis=1))


def test_a_box_as_round_as_it_can_be_is_a_disc():
    contour = rounded_box(0, 0, 20, 20, 10, tolerance=0.001)
    distances = [Point(point).distance(Point(10, 10)) for point in contour]
    assert np.allclose(distances, 10, atol=1e-12)


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((5, 0, 5, 9, 1), "x0 < x1 and y0 < y1"),
        ((0, 9, 5, 2, 1), "x0 < x1 and y0 < y1"),
        ((0, 0, 4, 9, 2.1), "half the shorter side, not 2.1"),
        ((0, 0, 4, 9, -1), "half the shorter side, not -1"),
    ],
)
def test_impossible_boxes_are_refused(arguments, message):
    with pytest.raises(ValueError, match=message):
        rounded_box(*arguments)


def test_a_tolerance_of_nothing_is_refused():
    with pytest.raises(ValueError, match="tolerance must be above 0"):
        rounded_box(0, 0, 4, 4, 1, tolerance=0)


@given(seed=st.integers(0, 10_000), n_boxes=st.integers(1, 60), size=st.floats(0.0, 0.3))
@settings(max_examples=80, deadline=None)
def test_clusters_of_boxes_are_the_components_of_their_overlaps(seed, n_boxes, size):
    # SciPy's scipy.sparse.csgraph.connected_components, on shapely's own overlaps.
    corners = np.random.default_rng(seed).random((n_boxes, 2))
    boxes = np.hstack((corners, corners + size))
    shapes = [box(*sides) for sides in boxes]
    overlaps = np.array([[one.intersects(other) for other in shapes] for one in shapes])
    _, labels = connected_components(overlaps, directed=False)
    expected = [np.flatnonzero(labels == label).tolist() for label in range(labels.max() + 1)]
    assert touching_clusters(boxes) == expected


def test_boxes_that_share_a_corner_touch_and_none_are_no_clusters():
    assert touching_clusters(np.array([[0, 0, 1, 1], [5, 5, 6, 6], [1, 1, 2, 2.0]])) == [
        [0, 2],
        [1],
    ]
    assert touching_clusters(np.zeros((0, 4))) == []
