"""Laws that hold for any shape: what moving, reversing, mirroring and splitting do to coverage."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.raster.coverage import coverage_from_contours

CANVAS = (24, 20)
ANYWHERE = st.tuples(st.floats(-6, 30), st.floats(-6, 26))
MIDDLE = st.tuples(st.floats(10, 14), st.floats(8, 12))
laws = settings(max_examples=60, deadline=None)


@st.composite
def stars(draw, centre=ANYWHERE, largest=20.0):
    """A simple star-shaped contour, some of its vertices on whole pixels.

    It may reach beyond the canvas.
    """
    radii = draw(st.lists(st.floats(0.01, largest), min_size=3, max_size=24))
    angle = np.linspace(0, 2 * np.pi, len(radii), endpoint=False) + draw(st.floats(0, 6))
    x, y = draw(centre)
    points = np.column_stack([x + radii * np.cos(angle), y + radii * np.sin(angle)])
    return np.round(points, draw(st.sampled_from([3, 12])))


def area(contour):
    x, y = (contour - contour[0]).T
    return abs(0.5 * np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))


@laws
@given(stars(centre=MIDDLE, largest=8.0))
def test_total_is_the_polygon_area(contour):
    total = coverage_from_contours([contour], canvas=CANVAS).total()
    assert total == pytest.approx(area(contour), rel=1e-9, abs=1e-11)


@laws
@given(stars())
def test_coverage_lies_between_0_and_1(contour):
    coverage = coverage_from_contours([contour], canvas=CANVAS)
    assert (coverage.coverage >= 0).all()
    assert (coverage.coverage <= 1).all()


@laws
@given(stars())
def test_direction_changes_nothing(contour):
    there = coverage_from_contours([contour], canvas=CANVAS).dense_coverage()
    back = coverage_from_contours([contour[::-1]], canvas=CANVAS).dense_coverage()
    np.testing.assert_allclose(back, there, atol=1e-12)


@laws
@given(stars(), st.integers(0, 23))
def test_first_point_changes_nothing(contour, turn):
    there = coverage_from_contours([contour], canvas=CANVAS).dense_coverage()
    turned = coverage_from_contours(
        [np.roll(contour, turn, axis=0)], canvas=CANVAS
    ).dense_coverage()
    np.testing.assert_allclose(turned, there, atol=1e-12)


@laws
@given(stars(), st.integers(0, 9), st.integers(0, 7))
def test_whole_pixels_move_the_picture(contour, right, down):
    wide = (CANVAS[0] + right, CANVAS[1] + down)
    there = coverage_from_contours([contour], canvas=CANVAS).dense_coverage()
    moved = coverage_from_contours([np.add(contour, (right, down))], canvas=wide).dense_coverage()
    np.testing.assert_allclose(moved[down:, right:], there, atol=1e-12)


@laws
@given(stars())
def test_mirroring_mirrors_the_picture(contour):
    there = coverage_from_contours([contour], canvas=CANVAS).dense_coverage()
    across = coverage_from_contours(
        [contour * (-1, 1) + (CANVAS[0], 0)], canvas=CANVAS
    ).dense_coverage()
    upside_down = coverage_from_contours(
        [contour * (1, -1) + (0, CANVAS[1])], canvas=CANVAS
    ).dense_coverage()
    turned = coverage_from_contours([contour[:, ::-1]], canvas=CANVAS[::-1]).dense_coverage()
    np.testing.assert_allclose(across[:, ::-1], there, atol=1e-12)
    np.testing.assert_allclose(upside_down[::-1], there, atol=1e-12)
    np.testing.assert_allclose(turned.T, there, atol=1e-12)


@laws
@given(stars(), stars())
def test_shapes_side_by_side_add_up(left, right):
    """Two shapes that cannot touch, on a canvas wide enough for both."""
    far = np.add(right, (80, 0))
    canvas = (130, CANVAS[1])
    both = coverage_from_contours([left, far], canvas=canvas).dense_coverage()
    apart = sum(
        coverage_from_contours([contour], canvas=canvas).dense_coverage() for contour in (left, far)
    )
    np.testing.assert_allclose(both, apart, atol=1e-12)


@laws
@given(stars(), st.floats(-3, 27))
def test_cutting_in_two_along_a_line_loses_nothing(contour, x):
    """The part left of the canvas edge and the part right of it make the whole.

    The canvas may be cut anywhere.
    """
    cut = int(np.clip(round(x), 1, CANVAS[0] - 1))
    whole = coverage_from_contours([contour], canvas=CANVAS).dense_coverage()
    left = coverage_from_contours([contour], canvas=(cut, CANVAS[1])).dense_coverage()
    right = coverage_from_contours(
        [contour - (cut, 0)], canvas=(CANVAS[0] - cut, CANVAS[1])
    ).dense_coverage()
    np.testing.assert_allclose(np.hstack([left, right]), whole, atol=1e-12)
