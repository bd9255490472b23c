"""Outlines drawn in one go: a ring or a box that the pen runs around until it has passed its start.

Nobody comes back to where he began: the way winds a little inwards or outwards, is a little oval or
leaning, and takes each corner wider or tighter than the last. All lengths are mm on the sheet,
points are relative to the stroke's origin, y down.
"""

from __future__ import annotations

import numpy as np

from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polyline import curvatures, normals_of, tangents
from inkline.ink.hand import (
    DrawnPath,
    ExactPath,
    drift_along,
    drift_rms,
    moves_within,
    tremor_along,
)
from inkline.ink.pose import Pose
from inkline.ink.style import Hand
from inkline.ink.timing import timing
from inkline.ink.together import Asking

# Deviations in units of the hand's slow wander: of how far the end comes beside the start, and of
# how far the whole is drawn out or leans at its sides. Chosen by eye: smaller, and rings look
# turned by a machine; larger, and they no longer fit their cells.
_MISS, _LEANING = 1.6, 0.8
# Corners are cut: in the mean by this share of their radius, with the second as its deviation, and
# never taken wider than by the third, or they would stick out like ears. So a hand that wanders as
# far as this, mm, or farther; a calmer one the less.
_CORNER_CUT, _CORNER_PLAY, _CORNER_EAR, _FREE_WANDER_MM = 0.08, 0.17, 0.06, 0.1
# A corner is where the way turns so many times as fast as in the mean, and it is felt over so many
# of its radii.
_CORNER_TURN, _CORNER_REACH = 2.0, 1.0
_LIMIT = 2.0
_MOST_CORNERS = 16


def drawn_outline(
    path: ExactPath, pose: Pose, hand: Hand, *, own: np.random.Generator, reference: float
) -> Asking[DrawnPath]:
    """The drawn way of an outline, never further than `hand.stray` from the exact one.

    Args:
        path: the exact way, once around and on over its start.
        pose: how the outline sits.
        hand: the hand as firm as the outline's role makes it.
        own: the stream of this stroke's hand, always used for the same number of draws.
        reference: curvature in 1 / mm up to which the pen need not slow.
    """
    miss, *lean = np.clip(own.standard_normal(4), -_LIMIT, _LIMIT)
    corners = np.clip(own.standard_normal(_MOST_CORNERS), -_LIMIT, _LIMIT)
    wander = drift_rms(hand)
    pace = timing(
        path.lengths, curvatures(path.points), path.stops, speed=hand.speed, reference=reference
    )
    offsets = yield from drift_along(own, path.lengths, hand)
    offsets = offsets + (yield from tremor_along(own, pace, hand))
    offsets += _MISS * wander * miss * (path.lengths / path.lengths[-1] - 0.5)
    offsets += _corner_offsets(path, corners) * min(1.0, wander / _FREE_WANDER_MM)
    moves = pose.moved_points(path.points) - path.points
    moves = (
        moves
        + _leaning_moves(path.points, _LEANING * wander * np.array(lean))
        + normals_of(tangents(path.points)) * offsets[:, None]
    )
    return DrawnPath(
        points=path.points + moves_within(moves, hand.stray),
        lengths=path.lengths,
        exact_length=float(path.lengths[-1]),
        timing=pace,
    )


def _leaning_moves(points: Points, amounts: Floats) -> Points:
    """How a whole outline is drawn out and leans about its middle, mm, `(n, 2)`.

    Args:
        points: the exact way.
        amounts: by how much its sides move at most: wider and lower, leaning to the right, leaning
            downwards.
    """
    low, high = points.min(axis=0), points.max(axis=0)
    x, y = ((points - 0.5 * (low + high)) / np.maximum(0.5 * (high - low), 1e-9)).T
    stretch, right, down = amounts
    return np.column_stack((stretch * x - right * y, -stretch * y + down * x))


def _corner_offsets(path: ExactPath, amounts: Floats) -> Floats:
    """How far each corner is moved across the way, mm, `(n,)`; a way that turns evenly has none."""
    inwards = 0.5 * (path.points.min(axis=0) + path.points.max(axis=0)) - path.points
    side = np.sign(float((normals_of(tangents(path.points)) * inwards).sum()))
    bends = np.abs(curvatures(path.points))
    is_corner = bends > _CORNER_TURN * 2.0 * np.pi / max(float(path.lengths[-1]), 1e-9)
    starts = np.flatnonzero(is_corner & ~np.append(False, is_corner[:-1]))
    ends = np.flatnonzero(is_corner & ~np.append(is_corner[1:], False))
    offsets = np.zeros(len(bends))
    for amount, first, last in zip(amounts, starts, ends, strict=False):
        radius = 1.0 / float(np.median(bends[first : last + 1]))
        apart = (path.lengths - 0.5 * (path.lengths[first] + path.lengths[last])) / (
            _CORNER_REACH * radius
        )
        cut = max(_CORNER_CUT + _CORNER_PLAY * amount, -_CORNER_EAR)
        offsets += side * radius * cut * np.exp(-0.5 * apart**2)
    return offsets
