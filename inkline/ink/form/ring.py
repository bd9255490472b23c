"""Rings that the pen closes by running on over its own stroke, as in 0, O, 6 and 8.

All lengths are mm on the sheet.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polyline import arc_lengths, at_arc_lengths
from inkline.ink.form.features import Joint, Line, joint_of_end, line_through

RUNS_ON = 0.7
"""Cosine of the angle below which one stroke comes upon another from the side."""
# The end covers the start by at least so many widths, and by up to so many more or less than laid
# out.
_COVERED, _MORE = 0.75, 0.35
# What a stroke that runs on lies beside its start is made up within so many widths.
_MADE_UP = 3.0
# A tail lies so near to the stroke's own middle line, is at most so long, and comes back from a way
# at least so long; in widths.
_ON_ITSELF, _LONGEST_TAIL, _RETURNED = 0.3, 3.0, 2.0
# A hand steers for its start over so many widths before it comes there.
_STEERS = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """Where a stroke closes, as arc lengths along it.

    Attributes:
        late: where it comes to itself again.
        first: which earlier place lies there.
        early: which earlier place its end lies over.
        ramp: over what length before `late` the hand steers for its start.
    """

    late: float
    first: float
    early: float
    ramp: float

    def moved_to(self, before: Floats, points: Points) -> Ring:
        """The same places, of arc lengths `before`, along the stroke as it now is."""
        at = np.interp([self.late, self.first, self.early], before, arc_lengths(points)).tolist()
        return Ring(late=at[0], first=at[1], early=at[2], ramp=self.ramp)

    def later(self, by: float) -> Ring:
        """The ring of a stroke that has so much more before its start."""
        return replace(self, late=self.late + by, first=self.first + by, early=self.early + by)

    def gaps(self, points: Points, lengths: Floats) -> Points:
        """What leads each point over the earlier place that it should lie on, `(n, 2)`.

        It grows from nothing to the gap as the stroke nears itself.
        """
        here = np.maximum(lengths, self.late)
        source = self.first + (here - self.late) * self._pace(lengths)
        gap = at_arc_lengths(points, lengths, source) - at_arc_lengths(points, lengths, here)
        return np.asarray(gap * self._shares(lengths)[:, None])

    def closed_up(self, values: Floats, lengths: Floats) -> Floats:
        """Values along a stroke, those of its end led into those of its beginning.

        Args:
            values: `(n,)` or `(n, k)`.
            lengths: arc lengths, `(n,)`, ascending.
        """
        share = self._shares(lengths)
        source = self.first + np.maximum(lengths - self.late, 0.0) * self._pace(lengths)
        columns = values.reshape(len(lengths), -1)
        there = np.column_stack([np.interp(source, lengths, column) for column in columns.T])
        return np.asarray(
            ((1.0 - share[:, None]) * columns + share[:, None] * there).reshape(values.shape)
        )

    def _pace(self, lengths: Floats) -> float:
        """How fast the earlier place runs while the stroke lies on it."""
        return (self.early - self.first) / max(float(lengths[-1]) - self.late, 1e-9)

    def _shares(self, lengths: Floats) -> Floats:
        """How far each point is steered for the earlier place, 0 to 1."""
        share = np.clip((lengths - (self.late - self.ramp)) / self.ramp, 0.0, 1.0)
        return np.asarray(share * share * (3.0 - 2.0 * share))


def ring_of(lines: list[Line], index: int, *, width: float) -> tuple[Joint, Joint] | None:
    """Where the start of a stroke lies on its end, and its end on its start.

    None where it doesn't run on over itself.
    """
    if lines[index].closed or len(lines[index].points) < 8:
        return None
    start = joint_of_end(lines, index, at_start=True, width=width)
    end = joint_of_end(lines, index, at_start=False, width=width)
    if start is None or end is None:
        return None
    runs_on = all(joint.stroke == index and joint.along > RUNS_ON for joint in (start, end))
    return (start, end) if runs_on and end.length < start.length else None


def slid_ring(
    line: Line, joints: tuple[Joint, Joint], *, slide: float, more: float, width: float
) -> tuple[Line, Floats, Ring]:
    """A ring that the pen begins elsewhere.

    Args:
        line: the ring as laid out.
        joints: its start's and its end's.
        slide: how much later it begins, mm.
        more: how much farther than laid out it covers its start, -1 to 1.
        width: of the pen.

    Returns:
        The stroke, the arc length along the one laid out of each of its points, and where it
        closes.
    """
    start, end = joints
    length, covered = line.length, line.length - start.length
    longer = max(_MORE * width * more, _COVERED * width - covered)
    n_points = max(8, round((length + longer) / max(float(line.lengths[1]), 1e-6)))
    wanted = np.linspace(slide, length + slide + longer, n_points)
    points = line.at(wanted)
    beyond = np.abs(np.where(wanted < 0.0, wanted, wanted - length))
    fade = np.clip(1.0 - beyond / (_MADE_UP * width), 0.0, 1.0)[:, None]
    before, after = wanted < 0.0, wanted > length
    ends = line.at(np.array([start.length, end.length]))
    points[before] = line.at(start.length + wanted[before])
    points[before] += fade[before] * (line.points[0] - ends[0])
    points[after] = line.at(end.length + wanted[after] - length)
    points[after] += fade[after] * (line.points[-1] - ends[1])
    slid = line_through(points, closed=False)
    closes = ring_of([slid], 0, width=width)
    late, early = (
        (slid.length - covered - longer, covered + longer)
        if closes is None
        else (closes[0].length, closes[1].length)
    )
    ramp = min(_STEERS * width, 0.4 * late)
    return slid, wanted, Ring(late=late, first=0.0, early=early, ramp=ramp)


def begun_elsewhere(line: Line, slide: float) -> tuple[Line, Floats]:
    """A closed stroke that the pen begins `slide` mm later, and lengths as of `slid_ring`."""
    if not line.closed or slide == 0.0:
        return line, line.lengths
    steps = round(slide / max(float(line.lengths[1]), 1e-6))
    moved = line_through(np.roll(line.points[:-1], -steps, axis=0), closed=True)
    first = float(line.lengths[:-1][steps % (len(line.points) - 1)])
    return moved, first + moved.lengths


def tail_of(lines: list[Line], index: int, *, width: float) -> Ring | None:
    """Where a stroke comes to lie on its own middle and ends there, as the bowl of a 6 may.

    None where it doesn't.
    """
    line = lines[index]
    if line.closed or len(line.points) < 8:
        return None
    end = joint_of_end(lines, index, at_start=False, width=width)
    if end is None or end.stroke != index or end.along < RUNS_ON:
        return None
    back = line.lengths >= line.length - _LONGEST_TAIL * width
    under = np.linspace(max(end.length - _LONGEST_TAIL * width, 0.0), end.length, 64)
    away = np.hypot(*(line.points[back][:, None] - line.at(under)[None]).transpose(2, 0, 1))
    on = away.min(axis=1) < _ON_ITSELF * width
    begins = int(np.flatnonzero(~on)[-1]) + 1 if not on.all() else 0
    if begins >= len(on):
        return None
    late = float(line.lengths[back][begins])
    first = float(under[int(np.argmin(away[begins]))])
    if first >= end.length or late - end.length < _RETURNED * width:
        return None
    ramp = min(_STEERS * width, 0.4 * (late - end.length))
    return Ring(late=late, first=first, early=end.length, ramp=ramp)
