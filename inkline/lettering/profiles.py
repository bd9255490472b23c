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

_UP = 0.5 * np.pi
_LEAN, _NEAR = 1e-3, 1e-6
"""How far beyond its arc a disc is still looked at, in radians, and how near its neighbours must
be, over its radius, to count as in the same place: what is left out then lies behind other ink by a
thousand times what rounding does, and the reach is the same to the last bit."""


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
    _lower_by_segments(
        reach,
        np.concatenate((starts[moving] + at_start, starts[moving] - at_start)),
        np.concatenate((ends[moving] + at_end, ends[moving] - at_end)),
        heights,
    )
    _lower_by_discs(reach, points, radii, heights, _shown_arcs(points, radii, closed=closed))
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


def _lower_by_discs(
    reach: Floats, centres: Points, radii: Floats, heights: Floats, arcs: tuple[Floats, Floats]
) -> None:
    """Lowers `reach` to the left side of a disc about each centre, within an arc of it.

    `arcs` are the sines of where the arcs start and end, from -1 at the lowest y to 1.
    """
    low, high = (centres[:, 1] + radii * sines for sines in arcs)
    discs, rows = _spans(low, high, heights)
    up = heights[rows] - centres[discs, 1]
    half_chords = np.sqrt(np.maximum(radii[discs] ** 2 - up * up, 0.0))
    np.minimum.at(reach, rows, centres[discs, 0] - half_chords)


def _shown_arcs(points: Points, radii: Floats, *, closed: bool) -> tuple[Floats, Floats]:
    """Sines of the ends of the arc of each disc's left side that its neighbours may leave bare.

    With q on the disc about p, s = (r - r') / |p'p| to a neighbour p' of radius r', and d the
    angle by which q - p leans from the segment's normal towards p': the strip along pp' holds q
    where cos d + s sin d < 1, the disc about p' where q lies beyond that strip; both are so where
    sin d > 2 s / (1 + s^2), or > 0 for s < 0. Such a q has ink farther left at its height, and the
    disc needn't be looked at there. Derived here; neighbours too near, or within p, hide nothing.
    """
    low, high = np.full(len(points), -_UP), np.full(len(points), _UP)
    for step in (1, -1):
        towards = np.roll(points, step, axis=0) - points
        lengths = np.hypot(towards[:, 0], towards[:, 1])
        near = lengths <= _NEAR * radii
        slopes = (radii - np.roll(radii, step)) / np.where(near, 1.0, lengths)
        shown = near | (slopes >= 1.0)
        if not closed:
            shown[0 if step == 1 else -1] = True
        lean = 2.0 * np.arctan(np.maximum(slopes, 0.0)) + _LEAN
        # Angles from the left, growing with y: q - p = r (-cos, sin). The neighbour leaves bare all
        # but the half circle towards it, less the lean.
        first = np.arctan2(towards[:, 1], -towards[:, 0]) + 0.5 * np.pi - lean
        start, end = _within_left(first, first + np.pi + 2.0 * lean)
        low = np.where(shown, low, np.maximum(low, start))
        high = np.where(shown, high, np.minimum(high, end))
    return np.sin(low), np.sin(high)


def _within_left(first: Floats, last: Floats) -> tuple[Floats, Floats]:
    """What the left half circle holds of arcs from `first` on to `last`, as an arc each.

    One that it holds none of ends before it starts; where it holds two parts, all between them is
    taken too. Angles from the left, `first` from -pi to 1.5 pi.
    """
    starts, ends = np.full(len(first), _UP), np.full(len(first), -_UP)
    for turn in (0.0, -2.0 * np.pi):
        start, end = np.maximum(first + turn, -_UP), np.minimum(last + turn, _UP)
        starts = np.where(start <= end, np.minimum(starts, start), starts)
        ends = np.where(start <= end, np.maximum(ends, end), ends)
    return starts, ends


def _spans(low: Floats, high: Floats, heights: Floats) -> tuple[Indices, Indices]:
    """All pairs (index of span, index of height) with low <= height <= high, as two arrays."""
    first = np.searchsorted(heights, low, side="left")
    counts = np.maximum(np.searchsorted(heights, high, side="right") - first, 0)
    spans = np.repeat(np.arange(len(low)), counts)
    place = np.arange(len(spans)) - np.repeat(np.cumsum(counts) - counts, counts)
    return spans, first[spans] + place
