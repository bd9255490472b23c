"""Union of contours that overlap themselves or each other."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain

import numpy as np
import pyclipper

from inkline.geometry.arrays import Floats, Ints, Points

# pyclipper computes in 64-bit integers and switches to slow 128-bit products above 2^30; the grid
# is therefore the finest power of two that keeps coordinates below this. For a canvas of 2500 px
# that is 2^-18 px.
_LARGEST_COORDINATE = 2.0**29.9
# Contours with less area than this share of a grid-scale box are debris of rounding.
_DEBRIS_STEPS = 4.0


def union_of_contours(contours: Sequence[Points]) -> tuple[Points, ...]:
    """The union of `contours` by the non-zero winding rule, as simple contours.

    Outer contours come back with positive area (anticlockwise where y points up), holes negative.
    Coordinates are rounded to a power-of-two grid about 1e-9 of the largest coordinate (2^-18 px on
    a canvas of 2500 px), in which the union is exact. Contours of fewer than three points and those
    without area vanish; no contours give none.

    Cost: about 1 ms for a numeral of 600 points, 80 ms for a grid of 64 000 points.
    """
    kept = [contour for contour in contours if len(contour) >= 3]
    if not kept:
        return ()
    # Column by column: numpy is eight times slower along the first of two axes.
    columns = np.ascontiguousarray(np.concatenate(kept).T)
    corner, scale = _grid(columns.min(axis=1), columns.max(axis=1))
    clipper = pyclipper.Pyclipper()
    n_added = sum(
        _add_path(clipper, np.rint((contour - corner) * scale).astype(np.int64)) for contour in kept
    )
    if not n_added:
        return ()
    solution = clipper.Execute(pyclipper.CT_UNION, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    arrays = (
        np.fromiter(chain.from_iterable(path), np.float64, 2 * len(path)).reshape(-1, 2)
        for path in solution
    )
    return tuple(path / scale + corner for path in arrays if _is_more_than_debris(path))


def _grid(low: Floats, high: Floats) -> tuple[Floats, float]:
    """Corner and scale (grid steps per unit) of the integer grid between `low` and `high`."""
    corner = np.floor(0.5 * (low + high))
    reach = max(float(np.max(high - corner)), float(np.max(corner - low)), 1e-12)
    return corner, float(2.0 ** np.floor(np.log2(_LARGEST_COORDINATE / reach)))


def _add_path(clipper: pyclipper.Pyclipper, path: Ints) -> int:
    """1 if the path was taken, 0 if it has no area on the grid."""
    try:
        clipper.AddPath(path.tolist(), pyclipper.PT_SUBJECT, True)
    except pyclipper.ClipperException:
        return 0
    return 1


def _is_more_than_debris(path: Points) -> bool:
    """Whether a contour in grid steps is more than what rounding leaves behind."""
    x, y = (path - path[0]).T
    return abs(float(np.dot(x[:-1], y[1:]) - np.dot(y[:-1], x[1:]))) > 2.0 * _DEBRIS_STEPS
