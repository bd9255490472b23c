"""The outline of a disc of changing size swept along a polyline.

Both sides are offset along the segments' normals. Where the line turns sharply, or where a side
would fold back on itself, the outer side gets a round join and the inner side goes through the
corner point: the contour is then the sum of convex pieces that all wind the same way, so its
non-zero union is the swept shape, without spikes, bites or folded loops.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Bools, Floats, Indices, Points
from inkline.geometry.polyline import directions, normals_of, without_repeats
from inkline.geometry.union import union_of_contours


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """One side in polar form about the centreline: vertex index, angle and radius of each point."""

    vertices: Indices
    angles: Floats
    radii: Floats

    def points(self, centres: Points) -> Points:
        offsets = np.column_stack((np.cos(self.angles), np.sin(self.angles))) * self.radii[:, None]
        return np.asarray(centres[self.vertices] + offsets)


def swept_outline(
    points: Points,
    half_widths: Floats,
    *,
    round_start: float,
    round_end: float,
    tolerance: float,
    skews: tuple[float, float] = (0.0, 0.0),
) -> tuple[Points, ...]:
    """Simple contours of a stroke along the open polyline `points` with `half_widths` at them.

    Args:
        points: centreline, `(n, 2)`; if all points are equal the result is a disc.
        half_widths: `(n,)`, >= 0, in the same unit.
        round_start: how far the start reaches beyond the first point, as a share of its half width:
            0 is cut off square, 1 a half disc, between them half an ellipse.
        round_end: likewise at the last point.
        tolerance: largest distance between an arc and its chords.
        skews: how far the right side (positive) or the left side (negative) reaches ahead of the
            other at the start and at the end, in half widths.

    Returns:
        Contours, outer ones positive where y points up.
    """
    keep = np.ones(len(points), dtype=bool)
    keep[1:] = np.any(np.diff(points, axis=0) != 0.0, axis=1)
    centres, radii = points[keep], half_widths[keep]
    if len(centres) == 1:
        return (_disc(centres[0], float(half_widths.max()), tolerance),)
    contour, overlaps = _raw_outline(
        centres, radii, ((round_start, skews[0]), (round_end, skews[1])), tolerance
    )
    return union_of_contours([contour]) if overlaps else (contour,)


def swept_ring(points: Points, half_widths: Floats, *, tolerance: float) -> tuple[Points, ...]:
    """Simple contours of a stroke along the closed polyline `points`, `(n, 2)`, n >= 3.

    The first point is not repeated.
    """
    centres = without_repeats(points)
    wrapped = np.concatenate((centres[-1:], centres, centres[:1]))
    radii = np.concatenate((half_widths[-1:], half_widths[: len(centres)], half_widths[:1]))
    angles, turns = _segment_angles(wrapped)
    full = _full_joins(wrapped, radii, angles, turns, tolerance)
    sides = [
        _side(sign, radii, angles, turns, full, tolerance).points(wrapped) for sign in (1.0, -1.0)
    ]
    return union_of_contours([sides[0], sides[1][::-1]])


def _disc(centre: Points, radius: float, tolerance: float) -> Points:
    """A regular polygon for the disc about `centre`."""
    angles = np.linspace(
        0.0, 2.0 * np.pi, max(12, 4 * _arc_steps(np.pi / 2, radius, tolerance)), endpoint=False
    )
    return np.asarray(centre + radius * np.column_stack((np.cos(angles), np.sin(angles))))


def _arc_steps(angle: float, radius: float, tolerance: float) -> int:
    """Chords for an arc of `angle` radians so that none is further than `tolerance` from it."""
    step = 2.0 * np.arccos(np.clip(1.0 - tolerance / max(radius, 1e-12), 0.0, 1.0))
    return max(1, int(np.ceil(abs(angle) / max(step, 1e-3))))


def _segment_angles(centres: Points) -> tuple[Floats, Floats]:
    """Angle of each segment's left normal `(n - 1,)` and turn at each inner vertex `(n - 2,)`."""
    normals = normals_of(directions(centres))
    angles = np.arctan2(normals[:, 1], normals[:, 0])
    turns = (np.diff(angles) + np.pi) % (2.0 * np.pi) - np.pi
    return angles, turns


def _full_joins(
    centres: Points, radii: Floats, angles: Floats, turns: Floats, tolerance: float
) -> Bools:
    """Inner vertices that need round joins and a way through the corner point, `(n - 2,)`.

    Others keep one mitred point a side, r (1 / cos(turn / 2) - 1) outside the round join: at most
    `tolerance`.
    """
    smooth_turns = 2.0 * np.arccos(radii[1:-1] / (radii[1:-1] + tolerance))
    full = np.abs(turns) > smooth_turns
    middle = angles[:-1] + 0.5 * turns
    reach = radii[1:-1] / np.cos(0.5 * np.clip(turns, -1.0, 1.0))
    ends = np.array([angles[0], angles[-1]])
    all_angles = np.concatenate((ends[:1], middle, ends[1:]))
    all_radii = np.concatenate((radii[:1], reach, radii[-1:]))
    offsets = np.column_stack((np.cos(all_angles), np.sin(all_angles))) * all_radii[:, None]
    along = np.diff(centres, axis=0)
    folded = np.zeros(len(centres), dtype=bool)
    for side in (centres + offsets, centres - offsets):
        back = (np.diff(side, axis=0) * along).sum(axis=1) <= 0.0
        folded[:-1] |= back
        folded[1:] |= back
    return np.asarray(full | folded[1:-1])


def _side(
    sign: float,
    radii: Floats,
    angles: Floats,
    turns: Floats,
    full: Bools,
    tolerance: float,
) -> _Side:
    """The left (`sign` +1) or right (-1) side over all inner vertices, in the line's direction."""
    outer = turns * sign < 0.0
    radius = radii[1:-1]
    step = 2.0 * np.arccos(np.clip(1.0 - tolerance / np.maximum(radius, 1e-12), 0.0, 1.0))
    arc_points = np.maximum(1, np.ceil(np.abs(turns) / np.maximum(step, 1e-3))).astype(np.intp) + 1
    counts = np.where(full, np.where(outer, arc_points, 3), 1)
    vertices = np.repeat(np.arange(len(turns)), counts)
    place = np.arange(len(vertices)) - np.repeat(np.cumsum(counts) - counts, counts)
    share = np.where(full[vertices], place / np.maximum(counts - 1, 1)[vertices], 0.5)
    reach = np.where(full, radius, radius / np.cos(0.5 * np.clip(turns, -1.0, 1.0)))[vertices]
    through_corner = full[vertices] & ~outer[vertices] & (place == 1)
    turn_by = angles[:-1][vertices] + share * turns[vertices] + (0.0 if sign > 0 else np.pi)
    return _Side(vertices=vertices + 1, angles=turn_by, radii=np.where(through_corner, 0.0, reach))


def _raw_outline(
    centres: Points,
    radii: Floats,
    caps: tuple[tuple[float, float], tuple[float, float]],
    tolerance: float,
) -> tuple[Points, bool]:
    """One contour, right side forward and left side back, and whether it may overlap itself."""
    angles, turns = _segment_angles(centres)
    full = (
        _full_joins(centres, radii, angles, turns, tolerance)
        if len(turns)
        else np.zeros(0, dtype=bool)
    )
    left, right = (
        _side(sign, radii, angles, turns, full, tolerance).points(centres)
        if len(turns)
        else np.zeros((0, 2))
        for sign in (1.0, -1.0)
    )
    start = _cap(centres[0], float(radii[0]), float(angles[0]), caps[0], tolerance)
    end = _cap(centres[-1], float(radii[-1]), float(angles[-1]) + np.pi, caps[1], tolerance)
    contour = np.concatenate((start, right, end, left[::-1]))
    headings = np.cumsum(turns)
    spread = float(np.ptp(np.concatenate(([0.0], headings))))
    return contour, bool(full.any()) or spread > 0.5 * np.pi


def _cap(
    centre: Points, radius: float, first_angle: float, cap: tuple[float, float], tolerance: float
) -> Points:
    """Points from the side at `first_angle` round the tip to the other side, anticlockwise.

    They bulge and lean by shares of the radius.
    """
    reach, skew = cap
    n_steps = (
        1 if reach == 0.0 else max(2, _arc_steps(np.pi, radius * max(abs(reach), 1.0), tolerance))
    )
    swing = np.linspace(0.0, np.pi, n_steps + 1)
    across = np.array([np.cos(first_angle), np.sin(first_angle)])
    ahead = np.array([-across[1], across[0]])
    forward = reach * np.sin(swing) + 0.5 * abs(skew) * (1.0 + np.sign(skew) * np.cos(swing))
    return np.asarray(
        centre + radius * (np.outer(np.cos(swing), across) + np.outer(forward, ahead))
    )
