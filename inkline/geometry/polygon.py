"""Closed contours: area, bounds, orientation."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from inkline.geometry.arrays import Points


def signed_area(contour: Points) -> float:
    """Area by the shoelace formula, positive for an anticlockwise contour where y points up.

    Taken about the first point, so that a small contour far from the origin loses no digits. On the
    page, where y points down, the same contour looks clockwise.
    """
    x, y = (contour - contour[0]).T
    return float(0.5 * (np.dot(x[:-1], y[1:]) - np.dot(y[:-1], x[1:])))


def total_area(contours: Iterable[Points]) -> float:
    """Sum of the signed areas; holes, wound the other way, count against."""
    return sum(signed_area(contour) for contour in contours)


def with_positive_area(contours: Sequence[Points]) -> tuple[Points, ...]:
    """The same contours with a positive total area: all reversed if it is negative.

    Outer ones are positive then, holes negative.
    """
    if total_area(contours) >= 0.0:
        return tuple(contours)
    return tuple(np.ascontiguousarray(contour[::-1]) for contour in contours)


def bounds(contours: Sequence[Points]) -> tuple[float, float, float, float]:
    """Smallest upright box about all points: `(x0, y0, x1, y1)`.

    Raises:
        ValueError: there is no point at all.
    """
    if not any(len(contour) for contour in contours):
        raise ValueError("bounds of no points are not defined")
    x, y = np.concatenate([contour for contour in contours if len(contour)]).T
    return float(x.min()), float(y.min()), float(x.max()), float(y.max())
