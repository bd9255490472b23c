"""Flattening against shapely's distances and closed-form points of Bézier curves."""

from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.geometry.curves import flattened_cubic, flattened_quadratic

coordinate = st.floats(-1000, 1000, allow_nan=False, width=32)
point = st.tuples(coordinate, coordinate)
tolerances = st.sampled_from([0.003, 0.05, 1.0, 20.0])
modest = settings(max_examples=60, deadline=None)


def flattened(controls, tolerance):
    return {3: flattened_quadratic, 4: flattened_cubic}[len(controls)](
        *controls, tolerance=tolerance
    )


def split_evaluated(controls, t):
    """De Casteljau's construction, which defines the curve.

    It is written apart from the weights under test.
    """
    levels = [np.asarray(control, dtype=float) for control in controls]
    while len(levels) > 1:
        levels = [(1 - t) * a + t * b for a, b in pairwise(levels)]
    return levels[0]


curves = st.one_of(st.lists(point, min_size=3, max_size=3), st.lists(point, min_size=4, max_size=4))


@modest
@given(curves, tolerances)
def test_curve_lies_within_tolerance_of_its_polyline(controls, tolerance):
    polyline = flattened(controls, tolerance)
    dense = np.array([split_evaluated(controls, t) for t in np.linspace(0, 1, 331)])
    distances = shapely.distance(shapely.LineString(polyline), shapely.points(dense))
    assert distances.max() <= tolerance * (1 + 1e-9) + 1e-9


@modest
@given(curves, tolerances)
def test_points_lie_on_the_curve_at_even_parameters(controls, tolerance):
    polyline = flattened(controls, tolerance)
    wanted = [split_evaluated(controls, t) for t in np.linspace(0, 1, len(polyline))]
    np.testing.assert_allclose(polyline, wanted, atol=1e-9)


@modest
@given(curves)
def test_affine_images_are_flattened_curves_of_the_images(controls):
    turned = np.array([[0.8, -0.6], [0.6, 0.8]])  # keeps distances, and so the number of pieces
    image = np.asarray(controls) @ turned.T + [3.0, -7.0]
    whole = flattened(controls, 0.05) @ turned.T + [3.0, -7.0]
    again = flattened(image, 0.05)
    if len(again) == len(whole):  # a count on the very border may round either way
        np.testing.assert_allclose(again, whole, atol=1e-8)
    assert abs(len(again) - len(whole)) <= 1


@modest
@given(curves, st.sampled_from([2.0, 0.25, 1024.0]))
def test_size_and_tolerance_scale_together(controls, factor):
    scaled = flattened(np.asarray(controls) * factor, 0.05 * factor)
    np.testing.assert_allclose(scaled, flattened(controls, 0.05) * factor, rtol=1e-12)


@modest
@given(curves)
def test_reversed_controls_give_reversed_points(controls):
    np.testing.assert_allclose(
        flattened(controls[::-1], 0.05), flattened(controls, 0.05)[::-1], atol=1e-9
    )


@modest
@given(curves)
def test_ends_are_exact(controls):
    polyline = flattened(controls, 0.5)
    assert tuple(polyline[0]) == tuple(controls[0])
    assert tuple(polyline[-1]) == tuple(controls[-1])


def test_straight_evenly_spaced_controls_need_one_piece():
    assert flattened_quadratic((0, 0), (1, 2), (2, 4), tolerance=1e-6).tolist() == [[0, 0], [2, 4]]
    assert flattened_cubic((0, 0), (1, 1), (2, 2), (3, 3), tolerance=1e-6).tolist() == [
        [0, 0],
        [3, 3],
    ]


def test_parabola_by_hand():
    # y = x (2 - x) with x = 2 t: |B''| = 8, so n even pieces lie within 8 / (8 n^2): two pieces for
    # 0.25.
    points = flattened_quadratic((0, 0), (1, 2), (2, 0), tolerance=0.25)
    assert points.tolist() == [[0, 0], [1, 1], [2, 0]]


def test_elevated_quadratic_equals_its_cubic():
    p0, p1, p2 = np.array([[0.0, 0.0], [30.0, 90.0], [100.0, 10.0]])
    cubic = flattened_cubic(p0, p0 + (p1 - p0) * 2 / 3, p2 + (p1 - p2) * 2 / 3, p2, tolerance=0.01)
    np.testing.assert_allclose(cubic, flattened_quadratic(p0, p1, p2, tolerance=0.01), atol=1e-10)


@pytest.mark.parametrize("tolerance", [0.0, -1.0, float("nan")])
def test_tolerance_must_be_positive(tolerance):
    with pytest.raises(ValueError, match=r"a tolerance must be above 0, not"):
        flattened_quadratic((0, 0), (1, 1), (2, 0), tolerance=tolerance)


def test_points_must_be_finite():
    with pytest.raises(ValueError, match=r"control points must be finite"):
        flattened_cubic((0, 0), (1, float("nan")), (2, 0), (3, 0), tolerance=0.1)


def test_a_wild_curve_is_refused_before_it_fills_the_memory():
    with pytest.raises(
        ValueError, match=r"a curve needs \d+ pieces to keep within 1e-09, more than 65536"
    ):
        flattened_quadratic((0, 0), (1e9, 1e9), (2, 0), tolerance=1e-9)
