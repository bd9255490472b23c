"""Small cases whose coverage is known by hand, and what must be refused."""

import math
import tracemalloc

import numpy as np
import pytest

from inkline.raster.coverage import coverage_from_contours, grey_from_contours


def box(x0, y0, x1, y1):
    return np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], dtype=float)


def polygon_area(contour):
    x, y = contour.T
    return abs(0.5 * np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))


def disk(centre, radius, n_points):
    angle = np.linspace(0, 2 * np.pi, n_points, endpoint=False)
    return np.column_stack([centre[0] + radius * np.cos(angle), centre[1] + radius * np.sin(angle)])


def test_nothing_leaves_the_canvas_empty():
    for contours in ([], [np.empty((0, 2))], [np.array([(1.0, 1.0), (3.0, 3.0)])]):
        picture = grey_from_contours(contours, canvas=(5, 3))
        assert picture.shape == (3, 5)
        assert picture.dtype == np.uint8
        assert not picture.any()


def test_box_on_pixel_borders_covers_exactly_its_pixels():
    coverage = coverage_from_contours([box(1, 2, 4, 5)], canvas=(6, 7))
    expected = np.zeros((7, 6))
    expected[2:5, 1:4] = 1
    np.testing.assert_array_equal(coverage.dense_coverage(), expected)
    np.testing.assert_array_equal(coverage.grey(), 255 * expected)


def test_box_within_one_pixel():
    coverage = coverage_from_contours([box(2.25, 1.5, 2.75, 1.75)], canvas=(4, 4))
    assert coverage.dense_coverage()[1, 2] == 0.125
    assert coverage.total() == 0.125


def test_box_between_pixel_borders():
    coverage = coverage_from_contours([box(0.5, 0.75, 2.25, 2.5)], canvas=(3, 3))
    expected = np.outer([0.25, 1, 0.5], [0.5, 1, 0.25])
    np.testing.assert_allclose(coverage.dense_coverage(), expected, atol=1e-15)


def test_box_covering_the_whole_canvas_from_outside():
    coverage = coverage_from_contours([box(-7.3, -2.2, 19.9, 30.1)], canvas=(5, 4))
    np.testing.assert_array_equal(coverage.dense_coverage(), np.ones((4, 5)))
    assert coverage.total() == 20


@pytest.mark.parametrize(
    "outside",
    [box(-9, 1, -2, 3), box(8, 1, 12, 3), box(1, -5, 3, -1), box(1, 9, 3, 12), box(8, -5, 20, 30)],
)
def test_what_lies_beyond_the_canvas_leaves_nothing(outside):
    assert coverage_from_contours([outside], canvas=(8, 9)).total() == 0


def test_level_edge_between_pixel_borders_covers_whole_runs_in_part():
    """A level edge touches no pixel of its own.

    What it covers must come from the running sum alone.
    """
    coverage = coverage_from_contours([box(2, 1.25, 98, 2.5)], canvas=(100, 4))
    np.testing.assert_allclose(coverage.dense_coverage()[:, 50], [0, 0.75, 0.5, 0], atol=1e-15)
    assert coverage.total() == pytest.approx(96 * 1.25)
    assert len(coverage.pixels) < 6


def test_triangle_halves_the_pixels_on_its_diagonal():
    coverage = coverage_from_contours(
        [np.array([(0.0, 0.0), (4.0, 4.0), (0.0, 4.0)])], canvas=(4, 4)
    )
    expected = np.tril(np.ones((4, 4)), -1) + 0.5 * np.eye(4)
    np.testing.assert_allclose(coverage.dense_coverage(), expected, atol=1e-15)


@pytest.mark.parametrize("angle", np.linspace(0, 2 * math.pi, 24, endpoint=False) + 0.1)
def test_half_plane_through_a_pixel_centre_covers_half_of_it(angle):
    """By symmetry, whatever the slope (geometry; no source needed)."""
    along, across = (
        np.array([math.cos(angle), math.sin(angle)]),
        np.array([-math.sin(angle), math.cos(angle)]),
    )
    centre = np.array([10.5, 7.5])
    half_plane = np.array(
        [
            centre - 90 * along,
            centre + 90 * along,
            centre + 90 * (along + across),
            centre + 90 * (across - along),
        ]
    )
    assert coverage_from_contours([half_plane], canvas=(21, 15)).dense_coverage()[
        7, 10
    ] == pytest.approx(0.5, abs=1e-12)


def test_disk_has_the_area_of_its_polygon_and_nears_pi_r_squared():
    contour = disk((8.3, 7.9), 5, 4000)
    total = coverage_from_contours([contour], canvas=(16, 16)).total()
    assert total == pytest.approx(polygon_area(contour), rel=1e-12)
    assert total == pytest.approx(78.5398, abs=5e-4)


def test_hole_runs_opposite_to_its_shape():
    coverage = coverage_from_contours([box(1, 1, 9, 9), box(3.5, 3, 6, 7)[::-1]], canvas=(10, 10))
    assert coverage.total() == pytest.approx(64 - 10)
    assert coverage.dense_coverage()[4, 4] == 0
    assert coverage.dense_coverage()[4, 3] == 0.5


def test_vertices_on_pixel_borders_and_corners():
    diamond = np.array([(4.0, 0.0), (8.0, 4.0), (4.0, 8.0), (0.0, 4.0)])
    dense = coverage_from_contours([diamond], canvas=(8, 8)).dense_coverage()
    rows = np.abs(np.arange(8) - 3.5)
    expected = np.clip(4.5 - rows[:, None] - rows[None, :], 0, 1)
    np.testing.assert_allclose(dense, expected, atol=1e-15)


def test_sliver_keeps_its_area():
    sliver = np.array([(0.1, 3.0), (19_990.0, 3.000_01), (0.1, 3.000_02)])
    coverage = coverage_from_contours([sliver], canvas=(20_000, 8))
    assert coverage.total() == pytest.approx(polygon_area(sliver), rel=1e-9)
    assert len(coverage.pixels) <= 20_000


def test_nearly_level_edges_do_not_overflow():
    contour = np.array([(0.0, 0.0), (9.0, 5e-324), (9.0, 1e-200), (9.0, 2.0), (0.0, 2.0)])
    np.testing.assert_allclose(
        coverage_from_contours([contour], canvas=(9, 2)).dense_coverage(), 1.0, atol=1e-12
    )


def test_last_pixel_of_the_canvas_can_be_reached():
    picture = grey_from_contours([box(0, 0, 3, 2)], canvas=(3, 2))
    assert (picture == 255).all()


def test_grey_is_rounded_to_the_nearest_value():
    picture = grey_from_contours(
        [box(0, 0, 0.099, 1), box(1, 0, 1.101, 1), box(2, 0, 2.998, 1), box(3, 0, 3.9981, 1)],
        canvas=(4, 1),
    )
    assert picture.tolist() == [[25, 26, 254, 255]]


def test_memory_follows_the_perimeter():
    """A float64 canvas alone would take 800 MB."""
    tracemalloc.start()
    coverage = coverage_from_contours([disk((5000, 5000), 4500, 2000)], canvas=(10_000, 10_000))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 20e6
    assert len(coverage.pixels) < 1.3 * 8 * 4500
    assert coverage.total() == pytest.approx(
        polygon_area(disk((5000, 5000), 4500, 2000)), rel=1e-12
    )


def test_spans_lie_in_one_row_and_apart_from_touched_pixels():
    coverage = coverage_from_contours([disk((20, 20), 30, 200)], canvas=(41, 37))
    assert (coverage.span_starts // 41 == (coverage.span_ends - 1) // 41).all()
    assert (coverage.span_ends > coverage.span_starts).all()
    np.testing.assert_allclose(coverage.span_coverage, 1, atol=1e-14)
    spans = [np.arange(a, b) for a, b in zip(coverage.span_starts, coverage.span_ends, strict=True)]
    assert not np.isin(np.concatenate(spans), coverage.pixels).any()


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_coordinates_must_be_finite(bad):
    with pytest.raises(ValueError, match="contours must be finite"):
        coverage_from_contours([np.array([(0.0, 0.0), (1.0, bad), (2.0, 0.0)])], canvas=(4, 4))


def test_canvas_must_have_pixels():
    with pytest.raises(ValueError, match="at least one pixel each way, not 4 x 0"):
        coverage_from_contours([], canvas=(4, 0))
