"""Swept outlines and unions, against GEOS (through shapely) as the independent reference."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.geometry.polygon import bounds, signed_area, total_area, with_positive_area
from inkline.geometry.sweep import swept_outline, swept_ring
from inkline.geometry.union import union_of_contours

# Places on a grid of 1/64 px: GEOS divides by zero, with a warning, where two coordinates differ by
# a denormal number.
PLACES = st.integers(0, 2400 * 64).map(lambda steps: steps / 64)
SIZES = st.integers(64, 300 * 64).map(lambda steps: steps / 64)


def region(contours):
    """The contours as a GEOS geometry, built without inkline's own union."""
    outers = [shapely.Polygon(contour) for contour in contours if signed_area(contour) > 0]
    holes = [shapely.Polygon(contour) for contour in contours if signed_area(contour) < 0]
    return shapely.union_all(outers).difference(shapely.union_all(holes))


def off_by(contours, reference):
    """Area in which two regions differ, as a share of the reference."""
    return region(contours).symmetric_difference(reference).area / reference.area


def test_straight_butt_stroke_is_a_rectangle():
    (contour,) = swept_outline(
        np.array([[10.0, 20.0], [110.0, 20.0]]),
        np.full(2, 5.0),
        round_start=0,
        round_end=0,
        tolerance=0.01,
    )
    assert sorted(map(tuple, np.round(contour, 12).tolist())) == [
        (10.0, 15.0),
        (10.0, 25.0),
        (110.0, 15.0),
        (110.0, 25.0),
    ]
    assert signed_area(contour) == pytest.approx(1000.0)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(0, 100), st.integers(0, 100)), min_size=2, max_size=9, unique=True
    ),
    st.floats(0.5, 30.0),
)
def test_round_strokes_equal_the_buffer_of_their_centreline(corners, width):
    points = np.array(corners, dtype=float)
    contours = swept_outline(
        points, np.full(len(points), width / 2), round_start=1, round_end=1, tolerance=1e-4 * width
    )
    reference = shapely.LineString(points).buffer(width / 2, quad_segs=256)
    assert off_by(contours, reference) < 1e-3
    assert all(
        shapely.Polygon(contour).is_valid or shapely.Polygon(contour).buffer(0).is_valid
        for contour in contours
    )


@pytest.mark.parametrize(
    "points",
    [
        pytest.param([[0, 0], [60, 0], [60, 0.5], [0, 0.5]], id="hairpin"),
        pytest.param([[0, 0], [40, 40], [0, 40], [40, 0]], id="crosses itself"),
        pytest.param([[0, 0], [50, 0], [20, 0]], id="returns on itself"),
    ],
)
def test_strokes_that_meet_themselves_have_no_holes_where_they_overlap(points):
    array = np.array(points, dtype=float)
    contours = swept_outline(
        array, np.full(len(array), 8.0), round_start=1, round_end=1, tolerance=0.001
    )
    assert off_by(contours, shapely.LineString(array).buffer(8.0, quad_segs=256)) < 3e-4


def test_a_circle_that_runs_over_its_start_is_a_ring():
    angles = np.linspace(0.0, 2.2 * np.pi, 200)
    circle = 50 + 30 * np.column_stack((np.cos(angles), np.sin(angles)))
    contours = swept_outline(circle, np.full(200, 6.0), round_start=1, round_end=1, tolerance=0.001)
    assert sorted(np.sign([signed_area(contour) for contour in contours])) == [-1, 1]
    assert off_by(contours, shapely.LineString(circle).buffer(6.0, quad_segs=256)) < 3e-4


def test_a_closed_stroke_is_a_ring():
    angles = np.linspace(0.0, 2.0 * np.pi, 120, endpoint=False)
    oval = np.column_stack((60 + 40 * np.cos(angles), 60 + 15 * np.sin(angles)))
    contours = swept_ring(oval, np.full(120, 7.0), tolerance=0.001)
    assert off_by(contours, shapely.LinearRing(oval).buffer(7.0, quad_segs=256)) < 3e-4


def test_a_press_that_goes_nowhere_is_a_disc():
    (disc,) = swept_outline(
        np.zeros((2, 2)), np.full(2, 5.0), round_start=1, round_end=1, tolerance=0.001
    )
    assert signed_area(disc) == pytest.approx(np.pi * 25, rel=1e-3)


def test_union_keeps_the_area_of_the_parts_less_the_overlap():
    box = np.array([[0, 0], [10, 0], [10, 10], [0, 10]], dtype=float)
    assert total_area(union_of_contours([box, box + 5.0])) == pytest.approx(175.0, abs=1e-6)
    assert total_area(union_of_contours([box, box[::-1] + 20.0])) == pytest.approx(200.0, abs=1e-6)
    assert union_of_contours([]) == ()
    assert union_of_contours([box[:2]]) == ()
    assert union_of_contours([np.zeros((4, 2))]) == ()


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(PLACES, PLACES, SIZES), min_size=1, max_size=12))
def test_union_of_boxes_equals_that_of_geos(boxes):
    contours = [
        np.array([[x, y], [x + w, y], [x + w, y + w / 2], [x, y + w / 2]]) for x, y, w in boxes
    ]
    reference = shapely.union_all([shapely.Polygon(contour) for contour in contours])
    assert total_area(union_of_contours(contours)) == pytest.approx(reference.area, abs=0.02)


def test_orientation_and_bounds():
    box = np.array([[0, 0], [4, 0], [4, 3], [0, 3]], dtype=float)
    assert signed_area(box) == 12.0
    assert signed_area(with_positive_area([box[::-1]])[0]) == 12.0
    assert bounds([box, box + 7]) == (0.0, 0.0, 11.0, 10.0)
    with pytest.raises(ValueError, match="bounds of no points are not defined"):
        bounds([])
