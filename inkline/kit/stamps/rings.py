"""Rings around numerals: as round as these and the rules allow, drawn more than once around.

A ring is of four quarters of superellipses. Where there is room all are quarters of one ellipse; in
a narrow cell those are squarer that a corner of the numeral needs so.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from inkline.chance import stream
from inkline.drawing import Role, Stroke
from inkline.geometry.arrays import Points
from inkline.geometry.boxes import Box
from inkline.geometry.polyline import arc_lengths, at_arc_lengths, without_repeats
from inkline.kit.stamps.pieces import PenLine, PlacedText

PART = "mark"
"""The part of a mark that has a stream of its own: where a ring starts, and how a blot bulges."""
_INK_WHITES = (0.8, 0.3)
"""White between the numeral and a ring, in widths of the ring's pen: what it has where there is
room, and the least that it is made squarer for."""
_ROUNDEST, _SQUAREST = 2.0, 6.0
"""Exponents of the quarters of superellipses that a ring is made of: an ellipse where there is
room, squarer where a corner of the numeral needs it."""
_TOO_SQUARE = 4.5
"""Where a quarter would be squarer, the ring comes nearer to the numeral instead."""
_LIKE = 0.7
"""A quarter is at least by this share as square as the squarest: one square corner alone would be
no ring but a leaf."""
_SLIMMEST = 0.82
"""A ring is at least so wide for its height, or a 1 would stand in a slit."""
_GROWTHS = tuple(0.06 * step for step in range(1, 13))
"""How far rings may reach beyond the numeral on each side, as shares of its width and height,
before the rules end them."""
_SQUARE_COST = 0.22
"""How much growth a ring is worth that is rounder by one exponent in one quarter. Chosen by eye."""
STEPS = 360
"""Points of a ring or a blot: on a ring of 200 px they are within 0.01 px of it."""
_OVERLAP_DEG = (16.0, 44.0)
"""How far a ring runs over its start: drawn between these."""
_START_PLAY_DEG = 22.0
_BESIDE_PENS = 1.2
"""How far inside the ring it starts, in widths of its pen."""
_RAMP_RAD = 1.5
"""How far along the ring its start has come out to it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """What a mark has to do with.

    Attributes:
        text: the numeral.
        height: of numerals, in px.
        pen: width of the mark's pen.
        room: what marks keep within, in px.
        white: what they leave between that and the rules.
        name: full name of the mark.
        stroke: the stroke between two numerals of one cell, if it has one.
        other: the other numeral of its cell, likewise.
    """

    text: PlacedText
    height: float
    pen: float
    room: Box
    white: float
    name: str
    stroke: PenLine | None = None
    other: PlacedText | None = None


def ring(around: Around, number: int) -> Points:
    """The centreline of a ring, a little more than once around.

    Its start is tucked inside where there is most room.
    """
    oval = _oval(around)
    play, over = stream(number, around.name, 0, PART).random(2)
    begin = _roomiest(around, oval) + np.deg2rad(_START_PLAY_DEG) * (2.0 * play - 1.0)
    whole = 2.0 * np.pi + np.deg2rad(_OVERLAP_DEG[0] + over * (_OVERLAP_DEG[1] - _OVERLAP_DEG[0]))
    turn = np.linspace(0.0, whole, 8 * STEPS)
    inside = _BESIDE_PENS * around.pen * np.clip(1.0 - turn / _RAMP_RAD, 0.0, None) ** 2
    points = without_repeats(oval.at(begin + turn, inside))
    lengths = arc_lengths(points)
    return at_arc_lengths(points, lengths, np.linspace(0.0, lengths[-1], STEPS))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Oval:
    """A closed curve of four quarters of superellipses.

    Attributes:
        centre: in px.
        radii: across and down.
        exponents: of the quarters by the signs of x and y, `(2, 2)`: left and right, and in each
            upper and lower.
    """

    centre: Points
    radii: Points
    exponents: Points

    def at(self, angles: Points, inside: Points) -> Points:
        """Points at angles from the centre, so far inside the oval in px.

        Angles run anticlockwise from the right in the oval made a circle.
        """
        way = np.column_stack((np.cos(angles), -np.sin(angles)))
        exponents = self.exponents[(way[:, 0] > 0).astype(int), (way[:, 1] > 0).astype(int)]
        size = (np.abs(way) ** exponents[:, None]).sum(axis=1) ** (-1.0 / exponents)
        return np.asarray(self.centre + way * (self.radii * size[:, None] - inside[:, None]))


def _oval(around: Around) -> _Oval:
    """The roundest ring that isn't much larger than the numeral needs."""
    outline = _hull(np.concatenate(list(_outlines(around.text))))
    for white in _INK_WHITES:
        ovals = [_oval_grown(around, outline, growth, white * around.pen) for growth in _GROWTHS]
        costs = [
            growth + _SQUARE_COST * float(oval.exponents.sum())
            for growth, oval in zip(_GROWTHS, ovals, strict=True)
        ]
        best = ovals[int(np.argmin(costs))]
        if float(best.exponents.max()) <= _TOO_SQUARE:
            return best
    return best


def _hull(points: Points) -> Points:
    """The corners of the convex hull of `points`.

    A ring is convex, and so holds all that it holds the corners of.
    """
    from scipy.spatial import ConvexHull  # noqa: PLC0415 - slow to import, and only rings want it

    return np.asarray(points[ConvexHull(points).vertices])


def _oval_grown(around: Around, outline: Points, growth: float, white: float) -> _Oval:
    """The ring in a box that reaches `growth` beyond the numeral's, as far as the rules allow."""
    ink, room, pen = np.array(around.text.ink), np.array(around.room), around.pen
    size = ink[2:] - ink[:2]
    more = growth * size + white + pen
    more[0] = max(more[0], 0.5 * (_SLIMMEST * (size[1] + 2.0 * more[1]) - size[0]))
    low = np.maximum(ink[:2] - more, room[:2]) + 0.5 * pen
    high = np.minimum(ink[2:] + more, room[2:]) - 0.5 * pen
    centre, radii = 0.5 * (low + high), 0.5 * (high - low)
    offsets = outline - centre
    shares = (np.abs(offsets) + white + 0.5 * pen) / radii
    right, below = offsets[:, 0] > 0, offsets[:, 1] > 0
    found = [
        [_exponent(shares[(right == x) & (below == y)]) for y in (False, True)]
        for x in (False, True)
    ]
    exponents = np.array(found)
    return _Oval(
        centre=centre, radii=radii, exponents=np.maximum(exponents, _LIKE * exponents.max())
    )


def _exponent(shares: Points) -> float:
    """The roundest quarter that holds points at these shares of its radii.

    If none does, it is the squarest that still is one.
    """
    low, high = _ROUNDEST, _SQUAREST
    if _holds(shares, low):
        return low
    if not _holds(shares, high):
        return high
    for _ in range(16):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if _holds(shares, middle) else (middle, high)
    return high


def _holds(shares: Points, exponent: float) -> bool:
    return bool(((shares**exponent).sum(axis=1) <= 1.0).all())


def _roomiest(around: Around, oval: _Oval) -> float:
    """The angle of the diagonal on which the ring is farthest from the numeral's box.

    It is the upper right one if no other is much better.
    """
    ink, (across, down) = around.text.ink, oval.radii
    free = {
        (1.0, -1.0): (oval.centre[0] + across - ink[2]) + (ink[1] - oval.centre[1] + down),
        (1.0, 1.0): (oval.centre[0] + across - ink[2]) + (oval.centre[1] + down - ink[3]),
        (-1.0, 1.0): (ink[0] - oval.centre[0] + across) + (oval.centre[1] + down - ink[3]),
        (-1.0, -1.0): (ink[0] - oval.centre[0] + across) + (ink[1] - oval.centre[1] + down),
    }
    usual = next(iter(free))
    best = max(free, key=free.__getitem__)
    x, y = usual if free[best] - free[usual] < around.pen else best
    return float(np.arctan2(-y, x))


def _outlines(text: PlacedText) -> Iterator[Points]:
    """Points about a numeral's ink: its contours, or corners of boxes about the pen."""
    for mark in text.marks("", Role.NUMERAL):
        if not isinstance(mark, Stroke):
            yield from mark.contours
            continue
        half = (
            0.5 * mark.width_px * np.reshape(1.0 if mark.profile is None else mark.profile, (-1, 1))
        )
        yield from (
            mark.points + half * (np.cos(a), np.sin(a))
            for a in np.linspace(0.0, 2.0 * np.pi, 8, endpoint=False)
        )
