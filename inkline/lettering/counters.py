"""Counters, the white that a letter encloses, and outlines made heavier."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pyclipper

from inkline.geometry.arrays import Points
from inkline.geometry.polygon import bounds, signed_area

_STEPS = 2.0**24
"""Grid steps to an em; offsets are exact to 1e-7 em."""
_ARC_TOLERANCE_EM = 2e-4
"""Largest distance between a round corner and its chords.
A fifth of a font unit, which no small numeral shows."""
_COARSE_EM = 5e-4
"""How finely a counter is looked at."""
_HALVINGS = 10
"""Each halves what is unknown of a disc's size; ten leave a thousandth of the counter."""


def offset_contours(contours: Sequence[Points], distance: float) -> tuple[Points, ...]:
    """The contours moved outwards by `distance`, with round corners.

    Inwards where it is negative.

    Args:
        contours: simple, outer ones of positive area, holes negative; in em.
        distance: in em.

    Returns:
        Contours of the same kind; none where nothing is left.
    """
    tool = pyclipper.PyclipperOffset(2.0, _ARC_TOLERANCE_EM * _STEPS)
    for contour in contours:
        path = np.rint(contour * _STEPS).astype(np.int64).tolist()
        tool.AddPath(path, pyclipper.JT_ROUND, pyclipper.ET_CLOSEDPOLYGON)
    return tuple(
        np.array(path, dtype=np.float64) / _STEPS for path in tool.Execute(distance * _STEPS)
    )


def counters(contours: Sequence[Points]) -> tuple[Points, ...]:
    """The counters of a glyph: its holes, wound as outlines."""
    return tuple(contour[::-1] for contour in contours if signed_area(contour) < 0.0)


def disc_within(contour: Points) -> float:
    """Diameter of the largest disc that fits into a simple contour, to within 0.002 em.

    Args:
        contour: of positive area, in em.
    """
    x0, y0, x1, y1 = bounds([contour])
    path = pyclipper.CleanPolygon(
        np.rint(contour * _STEPS).astype(np.int64).tolist(), _COARSE_EM * _STEPS
    )
    low, high = 0.0, min(x1 - x0, y1 - y0)
    if len(path) < 3:
        return low
    tool = pyclipper.PyclipperOffset(2.0, _COARSE_EM * _STEPS)
    tool.AddPath(path, pyclipper.JT_MITER, pyclipper.ET_CLOSEDPOLYGON)
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if tool.Execute(-0.5 * middle * _STEPS):
            low = middle
        else:
            high = middle
    return low
