"""The outline of a disc of changing size swept along a polyline.

Both sides are offset along the segments' normals. Where the line turns sharply, or where a side
would fold back on itself, the outer side gets a round join and the inner side goes through the
corner point: the contour is then the sum of convex pieces that all wind the same way, so its
non-zero union is the swept shape, without spikes, bites or folded loops.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from inkline.geometry.arrays import Bools, Floats, Indices, Points
from inkline.geometry.polyline import normals_of, without_repeats
from inkline.geometry.union import union_of_contours


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sweep:
    """One open stroke to be swept.

    Attributes:
        points: centreline, `(n, 2)`; if all points are equal the result is a disc.
        half_widths: `(n,)`, >= 0, in the same unit.
        rounds: how far the start and the end reach beyond the first and the last point, as shares
            of the half width there: 0 is cut off square, 1 a half disc, between them half an
            ellipse.
        skews: how far the right side (positive) or the left side (negative) reaches ahead of the
            other at the start and at the end, in half widths.
        tolerance: largest distance between an arc and its chords.
    """

    points: Points
    half_widths: Floats
    rounds: tuple[float, float]
    skews: tuple[float, float]
    tolerance: float


def swept_outline(
    points: Points,
    half_widths: Floats,
    *,
    round_start: float,
    round_end: float,
    tolerance: float,
    skews: tuple[float, float] = (0.0, 0.0),
) -> tuple[Points, ...]:
    """Simple contours of one stroke, as `swept_outlines` gives them; arguments as of `Sweep`."""
    sweep = Sweep(
        points=points,
        half_widths=half_widths,
        rounds=(round_start, round_end),
        skews=skews,
        tolerance=tolerance,
    )
    return swept_outlines([sweep])[0]


def swept_outlines(sweeps: Sequence[Sweep]) -> list[tuple[Points, ...]]:
    """Simple contours of strokes along open polylines, outer ones positive where y points up.

    Strokes are laid end to end, so that each step is one call for all of them; none depends on the
    others.
    """
    if not sweeps:
        return []
    swept: dict[int, tuple[Points, ...]] = {}
    lines = _Lines(sweeps)
    for place, contour, overlaps in zip(
        lines.places.tolist(), _raw_outlines(lines), _may_overlap(lines), strict=True
    ):
        swept[place] = union_of_contours([contour]) if overlaps else (contour,)
    return [
        swept[place]
        if place in swept
        else (_disc(sweep.points[0], float(sweep.half_widths.max()), sweep.tolerance),)
        for place, sweep in enumerate(sweeps)
    ]


def swept_ring(points: Points, half_widths: Floats, *, tolerance: float) -> tuple[Points, ...]:
    """Simple contours of a stroke along the closed polyline `points`, `(n, 2)`, n >= 3.

    The first point is not repeated.
    """
    centres = without_repeats(points)
    wrapped = Sweep(
        points=np.concatenate((centres[-1:], centres, centres[:1])),
        half_widths=np.concatenate(
            (half_widths[-1:], half_widths[: len(centres)], half_widths[:1])
        ),
        rounds=(0.0, 0.0),
        skews=(0.0, 0.0),
        tolerance=tolerance,
    )
    lines = _Lines([wrapped])
    (left,), (right,) = lines.sides(1.0), lines.sides(-1.0)
    return union_of_contours([left, right[::-1]])


class _Lines:
    """Strokes of two points and more, laid end to end.

    Attributes:
        places: of the strokes among all sweeps, `(k,)`.
        sweeps: those of them.
        firsts, lasts: of each stroke, the place of its first and its last point.
        centres, radii: points without repeats, and half widths there.
        tolerances: of each point.
        angles: of each segment's left normal.
        inner: places of inner points, `(m,)`.
        first_inner: of each stroke, the place of its first inner point among them, and of the last
            stroke the place behind its last, `(k + 1,)`.
        turns: at each inner point.
        full: inner points that need round joins and a way through the corner point.
    """

    def __init__(self, sweeps: Sequence[Sweep]) -> None:
        points = np.concatenate([sweep.points for sweep in sweeps])
        counts = np.array([len(sweep.points) for sweep in sweeps])
        firsts = np.cumsum(counts) - counts
        keep = np.ones(len(points), dtype=bool)
        keep[1:] = (points[1:, 0] != points[:-1, 0]) | (points[1:, 1] != points[:-1, 1])
        keep[firsts] = True
        sizes = np.add.reduceat(keep, firsts, dtype=np.intp)
        keep &= np.repeat(sizes > 1, counts)
        self.places = np.flatnonzero(sizes > 1)
        self.sweeps = [sweeps[place] for place in self.places.tolist()]
        sizes = sizes[self.places]
        self.lasts: Indices = np.cumsum(sizes) - 1
        self.firsts: Indices = self.lasts + 1 - sizes
        self.centres = points[keep]
        self.radii = np.concatenate([sweep.half_widths for sweep in sweeps])[keep]
        self.tolerances = np.repeat([sweep.tolerance for sweep in self.sweeps], sizes)
        within = np.ones(len(self.centres), dtype=bool)
        within[self.firsts] = within[self.lasts] = False
        self.inner: Indices = np.flatnonzero(within)
        self.first_inner: Indices = np.append(0, np.cumsum(sizes - 2))
        self.angles, self.turns = self._segment_angles()
        self.full = self._full_joins()

    def _segment_angles(self) -> tuple[Floats, Floats]:
        """Angle of each segment's left normal, and turn at each inner point.

        Segments are counted by their first points; from one stroke to the next there is none.
        """
        steps = np.ones_like(self.centres)
        np.subtract(self.centres[1:], self.centres[:-1], out=steps[:-1])
        steps[self.lasts] = 1.0
        normals = normals_of(steps / np.hypot(steps[:, 0], steps[:, 1])[:, None])
        angles = np.arctan2(normals[:, 1], normals[:, 0])
        return angles, _turns(angles[self.inner] - angles[self.inner - 1])

    def _full_joins(self) -> Bools:
        """Which inner points need round joins and a way through the corner point.

        Others keep one mitred point a side, r (1 / cos(turn / 2) - 1) outside the round join: at
        most `tolerance`.
        """
        inner, radii = self.inner, self.radii[self.inner]
        full = np.abs(self.turns) > 2.0 * np.arccos(radii / (radii + self.tolerances[inner]))
        angles, reaches = self.angles.copy(), self.radii.copy()
        angles[inner] = self.angles[inner - 1] + 0.5 * self.turns
        angles[self.lasts] = self.angles[self.lasts - 1]
        reaches[inner] = _mitred(radii, self.turns)
        offsets = np.column_stack((np.cos(angles), np.sin(angles))) * reaches[:, None]
        along = np.diff(self.centres, axis=0)
        folded = np.zeros(len(self.centres), dtype=bool)
        for side in (self.centres + offsets, self.centres - offsets):
            back = (np.diff(side, axis=0) * along).sum(axis=1) <= 0.0
            back[self.lasts[:-1]] = False
            folded[:-1] |= back
            folded[1:] |= back
        return np.asarray(full | folded[inner])

    def sides(self, sign: float) -> list[Points]:
        """The left (`sign` +1) or right (-1) side of each stroke over all its inner points."""
        inner = self.inner
        side = _side(
            sign,
            self.radii[inner],
            self.angles[inner - 1],
            self.turns,
            self.full,
            self.tolerances[inner],
        )
        borders = np.append(0, np.cumsum(side.counts))[self.first_inner]
        return np.split(side.points(self.centres[inner]), borders[1:-1])


def _turns(differences: Floats) -> Floats:
    """Differences of angles as turns, from -pi to below pi."""
    return np.asarray((differences + np.pi) % (2.0 * np.pi) - np.pi)


def _mitred(radii: Floats, turns: Floats) -> Floats:
    """How far out the point lies at which two offset segments meet."""
    return np.asarray(radii / np.cos(0.5 * np.clip(turns, -1.0, 1.0)))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """One side in polar form about inner points of the centreline.

    Attributes:
        counts: how many points of the side lie about each of them.
        vertices: about which of them each point lies.
        angles, radii: of each point.
    """

    counts: Indices
    vertices: Indices
    angles: Floats
    radii: Floats

    def points(self, centres: Points) -> Points:
        offsets = np.column_stack((np.cos(self.angles), np.sin(self.angles))) * self.radii[:, None]
        return np.asarray(centres[self.vertices] + offsets)


def _disc(centre: Points, radius: float, tolerance: float) -> Points:
    """A regular polygon for the disc about `centre`."""
    n_steps = max(1, int(np.ceil(0.5 * np.pi / float(_arc_step(radius, tolerance)))))
    angles = np.linspace(0.0, 2.0 * np.pi, max(12, 4 * n_steps), endpoint=False)
    return np.asarray(centre + radius * np.column_stack((np.cos(angles), np.sin(angles))))


def _arc_step(radii: Floats | float, tolerances: Floats | float) -> Floats:
    """The angle over which no chord of an arc is further than the tolerance from it."""
    step = 2.0 * np.arccos(np.clip(1.0 - tolerances / np.maximum(radii, 1e-12), 0.0, 1.0))
    return np.asarray(np.maximum(step, 1e-3))


def _side(
    sign: float,
    radii: Floats,
    angles: Floats,
    turns: Floats,
    full: Bools,
    tolerances: Floats,
) -> _Side:
    """The left (`sign` +1) or right (-1) side about all inner points, in the lines' direction.

    `angles` are those of the left normals of the segments that arrive there.
    """
    outer = turns * sign < 0.0
    step = _arc_step(radii, tolerances)
    arc_points = np.maximum(1, np.ceil(np.abs(turns) / step)).astype(np.intp) + 1
    counts = np.where(full, np.where(outer, arc_points, 3), 1)
    vertices = np.repeat(np.arange(len(turns)), counts)
    place = np.arange(len(vertices)) - np.repeat(np.cumsum(counts) - counts, counts)
    share = np.where(full[vertices], place / np.maximum(counts - 1, 1)[vertices], 0.5)
    reach = np.where(full, radii, _mitred(radii, turns))[vertices]
    through_corner = full[vertices] & ~outer[vertices] & (place == 1)
    turn_by = angles[vertices] + share * turns[vertices] + (0.0 if sign > 0 else np.pi)
    return _Side(
        counts=counts,
        vertices=vertices,
        angles=turn_by,
        radii=np.where(through_corner, 0.0, reach),
    )


def _raw_outlines(lines: _Lines) -> list[Points]:
    """One contour of each stroke: its start, right side forward, its end, left side back."""
    if not lines.sweeps:
        return []
    starts, ends = (
        _caps(
            lines.centres[at],
            lines.radii[at],
            angles,
            [(sweep.rounds[end], sweep.skews[end]) for sweep in lines.sweeps],
            lines.tolerances[at],
        )
        for end, at, angles in (
            (0, lines.firsts, lines.angles[lines.firsts]),
            (1, lines.lasts, lines.angles[lines.lasts - 1] + np.pi),
        )
    )
    return [
        np.concatenate((start, right, end, left[::-1]))
        for start, right, end, left in zip(
            starts, lines.sides(-1.0), ends, lines.sides(1.0), strict=True
        )
    ]


def _may_overlap(lines: _Lines) -> list[bool]:
    """Whether the contour of each stroke may overlap itself."""
    found = []
    for first, behind in pairwise(lines.first_inner.tolist()):
        spread = 0.0
        if behind > first:
            headings = np.cumsum(lines.turns[first:behind])
            spread = max(0.0, float(headings.max())) - min(0.0, float(headings.min()))
        found.append(spread > 0.5 * np.pi or bool(lines.full[first:behind].any()))
    return found


def _caps(
    centres: Points,
    radii: Floats,
    first_angles: Floats,
    shapes: Sequence[tuple[float, float]],
    tolerances: Floats,
) -> list[Points]:
    """Points round each tip from the side at its first angle to the other side, anticlockwise.

    They bulge and lean by shares of the radius, which `shapes` are.
    """
    reaches, skews = np.array(shapes, dtype=np.float64).T
    arcs = np.pi / _arc_step(radii * np.maximum(np.abs(reaches), 1.0), tolerances)
    n_steps = np.where(reaches == 0.0, 1, np.maximum(2, np.ceil(arcs))).astype(np.intp)
    sizes = n_steps + 1
    borders = np.cumsum(sizes)
    own = np.repeat(np.arange(len(sizes)), sizes)
    swing = (np.arange(len(own)) - (borders - sizes)[own]) * (np.pi / n_steps)[own]
    swing[borders - 1] = np.pi
    cos, sin = np.cos(swing), np.sin(swing)
    across = np.column_stack((np.cos(first_angles), np.sin(first_angles)))[own]
    forward = reaches[own] * sin + (0.5 * np.abs(skews))[own] * (1.0 + np.sign(skews)[own] * cos)
    around = cos[:, None] * across + forward[:, None] * normals_of(across)
    return np.split(centres[own] + radii[own][:, None] * around, borders[:-1])
