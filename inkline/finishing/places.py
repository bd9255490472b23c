"""Where the rules of a stamp lie exactly, as its manifest says it and a proof measures it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from inkline.drawing import Leaves, Mark, Stroke
from inkline.finishing.stamps import FinishedStamp
from inkline.geometry.arrays import Floats, Ints, Points

_REACH_WIDTHS, _REACH_PX = 2.5, 2.0
"""How far to either side of a rule nothing else may lie where it is measured."""
_CUT_WIDTHS = 2.0
"""What a proof leaves out at either end, and beside what crosses."""
_LEAST_CLEAR_PX, _LEAST_CLEAR = 40.0, 0.5
"""Rules that stand clear on less say too little of where they lie: a hand wanders along them."""
_LEAST_WIDTH_PX = 1.0
_CHUNK = 12
"""Points of a line that are bounded together."""
_MOST_LISTED = 400
"""Rules that are listed at most; a proof of more takes long and says no more."""


def places_on_stamp(stamp: FinishedStamp) -> dict[str, Any]:
    """`lines`, a dict for each rule that stands clear of other ink on enough of its length.

    Its `beside` are spans in px along it where it doesn't, and where a proof looks away.
    """
    marks = (*stamp.drawing.marks_that_leave(Leaves.INK),)
    everything = _Chunks(tuple(stamp.drawing.marks))
    lines = list[dict[str, Any]]()
    for index, mark in enumerate(marks):
        if len(lines) == _MOST_LISTED:
            break
        if not isinstance(mark, Stroke) or not _is_rule(mark):
            continue
        spans = everything.spans_beside(mark, index)
        length = float(np.hypot(*(mark.points[1] - mark.points[0])))
        cut = _CUT_WIDTHS * mark.width_px
        left_out = np.array([*spans, (0.0, cut), (length - cut, length)])
        clear = length - sum(end - start for start, end in _joined(left_out))
        if clear >= max(_LEAST_CLEAR_PX, _LEAST_CLEAR * length):
            lines.append(_line(mark, spans))
    return {"lines": lines}


def _line(mark: Stroke, spans: list[tuple[float, float]]) -> dict[str, Any]:
    (x0, y0), (x1, y1) = mark.points.tolist()
    line = {"name": mark.name, "from": [x0, y0], "to": [x1, y1], "width_px": mark.width_px}
    return line | ({"beside": [list(span) for span in spans]} if spans else {})


def _is_rule(mark: Stroke) -> bool:
    """Whether it is a straight line that is wide enough to be measured."""
    is_line = len(mark.points) == 2 and not mark.closed and mark.profile is None
    return is_line and mark.width_px >= _LEAST_WIDTH_PX


class _Chunks:
    """All marks of a stamp, in chunks of few points: lines in pieces, shapes whole."""

    def __init__(self, marks: Sequence[Mark]) -> None:
        points, starts, owners, halves = list[Points](), [0], list[int](), list[float]()
        for index, mark in enumerate(marks):
            for piece in _pieces(mark):
                points.append(piece)
                starts.append(starts[-1] + len(piece))
                owners.append(index)
                halves.append(0.5 * mark.width_px if isinstance(mark, Stroke) else 0.0)
        self._points: Points = np.concatenate(points) if points else np.empty((0, 2))
        self._starts: Ints = np.array(starts[:-1], dtype=np.int64)
        self._owners: Ints = np.array(owners, dtype=np.int64)
        self._halves: Floats = np.array(halves, dtype=np.float64)

    def spans_beside(self, rule: Stroke, own: int) -> list[tuple[float, float]]:
        """Where along a rule, the mark of the number `own`, other ink lies near it, px."""
        start, end = rule.points
        length = float(np.hypot(*(end - start)))
        unit = (end - start) / max(length, 1e-12)
        away = self._points - start
        along, across = away @ unit, away @ np.array([-unit[1], unit[0]])
        reach = _REACH_WIDTHS * rule.width_px + _REACH_PX + self._halves
        low, high = self._bounds(along)
        near, far = self._bounds(across)
        is_near = (near <= reach) & (far >= -reach) & (self._owners != own)
        beside = _CUT_WIDTHS * rule.width_px + self._halves
        is_near &= (low - beside < length) & (high + beside > 0.0)
        spans = np.stack((low - beside, high + beside), axis=1)[is_near]
        return _joined(np.clip(spans, 0.0, length))

    def _bounds(self, values: Floats) -> tuple[Floats, Floats]:
        """The least and the largest of each chunk."""
        return (
            np.minimum.reduceat(values, self._starts),
            np.maximum.reduceat(values, self._starts),
        )


def _pieces(mark: Mark) -> Iterator[Points]:
    if not isinstance(mark, Stroke):
        yield np.concatenate(mark.contours)
        return
    points = np.concatenate((mark.points, mark.points[:1])) if mark.closed else mark.points
    for first in range(0, len(points) - 1, _CHUNK):
        yield points[first : first + _CHUNK + 1]


def _joined(spans: Floats) -> list[tuple[float, float]]:
    """Spans in order, those that overlap as one."""
    found = list[tuple[float, float]]()
    for start, end in spans[np.argsort(spans[:, 0])].tolist():
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((start, end))
    return found
