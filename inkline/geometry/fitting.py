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
from dataclasses import dataclass, replace
from itertools import chain, islice, pairwise
from typing import Self

import numpy as np

from inkline.geometry.arrays import Bools, Complexes, Floats, Indices, Points
from inkline.geometry.polyline import at_arc_lengths, closed_arc_lengths, without_repeats
from inkline.geometry.stretches import Stretches

_CORNER_RAD = np.radians(35.0)
"""A turn above this at one point is a corner.
Round ends turn by a few degrees a point, cut ends by 60 and more."""
_STEP = 40.0
"""Farthest that two points may lie apart, in tolerances.
A curve is checked at points and little between them, so straight stretches need some."""
_USED = 0.9
"""Share of the tolerance that a fit may use; the rest is for what lies between points."""
_LEAST_CLEAR = 0.5
"""Sine of the angle by which a tangent at an outermost point may be off before it is left alone:
there the edge is rough, not round."""
_LONG = 200
"""Points of a stretch above which it is cut in four rather than in two: rough edges need a curve
every few points, and each cut of all takes as long."""

_GROUPS_AT_ONCE = 64
"""More would save no more time and take memory."""


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
    rings = _Rings.from_breaks(whole)
    points = rings.closed(rings.points)
    firsts = np.append(rings.firsts + np.arange(len(whole)), len(points))
    starts, ends = _stretches(rings, firsts)
    arriving, leaving = _tangents(rings)
    fit = _Fitting(points=points, arriving=arriving, leaving=leaving, limit=_USED * tolerance)
    starts, handles, straight = fit.fitted_pieces(starts, ends)
    order = np.argsort(starts)
    starts, handles, straight = starts[order], handles[order], straight[order]
    cuts = np.searchsorted(starts, firsts)
    return tuple(
        FittedOutline(nodes=points[starts[a:b]], handles=handles[a:b], straight=straight[a:b])
        for a, b in pairwise(cuts.tolist())
    )


def fitted_groups(
    groups: Sequence[Sequence[Points]], *, tolerance: float
) -> tuple[tuple[FittedOutline, ...], ...]:
    """The outlines of several groups of contours, as `fitted_outlines` gives those of each.

    Many are fitted together, which for small ones takes a fraction of the time.
    """
    kept = [[one for one in group if len(without_repeats(one)) >= 3] for group in groups]
    outlines = chain.from_iterable(
        fitted_outlines(
            list(chain.from_iterable(kept[first : first + _GROUPS_AT_ONCE])), tolerance=tolerance
        )
        for first in range(0, len(kept), _GROUPS_AT_ONCE)
    )
    return tuple(tuple(islice(outlines, len(group))) for group in kept)


def _filled_contour(contour: Points, step: float) -> Points:
    """The contour with points put in where two lie more than `step` apart; its own points stay."""
    contour = without_repeats(contour)
    lengths = closed_arc_lengths(contour)
    pieces = np.maximum(1, np.ceil(np.diff(lengths) / step)).astype(np.intp)
    first = np.repeat(np.cumsum(pieces) - pieces, pieces)
    part = (np.arange(pieces.sum()) - first) / np.repeat(pieces, pieces)
    wanted = np.repeat(lengths[:-1], pieces) + part * np.repeat(np.diff(lengths), pieces)
    if len(pieces) == pieces.sum():
        filled = contour
    else:
        filled = at_arc_lengths(np.concatenate((contour, contour[:1])), lengths, wanted)
    return without_repeats(filled if np.any(filled[0] != filled[-1]) else filled[:-1])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Rings:
    """Closed contours one after another, so that all are looked at together.

    Attributes:
        points: of all, the first of each not repeated.
        counts: how many points each has.
        corners: which points are corners.
    """

    points: Points
    counts: Indices
    corners: Bools

    @classmethod
    def from_breaks(cls, contours: Sequence[Points]) -> Self:
        """Each contour from its first break on, so that no stretch runs over its seam."""
        points = np.concatenate(contours)
        counts = np.array([len(one) for one in contours], dtype=np.intp)
        plain = cls(points=points, counts=counts, corners=np.zeros(len(points), dtype=bool))
        plain = replace(plain, corners=plain.turns() > _CORNER_RAD)
        places = np.flatnonzero(plain.breaks())
        _, first = np.unique(plain.of[places], return_index=True)
        local = np.arange(len(points)) - plain.each(plain.firsts)
        shift = plain.each(places[first] - plain.firsts)
        order = plain.each(plain.firsts) + (local + shift) % plain.each(counts)
        return cls(points=points[order], counts=counts, corners=plain.corners[order])

    @property
    def firsts(self) -> Indices:
        """Where each ring begins."""
        return np.cumsum(self.counts) - self.counts

    @property
    def of(self) -> Indices:
        """Which ring each point is on."""
        return np.repeat(np.arange(len(self.counts)), self.counts)

    def each(self, values: Indices) -> Indices:
        """A value of every ring at each of its points."""
        return np.repeat(values, self.counts)

    def closed(self, values: Floats) -> Floats:
        """Values of all points, those of each ring's first repeated at its end."""
        firsts = self.firsts
        return np.insert(values, firsts + self.counts, values[firsts], axis=0)

    def before(self) -> Points:
        """The point before each."""
        lasts = self.firsts + self.counts - 1
        places = np.arange(-1, len(self.points) - 1)
        places[self.firsts] = lasts
        return self.points[places]

    def after(self) -> Points:
        """The point after each."""
        firsts = self.firsts
        places = np.arange(1, len(self.points) + 1)
        places[firsts + self.counts - 1] = firsts
        return self.points[places]

    def turns(self) -> Floats:
        """How far a contour turns at each point, in radians, 0 to pi."""
        before, after = self.points - self.before(), self.after() - self.points
        cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
        return np.asarray(np.abs(np.arctan2(cross, (before * after).sum(axis=1))))

    def outermost(self, axis: int) -> tuple[Indices, Indices]:
        """The points of each ring that lie lowest along an axis, and those that lie highest."""
        values = self.points[:, axis]
        lowest, highest = (
            self._first_of_each(values == np.repeat(end.reduceat(values, self.firsts), self.counts))
            for end in (np.minimum, np.maximum)
        )
        return lowest, highest

    def _first_of_each(self, found: Bools) -> Indices:
        places = np.flatnonzero(found)
        _, first = np.unique(self.of[places], return_index=True)
        return np.asarray(places[first])

    def breaks(self) -> Bools:
        """Which points are corners or outermost ones; at least two of each ring."""
        breaks = self.corners.copy()
        for axis in (0, 1):
            for found in self.outermost(axis):
                breaks[found] = True
        return breaks


def _stretches(rings: _Rings, firsts: Indices) -> tuple[Indices, Indices]:
    """First and last index of every stretch between two breaks, among the points of closed rings.

    `firsts` says where each ring begins among those, and where all end.
    """
    places = np.flatnonzero(rings.breaks())
    starts = places + rings.of[places]
    ends = np.append(starts[1:], 0)
    lasts = np.flatnonzero(np.diff(rings.of[places], append=len(rings.counts)))
    ends[lasts] = firsts[1:] - 1
    return starts, ends


def _tangents(rings: _Rings) -> tuple[Points, Points]:
    """Unit tangents on either side of every point of the closed rings: alike but at corners."""
    before, after = rings.before(), rings.after()
    through = _upright_where_outermost(_unit_vectors(after - before), rings)
    corner = rings.corners[:, None]
    arriving, leaving = (
        rings.closed(np.where(corner, _unit_vectors(own), through))
        for own in (rings.points - before, after - rings.points)
    )
    return arriving, leaving


def _upright_where_outermost(tangents: Points, rings: _Rings) -> Points:
    """Tangents made level or upright at the outermost points, as those of a smooth contour are.

    They become upright at the leftmost and rightmost points, level at the lowest and highest.
    Handles then reach no farther out than the contour, so its box is that of its nodes.
    """
    made = tangents.copy()
    for axis in (0, 1):
        found = np.concatenate(rings.outermost(axis))
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
            batch = Stretches(
                _complex(self.points),
                leaving=_complex(self.leaving),
                arriving=_complex(self.arriving),
                limit=self.limit,
                starts=starts,
                ends=ends,
            )
            straight = batch.are_straight()
            handles, errors, worst = batch.curves()
            good = straight | (errors <= self.limit)
            done.append((starts[good], handles[good], straight[good]))
            starts, ends = _cut_stretches(starts[~good], ends[~good], worst[~good])
        starts, handles, flat = (np.concatenate(parts) for parts in zip(*done, strict=True))
        return starts, handles, flat


def _cut_stretches(a: Indices, b: Indices, cut: Indices) -> tuple[Indices, Indices]:
    """Stretches from `a` to `b`, cut where the fit was worst; both parts of long ones halved."""
    starts, ends = np.concatenate((a, cut)), np.concatenate((cut, b))
    long = (np.tile(b - a, 2) > _LONG) & (ends - starts > 1)
    middle = (starts[long] + ends[long]) // 2
    return (
        np.concatenate((starts[~long], starts[long], middle)),
        np.concatenate((ends[~long], middle, ends[long])),
    )


def _complex(points: Points) -> Complexes:
    """Points `(n, 2)` as complex numbers `(n,)`."""
    return np.ascontiguousarray(points).view(np.complex128)[:, 0]
