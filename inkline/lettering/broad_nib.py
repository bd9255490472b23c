"""A broad nib: how wide it writes in each direction, and how it cuts the ends of strokes.

Its edge is held at one angle to the line of writing. A stroke across the edge is as wide as the
nib, one along it is thin; and where the pen is set down or lifted the edge leaves a slanting cut.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from inkline.drawing import Cut
from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polyline import arc_lengths, at_arc_lengths, directions, without_repeats
from inkline.lettering.face import GlyphStroke

_STEP_STEMS = 0.1
"""Straight pieces get points so many stems apart, between which widths run evenly."""
_TURN_STEMS = 0.4
"""Over so many stems an edge changes its width where a stroke turns sharply.
Shorter, and corners grow knobs; longer, and short serifs never come to their own width."""
_SAME_STEMS = 1e-6
"""Points nearer to each other than this are one: rounding leaves such, without a direction."""
_MOST_CUT = 1.0
"""No end is cut further aslant, in half widths, or its tip would stand out like a thorn."""
_SQUARE_BELOW, _ASLANT_FROM = 0.35, 0.6
"""Sines of the angle between stroke and edge: up to the first ends are cut square, since there is
no edge across them; from the second on they are cut along the edge."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BroadNib:
    """A nib with an edge.

    Attributes:
        angle_deg: of the edge to the line of writing, anticlockwise.
        thin: width of a stroke along the edge over that of one across it, above 0 and up to 1.
        turn_deg: how much further the hand turns it for a stroke, anticlockwise.
    """

    angle_deg: float
    thin: float
    turn_deg: float = 0.0

    def turned_to(self, angle_deg: float | None) -> BroadNib:
        """The nib with its edge at another angle, but of the same width; `None` leaves it.

        Its strokes at the angle that it has by itself stay the measure of all widths.
        """
        return self if angle_deg is None else replace(self, turn_deg=angle_deg - self.angle_deg)

    def shares(self, along: Points) -> Floats:
        """Width of strokes in the directions `along`, over that of an upright stem.

        Args:
            along: unit vectors, `(n, 2)`, y up.
        """
        headings = np.arctan2(along[:, 1], along[:, 0]) - np.deg2rad(self.turn_deg)
        return np.asarray(self._widths(headings) / self._widths(np.array([0.5 * np.pi])))

    def cut(self, outward: Points) -> Cut:
        """How the edge cuts an end.

        The end's ink reaches half its width beyond the last point, measured upright for strokes
        that are nearer to upright, else sideways: so that feet and tops stand where they would
        with a round pen.

        Args:
            outward: unit vector out of the end, `(2,)`, y up.
        """
        angle = np.deg2rad(self.angle_deg + self.turn_deg)
        edge, right = (
            np.array([np.cos(angle), np.sin(angle)]),
            np.array([1.0, -1.0]) * outward[::-1],
        )
        across = float(edge @ right)
        share = np.clip((abs(across) - _SQUARE_BELOW) / (_ASLANT_FROM - _SQUARE_BELOW), 0.0, 1.0)
        lean = 0.0
        if share > 0.0:
            lean = share * np.clip(2.0 * float(edge @ outward) / across, -_MOST_CUT, _MOST_CUT)
        axis = int(np.argmax(np.abs(outward)))
        way = abs(float(outward[axis]))
        # How far the side that reaches further lies ahead of the middle along that axis.
        ahead = float(np.sign(lean) * np.sign(outward[axis]) * right[axis])
        further = min(abs(float(lean)), (1.0 - ahead) / way)
        reach = min((1.0 - ahead) / way - further, (1.0 + ahead) / way)
        return Cut(reach=max(reach, 0.0), lean=float(np.copysign(further, lean)))

    def _widths(self, angles: Floats) -> Floats:
        """Widths over that of the nib: its edge and its thickness, seen across the stroke."""
        aside = angles - np.deg2rad(self.angle_deg)
        return np.asarray(np.hypot(np.sin(aside), self.thin * np.cos(aside)))


def stroke_by_nib(stroke: GlyphStroke, nib: BroadNib, *, stem_em: float) -> GlyphStroke:
    """The stroke as the nib writes it: with widths along it, and with cut ends if it is open.

    A press that goes nowhere stays as it is: a dot.

    Args:
        stroke: as its family has it; widths of its own are kept, as shares of the nib's.
        nib: the nib.
        stem_em: width of an upright stem, in em.
    """
    ring = np.concatenate((stroke.points, stroke.points[:1])) if stroke.closed else stroke.points
    if np.array_equal(ring, np.broadcast_to(ring[0], ring.shape)):
        return stroke
    lengths = arc_lengths(ring)
    dense = _with_steps(lengths, _STEP_STEMS * stem_em)
    dense = dense[np.append(np.diff(dense) > _SAME_STEMS * stem_em, True)]
    points = at_arc_lengths(ring, lengths, dense)
    own = np.full(len(lengths), stem_em)
    if stroke.widths_em is not None:
        own = np.append(stroke.widths_em, stroke.widths_em[: len(own) - len(stroke.widths_em)])
    widths = np.interp(dense, lengths, own) * _eased(
        nib.shares(directions(points)), dense, _TURN_STEMS * stem_em
    )
    if stroke.closed:
        return replace(stroke, points=points[:-1], widths_em=widths[:-1])
    (before, after) = directions(points)[[0, -1]]
    return replace(stroke, points=points, widths_em=widths, cuts=(nib.cut(-before), nib.cut(after)))


def cut_corners(stroke: GlyphStroke, widths_em: Floats) -> Points:
    """The corners of a stroke's cut ends in em, `(4, 2)`.

    Args:
        stroke: with cuts.
        widths_em: its widths as it is drawn, `(n,)`.
    """
    assert stroke.cuts is not None  # noqa: S101 - the caller has looked
    before, after = directions(without_repeats(stroke.points))[[0, -1]]
    corners = []
    for at, outward, cut in ((0, -before, stroke.cuts[0]), (-1, after, stroke.cuts[1])):
        right = np.array([outward[1], -outward[0]])
        for side in (1.0, -1.0):
            ahead = cut.reach + max(side * cut.lean, 0.0)
            offset = side * right + ahead * outward
            corners.append(stroke.points[at] + 0.5 * widths_em[at] * offset)
    return np.array(corners)


def parts_of_ink(
    stroke: GlyphStroke, widths_em: Floats
) -> tuple[Points, Floats, tuple[Points, ...]]:
    """A stroke's ink in parts: the points of a round-ended stroke, its widths, and contours.

    The contours are the cut ends; without cuts there are none. A stroke with cuts that is shorter
    than it is wide is a contour alone, and has no points.

    Args:
        stroke: of any kind.
        widths_em: its widths as it is drawn, `(n,)`.
    """
    if stroke.cuts is None:
        return stroke.points, widths_em, ()
    corners, lengths = cut_corners(stroke, widths_em), arc_lengths(stroke.points)
    first, last = 0.5 * widths_em[0], lengths[-1] - 0.5 * widths_em[-1]
    if last <= first:
        return np.empty((0, 2)), np.empty(0), (corners,)
    dense = np.unique(np.concatenate(([first], np.clip(lengths, first, last), [last])))
    points, widths = (
        at_arc_lengths(stroke.points, lengths, dense),
        np.interp(dense, lengths, widths_em),
    )
    before, after = directions(without_repeats(stroke.points))[[0, -1]]
    ends = []
    for at, outward, pair in ((0, -before, corners[:2]), (-1, after, corners[2:])):
        right = 0.5 * widths[at] * np.array([outward[1], -outward[0]])
        ends.append(np.array([points[at] + right, *pair, points[at] - right]))
    return points, widths, tuple(ends)


def _with_steps(lengths: Floats, step: float) -> Floats:
    """The arc lengths, with more of them between, so that none are further than `step` apart."""
    counts = np.maximum(np.ceil(np.diff(lengths) / step).astype(np.intp), 1)
    starts = np.repeat(lengths[:-1], counts)
    place = np.arange(len(starts)) - np.repeat(np.cumsum(counts) - counts, counts)
    return np.append(starts + place * np.repeat(np.diff(lengths) / counts, counts), lengths[-1])


def _eased(shares: Floats, lengths: Floats, span: float) -> Floats:
    """Means of the pieces' shares over `span` about each point, `(n,)`."""
    sums = np.concatenate(([0.0], np.cumsum(shares * np.diff(lengths))))
    low = np.clip(lengths - 0.5 * span, 0.0, lengths[-1])
    high = np.clip(lengths + 0.5 * span, 0.0, lengths[-1])
    return np.asarray(
        (np.interp(high, lengths, sums) - np.interp(low, lengths, sums)) / (high - low)
    )
