"""Boxes: their type, insets, the box around several, and rounded corners as contours."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from inkline.geometry.arrays import Floats, Points

Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""

Interval = tuple[float, float]
"""Where a column begins and ends in x, or a row in y; the first is the smaller."""

# Centres' sides of the four corners and the angle at which each corner's arc begins, anticlockwise
# where y points up.
_CORNERS = ((1.0, 0.0, 0.0), (1.0, 1.0, 90.0), (0.0, 1.0, 180.0), (0.0, 0.0, 270.0))


def rounded_box(
    x0: float, y0: float, x1: float, y1: float, radius: float, *, tolerance: float = 0.01
) -> Points:
    """One closed contour: the box with quarter circles of `radius` at its corners.

    The box reaches from `(x0, y0)` to `(x1, y1)`. Points lie on the box and its arcs, so chords cut
    off at most `tolerance` (same unit) and the area is never too large; it is positive where y
    points up. A radius of 0 gives four points; a radius of half the shorter side gives half-round
    ends, with no point twice.

    Raises:
        ValueError: a box without area, a radius that is negative or over half the shorter side, a
            tolerance of 0 or less.
    """
    width, height = x1 - x0, y1 - y0
    if not (0 < width < math.inf and 0 < height < math.inf):
        raise ValueError(f"a box needs x0 < x1 and y0 < y1, not {(x0, y0, x1, y1)}")
    if not 0 <= radius <= min(width, height) / 2:
        raise ValueError(
            f"a corner radius must lie between 0 and half the shorter side, not {radius}"
        )
    if not tolerance > 0:
        raise ValueError(f"a tolerance must be above 0, not {tolerance}")
    if radius == 0:
        return np.array([(x1, y0), (x1, y1), (x0, y1), (x0, y0)], dtype=np.float64)
    angles = np.linspace(0.0, math.pi / 2, _arc_steps(radius, tolerance) + 1)
    arcs = [_arc(x0, y0, x1, y1, radius, corner, angles) for corner in _CORNERS]
    contour = np.concatenate(arcs)
    keep = np.any(contour != np.roll(contour, 1, axis=0), axis=1)
    return np.ascontiguousarray(contour[keep])


def _arc(
    x0: float,
    y0: float,
    x1: float,
    y1: float,
    radius: float,
    corner: tuple[float, float, float],
    angles: Points,
) -> Points:
    """One corner's quarter circle; its first and last points lie on the sides exactly."""
    right, upper, begin = corner
    centre = (x1 - radius if right else x0 + radius, y1 - radius if upper else y0 + radius)
    turned = angles + math.radians(begin - 90.0)
    points = np.column_stack(
        (centre[0] + radius * np.cos(turned), centre[1] + radius * np.sin(turned))
    )
    side_x, side_y = (x1 if right else x0), (y1 if upper else y0)
    ends = ((centre[0], side_y), (side_x, centre[1]))
    points[0], points[-1] = ends if right != upper else ends[::-1]
    return points


def _arc_steps(radius: float, tolerance: float) -> int:
    """Number of chords for a quarter circle.

    A chord over the angle a lies r (1 - cos(a / 2)) from its arc at most.
    """
    if tolerance >= radius:
        return 1
    return math.ceil(math.pi / 4 / math.acos(1.0 - tolerance / radius))


def touching_clusters(boxes: Floats) -> list[list[int]]:
    """Indices of `boxes`, `(n, 4)`, in clusters that hang together by overlaps.

    Each is in ascending order, and they come in the order of their first ones. Boxes that share but
    an edge or a corner touch.
    """
    x0, y0, x1, y1 = boxes.reshape(-1, 4).T
    overlap = (x0[:, None] <= x1) & (x0 <= x1[:, None]) & (y0[:, None] <= y1) & (y0 <= y1[:, None])
    firsts, seconds = np.nonzero(np.triu(overlap, 1))
    neighbours: list[list[int]] = [[] for _ in boxes]
    for first, second in zip(firsts.tolist(), seconds.tolist(), strict=True):
        neighbours[first].append(second)
        neighbours[second].append(first)
    clusters: list[list[int]] = []
    is_taken = [False] * len(boxes)
    for start in range(len(boxes)):
        if is_taken[start]:
            continue
        is_taken[start], cluster = True, [start]
        for place in cluster:  # which grows meanwhile
            new = [other for other in neighbours[place] if not is_taken[other]]
            for other in new:
                is_taken[other] = True
            cluster += new
        clusters.append(sorted(cluster))
    return clusters


def inset_box(box: Box, inset_px: float) -> Box:
    """`box` set in by `inset_px` on all four sides.

    Raises:
        ValueError: nothing of the box would be left, or the inset is negative.
    """
    left, top, right, bottom = box
    if not 0 <= 2 * inset_px < min(right - left, bottom - top):
        raise ValueError(
            f"an inset of {inset_px} px does not fit a box of {right - left} x {bottom - top} px"
        )
    return (left + inset_px, top + inset_px, right - inset_px, bottom - inset_px)


def box_around(boxes: Sequence[Box]) -> Box:
    """The smallest box about all of `boxes`, of which there is at least one."""
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return (float(min(lefts)), float(min(tops)), float(max(rights)), float(max(bottoms)))


def shrunk_box(box: Box, by: float) -> Box:
    """`box` with each side moved inwards by `by`.

    Its right side may come to lie before its left one.
    """
    return (box[0] + by, box[1] + by, box[2] - by, box[3] - by)


def grown_box(box: Box, by: float) -> Box:
    """`box` with each side moved outwards by `by`."""
    return (box[0] - by, box[1] - by, box[2] + by, box[3] + by)
