"""Coverage against the exact intersection areas of GEOS, through shapely, on every pixel.

GEOS (the open-source geometry engine) cuts the shape with each pixel's square; nothing of inkline
takes part in it.
"""

import numpy as np
import pytest
import shapely

from inkline.raster.coverage import coverage_from_contours

CANVAS = (90, 70)
LIMIT = 1e-6


def contours_of(shape):
    """The rings of a shapely shape as contours, outer ones and holes of opposite direction."""
    rings = []
    for polygon in shapely.get_parts(shape):
        oriented = shapely.geometry.polygon.orient(polygon)
        rings += [np.array(ring.coords)[:-1] for ring in (oriented.exterior, *oriented.interiors)]
    return rings


def exact_areas(shape):
    x, y = np.meshgrid(np.arange(CANVAS[0]), np.arange(CANVAS[1]))
    return shapely.area(shapely.intersection(shape, shapely.box(x, y, x + 1, y + 1)))


def assert_exact(shape):
    contours = contours_of(shape)
    expected = exact_areas(shape)
    for drawn in (contours, [contour[::-1] for contour in contours]):
        coverage = coverage_from_contours(drawn, canvas=CANVAS)
        np.testing.assert_allclose(coverage.dense_coverage(), expected, rtol=0, atol=LIMIT)
        assert coverage.total() == pytest.approx(expected.sum(), rel=1e-9)


def circle_points(centre, radius, turns):
    angle = np.linspace(0, 2 * np.pi * turns, 200)
    return np.column_stack(
        [centre[0] + radius * np.cos(angle), centre[1] + 0.8 * radius * np.sin(angle)]
    )


def figure_eight():
    t = np.linspace(0, 2 * np.pi, 240)
    return np.column_stack([45 + 30 * np.sin(t), 35 + 22 * np.sin(2 * t)])


HARD_SHAPES = {
    "ring": shapely.LineString(circle_points((45, 35), 24, 1)).buffer(3.3),
    "circle running over its start": shapely.LineString(circle_points((45, 35), 24, 1.15)).buffer(
        3.3
    ),
    "hairpin": shapely.LineString([(12.3, 60), (40, 8.2), (44, 8.2), (20, 61.7)]).buffer(
        3.1, join_style="mitre"
    ),
    "hairpin on itself": shapely.LineString([(12, 60), (70, 12), (13, 57)]).buffer(2.6),
    "figure eight": shapely.LineString(figure_eight()).buffer(2.9),
    "dot within one pixel": shapely.Point(30.4, 20.6).buffer(0.2),
    "dot on a pixel corner": shapely.Point(30, 20).buffer(0.7),
    "sliver": shapely.Polygon([(2.2, 3.1), (88.7, 66.4), (88.71, 66.41)]),
    "beyond all four edges": shapely.Point(45, 35).buffer(60, 8) - shapely.Point(41, 33).buffer(20),
    "beyond the left edge": shapely.Point(-3.7, 30.2).buffer(20)
    - shapely.Point(-5, 30).buffer(11.1),
    "beyond the right edge": shapely.Point(93.7, 30.2).buffer(20)
    - shapely.Point(92, 30).buffer(11.1),
    "level and upright": shapely.box(3.25, 4.5, 80.75, 60.125) - shapely.box(10, 10, 70.5, 50.75),
}


@pytest.mark.parametrize("name", HARD_SHAPES)
def test_hard_shape_is_exact_on_every_pixel(name):
    assert_exact(HARD_SHAPES[name])


@pytest.mark.parametrize("seed", range(8))
def test_random_star_with_holes_is_exact_on_every_pixel(seed):
    rng = np.random.default_rng(seed)
    angle = np.sort(rng.uniform(0, 2 * np.pi, 60))
    stars = []
    for centre in ((45, 35), (52, 30)):
        radius = rng.uniform(2, 70, 60)
        points = np.column_stack(
            [centre[0] + radius * np.cos(angle), centre[1] + radius * np.sin(angle)]
        )
        stars.append(shapely.Polygon(points).buffer(0))
    assert_exact(stars[0].symmetric_difference(stars[1]).buffer(0))


def test_crossing_rules_are_one_union():
    """At crossings a union is neither the largest nor the sum of its rules' coverages."""
    across = [
        shapely.LineString([(-2, y), (95, y + 7.3)]).buffer(2.2, cap_style="flat")
        for y in (8.4, 30.1, 52.7)
    ]
    down = [
        shapely.LineString([(x, -3), (x - 5.1, 75)]).buffer(2.2, cap_style="flat")
        for x in (14.8, 44.2, 77.5)
    ]
    union = shapely.union_all(across + down)
    assert_exact(union)
    apart = [
        coverage_from_contours(contours_of(rule), canvas=CANVAS).dense_coverage()
        for rule in across + down
    ]
    expected = exact_areas(union)
    assert np.abs(np.max(apart, axis=0) - expected).max() > 0.2
    assert np.abs(np.minimum(np.sum(apart, axis=0), 1) - expected).max() > 0.2


def test_wide_and_far_shape_is_exact_in_sampled_pixels():
    """20 000 px wide, so that any error that grows along a row would show at its end."""
    rng = np.random.default_rng(3)
    x = np.linspace(0.3, 19_999.6, 4000)
    wave = np.concatenate([
        np.column_stack([x, 3 + rng.normal(0, 0.4, len(x))]),
        np.column_stack([x, 9 + rng.normal(0, 0.4, len(x))])[::-1],
    ])  # fmt: skip
    shape = shapely.Polygon(wave)
    assert shape.is_valid
    dense = coverage_from_contours([wave], canvas=(20_000, 13)).dense_coverage()
    columns, rows = np.meshgrid(np.r_[:40, 9980:10020, 19_960:20_000], np.arange(13))
    exact = shapely.area(
        shapely.intersection(shape, shapely.box(columns, rows, columns + 1, rows + 1))
    )
    np.testing.assert_allclose(dense[rows, columns], exact, rtol=0, atol=LIMIT)
