"""Curves for polylines: closed contours as few cubic Bézier pieces, within a tolerance.

Each contour is broken at its corners and at its outermost points. A stretch between two breaks is
fitted by one cubic whose handles lie along the contour's own tangents there; where it strays too
far, the stretch is broken once more at the farthest point and both parts are fitted anew (P. J.
Schneider, "An algorithm for automatically fitting digitized curves", Graphics Gems, 1990; from
memory). All stretches of all contours are fitted together, one array operation for each step, so a
numeral takes milliseconds.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from inkline.geometry.arrays import Bools, Floats, Indices, Points
from inkline.geometry.polyline import at_arc_lengths, closed_arc_lengths, without_repeats

_CORNER_RAD = np.radians(35.0)
"""A turn above this at one point is a corner.
Round ends turn by a few degrees a point, cut ends by 60 and more."""
_STEP = 40.0
"""Farthest that two points may lie apart, in tolerances.
A curve is checked at points and little between them, so straight stretches need some."""
_USED = 0.9
"""Share of the tolerance that a fit may use; the rest is for what lies between points."""
_LOOKED_AT = (0.25, 0.5, 0.75)
"""Where between two points a curve is looked at."""
_STRAIGHT = 0.1
"""A stretch this share of the tolerance from its chord becomes a straight line."""
_ROUNDS = 2
"""How often points look for a nearer place on their curve before it is judged.
More gained less than 3 % of the pieces."""
_LONGEST_HANDLE = 1.5
"""Longest handle in lengths of its stretch; beyond this a curve swings out between points."""
_LEAST_CLEAR = 0.5
"""Sine of the angle by which a tangent at an outermost point may be off before it is left alone:
there the edge is rough, not round."""
_LEAST_TURN = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FittedOutline:
    """A closed contour as curves.

    Piece i runs from node i to the next, the last one back to the first.

    Attributes:
        nodes: where pieces meet, `(n, 2)`, n >= 2.
        handles: the two control points of each piece, `(n, 2, 2)`; of no meaning for a straight
            one.
        straight: whether a piece is a straight line, `(n,)`.
    """

    nodes: Points
    handles: Floats
    straight: Bools


def fitted_outlines(contours: Sequence[Points], *, tolerance: float) -> tuple[FittedOutline, ...]:
    """Each closed contour as curves no farther than `tolerance` from it.

    Contours of fewer than three points vanish.

    Cost: about 3 ms for a numeral of 600 points.

    Args:
        contours: each `(n, 2)`, the first point not repeated.
        tolerance: in the contours' own unit, > 0.

    Raises:
        ValueError: a tolerance that is not above 0.
    """
    if not tolerance > 0:
        raise ValueError(f"a tolerance must be above 0, not {tolerance}")
    whole = [
        _filled_contour(contour, _STEP * tolerance)
        for contour in contours
        if len(without_repeats(contour)) >= 3
    ]
    if not whole:
        return ()
    # Every contour starts at a break and its first point stands again at its end, so no stretch
    # runs over a seam.
    turned = [np.concatenate((ring, ring[:1])) for ring in (_from_break(one) for one in whole)]
    firsts = np.cumsum([0, *(len(one) for one in turned)])
    points = np.concatenate(turned)
    arriving, leaving = _tangents(turned)
    starts, ends = _stretches(turned, firsts)
    fit = _Fitting(points=points, arriving=arriving, leaving=leaving, limit=_USED * tolerance)
    starts, handles, straight = fit.fitted_pieces(starts, ends)
    order = np.argsort(starts)
    starts, handles, straight = starts[order], handles[order], straight[order]
    cuts = np.searchsorted(starts, firsts)
    return tuple(
        FittedOutline(nodes=points[starts[a:b]], handles=handles[a:b], straight=straight[a:b])
        for a, b in pairwise(cuts.tolist())
    )


def _filled_contour(contour: Points, step: float) -> Points:
    """The contour with points put in where two lie more than `step` apart; its own points stay."""
    contour = without_repeats(contour)
    lengths = closed_arc_lengths(contour)
    pieces = np.maximum(1, np.ceil(np.diff(lengths) / step)).astype(np.intp)
    first = np.repeat(np.cumsum(pieces) - pieces, pieces)
    part = (np.arange(pieces.sum()) - first) / np.repeat(pieces, pieces)
    wanted = np.repeat(lengths[:-1], pieces) + part * np.repeat(np.diff(lengths), pieces)
    filled = at_arc_lengths(np.concatenate((contour, contour[:1])), lengths, wanted)
    return without_repeats(filled if np.any(filled[0] != filled[-1]) else filled[:-1])


def _turns(ring: Points) -> Floats:
    """How far the contour turns at each point, in radians, 0 to pi."""
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    return np.asarray(np.abs(np.arctan2(cross, (before * after).sum(axis=1))))


def _outermost_points(ring: Points) -> Indices:
    """The leftmost and the rightmost point, and the lowest and the highest, `(2, 2)`."""
    return np.array(
        [(ring[:, axis].argmin(), ring[:, axis].argmax()) for axis in (0, 1)], dtype=np.intp
    )


def _breaks(ring: Points) -> Indices:
    """Corners and outermost points, ascending; at least two."""
    corners = np.flatnonzero(_turns(ring) > _CORNER_RAD)
    return np.unique(np.concatenate((corners, _outermost_points(ring).ravel()))).astype(np.intp)


def _from_break(ring: Points) -> Points:
    return np.roll(ring, -int(_breaks(ring)[0]), axis=0)


def _stretches(rings: Sequence[Points], firsts: Indices) -> tuple[Indices, Indices]:
    """First and last index of every stretch between two breaks of one contour."""
    starts, ends = [], []
    for ring, first in zip(rings, firsts, strict=False):
        found = _breaks(ring[:-1])
        starts.append(found + first)
        ends.append(np.append(found[1:], len(ring) - 1) + first)
    return np.concatenate(starts), np.concatenate(ends)


def _tangents(rings: Sequence[Points]) -> tuple[Points, Points]:
    """Unit tangents on either side of every point: one and the same but at corners."""
    arriving: list[Points] = []
    leaving: list[Points] = []
    for closed in rings:
        ring = closed[:-1]
        back, on = (
            _unit_vectors(ring - np.roll(ring, 1, axis=0)),
            _unit_vectors(np.roll(ring, -1, axis=0) - ring),
        )
        through = _upright_where_outermost(
            _unit_vectors(np.roll(ring, -1, axis=0) - np.roll(ring, 1, axis=0)), ring
        )
        corner = (_turns(ring) > _CORNER_RAD)[:, None]
        for side, own in ((arriving, back), (leaving, on)):
            tangent = np.where(corner, own, through)
            side.append(np.concatenate((tangent, tangent[:1])))
    return np.concatenate(arriving), np.concatenate(leaving)


def _upright_where_outermost(tangents: Points, ring: Points) -> Points:
    """Tangents made level or upright at the outermost points, as those of a smooth contour are.

    They become upright at the leftmost and rightmost points, level at the lowest and highest.
    Handles then reach no farther out than the contour, so its box is that of its nodes.
    """
    made = tangents.copy()
    for axis, found in enumerate(_outermost_points(ring)):
        along = np.sign(tangents[found, 1 - axis])
        clear = np.abs(tangents[found, axis]) < _LEAST_CLEAR
        made[found[clear], axis], made[found[clear], 1 - axis] = 0.0, along[clear]
    return made


def _unit_vectors(vectors: Points) -> Points:
    return np.asarray(vectors / np.maximum(np.hypot(vectors[:, 0], vectors[:, 1]), 1e-300)[:, None])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Fitting:
    """All points one after another, the tangents at them, and how far a curve may stray."""

    points: Points
    arriving: Points
    leaving: Points
    limit: float

    def fitted_pieces(self, starts: Indices, ends: Indices) -> tuple[Indices, Floats, Bools]:
        """First point of each stretch that holds, its handles, and whether it is straight.

        The stretches come in no fixed order.
        """
        done: list[tuple[Indices, Floats, Bools]] = []
        while len(starts):
            # Nothing is to fit between two neighbours, and rough edges are full of them.
            short = ends - starts == 1
            n_short = int(short.sum())
            done.append((starts[short], np.zeros((n_short, 2, 2)), np.ones(n_short, dtype=bool)))
            starts, ends = starts[~short], ends[~short]
            if not len(starts):
                break
            batch = _Batch(fit=self, starts=starts, ends=ends)
            straight = batch.are_straight()
            handles, errors, worst = batch.curves()
            good = straight | (errors <= self.limit)
            done.append((starts[good], handles[good], straight[good]))
            a, b, cut = starts[~good], ends[~good], worst[~good]
            starts, ends = np.concatenate((a, cut)), np.concatenate((cut, b))
        starts, handles, flat = (np.concatenate(parts) for parts in zip(*done, strict=True))
        return starts, handles, flat


class _Batch:
    """Many stretches at once, of three points and more each, laid end to end.

    `of` is the index of the stretch that each point belongs to.
    """

    def __init__(self, *, fit: _Fitting, starts: Indices, ends: Indices) -> None:
        self.limit = fit.limit
        counts = ends - starts + 1
        self.offsets = np.cumsum(counts) - counts
        self.of = np.repeat(np.arange(len(starts)), counts)
        self.index = np.arange(counts.sum()) - self.offsets[self.of] + starts[self.of]
        self.points = fit.points[self.index]
        self.p0, self.p3 = fit.points[starts], fit.points[ends]
        self.t0, self.t3 = fit.leaving[starts], -fit.arriving[ends]
        steps = np.hypot(*np.diff(self.points, axis=0, prepend=self.points[:1]).T)
        steps[self.offsets] = 0.0
        along = np.cumsum(steps)
        along -= along[self.offsets][self.of]
        self.lengths = along[self.offsets + counts - 1]
        self.along = along / self.lengths[self.of]

    def are_straight(self) -> Bools:
        """Which stretches are as good as their chords."""
        chord = self.p3 - self.p0
        lengths = np.maximum(np.hypot(chord[:, 0], chord[:, 1]), 1e-300)
        away = self.points - self.p0[self.of]
        across = (
            np.abs(away[:, 0] * chord[self.of, 1] - away[:, 1] * chord[self.of, 0])
            / lengths[self.of]
        )
        flat = np.maximum.reduceat(across, self.offsets) <= _STRAIGHT * self.limit
        return np.asarray(flat & (self.lengths < 1.01 * lengths))

    def curves(self) -> tuple[Floats, Floats, Indices]:
        """Handles of the best cubics, how far each strays, and the index of the point where."""
        t = self.along
        handles = self._handles(t)
        for _ in range(_ROUNDS):
            t = self._nearer_parameters(handles, t)
            handles = self._handles(t)
        errors = np.maximum(self._strays(handles, t), self._swings(handles, t))
        errors[self.offsets] = -1.0
        largest = np.maximum.reduceat(errors, self.offsets)
        found = np.flatnonzero(errors == largest[self.of])
        _, first = np.unique(self.of[found], return_index=True)
        return handles, largest, self.index[found[first]]

    def _strays(self, handles: Floats, t: Floats) -> Floats:
        """How far each point lies from its place on the curve."""
        away = self._curve(handles, t) - self.points
        return np.asarray(np.hypot(away[:, 0], away[:, 1]))

    def _swings(self, handles: Floats, t: Floats) -> Floats:
        """How far the curve lies from the two lines that meet at each point, in their inner parts.

        It is 0 at the last point of a stretch.
        """
        lines = np.diff(self.points, axis=0, append=self.points[-1:])
        lengths = np.maximum(np.hypot(lines[:, 0], lines[:, 1]), 1e-300)
        nexts = np.append(t[1:], 1.0)
        swings = np.zeros(len(t))
        for part in _LOOKED_AT:
            away = self._curve(handles, t + part * (nexts - t)) - self.points
            across = np.abs(away[:, 0] * lines[:, 1] - away[:, 1] * lines[:, 0]) / lengths
            swings = np.maximum(swings, across)
        lasts = np.append(self.offsets[1:], len(t)) - 1
        swings[lasts] = 0.0
        swings[self.offsets + 1] = np.maximum(swings[self.offsets], swings[self.offsets + 1])
        swings[lasts] = 0.0
        return np.asarray(swings)

    def _handles(self, t: Floats) -> Floats:
        """Handles along the tangents, of the lengths that fit best in the mean square."""
        s = 1.0 - t
        b0, b1, b2, b3 = s**3, 3 * s * s * t, 3 * s * t * t, t**3
        a0, a3 = b1[:, None] * self.t0[self.of], b2[:, None] * self.t3[self.of]
        rest = (
            self.points
            - (b0 + b1)[:, None] * self.p0[self.of]
            - (b2 + b3)[:, None] * self.p3[self.of]
        )
        c00, c03, c33 = (self._sums(x, y) for x, y in ((a0, a0), (a0, a3), (a3, a3)))
        x0, x3 = self._sums(a0, rest), self._sums(a3, rest)
        det = c00 * c33 - c03 * c03
        sound = det > _LEAST_TURN * np.maximum(c00 * c33, 1e-300)
        safe = np.where(sound, det, 1.0)
        long0, long3 = (x0 * c33 - x3 * c03) / safe, (c00 * x3 - c03 * x0) / safe
        for length in (long0, long3):
            sound &= (length > _LEAST_TURN * self.lengths) & (
                length < _LONGEST_HANDLE * self.lengths
            )
        third = self.lengths / 3.0
        long0, long3 = np.where(sound, long0, third), np.where(sound, long3, third)
        return np.stack(
            (self.p0 + long0[:, None] * self.t0, self.p3 + long3[:, None] * self.t3), axis=1
        )

    def _sums(self, one: Points, other: Points) -> Floats:
        return np.asarray(np.add.reduceat((one * other).sum(axis=1), self.offsets))

    def _curve(self, handles: Floats, t: Floats) -> Points:
        s = 1.0 - t
        weights = (s**3, 3 * s * s * t, 3 * s * t * t, t**3)
        controls = (self.p0, handles[:, 0], handles[:, 1], self.p3)
        placed = [w[:, None] * c[self.of] for w, c in zip(weights, controls, strict=True)]
        return np.asarray(placed[0] + placed[1] + placed[2] + placed[3])

    def _nearer_parameters(self, handles: Floats, t: Floats) -> Floats:
        """Each point's place on its curve after one step of Newton's method towards the nearest."""
        s = 1.0 - t
        d0, d1, d2 = handles[:, 0] - self.p0, handles[:, 1] - handles[:, 0], self.p3 - handles[:, 1]
        first = (
            3 * (s * s)[:, None] * d0[self.of]
            + 6 * (s * t)[:, None] * d1[self.of]
            + 3 * (t * t)[:, None] * d2[self.of]
        )
        second = 6 * s[:, None] * (d1 - d0)[self.of] + 6 * t[:, None] * (d2 - d1)[self.of]
        away = self._curve(handles, t) - self.points
        slope = (first * first).sum(axis=1) + (away * second).sum(axis=1)
        step = (away * first).sum(axis=1) / np.where(slope > 1e-300, slope, np.inf)
        return np.asarray(np.clip(t - step, 0.0, 1.0))
