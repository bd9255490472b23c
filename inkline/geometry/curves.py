"""Straight pieces for curved ones: Bézier segments flattened within a proven distance.

A curve B(t) and the chord of its stretch of length h in t lie at most h^2 / 8 x max |B''| apart
(the remainder of linear interpolation). For a Bézier segment |B''| is bounded by its control
points' second differences, so an even division into ceil(sqrt(max |B''| / (8 tolerance))) pieces is
always fine enough. Even division needs no recursion, and reversed or mirrored control points give
the reversed or mirrored points.
"""

from __future__ import annotations

import math

import numpy as np

from inkline.geometry.arrays import Floats, Point, Points

_MAX_PIECES = 65_536
"""The largest number of pieces for one curve, more than any glyph needs.
The finest tolerance in use asks for about 200 in a quarter of a circle. The limit keeps a broken
font's control points, far beyond its em, from filling the memory."""


def flattened_quadratic(p0: Point, p1: Point, p2: Point, *, tolerance: float) -> Points:
    """Points `(n, 2)` on the quadratic Bézier segment, both ends included, n >= 2.

    Args:
        p0: start.
        p1: control point.
        p2: end.
        tolerance: the largest distance between curve and polyline, > 0, in the points' own unit.

    Raises:
        ValueError: a tolerance that is not above 0, a point that is not finite, or more than
            `_MAX_PIECES` pieces.
    """
    controls = _controls(p0, p1, p2)
    second = 2.0 * (controls[0] - 2.0 * controls[1] + controls[2])
    t = _even_parameters(float(np.hypot(*second)), tolerance)
    s = 1.0 - t
    return _with_ends(np.stack([s * s, 2.0 * s * t, t * t], axis=1) @ controls, controls)


def flattened_cubic(p0: Point, p1: Point, p2: Point, p3: Point, *, tolerance: float) -> Points:
    """Points `(n, 2)` on the cubic Bézier segment, both ends included, n >= 2.

    Args:
        p0: start.
        p1: first control point.
        p2: second control point.
        p3: end.
        tolerance: the largest distance between curve and polyline, > 0, in the points' own unit.

    Raises:
        ValueError: a tolerance that is not above 0, a point that is not finite, or more than
            `_MAX_PIECES` pieces.
    """
    controls = _controls(p0, p1, p2, p3)
    seconds = 6.0 * (controls[:-2] - 2.0 * controls[1:-1] + controls[2:])
    t = _even_parameters(float(np.hypot(seconds[:, 0], seconds[:, 1]).max()), tolerance)
    s = 1.0 - t
    weights = np.stack([s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t], axis=1)
    return _with_ends(weights @ controls, controls)


def _controls(*points: Point) -> Points:
    controls = np.array(points, dtype=np.float64)
    if not np.isfinite(controls).all():
        raise ValueError("control points must be finite")
    return controls


def _even_parameters(second_derivative: float, tolerance: float) -> Floats:
    if not tolerance > 0:
        raise ValueError(f"a tolerance must be above 0, not {tolerance}")
    pieces = max(1, math.ceil(math.sqrt(second_derivative / (8.0 * tolerance))))
    if pieces > _MAX_PIECES:
        raise ValueError(
            f"a curve needs {pieces} pieces to keep within {tolerance}, more than {_MAX_PIECES}"
        )
    return np.linspace(0.0, 1.0, pieces + 1)


def _with_ends(points: Points, controls: Points) -> Points:
    """The points with their ends exactly on the outer control points.

    So neighbouring segments meet.
    """
    points[0] = controls[0]
    points[-1] = controls[-1]
    return points
