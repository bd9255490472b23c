"""Where rules end: hidden in the rule that they end at, well beyond it, or short of it.

All lengths are mm on the sheet.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Floats
from inkline.ink.style import Hand

# A rule that runs over passes the middle of the rule that it ends at by between these, in its own
# widths, from there to the tip of its ink: less would be a nub, and more a mistake.
_PASSES = (1.3, 3.0)
# The ink of an end that is hidden lies about that middle: from this on, and by so much more at
# most, in widths. The rule that it hides in is at least as wide, and wanders by itself.
_HIDDEN, _HIDDEN_PLAY = -0.1, 0.3
# Where no rule is met, ends run over by at least this share of what they may, or by up to it.
_LEAST_OVER, _LEAST_SHORT = 0.25, 0.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Tip:
    """How far ink reaches beyond the last point of a drawn rule, mm.

    Attributes:
        usual: in the mean.
        farthest: at most.
        leaving: what of both is left where the rule thins.
    """

    usual: float
    farthest: float
    leaving: float


def corners_of(crossings: Floats, length: float, width: float) -> tuple[float | None, float | None]:
    """How far inside its ends a rule meets the last rules that cross it.

    None where there are none within its width.
    """
    if len(crossings) == 0:
        return None, None
    first, last = float(crossings[0]), length - float(crossings[-1])
    return (first if first < width else None), (last if last < width else None)


def drawn_ends(
    generator: np.random.Generator,
    hand: Hand,
    room: tuple[float, float],
    *,
    corners: tuple[float | None, float | None],
    tip: Tip,
    width: float,
) -> tuple[float, float]:
    """How far the start and the end run over (positive) or fall short (negative), mm.

    Always from the same number of draws.

    Args:
        generator: the stream of the rule's hand.
        hand: the hand as firm as rules are.
        room: how far ink may run over; an end without enough of it falls short whatever was drawn.
        corners: how far inside the ends other rules cross.
        tip: how far ink reaches beyond the rule's last points.
        width: nominal width.
    """
    kinds, sizes = generator.random(2).tolist(), generator.random(2).tolist()
    start, end = (
        _free_end(hand, kind, size, room=space - tip.farthest)
        if corner is None or not (hand.run_over > 0.0 or hand.fall_short > 0.0)
        else _crossed_end(hand, kind, size, room=space + corner, tip=tip, width=width) - corner
        for kind, size, space, corner in zip(kinds, sizes, room, corners, strict=True)
    )
    return start, end


def _free_end(hand: Hand, kind: float, size: float, *, room: float) -> float:
    """How far an end runs over that meets no rule."""
    if kind < hand.run_over_share:
        end = hand.run_over * (_LEAST_OVER + (1.0 - _LEAST_OVER) * size)
    elif kind > 1.0 - hand.fall_short_share:
        end = -hand.fall_short * (_LEAST_SHORT + (1.0 - _LEAST_SHORT) * size)
    else:
        end = _LEAST_OVER * hand.run_over * size
    return min(end, room)


def _crossed_end(
    hand: Hand, kind: float, size: float, *, room: float, tip: Tip, width: float
) -> float:
    """How far an end runs over the middle of the rule that it meets."""
    least, most = (share * width for share in _PASSES)
    farthest = room - tip.leaving * (tip.farthest - tip.usual)
    most = min(most, max(hand.run_over, least) if hand.run_over >= width else 0.0, farthest)
    if kind < hand.run_over_share and most >= least:
        return least + (most - least) * size - tip.leaving * tip.usual
    if kind > 1.0 - hand.fall_short_share:
        end = -hand.fall_short * (_LEAST_SHORT + (1.0 - _LEAST_SHORT) * size)
    else:
        end = (_HIDDEN + _HIDDEN_PLAY * size) * width - tip.usual
    return min(end, room - tip.farthest)
