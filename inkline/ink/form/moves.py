"""How the features of a letter's strokes move from where they are laid out.

All lengths are mm on the sheet, points lie about the letter's origin, y down.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from inkline.drawing import Play
from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polyline import at_arc_lengths, normals_of
from inkline.geometry.splines import Ends, spline_through
from inkline.ink.form.features import Features, Joint, Kind, Line, features_of, joint_of_end
from inkline.ink.form.ring import RUNS_ON, Ring
from inkline.ink.form.stance import shift_and_lean

# What lies within this of a line of the letter, in heights, stands on it: round letters reach over.
_ON_LINE = 0.045
# The share of the play with which single features move by themselves: corners, tops and sides.
_CORNERS, _LEVELS, _SIDES, _MIDDLES = 0.75, 0.7, 0.6, 0.5
# An end on a line moves aside less: a level one would tilt its bar, an upright one its stem.
_BARS, _FEET = 0.22, 0.6
# Letters narrower than this, in heights, are widened as if they were as wide.
_NARROW = 0.3
# How far a joint may slide along the stroke that it meets, in plays of what lies between lines.
_SLIDE = 0.8
# A ring's end misses its start by up to so many widths.
_MISS = 0.07
# A press of the pen moves by this share of the play besides.
_PRESSES = 0.3


def draws_of(generator: np.random.Generator, *shape: int) -> Floats:
    """Draws from -1 to 1, all alike likely: few in the middle, and none beyond the play."""
    return generator.uniform(-1.0, 1.0, shape)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The box of a letter and the lines on which it stands, y down.

    Attributes:
        low, high: corners of the box of its strokes' middle lines.
        lines: heights that hold.
    """

    low: Floats
    high: Floats
    lines: Floats

    @classmethod
    def of(cls, lines: Sequence[Line], play: Play) -> Frame:
        """The frame of a letter's strokes."""
        points = np.concatenate([line.points for line in lines])
        low, high = points.min(axis=0), points.max(axis=0)
        inside = [y for y in play.lines if low[1] < y < high[1]]
        return cls(low=low, high=high, lines=np.array([low[1], high[1], *inside]))

    @property
    def height(self) -> float:
        """Of the letter."""
        return max(float(self.high[1] - self.low[1]), 1e-6)

    def is_on_line(self, y: float) -> bool:
        """Whether a feature there stands on a line of the letter."""
        return bool(np.abs(self.lines - y).min() < _ON_LINE * self.height)

    def inwards(self, y: float) -> float:
        """Which way the inside of the letter lies from its top or foot: 1 downwards, else -1."""
        return 1.0 if y < 0.5 * float(self.low[1] + self.high[1]) else -1.0

    def field(self, point: Floats, play: Play, draws: Floats) -> Floats:
        """How the letter as a whole moves at a point."""
        half = max(0.5 * float(self.high[0] - self.low[0]), _NARROW * self.height)
        side = float(point[0] - 0.5 * (self.high[0] + self.low[0])) / half
        up = float(self.high[1] - point[1]) / self.height
        widening = draws[1] + draws[2] * np.cos(np.pi * up)
        sway = 0.5 * draws[3] * np.sin(2.0 * np.pi * up)
        return np.array(
            [play.width * (side * widening + sway), play.waist * draws[0] * 4.0 * up * (1.0 - up)]
        )

    def held(self, lines: Sequence[Line], moved: Sequence[Points]) -> list[Points]:
        """Moves of all strokes without what would shift, slant or stretch the letter."""
        points = np.concatenate([line.points for line in lines])
        moves = np.concatenate(moved)
        weights = np.concatenate([_weights(line) for line in lines])
        normals = np.concatenate([normals_of(line.tangents) for line in lines])
        moves = moves - shift_and_lean(points, (moves * normals).sum(axis=1), normals, weights)
        y = points[:, 1] + moves[:, 1]
        top, foot = float(y.min()), float(y.max())
        scale = self.height / max(foot - top, 1e-6)
        if 0.8 < scale < 1.25:
            moves[:, 1] = (y - top) * scale + self.low[1] - points[:, 1]
        return np.split(moves, np.cumsum([len(line.points) for line in lines])[:-1])


def _weights(line: Line) -> Floats:
    """The length that each point of a stroke stands for."""
    if len(line.points) == 1:
        return np.full(1, 1e-9)
    return np.asarray(np.gradient(line.lengths))


class Moves:
    """How each point of a letter's strokes moves, found stroke by stroke.

    A stroke comes after those that its ends meet, and takes their moves over there.
    """

    def __init__(
        self,
        lines: list[Line],
        rings: Sequence[Ring | None],
        frame: Frame,
        play: Play,
        *,
        width: float,
        draws: Floats,
    ) -> None:
        """Nothing is moved yet; `draws` are the letter's."""
        self._lines, self._rings, self._frame = lines, rings, frame
        self._play, self._width, self._draws = play, width, draws
        self._moves: dict[int, Points] = {}
        self._joints = [
            tuple(
                joint_of_end(lines, index, at_start=at_start, width=width)
                for at_start in (True, False)
            )
            for index in range(len(lines))
        ]

    @property
    def joined(self) -> list[tuple[bool, bool]]:
        """Of each stroke, whether its start and its end join a stroke."""
        return [(start is not None, end is not None) for start, end in self._joints]

    def all(self, own: Sequence[np.random.Generator]) -> list[Points]:
        """The moves of all strokes."""
        for index in self._order():
            self._moves[index] = self._moves_of(index, own[index])
        return [self._moves[index] for index in range(len(self._lines))]

    def _order(self) -> list[int]:
        """Strokes in an order in which those that others join come first.

        Where two wait for each other, as the bowl of a d, whose ends lie on the stem, and the stem,
        whose foot lies by the bowl's end, that one comes first which joins fewest bodies: it can
        best do without.
        """
        waiting, order = list(range(len(self._lines))), list[int]()
        needs = [
            {joint.stroke for joint in joints if joint is not None and joint.stroke != index}
            for index, joints in enumerate(self._joints)
        ]
        while waiting:
            free = [index for index in waiting if needs[index] <= set(order)]
            order.append(free[0] if free else min(waiting, key=self._n_bodies))
            waiting.remove(order[-1])
        return order

    def _n_bodies(self, index: int) -> int:
        """How many ends of a stroke join another between that one's ends."""
        joints = [joint for joint in self._joints[index] if joint is not None]
        return sum(joint.stroke != index and not joint.is_tip for joint in joints)

    def _moves_of(self, index: int, own: np.random.Generator) -> Points:
        line, play = self._lines[index], self._play
        if len(line.points) == 1:
            field = self._frame.field(line.points[0], play, self._draws)
            return np.asarray((field + _PRESSES * play.waist * draws_of(own, 2))[None, :])
        features = features_of(line, width=self._width, height=self._frame.height)
        draws, points = draws_of(own, len(features.lengths), 2), line.at(features.lengths)
        nodes = np.array(
            [
                self._node(line, features, at, points[at], draws[at])
                for at in range(len(features.lengths))
            ]
        )
        if line.closed:
            nodes[-1] = nodes[0]
        joints = self._joints[index]
        others = [None if joint is None or joint.stroke == index else joint for joint in joints]
        nodes = self._with_joints(nodes, others)
        self._touch(points, nodes, index)
        moved = _bent(line, features, nodes)
        ring = self._rings[index]
        if ring is not None:
            return self._closed_up(line, moved, ring, miss=float(draws_of(own)))
        mine = [joint if joint is not None and joint.stroke == index else None for joint in joints]
        if any(mine) and not line.closed:
            self._moves[index] = moved
            moved = _bent(line, features, self._with_joints(nodes, mine))
        return moved

    def _closed_up(self, line: Line, moved: Points, ring: Ring, *, miss: float) -> Points:
        """The moves of a ring whose end comes to its start again, or nearly so."""
        closed = ring.closed_up(moved, line.lengths) + ring.gaps(line.points, line.lengths)
        over = np.clip((line.lengths - ring.late) / max(line.length - ring.late, 1e-9), 0.0, 1.0)
        aside = _MISS * self._width * miss * over
        return np.asarray(closed + normals_of(line.tangents) * aside[:, None])

    def _node(
        self, line: Line, features: Features, at: int, point: Floats, draws: Floats
    ) -> Floats:
        """How one feature, which lies at `point`, moves by the letter's field and by itself."""
        kind, play = Kind(int(features.kinds[at])), self._play
        field = self._frame.field(point, play, self._draws)
        on_line = self._frame.is_on_line(float(point[1]))
        if kind is Kind.END and not line.closed:
            return self._end(line, at, field, draws, on_line=on_line)
        share = {Kind.LEVEL: _LEVELS, Kind.UPRIGHT: _SIDES, Kind.MIDDLE: _MIDDLES}.get(
            kind, _CORNERS
        )
        moved = field + share * draws * (play.width, play.waist)
        return np.asarray(moved * (1.0, 0.0) if on_line else moved)

    def _end(self, line: Line, at: int, field: Floats, draws: Floats, *, on_line: bool) -> Floats:
        """How a free end moves: on along its own way or back, and aside."""
        outwards = -line.tangents[0] if at == 0 else line.tangents[-1]
        aside = np.array([-outwards[1], outwards[0]])
        is_upright = abs(float(outwards[1])) > RUNS_ON
        reach, turn = self._play.arms * draws[0], self._play.turns * draws[1]
        if on_line and is_upright:
            return np.asarray((field + _FEET * turn * aside) * (1.0, 0.0))
        if on_line:
            inwards = self._frame.inwards(float(line.points[0 if at == 0 else -1][1]))
            tilt = np.array([0.0, inwards * _BARS * abs(float(turn))])
            return np.asarray((field + reach * outwards) * (1.0, 0.0) + tilt)
        return np.asarray(field + reach * outwards + turn * aside)

    def _with_joints(self, nodes: Points, joints: Sequence[Joint | None]) -> Points:
        """The nodes with joined ends moved as what they meet, or a little along it."""
        held = nodes.copy()
        for at, joint in zip((0, -1), joints, strict=True):
            if joint is None or joint.stroke not in self._moves:
                continue
            there = self._moved_at(joint.stroke, joint.length)
            along = self._lines[joint.stroke].tangent_at(joint.length)
            slides = not joint.is_tip and abs(joint.along) < RUNS_ON
            slide = float((nodes[at] - there) @ along) if slides else 0.0
            most = _SLIDE * self._play.waist
            held[at] = there + along * float(np.clip(slide, -most, most))
        return held

    def _touch(self, points: Points, nodes: Points, index: int) -> None:
        """Moves corners and extremes, which lie at `points`, that touch a stroke found before.

        They move as that one does there.
        """
        for at, point in enumerate(points[1:-1], start=1):
            for other in self._moves:
                if other == index:
                    continue
                away = np.hypot(*(self._lines[other].points - point).T)
                if away.min() < 0.5 * self._width:
                    nodes[at] = self._moves[other][int(np.argmin(away))]

    def _moved_at(self, index: int, length: float) -> Floats:
        line = self._lines[index]
        there = at_arc_lengths(self._moves[index], line.lengths, np.array([length]))
        return np.asarray(there[0])


def _bent(line: Line, features: Features, nodes: Points) -> Points:
    """The moves at all points of a stroke: smooth between corners, as given at its features."""
    corners = np.flatnonzero(features.kinds == Kind.CORNER)
    if line.closed and len(corners) == 0 and len(nodes) > 3:
        return spline_through(features.lengths, nodes, line.lengths, ends=Ends.CLOSED)
    stops = [0, *corners.tolist(), len(nodes) - 1]
    moved = np.zeros_like(line.points)
    for first, last in pairwise(stops):
        at = features.lengths[first : last + 1]
        part = (line.lengths >= at[0] - 1e-9) & (line.lengths <= at[-1] + 1e-9)
        if last - first < 2:
            moved[part] = at_arc_lengths(nodes[first : last + 1], at, line.lengths[part])
        else:
            moved[part] = spline_through(
                at, nodes[first : last + 1], line.lengths[part], ends=Ends.FREE
            )
    return moved
