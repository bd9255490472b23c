"""The middle line of an outline, as branches with the outline's half width at every point.

And what else tracing asks of the outline.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import scipy

from inkline.geometry.arrays import Bools, Floats, Points
from inkline.geometry.polygon import signed_area, total_area
from inkline.geometry.polyline import closed_arc_lengths, resampled_contour
from inkline.tracing.branches import Branch, branches_from_links
from inkline.tracing.ridges import left_of, sampled_contour, wide_ridges

_SAMPLES_A_WIDTH = 14.0
"""Contour points to a stroke's width.
Between parallel edges the middle line is then off by at most 1/8 of their distance squared over the
width, 1/1500 of the width; more cost time in proportion."""
_FEWEST_SAMPLES, _MOST_SAMPLES = 5.0, 1500.0
"""Hairlines make do with so few to their width, if all of a glyph would be more than so many."""
TOUCH = 1.03
"""A disc touches a corner that is no farther from its centre than this many of its radii."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MedialAxis:
    """The middle line of an outline.

    Attributes:
        branches: all that a pen could follow, insignificant ones removed.
        presses: centre and radius of each piece of ink that is as wide as long, such as a dot, `(k,
            3)`.
        width: the stroke's typical width: twice the median half width, by length.
        corners: the outline's corners that lie on the inside of a bend or crotch, `(m, 2)`.
        edge: the sampled outline, to measure distances to it.
        along: the outline's direction at each sample, ink on its left.
    """

    branches: tuple[Branch, ...]
    presses: Points
    width: float
    corners: Points
    edge: scipy.spatial.cKDTree
    along: Points

    def clearances(self, points: Points) -> Floats:
        """Distance of each point `(n, 2)` to the outline, `(n,)`.

        It is negative where there is no ink.
        """
        distances, nearest = self.edge.query(points)
        inside = left_of(self.along[nearest], points - self.edge.data[nearest])
        return np.asarray(np.where(inside > 0.0, distances, -distances))

    def touches_corner(self, points: Points, radii: Floats) -> Bools:
        """Which discs touch a corner of the outline on the inside of a bend or crotch.

        There the middle line swerves away from the corner.
        """
        if not len(self.corners):
            return np.zeros(len(points), dtype=bool)
        return np.asarray(
            np.hypot(*(points[:, None] - self.corners[None]).transpose(2, 0, 1)).min(axis=1)
            < TOUCH * radii
        )


def axis_from_contours(contours: Sequence[Points]) -> MedialAxis:
    """The middle line of united contours, in their own unit.

    Outer contours have positive area, holes negative.

    Cost: about 5 ms for a digit of 700 samples.
    """
    perimeter = sum(float(closed_arc_lengths(contour)[-1]) for contour in contours)
    guess = 2.0 * total_area(contours) / perimeter
    step = max(guess / _SAMPLES_A_WIDTH, min(guess / _FEWEST_SAMPLES, perimeter / _MOST_SAMPLES))
    samples = [sampled_contour(contour, step) for contour in contours]
    points = np.concatenate([one[0] for one in samples])
    along = np.concatenate(
        [np.roll(one[0], -1, axis=0) - np.roll(one[0], 1, axis=0) for one in samples]
    )
    branches, presses, width = branches_from_links(*wide_ridges(points, along, step), guess)
    edge, owners = (
        scipy.spatial.cKDTree(points),
        np.repeat(np.arange(len(contours)), [len(one[0]) for one in samples]),
    )
    centres = np.concatenate([branch.points for branch in branches] + [presses[:, :2]])
    seen = set(owners[edge.query(centres)[1]].tolist()) if len(centres) else set()
    unseen = [
        contour
        for number, contour in enumerate(contours)
        if number not in seen and signed_area(contour) > 0.0
    ]
    presses = np.concatenate((presses, *(_middle_disc(contour) for contour in unseen)))
    corners = np.concatenate([one[1] for one in samples])
    return MedialAxis(
        branches=branches, presses=presses, width=width, corners=corners, edge=edge, along=along
    )


def _middle_disc(contour: Points) -> Points:
    """Centre and least half width of ink that has no middle line, `(1, 3)`.

    A square, for one, has none without its diagonals.
    """
    ring = resampled_contour(contour, float(closed_arc_lengths(contour)[-1]) / 64.0)
    centre = ring.mean(axis=0)
    return np.array([[*centre, float(np.hypot(*(ring - centre).T).min())]])
