"""The sharp inner corners where strokes cross or join, filled as wet ink fills them."""

from __future__ import annotations

import numpy as np

from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polyline import at_arc_lengths, closed_arc_lengths

# An inner corner turns by more than this between the stretches that lead to it and away from it.
_CORNER_TURN_RAD = np.deg2rad(35.0)
# Those stretches are this share of the fillet's radius long, so that the edge's own roughness makes
# no corners.
_STRETCH = 0.8


def filleted_contour(contour: Points, radius: float) -> Points:
    """`contour` with its inner corners filled by curves.

    A curve leaves either side `radius` from the corner.

    Args:
        contour: simple, outer ones positive and holes negative, so that ink lies on the left; `(n,
            2)`.
        radius: in the contour's unit, > 0; less where two corners lie near each other.

    Returns:
        The same number of points; those near a corner are moved onto the curve, the others stay.
    """
    lengths = closed_arc_lengths(contour)
    total = float(lengths[-1])
    if total < 8.0 * radius:
        return contour
    corners = _corners(contour, lengths, radius)
    if len(corners) == 0:
        return contour
    gaps = np.diff(np.concatenate((corners, corners[:1] + total)))
    widths = np.minimum(radius, 0.49 * np.minimum(gaps, np.roll(gaps, 1)))
    return _points_on_curves(contour, lengths, corners, widths)


def _corners(contour: Points, lengths: Floats, radius: float) -> Floats:
    """Arc lengths of the inner corners, ascending.

    A corner is where the turn over a stretch is sharpest of its neighbourhood.
    """
    total = float(lengths[-1])
    here = lengths[:-1]
    before = _points_at(contour, lengths, here - _STRETCH * radius)
    after = _points_at(contour, lengths, here + _STRETCH * radius)
    arriving, leaving = contour - before, after - contour
    cross = arriving[:, 0] * leaving[:, 1] - arriving[:, 1] * leaving[:, 0]
    turns = np.arctan2(cross, (arriving * leaving).sum(axis=1))
    sharp = np.flatnonzero(turns < -_CORNER_TURN_RAD)
    waiting, chosen = here[sharp[np.argsort(turns[sharp])]], list[float]()
    while len(waiting):
        chosen.append(float(waiting[0]))
        apart = np.abs(waiting - chosen[-1])
        waiting = waiting[np.minimum(apart, total - apart) > radius]
    return np.sort(np.array(chosen))


def _points_at(contour: Points, lengths: Floats, wanted: Floats) -> Points:
    """Points of the closed contour at arc lengths.

    They may lie before its start or beyond its end.
    """
    closed = np.concatenate((contour, contour[:1]))
    return at_arc_lengths(closed, lengths, wanted % float(lengths[-1]))


def _points_on_curves(contour: Points, lengths: Floats, corners: Floats, widths: Floats) -> Points:
    """The points near corners moved onto quadratic curves.

    Near is within `widths` of `corners`; each curve has the corner as its control point.
    """
    total, here = float(lengths[-1]), lengths[:-1]
    after = np.searchsorted(corners, here) % len(corners)
    before = after - 1  # of the first the last one, around the start
    offsets = [
        (here - corners[side] + 0.5 * total) % total - 0.5 * total for side in (before, after)
    ]
    is_after = np.abs(offsets[1]) < np.abs(offsets[0])
    nearest = np.where(is_after, after, before)
    offset, width = np.where(is_after, offsets[1], offsets[0]), widths[nearest]
    near = np.abs(offset) < width
    u = (0.5 + 0.5 * offset[near] / width[near])[:, None]
    start = _points_at(contour, lengths, corners - widths)[nearest[near]]
    control = _points_at(contour, lengths, corners)[nearest[near]]
    end = _points_at(contour, lengths, corners + widths)[nearest[near]]
    moved = contour.copy()
    moved[near] = (1.0 - u) ** 2 * start + 2.0 * u * (1.0 - u) * control + u**2 * end
    return moved
