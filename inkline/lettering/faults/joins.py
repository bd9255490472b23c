"""Where strokes of a letter meet: ends that make bumps or knobs, and notches that fill to blots."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Floats, Points
from inkline.lettering.faults.spread import SpreadStroke

MOST_BLOT = 1.6
"""The largest disc that may fit into a letter's ink, in pens.
Two strokes that cross squarely hold 1.41; where a narrow notch fills, 2.0. Chosen by eye."""
LEAST_ANGLE_DEGREES = 20.0
"""The flattest angle at which an end may lie on other ink.
Flatter, its round end shows as a bump as soon as the hand wanders by a tenth of a pen."""
KNOB = (0.17, 0.4)
"""How far an end may not reach beyond the ink that it lies on, in pens.
Less hides; more is an end that is meant. Chosen by eye."""
_OWN_REACH = 1.2
"""Ink of its own stroke that lies nearer along it than this is no other ink, in pens."""
_SHORT = 0.5
"""A stroke shorter than this is a dot, which has no ends to speak of, in pens."""
_BACK = 5
"""An end's direction is looked at over so many steps."""
_FAN_RAD = np.linspace(-0.9, 0.9, 11)
"""Directions in which the round of an end is looked at, about its own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """How an end of a stroke lies to the other ink of its letter.

    Attributes:
        beyond: how far it reaches beyond that ink, in pens; 0 or less where it is hidden.
        angle_degrees: between it and the stroke that it lies on, 0 to 90.
    """

    beyond: float
    angle_degrees: float

    @property
    def is_bump(self) -> bool:
        """Whether it lies along the other stroke."""
        return self.beyond < KNOB[1] and self.angle_degrees < LEAST_ANGLE_DEGREES

    @property
    def is_knob(self) -> bool:
        """Whether it peeps out on the far side of the other stroke."""
        return not self.is_bump and KNOB[0] < self.beyond < KNOB[1]


def ends_on_ink(strokes: Sequence[SpreadStroke]) -> Iterator[End]:
    """The round ends of a letter's strokes that have other ink of the letter to lie on."""
    for index, stroke in enumerate(strokes):
        if stroke.lengths[-1] < _SHORT or stroke.is_cut or stroke.closed:
            continue
        apart = [other for place, other in enumerate(strokes) if place != index]
        for at, reach in (
            (0, stroke.lengths),
            (-1, stroke.lengths[-1] - stroke.lengths),
        ):
            far = reach > _OWN_REACH
            points = [other.points for other in apart]
            ways, halves = [other.directions for other in apart], [other.shares for other in apart]
            if far.sum() > 1:
                points.append(stroke.points[far])
                ways.append(stroke.directions[far])
                halves.append(stroke.shares[far])
            if points:
                yield _end(
                    stroke,
                    at,
                    np.concatenate(points),
                    np.concatenate(ways),
                    0.5 * np.concatenate(halves),
                )


def _end(stroke: SpreadStroke, at: int, others: Points, ways: Points, halves: Floats) -> End:
    tip, half = stroke.points[at], 0.5 * float(stroke.shares[at])
    back = min(_BACK, len(stroke.points) - 1)
    way = tip - stroke.points[back if at == 0 else -1 - back]
    way = way / max(float(np.hypot(*way)), 1e-12)
    aside = np.array([-way[1], way[0]])
    rim = tip + half * (np.cos(_FAN_RAD)[:, None] * way + np.sin(_FAN_RAD)[:, None] * aside)
    white = np.hypot(*np.moveaxis(rim[:, None] - others[None], -1, 0)) - halves
    nearest = int(np.hypot(*(others - tip).T).argmin())
    along = min(1.0, abs(float(ways[nearest] @ way)))
    return End(
        beyond=float(white.min(axis=1).max()), angle_degrees=float(np.degrees(np.arccos(along)))
    )
