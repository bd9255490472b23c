"""Lines of artwork as strokes of a pen: cut at corners, straightened, lengthened to meet.

All lengths are px. A pen draws a frame side by side, so a line is cut where it turns sharply, and
both parts are lengthened until their ink fills the corner. A line of which no part is long is a
figure, not a frame, and stays one stroke.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from inkline.artwork.model import LineCap, LineJoin, Pen, Subpath
from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polyline import arc_lengths, turning_angles, without_repeats

_CORNER_RAD = np.radians(40.0)
"""A turn sharper than that is a corner, where the pen stops."""
_LONG_WIDTHS = 5.0
"""A part that is longer than so many widths of its pen is a side; chosen by eye."""
_FRAME_WIDTHS = 3.0
"""Sides of a thick frame are at least so many times as long as wide; chosen by eye."""
_STRAIGHT_PX = 0.06
"""The farthest that points lie from a line that counts as straight."""
_OF_GAP = 0.15
"""The share of the gap between dashes that ink may take at either side."""
_BAR_WIDTHS = 6.0
"""A bar that is so many times as long as wide is a line; chosen by eye."""
_PLAIN_JOIN = 0.3
"""Widths by which parts run over a right-angled corner that is rounded or cut off: as much ink as
a round join has."""
_MOST_LENGTHENED = 1.0
"""Half widths by which a part is lengthened at most to fill a corner."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PenLine:
    """One stroke of the pen.

    Attributes:
        points: its centreline, `(n, 2)`, n >= 2; two where it is straight.
        width: of the pen.
        closed: whether it returns to its start, which is not repeated.
        is_round: whether its ends are round.
        widths: its width at each point, `(n,)`, where that isn't the same everywhere; or `None`.
        room: how far its ink may run beyond its ends: a part of the gap to the next of its dashes.
    """

    points: Points
    width: float
    closed: bool
    is_round: bool
    widths: Floats | None = None
    room: float = np.inf

    @property
    def is_straight(self) -> bool:
        """Whether it is a rule."""
        is_press = bool(np.array_equal(self.points[0], self.points[-1]))
        return len(self.points) == 2 and not self.closed and not is_press


def pen_lines(run: Subpath, pen: Pen) -> tuple[PenLine, ...]:
    """The strokes by which a pen draws `run`, in order; none for a run that is nothing."""
    points = without_repeats(run.points)
    if len(points) == 1:
        return _dot(points, pen)
    corners = _corners(points, closed=run.closed)
    parts = _parts(points, corners, closed=run.closed)
    if not _has_sides(parts, pen.width) and not (run.closed and _is_frame(parts, pen)):
        parts = [] if run.closed else [points]
    if not parts:  # closed and without corners that count
        return (
            PenLine(points=points, width=pen.width, closed=True, is_round=pen.cap is LineCap.ROUND),
        )
    room = _room_of_dashes(pen)
    lines = [
        PenLine(
            points=_straightened(part),
            width=pen.width,
            closed=False,
            is_round=_is_round(pen),
            room=room,
        )
        for part in parts
    ]
    return tuple(_joined(lines, pen, closed=run.closed))


def _room_of_dashes(pen: Pen) -> float:
    """How far a hand may run over the ends of dashes, so that gaps stay open."""
    if not pen.dashes:
        return np.inf
    gaps = (pen.dashes * 2)[1::2]
    taken = 0.0 if pen.cap is LineCap.BUTT else pen.width
    return max(_OF_GAP * (min(gaps) - taken), 0.0)


def _dot(point: Points, pen: Pen) -> tuple[PenLine, ...]:
    """A press of the pen, where its cap leaves one (SVG 2, 13.5.3)."""
    if pen.cap is LineCap.BUTT:
        return ()
    points = np.repeat(point, 2, axis=0)
    if pen.cap is LineCap.SQUARE:
        points = points + 0.5 * pen.width * np.array([[-1.0, 0.0], [1.0, 0.0]])
    is_round = pen.cap is LineCap.ROUND
    return (PenLine(points=points, width=pen.width, closed=False, is_round=is_round),)


def _is_round(pen: Pen) -> bool:
    return pen.cap is LineCap.ROUND


def _corners(points: Points, *, closed: bool) -> list[int]:
    """Indices of the points at which a line turns sharply."""
    if closed:
        around = np.concatenate((points[-1:], points, points[:1]))
        turns, first = turning_angles(around), 0
    else:
        turns, first = turning_angles(points), 1
    return [int(i) + first for i in np.flatnonzero(np.abs(turns) > _CORNER_RAD)]


def _parts(points: Points, corners: list[int], *, closed: bool) -> list[Points]:
    """A line cut at its corners; a closed one without corners has no parts."""
    if closed:
        if not corners:
            return []
        points = np.roll(points, -corners[0], axis=0)
        corners = [corner - corners[0] for corner in corners[1:]]
        points = np.concatenate((points, points[:1]))
    ends = [0, *corners, len(points) - 1]
    return [points[a : b + 1] for a, b in pairwise(ends)]


def _has_sides(parts: list[Points], width: float) -> bool:
    return any(float(arc_lengths(part)[-1]) > _LONG_WIDTHS * width for part in parts)


def _is_frame(parts: list[Points], pen: Pen) -> bool:
    """Whether a closed line is drawn side by side, however thick: straight sides, sharp corners."""
    if pen.join is not LineJoin.MITER or _is_round(pen) or len(parts) < 3:
        return False
    sides = [_straightened(part) for part in parts]
    return all(
        len(side) == 2 and np.hypot(*(side[1] - side[0])) >= _FRAME_WIDTHS * pen.width
        for side in sides
    )


def _straightened(points: Points) -> Points:
    """The ends alone of a line that is straight."""
    chord = points[-1] - points[0]
    length = float(np.hypot(*chord))
    if length == 0.0:
        return points
    across = np.array([-chord[1], chord[0]]) / length
    away = np.abs((points - points[0]) @ across)
    return points[[0, -1]] if float(away.max()) <= _STRAIGHT_PX else points


def _joined(lines: list[PenLine], pen: Pen, *, closed: bool) -> list[PenLine]:
    """The parts of one line, lengthened at the corners where they meet and at square ends."""
    found = []
    free = 0.5 * pen.width if pen.cap is LineCap.SQUARE else 0.0
    for index, line in enumerate(lines):
        before = lines[index - 1] if index or closed else None
        after = lines[(index + 1) % len(lines)] if index + 1 < len(lines) or closed else None
        start = free if before is None else _lengthening(before.points, line.points, pen)
        end = free if after is None else _lengthening(line.points, after.points, pen)
        found.append(replace(line, points=_lengthened(line.points, start, end)))
    return found


def _lengthening(before: Points, after: Points, pen: Pen) -> float:
    """How far two parts run over the corner at which they meet."""
    if _is_round(pen):
        return 0.0
    turn = abs(float(turning_angles(np.stack((before[-2], before[-1], after[1])))[0]))
    share = min(float(np.tan(0.5 * min(turn, 3.0))), _MOST_LENGTHENED)
    if pen.join is LineJoin.MITER and 1.0 / max(np.cos(0.5 * turn), 1e-9) <= pen.miter_limit:
        return 0.5 * pen.width * share
    return _PLAIN_JOIN * pen.width * share


def _lengthened(points: Points, start: float, end: float) -> Points:
    """A line with its ends moved outwards along its own direction."""
    if start == 0.0 and end == 0.0:
        return points
    moved = points.copy()
    moved[0] += start * _unit(points[0] - points[1])
    moved[-1] += end * _unit(points[-1] - points[-2])
    return moved


def _unit(vector: Floats) -> Floats:
    return np.asarray(vector / max(float(np.hypot(*vector)), 1e-12))


def line_of_bar(contour: Points, *, most_px: float) -> PenLine | None:
    """The line that a thin straight bar is, or `None` for any other shape.

    Args:
        contour: a closed contour.
        most_px: the largest width of a line.
    """
    corners = _corner_points(contour)
    if len(corners) != 4:
        return None
    sides = np.roll(corners, -1, axis=0) - corners
    lengths = np.hypot(sides[:, 0], sides[:, 1])
    if np.abs(lengths[:2] - lengths[2:]).max() > 0.02 * lengths.max() + _STRAIGHT_PX:
        return None
    if abs(float(sides[0] @ sides[1])) > 0.02 * float(lengths[0] * lengths[1]):
        return None
    short = int(np.argmin(lengths[:2]))
    width, length = float(lengths[short]), float(lengths[1 - short])
    if width > most_px or length < _BAR_WIDTHS * width:
        return None
    one = 0.5 * (corners[short] + corners[(short + 1) % 4])
    other = 0.5 * (corners[(short + 2) % 4] + corners[(short + 3) % 4])
    points = np.stack((one, other))
    if points[0].sum() > points[1].sum():
        points = points[::-1].copy()
    return PenLine(points=points, width=width, closed=False, is_round=False)


def _corner_points(contour: Points) -> Points:
    """The points of a closed contour at which it turns at all."""
    points = without_repeats(contour)
    around = np.concatenate((points[-1:], points, points[:1]))
    kept: Points = points[np.abs(turning_angles(around)) > np.radians(1.0)]
    return kept
