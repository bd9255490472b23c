"""How a whole letter or block sits: its slant, size, place, and a slow bend of the whole.

The bend is a coherent two-dimensional field (opensimplex). It is sampled sparsely along a line and
interpolated, because a sample costs about 10 us.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import opensimplex

from inkline.geometry.arrays import Points
from inkline.geometry.polyline import arc_lengths
from inkline.geometry.splines import Ends, spline_through
from inkline.ink.style import Hand

# Root mean square of opensimplex's two-dimensional noise, measured over 20 000 places.
_SIMPLEX_RMS = 0.370
# The field is sampled this many times in each of its unit lengths.
_SAMPLES_PER_UNIT = 4.0
# Letters keep to their line more surely than to their place along it.
_ASIDE = 2.5
# Pieces of the field that belong to different letters lie this far apart in it.
_APART = 4096.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Pose:
    """The pose of one letter or block about its origin, all lengths in mm.

    Attributes:
        slant: tangent of the slant; positive leans to the right.
        size: factor of its size.
        shift: displacement.
        bend: root mean square of the slow bend.
        bend_length: length of one unit of the field.
        place: where in the field the letter lies.
    """

    slant: float
    size: float
    shift: tuple[float, float]
    bend: float
    bend_length: float
    place: tuple[float, float]

    def moved_points(self, points: Points) -> Points:
        """`points`, `(n, 2)` in mm about the origin with y down, as this pose places them."""
        if self.is_still:
            return points
        upright = points * self.size
        leaning = np.column_stack((upright[:, 0] - self.slant * upright[:, 1], upright[:, 1]))
        return np.asarray(leaning + np.array(self.shift) + self._bends(points))

    @property
    def is_still(self) -> bool:
        """Whether the pose changes nothing."""
        return (
            self.slant == 0.0 and self.size == 1.0 and self.shift == (0.0, 0.0) and self.bend == 0.0
        )

    def _bends(self, points: Points) -> Points:
        """Displacement by the slow field at `points`, which follow one another along a line."""
        if self.bend == 0.0:
            return np.zeros_like(points)
        lengths = arc_lengths(points)
        n_knots = max(4, int(lengths[-1] / self.bend_length * _SAMPLES_PER_UNIT) + 2)
        if n_knots >= len(points):
            return self._field(points)
        knots = np.unique(np.linspace(0, len(points) - 1, n_knots).astype(int))
        return spline_through(
            lengths[knots] + np.arange(len(knots)) * 1e-9,
            self._field(points[knots]),
            lengths,
            ends=Ends.SMOOTH,
        )

    def _field(self, points: Points) -> Points:
        """The field at `points`, one opensimplex sample a point and direction."""
        field = _simplex()
        u = points / self.bend_length + np.array(self.place)
        across = [field.noise2(x, y) for x, y in u]
        along = [field.noise2(x + _APART / 2, y) for x, y in u]
        return np.column_stack((across, along)) * (self.bend / _SIMPLEX_RMS)


@lru_cache(maxsize=1)
def _simplex() -> opensimplex.OpenSimplex:
    """The one field; letters differ in where they lie in it."""
    return opensimplex.OpenSimplex(1)


def drawn_pose(
    generator: np.random.Generator, hand: Hand, *, bend: float, bend_length: float
) -> Pose:
    """A pose drawn for one letter or block.

    Args:
        generator: the stream of the letter's name, always used for the same number of draws.
        hand: the hand, already as firm as the mark's role makes it.
        bend: root mean square of the bend in mm.
        bend_length: length of one unit of the field in mm.
    """
    slant, size, aside, up = np.clip(generator.standard_normal(4), -2.2, 2.2)
    x, y = generator.uniform(0.0, _APART, 2)
    return Pose(
        slant=float(np.tan(np.deg2rad(hand.tilt * slant))),
        size=float(1.0 + hand.size_play * size),
        shift=(float(_ASIDE * hand.bounce * aside), float(hand.bounce * up)),
        bend=bend,
        bend_length=bend_length,
        place=(float(x), float(y)),
    )
