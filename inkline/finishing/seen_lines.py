"""Lines that a hand has drawn in a picture: thin shapes taken as the strokes of a pen.

A shape is thin if its ink is little for its edge. Its middle line is traced with the width that it
has everywhere, and it counts as a line only if those strokes give its very ink back.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from inkline.finishing.lines import PenLine
from inkline.geometry.arrays import Floats, Points
from inkline.geometry.clipping import contours_without
from inkline.geometry.polygon import signed_area
from inkline.geometry.sweep import swept_outline, swept_ring
from inkline.lettering.traced import traced_strokes

_LEAST_WIDTHS = 6.0
"""A line is so many times as long as wide, as a bar is."""
_MOST_STRAYED = 0.03
"""The share of its ink by which the strokes of a shape differ from it at most."""
_MOST_SPREAD = 0.35
"""How much the width of a line varies at most, as a share of its mean."""
_EVEN = 0.04
"""A line whose width varies by less is one of an even pen."""
_TOLERANCE_PX = 0.05
_TURNED_OVER = np.array([1.0, -1.0])
"""Letters have y up, which is where a hand begins."""
_FINEST = 20_000.0
"""Long lines wander as much as short ones: their points lie as close."""
_MOST_POINTS = 60_000
"""Shapes with more points are no line; to trace them takes long."""


def seen_lines(island: Sequence[Points], *, most_px: float) -> tuple[PenLine, ...]:
    """The strokes that give a shape, none if it is no line.

    Args:
        island: an outer contour and the holes in it.
        most_px: the largest width of a line.
    """
    area = abs(sum(signed_area(contour) for contour in island))
    edges = [np.diff(np.concatenate((contour, contour[:1])), axis=0) for contour in island]
    edge = sum(float(np.hypot(*step.T).sum()) for step in edges)
    width = 2.0 * area / max(edge, 1e-9)
    if not 1.0 <= width <= most_px or edge < 2.0 * _LEAST_WIDTHS * width:
        return ()
    if sum(map(len, island)) > _MOST_POINTS:
        return ()
    turned = [(contour * _TURNED_OVER)[::-1] for contour in island]
    strokes = [
        (one.points * _TURNED_OVER, one.widths_em, one.closed)
        for one in traced_strokes(turned, finest=_FINEST)
        if one.widths_em is not None
    ]
    widths = np.concatenate([own for _, own, _ in strokes]) if strokes else np.zeros(1)
    if not strokes or float(widths.std()) > _MOST_SPREAD * float(widths.mean()):
        return ()
    lines = tuple(_line(points, own, closed=closed) for points, own, closed in strokes)
    return lines if _strayed(lines, island) <= _MOST_STRAYED * area else ()


def _line(points: Points, widths: Floats, *, closed: bool) -> PenLine:
    """A stroke as a line of a pen, even where its width hardly changes."""
    mean = float(widths.mean())
    is_even = float(widths.std()) <= _EVEN * mean
    return PenLine(
        points=points,
        width=mean,
        closed=closed,
        is_round=True,
        widths=None if is_even else widths,
    )


def _strayed(lines: Sequence[PenLine], island: Sequence[Points]) -> float:
    """The area by which strokes and a shape differ."""
    drawn = [contour for line in lines for contour in _covered(line)]
    missing, beyond = contours_without(island, drawn), contours_without(drawn, island)
    return abs(sum(map(signed_area, missing))) + abs(sum(map(signed_area, beyond)))


def _covered(line: PenLine) -> Sequence[Points]:
    """What a stroke covers."""
    half = 0.5 * (np.full(len(line.points), line.width) if line.widths is None else line.widths)
    if line.closed:
        return swept_ring(line.points, half, tolerance=_TOLERANCE_PX)
    return swept_outline(line.points, half, round_start=1.0, round_end=1.0, tolerance=_TOLERANCE_PX)
