"""Profiles of letters: how far ink reaches at each height, by which letters are placed.

Everything here is exact for polygons and for round-ended strokes: at a height y a segment from a to
b is crossed at a.x + (y - a.y) (b.x - a.x) / (b.y - a.y), and a disc of radius r about p reaches
left to p.x - sqrt(r^2 - (y - p.y)^2). The ink of a stroke is the union of a disc at every point of
its centreline and of the strip along each of its segments.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Self

import numpy as np

from inkline.geometry.arrays import Bools, Floats, Indices, Points

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


@dataclass(frozen=True, slots=True, eq=False)
class RoundStroke:
    """A round-ended stroke.

    Attributes:
        points: centreline, `(n, 2)`.
        radius: half the stroke's width, > 0, in the points' unit: one, or one for each point,
            `(n,)`, between which the sides run straight.
        closed: whether the centreline returns to its start.
    """

    points: Points
    radius: float | Floats
    closed: bool


def stroke_reach(strokes: Sequence[RoundStroke], heights: Floats) -> Floats:
    """Smallest x of the ink of strokes at each height, infinite where there is none.

    Several at once take little longer than one.

    Args:
        strokes: any number.
        heights: ascending, `(n,)`.
    """
    reach = np.full(len(heights), np.inf)
    if not strokes:
        return reach
    points = np.concatenate([one.points for one in strokes])
    radii = np.concatenate(
        [np.broadcast_to(np.asarray(one.radius, np.float64), len(one.points)) for one in strokes]
    )
    around = _Neighbours.of(strokes)
    starts = np.flatnonzero(~around.ends_open)
    ends = around.after[starts]
    along = points[ends] - points[starts]
    lengths = np.hypot(along[:, 0], along[:, 1])
    moving = lengths > 0
    starts, ends, along, lengths = starts[moving], ends[moving], along[moving], lengths[moving]
    aside = np.column_stack((-along[:, 1], along[:, 0]))
    at_start, at_end = (radii[at, None] * aside / lengths[:, None] for at in (starts, ends))
    _lower_by_segments(
        reach,
        np.concatenate((points[starts] + at_start, points[starts] - at_start)),
        np.concatenate((points[ends] + at_end, points[ends] - at_end)),
        heights,
    )
    _lower_by_discs(reach, points, radii, heights, _shown_arcs(points, radii, around))
    return reach


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Neighbours:
    """Which points stand before and after each point of several strokes, one after another.

    Attributes:
        before: of the first its stroke's last.
        after: of the last its stroke's first.
        starts_open: the first points of strokes that are not closed.
        ends_open: the last points of those.
    """

    before: Indices
    after: Indices
    starts_open: Bools
    ends_open: Bools

    @classmethod
    def of(cls, strokes: Sequence[RoundStroke]) -> Self:
        """Those of `strokes`."""
        counts = np.array([len(one.points) for one in strokes])
        lasts = np.cumsum(counts) - 1
        firsts = lasts - counts + 1
        before, after = np.arange(-1, lasts[-1]), np.arange(1, lasts[-1] + 2)
        before[firsts], after[lasts] = lasts, firsts
        is_open = np.array([not one.closed for one in strokes])
        starts_open, ends_open = np.zeros((2, lasts[-1] + 1), np.bool_)
        starts_open[firsts[is_open]] = ends_open[lasts[is_open]] = True
        return cls(before=before, after=after, starts_open=starts_open, ends_open=ends_open)


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


def _shown_arcs(points: Points, radii: Floats, around: _Neighbours) -> tuple[Floats, Floats]:
    """Sines of the ends of the arc of each disc's left side that its neighbours may leave bare.

    With q on the disc about p, s = (r - r') / |p'p| to a neighbour p' of radius r', and d the
    angle by which q - p leans from the segment's normal towards p': the strip along pp' holds q
    where cos d + s sin d < 1, the disc about p' where q lies beyond that strip; both are so where
    sin d > 2 s / (1 + s^2), or > 0 for s < 0. Such a q has ink farther left at its height, and the
    disc needn't be looked at there. Derived here; neighbours too near, or within p, hide nothing.
    """
    low, high = np.full(len(points), -_UP), np.full(len(points), _UP)
    for other, ends_open in (
        (around.before, around.starts_open),
        (around.after, around.ends_open),
    ):
        towards = points[other] - points
        lengths = np.hypot(towards[:, 0], towards[:, 1])
        near = lengths <= _NEAR * radii
        slopes = (radii - radii[other]) / np.where(near, 1.0, lengths)
        shown = near | (slopes >= 1.0) | ends_open
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
