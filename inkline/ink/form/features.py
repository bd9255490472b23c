"""Features of a letter's strokes: ends, corners, extremes, and where one stroke meets another.

What varies from one drawing of a letter to the next is where these lie. Lengths are mm, y points
down.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from itertools import pairwise

import numpy as np

from inkline.geometry.arrays import Floats, Indices, Points
from inkline.geometry.polyline import arc_lengths, at_arc_lengths, tangents, turning_angles

# A turn of more than this within one step of the pen is a corner, whose two sides bend apart.
_CORNER_RAD = np.deg2rad(32.0)
# Features nearer than this along the stroke are one; measured in widths of the pen.
_APART = 0.9
# A stretch without features that is longer than this, in heights of the letter, has one in its
# middle, unless it is as straight as the second: its chord as a share of its length.
_LONGEST, _STRAIGHT = 0.62, 0.992
# An end that lies as near to another stroke's middle line as this, in widths of the pen, joins it;
# its own stroke counts from the second on, along it.
_JOINED, _RETURN = 0.62, 2.4
# Two ends as near to each other along the other's stroke as this, in widths, are one tip.
_TIP = 0.75


class Kind(IntEnum):
    """What a feature is."""

    END = 0
    CORNER = 1
    LEVEL = 2
    """A top or a foot, where the stroke runs level."""
    UPRIGHT = 3
    """A side, where it runs upright."""
    MIDDLE = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One stroke of a letter as its features see it.

    Attributes:
        points: `(n, 2)` mm.
        lengths: arc length at each, `(n,)`.
        tangents: unit tangents, `(n, 2)`.
        closed: whether it returns to its first point, which is then repeated at its end.
    """

    points: Points
    lengths: Floats
    tangents: Points
    closed: bool

    @property
    def length(self) -> float:
        """Length of the whole, mm."""
        return float(self.lengths[-1])

    def at(self, wanted: Floats) -> Points:
        """Points at arc lengths."""
        return at_arc_lengths(self.points, self.lengths, wanted)

    def tangent_at(self, wanted: float) -> Floats:
        """Unit tangent at the point nearest to an arc length."""
        index = int(np.argmin(np.abs(self.lengths - wanted)))
        return np.asarray(self.tangents[index])


@dataclass(frozen=True, slots=True, kw_only=True)
class Features:
    """The features of one stroke, in its order.

    Attributes:
        lengths: arc length of each, `(k,)`.
        kinds: what each is, `(k,)`, of `Kind`.
    """

    lengths: Floats
    kinds: Indices


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """Where the end of a stroke meets another, or its own.

    Attributes:
        stroke: index of the stroke that it meets.
        length: arc length there.
        is_tip: whether it meets that one's end.
        along: cosine of the angle between the two: near 1 or -1 where the pen runs on over the
            other, near 0 where it comes from the side.
    """

    stroke: int
    length: float
    is_tip: bool
    along: float


def line_through(points: Points, *, closed: bool) -> Line:
    """A stroke through `points`, which don't repeat."""
    whole = np.concatenate((points, points[:1])) if closed else points
    return Line(points=whole, lengths=arc_lengths(whole), tangents=tangents(whole), closed=closed)


def features_of(line: Line, *, width: float, height: float) -> Features:
    """The features of a stroke.

    Args:
        line: the stroke, at steps far below the width.
        width: of the pen.
        height: of the letter.
    """
    last = len(line.points) - 1
    corners = 1 + np.flatnonzero(np.abs(turning_angles(line.points)) > _CORNER_RAD)
    found = [(0, Kind.END), (last, Kind.END), *((int(at), Kind.CORNER) for at in corners)]
    stops = [0, *corners.tolist(), last]
    for first, end in pairwise(stops):
        found += _extremes(line, first, end)
    kept: list[tuple[float, Kind]] = []
    for index, kind in sorted(found, key=lambda one: (one[1], one[0])):
        place = float(line.lengths[index])
        far = _APART * width if kind > Kind.CORNER else 1e-9
        if all(abs(place - other) > far for other, _ in kept):
            kept.append((place, kind))
    kept = _with_middles(line, sorted(kept), most=_LONGEST * height)
    return Features(
        lengths=np.array([place for place, _ in kept]),
        kinds=np.array([kind for _, kind in kept], dtype=np.intp),
    )


def _extremes(line: Line, first: int, last: int) -> list[tuple[int, Kind]]:
    """Where the stretch between two corners runs level or upright, in passing."""
    inside = line.tangents[first + 1 : last]
    found: list[tuple[int, Kind]] = []
    for axis, kind in ((1, Kind.LEVEL), (0, Kind.UPRIGHT)):
        signs = np.sign(np.where(np.abs(inside[:, axis]) < 1e-6, 0.0, inside[:, axis]))
        nonzero = np.flatnonzero(signs)
        turns = np.flatnonzero(np.diff(signs[nonzero]))
        found += [(first + 1 + int(nonzero[at] + nonzero[at + 1]) // 2, kind) for at in turns]
    return found


def _with_middles(
    line: Line, kept: list[tuple[float, Kind]], *, most: float
) -> list[tuple[float, Kind]]:
    """The features, with one more in the middle of every long stretch that isn't straight."""
    more: list[tuple[float, Kind]] = []
    for (start, _), (end, _) in pairwise(kept):
        chord = float(np.hypot(*np.diff(line.at(np.array([start, end])), axis=0)[0]))
        if end - start > most and chord < _STRAIGHT * (end - start):
            more.append((0.5 * (start + end), Kind.MIDDLE))
    return sorted(kept + more)


def joint_of_end(lines: list[Line], index: int, *, at_start: bool, width: float) -> Joint | None:
    """What the start or the end of a stroke meets, or None where it is free.

    Args:
        lines: the strokes of the letter.
        index: which of them.
        at_start: whether its start is meant.
        width: of the pen.
    """
    mine = lines[index]
    own_length = 0.0 if at_start else mine.length
    tip, nearest = mine.points[0 if at_start else -1], _JOINED * width
    found: tuple[int, int] | None = None
    for other, line in enumerate(lines):
        away = np.hypot(*(line.points - tip).T)
        if other == index:
            away = np.where(np.abs(line.lengths - own_length) < _RETURN * width, np.inf, away)
        at = int(np.argmin(away))
        if away[at] < nearest:
            nearest, found = float(away[at]), (other, at)
    if found is None:
        return None
    there, at = lines[found[0]], found[1]
    place = float(there.lengths[at])
    return Joint(
        stroke=found[0],
        length=place,
        is_tip=min(place, there.length - place) < _TIP * width,
        along=float(mine.tangent_at(own_length) @ there.tangents[at]),
    )
