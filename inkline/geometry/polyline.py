"""Polylines: arc length, resampling, directions and normals, all vectorised over points.

Points are float64 `(n, 2)`. Nothing here knows which way y runs: a normal is its direction turned
by +90 degrees in the coordinates at hand, that is `(-dy, dx)`.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from inkline.geometry.arrays import Floats, Points


def without_repeats(points: Points) -> Points:
    """`points` without those that equal the one before; at least one point is left."""
    keep = np.ones(len(points), dtype=bool)
    before, after = points[:-1], points[1:]
    keep[1:] = (before[:, 0] != after[:, 0]) | (before[:, 1] != after[:, 1])
    return points[keep]


def arc_lengths(points: Points) -> Floats:
    """Arc length from the first point to each point, `(n,)`, starting at 0."""
    steps = points[1:] - points[:-1]
    lengths = np.zeros(len(points))
    np.cumsum(np.hypot(steps[:, 0], steps[:, 1]), out=lengths[1:])
    return lengths


def closed_arc_lengths(contour: Points) -> Floats:
    """Arc length from the first point of a closed contour to each and back to it, `(n + 1,)`."""
    return arc_lengths(np.concatenate((contour, contour[:1])))


def at_arc_lengths(points: Points, lengths: Floats, wanted: Floats) -> Points:
    """Points at the arc lengths `wanted` along a polyline whose own points lie at `lengths`.

    Lengths beyond an end give that end.
    """
    found = np.empty((len(wanted), 2))
    found[:, 0] = np.interp(wanted, lengths, points[:, 0])
    found[:, 1] = np.interp(wanted, lengths, points[:, 1])
    return found


def resampled_contour(contour: Points, step: float) -> Points:
    """The closed contour at equal arc lengths about `step` apart, its first point kept.

    There are at least eight points. Their number is one of the next that a Fourier transform is
    quick with: no prime factor above 5.
    """
    closed = np.concatenate((contour, contour[:1]))
    lengths = arc_lengths(closed)
    n_points = quick_length(max(8, round(lengths[-1] / step)))
    return at_arc_lengths(closed, lengths, np.arange(n_points) * (lengths[-1] / n_points))


@lru_cache(maxsize=4096)
def quick_length(least: int) -> int:
    """The smallest number from `least` on that has no prime factor above 5."""
    number = least
    while True:
        rest = number
        for factor in (2, 3, 5):
            while rest % factor == 0:
                rest //= factor
        if rest == 1:
            return number
        number += 1


def directions(points: Points) -> Points:
    """Unit direction of each segment, `(n - 1, 2)`; consecutive points must differ."""
    steps = np.diff(points, axis=0)
    return np.asarray(steps / np.hypot(steps[:, 0], steps[:, 1])[:, None])


def normals_of(vectors: Points) -> Points:
    """Vectors turned by +90 degrees: `(x, y)` becomes `(-y, x)`."""
    normals = np.empty(vectors.shape)
    normals[:, 0], normals[:, 1] = -vectors[:, 1], vectors[:, 0]
    return normals


def tangents(points: Points) -> Points:
    """Unit tangent at each point of a polyline, `(n, 2)`.

    By central differences, one-sided at the ends. Where the line turns back on itself exactly, so
    that the difference vanishes, the segment that arrives is taken.
    """
    spans = np.empty_like(points)
    spans[1:-1] = points[2:] - points[:-2]
    spans[0], spans[-1] = points[1] - points[0], points[-1] - points[-2]
    return _unit_or_arriving(spans, points)


def contour_tangents(contour: Points) -> Points:
    """Unit tangent at each point of a closed contour, by central differences, `(n, 2)`."""
    return _unit_or_arriving(np.roll(contour, -1, axis=0) - np.roll(contour, 1, axis=0), contour)


def _unit_or_arriving(spans: Points, points: Points) -> Points:
    """`spans` scaled to length one; where they vanish, what arrives at that of `points` is."""
    lengths = np.hypot(spans[:, 0], spans[:, 1])
    flat = lengths <= 1e-12 * (1.0 + lengths.max(initial=0.0))
    if flat.any():
        spans = np.where(flat[:, None], points - np.roll(points, 1, axis=0), spans)
        lengths = np.hypot(spans[:, 0], spans[:, 1])
    return np.asarray(spans / np.maximum(lengths, 1e-300)[:, None])


def turning_angles(points: Points) -> Floats:
    """Signed turn in radians at each inner point of a polyline, `(n - 2,)`, in (-pi, pi]."""
    along = directions(points)
    before, after = along[:-1], along[1:]
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    dot = (before * after).sum(axis=1)
    return np.asarray(np.arctan2(cross, dot))


def curvatures(points: Points) -> Floats:
    """Signed curvature at each point, 1 / unit of length, `(n,)`.

    The turn over the mean of the two adjoining segments. The ends take their neighbour's value; a
    polyline of two points is straight.
    """
    if len(points) < 3:
        return np.zeros(len(points))
    steps = np.hypot(*np.diff(points, axis=0).T)
    inner = turning_angles(points) / (0.5 * (steps[:-1] + steps[1:]))
    return np.concatenate((inner[:1], inner, inner[-1:]))
