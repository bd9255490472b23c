"""Straight stretches of contours, fitted to their points.

A contour is divided where it leaves a straight line; each long straight stretch is fitted by least
squares to the edge points between its ends.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Floats, Points

_OFF_LINE_PX = 0.8
"""The farthest that an edge's points lie from the line through a stretch's ends."""
LEAST_STRETCH_PX = 14.0
CUT_PX = 3.0
"""What is left out at either end of a stretch: corners are rounded by the pixels."""
_FIT_PX = 0.3
"""Root mean square by which the edge of a rule may leave its line; a hand's line leaves it."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sides:
    """Straight stretches of contours, one a row: middles, unit directions and half lengths."""

    middles: Points
    units: Points
    halves: Floats


def straight_sides(contours: Sequence[Points]) -> Sides:
    """The long straight stretches of closed contours."""
    middles, units, halves = [], [], []
    for contour in contours:
        if len(contour) < LEAST_STRETCH_PX:
            continue
        for points in _stretches(contour):
            fit = _fitted(points)
            if fit is not None:
                middles.append(fit[0])
                units.append(fit[1])
                halves.append(fit[2])
    return Sides(
        middles=np.array(middles).reshape(-1, 2),
        units=np.array(units).reshape(-1, 2),
        halves=np.array(halves),
    )


def _stretches(contour: Points) -> list[Points]:
    """The points of each long stretch of a closed contour that stays near a straight line.

    Divided at the farthest point from the chord until all are near (U. Ramer, An iterative
    procedure for the polygonal approximation of plane curves, Computer Graphics and Image
    Processing 1, 1972).
    """
    far = int(np.argmax(np.hypot(*(contour - contour[0]).T)))
    around = np.roll(contour, -far, axis=0)
    half = int(np.argmax(np.hypot(*(around - around[0]).T)))
    closed = np.concatenate((around, around[:1]))
    waiting, found = [(0, half), (half, len(closed) - 1)], list[Points]()
    while waiting:
        start, end = waiting.pop()
        points = closed[start : end + 1]
        chord = points[-1] - points[0]
        length = float(np.hypot(*chord))
        if end - start < 2 or len(points) < LEAST_STRETCH_PX / 2:
            continue
        across = np.array([-chord[1], chord[0]]) / max(length, 1e-9)
        away = (
            np.abs((points - points[0]) @ across)
            if length > 0.0
            else np.hypot(*(points - points[0]).T)
        )
        worst = int(np.argmax(away))
        if away[worst] > _OFF_LINE_PX:
            waiting += [(start, start + worst), (start + worst, end)]
        elif length >= LEAST_STRETCH_PX:
            found.append(points)
    return found


def _fitted(points: Points) -> tuple[Points, Points, float] | None:
    """Middle, unit direction and half length of the line through a stretch; `None` if it is bent.

    By total least squares over the points that lie away from its ends.
    """
    chord = points[-1] - points[0]
    length = float(np.hypot(*chord))
    unit = chord / length
    along = (points - points[0]) @ unit
    inner = points[(along > CUT_PX) & (along < length - CUT_PX)]
    if len(inner) < 4:
        return None
    centre = inner.mean(axis=0)
    _, spread, turned = np.linalg.svd(inner - centre, full_matrices=False)
    if spread[1] / np.sqrt(len(inner)) > _FIT_PX:
        return None
    direction = turned[0] * np.sign(turned[0] @ unit)
    ends = (points[[0, -1]] - centre) @ direction
    middle = centre + 0.5 * float(ends.sum()) * direction
    return middle, direction, 0.5 * float(ends[1] - ends[0])
