"""Curves fitted to contours, their distance measured by GEOS through shapely."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.geometry.curves import flattened_cubic
from inkline.geometry.fitting import fitted_outlines
from inkline.geometry.polygon import signed_area

SQUARE = np.array([[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]])


def flattened(outline):
    """The outline as points a thousandth apart from its curves at most."""
    parts, n_nodes = [], len(outline.nodes)
    for index in range(n_nodes):
        start, end = outline.nodes[index], outline.nodes[(index + 1) % n_nodes]
        if outline.straight[index]:
            parts.append(start[None])
        else:
            parts.append(flattened_cubic(start, *outline.handles[index], end, tolerance=1e-3)[:-1])
    return np.concatenate(parts)


def farthest(contour, outline):
    """Hausdorff distance between contour and outline.

    Both are looked at in steps of a twentieth of each segment.
    """
    rings = shapely.LinearRing(contour), shapely.LinearRing(flattened(outline))
    return shapely.hausdorff_distance(*rings, densify=0.05)


def circle(radius, n_points):
    angles = 2 * np.pi * np.arange(n_points) / n_points
    return 50.0 + radius * np.column_stack((np.cos(angles), np.sin(angles)))


def blob(seed, n_points=240, roughness=0.4):
    """A round shape with a rough edge, as ink has."""
    rng = np.random.default_rng(seed)
    angles = 2 * np.pi * np.arange(n_points) / n_points
    radius = 40 + sum(
        rng.normal(0, 3 / k) * np.cos(k * angles + rng.uniform(0, 6)) for k in range(2, 7)
    )
    radius = radius + rng.normal(0, roughness, n_points)
    return np.column_stack((radius * np.cos(angles), radius * np.sin(angles)))


def test_a_square_stays_a_square():
    (outline,) = fitted_outlines([SQUARE], tolerance=0.1)
    assert outline.straight.all()
    assert sorted(map(tuple, outline.nodes.tolist())) == sorted(map(tuple, SQUARE.tolist()))


def test_a_circle_needs_few_curves_and_no_corner():
    contour = circle(30.0, 400)
    (outline,) = fitted_outlines([contour], tolerance=0.02)
    assert len(outline.nodes) <= 8
    assert not outline.straight.any()
    assert farthest(contour, outline) < 0.02
    arriving = outline.nodes - np.roll(outline.handles[:, 1], 1, axis=0)
    leaving = outline.handles[:, 0] - outline.nodes
    along = (arriving * leaving).sum(axis=1) / np.hypot(*arriving.T) / np.hypot(*leaving.T)
    assert along.min() > 1 - 1e-9


def test_corners_are_kept_and_curves_meet_them():
    half = np.concatenate(([[0.0, 0.0]], circle(30.0, 200)[:101] - 50.0 + [30.0, 0.0]))
    (outline,) = fitted_outlines([half], tolerance=0.05)
    assert np.hypot(*(outline.nodes - [60.0, 0.0]).T).min() == 0.0
    assert farthest(half, outline) < 0.05
    assert outline.straight.sum() == 1


@pytest.mark.parametrize("tolerance", [0.03, 0.1, 0.4, 1.5])
def test_rough_edges_stay_within_the_tolerance(tolerance):
    contours = [blob(seed) for seed in range(4)]
    outlines = fitted_outlines(contours, tolerance=tolerance)
    assert max(map(farthest, contours, outlines)) <= tolerance
    assert sum(len(outline.nodes) for outline in outlines) <= sum(map(len, contours)) * min(
        1.0, 0.9 / tolerance**0.2
    )


@settings(max_examples=25, deadline=None)
@given(
    seed=st.integers(0, 10_000),
    n_points=st.integers(3, 80),
    roughness=st.floats(0, 6),
    tolerance=st.floats(0.05, 3),
)
def test_any_contour_stays_within_the_tolerance(seed, n_points, roughness, tolerance):
    contour = blob(seed, n_points, roughness)
    (outline,) = fitted_outlines([contour], tolerance=tolerance)
    assert farthest(contour, outline) <= tolerance


def test_contours_fitted_together_come_out_as_alone():
    contours = [blob(1), SQUARE, circle(12.0, 60)]
    together = fitted_outlines(contours, tolerance=0.1)
    for contour, outline in zip(contours, together, strict=True):
        (alone,) = fitted_outlines([contour], tolerance=0.1)
        assert np.array_equal(alone.nodes, outline.nodes)
        assert np.allclose(alone.handles, outline.handles, atol=1e-9)
        assert np.array_equal(alone.straight, outline.straight)


def test_larger_contours_at_a_larger_tolerance_give_the_same_curves():
    (small,) = fitted_outlines([blob(3)], tolerance=0.1)
    (large,) = fitted_outlines([4 * blob(3)], tolerance=0.4)
    assert np.allclose(large.nodes, 4 * small.nodes)
    assert np.allclose(large.handles, 4 * small.handles, atol=1e-6)


def test_direction_and_area_are_kept():
    contour = blob(5)
    for one in (contour, contour[::-1]):
        (outline,) = fitted_outlines([one], tolerance=0.1)
        assert signed_area(flattened(outline)) == pytest.approx(signed_area(one), rel=1e-3)


def test_what_has_no_area_vanishes():
    line = np.array([[0.0, 0.0], [3.0, 1.0]])
    repeated = np.repeat(line, 3, axis=0)
    assert fitted_outlines([line, repeated, np.zeros((0, 2))], tolerance=0.1) == ()
    assert len(fitted_outlines([line, SQUARE], tolerance=0.1)) == 1


@pytest.mark.parametrize("tolerance", [0.0, -1.0, float("nan")])
def test_a_tolerance_must_be_above_zero(tolerance):
    with pytest.raises(ValueError, match="a tolerance must be above 0, not"):
        fitted_outlines([SQUARE], tolerance=tolerance)
