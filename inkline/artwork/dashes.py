"""Lines with gaps, cut into the strokes that they are made of (SVG 2, 13.5.6)."""

from __future__ import annotations

import numpy as np

from inkline.artwork.model import Subpath
from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polyline import arc_lengths, at_arc_lengths

_MOST_DASHES = 20_000
"""Strokes that one line may be cut into; a pattern that is finer is drawn as a whole line."""


def dashed_line(
    run: Subpath, dashes: tuple[float, ...], offset: float
) -> tuple[Subpath, ...] | None:
    """The strokes of a line with gaps, in order; `None` if the pattern is too fine to be drawn.

    Where a closed line begins and ends within a stroke, that stroke runs on over the start.

    Args:
        run: the line.
        dashes: lengths of strokes and gaps in turn, px.
        offset: how far into the pattern the line begins, px.
    """
    pattern = np.array(dashes if len(dashes) % 2 == 0 else dashes * 2)
    whole = float(pattern.sum())
    points = np.concatenate((run.points, run.points[:1])) if run.closed else run.points
    along = arc_lengths(points)
    length = float(along[-1])
    if whole <= 0.0:
        return (run,)
    rounds = length / whole + 2.0
    if rounds * len(pattern) > 2 * _MOST_DASHES:
        return None
    edges = np.cumsum(np.concatenate(([-(offset % whole)], np.tile(pattern, int(rounds) + 1))))
    starts, ends = edges[:-1:2], edges[1::2]
    is_dot = (starts == ends) & (starts >= 0.0) & (starts <= length)
    is_there = is_dot | ((ends > 0.0) & (starts < length))
    spans = np.clip(np.stack((starts, ends), axis=1)[is_there], 0.0, length)
    if len(spans) == 1 and spans[0, 0] == 0.0 and spans[0, 1] == length:
        return (run,)
    parts = [_part(points, along, float(start), float(end)) for start, end in spans]
    if run.closed and len(spans) > 1 and spans[0, 0] == 0.0 and spans[-1, 1] == length:
        parts[0] = np.concatenate((parts.pop(), parts[0][1:]))
    return tuple(Subpath(points=part, closed=False) for part in parts)


def _part(points: Points, along: Floats, start: float, end: float) -> Points:
    """The points of a line from one arc length to another."""
    within = (along > start) & (along < end)
    ends = at_arc_lengths(points, along, np.array([start, end]))
    return np.concatenate((ends[:1], points[within], ends[1:]))
