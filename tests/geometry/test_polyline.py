"""Arc length, resampling, directions and curvature."""

import numpy as np
import pytest

from inkline.geometry.polyline import (
    arc_lengths,
    closed_arc_lengths,
    contour_tangents,
    curvatures,
    normals_of,
    quick_length,
    resampled_contour,
    tangents,
    turning_angles,
    without_repeats,
)

CORNER = np.array([[0.0, 0.0], [3.0, 0.0], [3.0, 4.0]])


def circle(radius, n_points):
    angles = np.linspace(0, 2 * np.pi, n_points, endpoint=False)
    return radius * np.column_stack((np.cos(angles), np.sin(angles)))


def test_arc_lengths_by_hand():
    assert arc_lengths(CORNER).tolist() == [0.0, 3.0, 7.0]
    assert closed_arc_lengths(CORNER).tolist() == [0.0, 3.0, 7.0, 12.0]


def test_a_contour_is_resampled_at_equal_steps():
    assert len(resampled_contour(CORNER, 1.0)) == 12
    assert resampled_contour(CORNER, 1.0)[0].tolist() == [0.0, 0.0]


def test_numbers_that_a_fourier_transform_is_quick_with():
    """The 5-smooth (Hamming) numbers, 1, 2, 3, 4, 5, 6, 8, 9, 10, 12, 15, 16, 18, 20, 24 and so on.

    Source: OEIS A051037, whose next are 25, 27 and 30.
    """
    known = [8, 9, 10, 12, 15, 16, 18, 20, 24, 25, 27, 30]
    assert sorted({quick_length(least) for least in range(8, 31)}) == known


def test_turns_and_normals_by_hand():
    assert turning_angles(CORNER).tolist() == [pytest.approx(np.pi / 2)]
    assert normals_of(np.array([[1.0, 0.0]])).tolist() == [[-0.0, 1.0]]
    assert tangents(CORNER)[1].tolist() == pytest.approx([0.6, 0.8])


def test_a_line_that_returns_on_itself_still_has_a_direction():
    there_and_back = np.array([[0.0, 0.0], [5.0, 0.0], [0.0, 0.0]])
    assert np.isfinite(tangents(there_and_back)).all()
    assert tangents(there_and_back)[1].tolist() == [1.0, 0.0]


def test_curvature_of_a_circle_is_one_over_its_radius():
    assert curvatures(circle(5.0, 400)) == pytest.approx(0.2, rel=1e-3)
    assert curvatures(CORNER[:2]).tolist() == [0.0, 0.0]


def test_tangents_of_a_contour_run_round_it():
    around = circle(2.0, 64)
    assert (contour_tangents(around) * around).sum(axis=1) == pytest.approx(0.0, abs=1e-12)


def test_repeated_points_go():
    assert without_repeats(np.repeat(CORNER, 3, axis=0)).tolist() == CORNER.tolist()
