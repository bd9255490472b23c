"""The lifts in which a long rule is drawn: the pen leaves the paper and is set down again.

All lengths are mm on the sheet.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Floats
from inkline.ink.style import Hand

# A rule is drawn in at most so many lifts.
_MOST_LIFTS = 4
# Of long rules, the share that is drawn in one go, and the share of the rest that is begun again
# twice; each further length that the hand draws in one go makes one lift more.
_IN_ONE, _TWICE = 0.34, 0.2
# A lift ends between these shares of the rule, and two of them at least so far apart.
_FIRST, _LAST, _APART = 0.2, 0.8, 0.18
# This share of them ends at a crossing, where it shows least, give or take so many mm.
_AT_CROSSINGS, _BESIDE_MM = 0.55, 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """One movement of the pen along a rule.

    Attributes:
        whole: its own stretch.
        drawn: the same with the overlaps to its neighbours.
        jump: how far it lies beside the line.
        inner: whether its start and its end lie within the rule.
    """

    whole: tuple[float, float]
    drawn: tuple[float, float]
    jump: float
    inner: tuple[bool, bool]

    def part(self, lengths: Floats) -> slice:
        """Which of the ascending `lengths` it draws."""
        first, last = np.searchsorted(lengths, (self.drawn[0] - 1e-9, self.drawn[1] + 1e-9))
        return slice(int(first), int(last))


def drawn_lifts(
    generator: np.random.Generator,
    hand: Hand,
    length: float,
    span: tuple[float, float],
    *,
    crossings: Floats,
) -> list[Lift]:
    """The lifts in which a rule is drawn, from its start on; always the same number of draws.

    Args:
        generator: the stream of the rule's hand.
        hand: the hand.
        length: of the exact rule.
        span: what is drawn of it, or beyond it.
        crossings: arc lengths at which other rules cross.
    """
    counts, places = generator.random(2), generator.random((3, _MOST_LIFTS))
    overlaps, jumps = (
        generator.uniform(0.3, 1.0, _MOST_LIFTS),
        generator.standard_normal(_MOST_LIFTS),
    )
    n_cuts = _n_cuts(counts, length, hand.lift_every)
    cuts = _places_of_cuts(places, n_cuts, length, crossings)
    bounds = np.concatenate((span[:1], cuts, span[1:]))
    over = np.concatenate(([0.0], 0.5 * hand.lift_overlap * overlaps[: len(cuts)], [0.0]))
    sizes = np.clip(jumps, -2.0, 2.0) * (hand.lift_jump if len(cuts) else 0.0)
    return [
        Lift(
            whole=(float(bounds[n]), float(bounds[n + 1])),
            drawn=(float(bounds[n] - over[n]), float(bounds[n + 1] + over[n + 1])),
            jump=float(sizes[n]),
            inner=(n > 0, n < len(cuts)),
        )
        for n in range(len(cuts) + 1)
    ]


def _n_cuts(draws: Floats, length: float, every: float) -> int:
    """How often the pen is lifted within a rule; never in one no longer than `every`."""
    if not 0.0 < every < length:
        return 0
    more = int(min(length / every, float(_MOST_LIFTS))) - 1
    drawn = 0 if draws[0] < _IN_ONE else 2 if draws[1] < _TWICE else 1
    return min(drawn + more, _MOST_LIFTS - 1)


def _places_of_cuts(draws: Floats, n_cuts: int, length: float, crossings: Floats) -> Floats:
    """Where the pen is lifted, ascending; none nearer to another one than `_APART`."""
    found: list[float] = []
    for share, chance, aside in draws[:, :n_cuts].T:
        at = length * (_FIRST + (_LAST - _FIRST) * float(share))
        inner = crossings[(crossings > _FIRST * length) & (crossings < _LAST * length)]
        if chance < _AT_CROSSINGS and len(inner):
            at = float(inner[int(np.argmin(np.abs(inner - at)))])
            at += _BESIDE_MM * (2.0 * float(aside) - 1.0)
        if all(abs(at - other) >= _APART * length for other in found):
            found.append(at)
    return np.sort(np.array(found))
