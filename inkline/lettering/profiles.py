"""Profiles of letters: how far ink reaches at each height, by which letters are placed.

Everything here is exact for polygons and for round-ended strokes: at a height y a segment from a to
b is crossed at a.x + (y - a.y) (b.x - a.x) / (b.y - a.y), and a disc of radius r about p reaches
left to p.x - sqrt(r^2 - (y - p.y)^2). The ink of a stroke is the union of a disc at every point of
its centreline and of the strip along each of its segments.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from inkline.geometry.arrays import Floats, Indices, Points


def contour_reach(contours: Sequence[Points], heights: Floats) -> Floats:
    """Smallest x of the contours' ink at each height, infinite where there is none.

    Args:
        contours: closed contours.
        heights: ascending, `(n,)`.
    """
    reach = np.full(len(heights), np.inf)
    for contour in contours:
        _lower_by_segments(reach, contour, np.roll(contour, -1, axis=0), heights)
    return reach


def stroke_reach(
    points: Points, *, radius: float | Floats, closed: bool, heights: Floats
) -> Floats:
    """Smallest x of the ink of a round-ended stroke at each height, infinite where there is none.

    Args:
        points: centreline, `(n, 2)`.
        radius: half the stroke's width, > 0, in the points' unit: one, or one for each point,
            `(n,)`, between which the sides run straight.
        closed: the centreline returns to its start.
        heights: ascending, `(n,)`.
    """
    reach = np.full(len(heights), np.inf)
    starts, ends = (points, np.roll(points, -1, axis=0)) if closed else (points[:-1], points[1:])
    along = ends - starts
    lengths = np.hypot(along[:, 0], along[:, 1])
    moving = lengths > 0
    radii = np.broadcast_to(np.asarray(radius, dtype=np.float64), len(points))
    before, after = (radii, np.roll(radii, -1)) if closed else (radii[:-1], radii[1:])
    aside = np.column_stack((-along[moving, 1], along[moving, 0]))
    at_start, at_end = (
        one[moving, None] * aside / lengths[moving, None] for one in (before, after)
    )
    for sense in (1.0, -1.0):
        _lower_by_segments(
            reach, starts[moving] + sense * at_start, ends[moving] + sense * at_end, heights
        )
    _lower_by_discs(reach, points, radii, heights)
    return reach


def inked_runs(contours: Sequence[Points], *, height: float) -> Points:
    """Start and end in x of every run of ink at one height, `(k, 2)`, from left to right.

    For simple united contours.
    """
    crossings: list[float] = []
    for contour in contours:
        ends = np.roll(contour, -1, axis=0)
        crossed = (contour[:, 1] <= height) != (ends[:, 1] <= height)
        a, b = contour[crossed], ends[crossed]
        crossings.extend(a[:, 0] + (height - a[:, 1]) * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1]))
    return np.array(sorted(crossings), dtype=np.float64).reshape(-1, 2)


def _lower_by_segments(reach: Floats, starts: Points, ends: Points, heights: Floats) -> None:
    """Lowers `reach` to the segments' x at each height that they cross."""
    low, high = np.minimum(starts[:, 1], ends[:, 1]), np.maximum(starts[:, 1], ends[:, 1])
    segments, rows = _spans(low, high, heights)
    a, along = starts[segments], ends[segments] - starts[segments]
    level = along[:, 1] == 0
    share = np.where(level, 0.0, (heights[rows] - a[:, 1]) / np.where(level, 1.0, along[:, 1]))
    x = np.where(level, np.minimum(a[:, 0], a[:, 0] + along[:, 0]), a[:, 0] + share * along[:, 0])
    np.minimum.at(reach, rows, x)


def _lower_by_discs(reach: Floats, centres: Points, radii: Floats, heights: Floats) -> None:
    """Lowers `reach` to the left side of a disc about each centre."""
    discs, rows = _spans(centres[:, 1] - radii, centres[:, 1] + radii, heights)
    up = heights[rows] - centres[discs, 1]
    half_chords = np.sqrt(np.maximum(radii[discs] ** 2 - up * up, 0.0))
    np.minimum.at(reach, rows, centres[discs, 0] - half_chords)


def _spans(low: Floats, high: Floats, heights: Floats) -> tuple[Indices, Indices]:
    """All pairs (index of span, index of height) with low <= height <= high, as two arrays."""
    first = np.searchsorted(heights, low, side="left")
    counts = np.maximum(np.searchsorted(heights, high, side="right") - first, 0)
    spans = np.repeat(np.arange(len(low)), counts)
    place = np.arange(len(spans)) - np.repeat(np.cumsum(counts) - counts, counts)
    return spans, first[spans] + place
