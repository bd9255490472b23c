"""The nib: how wide strokes are at most, and how they end. Lengths in mm.

`pressing` presses it along drawn centrelines.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from inkline.drawing import Cut
from inkline.ink.nib_values import Nib

# Pressure waves bend beyond this many standard deviations and never pass the next.
WAVE_KNEE, WAVE_LIMIT = 1.5, 2.2
# Force and speed never widen a stroke by more than this share of what they may change.
_FORCE_GAIN = 0.25
# No two touchdowns, lifts or pools are alike: each is its nominal amount times a factor about 1
# that is at most one of these.
MOST_AMOUNT, MOST_POOL = 1.6, 2.0
# No pen gets thinner than this share of its nominal width. A tapered stroke begins at the second,
# where the brush is pressed in, and ends at the third, where it is drawn off.
THINNEST, PRESSED_IN, TAPERED = 0.12, 0.6, 0.2
LEAVES = (0.78, 0.6)
"""Where a rule runs over, what is left of its width at its start and at its end. Chosen by eye."""
# Ends reach beyond a stroke's last point by a share of its half width between these;
_REACHES = {"round": (0.82, 1.04), "blunt": (0.1, 0.4), "tapered": (0.6, 2.5)}
# the blunt ends of letters come so much of the way to round ones,
_ROUNDER = 0.5
# and one side of an end stands ahead of the other by up to these half widths.
_SKEWS = {"round": 0.22, "blunt": 0.5, "tapered": 0.4}
# An end that an edge cuts bulges by this share of its half width, and its lean plays by so much of
# what that of a free end does: an edge is set down and lifted flat, by a hand.
CUT_ROUNDNESS, _CUT_PLAY = 0.08, 0.6
# Where a broad edge or a taper makes parts of a stroke thin, the rest is wider than nominal: at
# most by this share of the contrast, or by the second for a taper.
_CONTRAST_GAIN, _TAPER_GAIN = 0.35, 0.08


@dataclass(frozen=True, slots=True, kw_only=True)
class Tips:
    """How a stroke's start and end reach beyond its last points, in half widths.

    And how they are skewed.
    """

    reaches: tuple[float, float]
    skews: tuple[float, float]


def largest_pressure(nib: Nib) -> float:
    """The largest factor by which a stroke is ever wider than nominal.

    That of the highest wave with the largest swelling on it.
    """
    waves = np.exp(nib.pressure * WAVE_LIMIT - 0.5 * nib.pressure**2)
    ends = MOST_AMOUNT * max(nib.touchdown, nib.lift, 0.0)
    swelling = 1.0 + max(ends, MOST_POOL * nib.pooling, nib.crossing_pool)
    swelling *= 1.0 + _FORCE_GAIN * (nib.flex + nib.speeding)
    thinning = 1.0 + _CONTRAST_GAIN * nib.contrast + (_TAPER_GAIN if nib.ends == "tapered" else 0.0)
    return float(waves * swelling * thinning)


def drawn_tips(nib: Nib, generator: np.random.Generator, *, own: float, freedom: float) -> Tips:
    """How the two ends of a stroke reach beyond its last points and are skewed.

    No two are alike.

    Args:
        nib: the nib.
        generator: the stream of this stroke's nib.
        own: the reach of the exact stroke's ends, 0 or 1, for a nib that leaves ends as laid out.
        freedom: how much ends may differ, 0 to 1; numerals and words end more surely than rules.
    """
    plays, skews = generator.uniform(-0.5, 0.5, 2), generator.uniform(-1.0, 1.0, 2)
    start, end = (
        0.5 * (low + high) + freedom * (high - low) * play
        for (low, high), play in zip(_end_reaches(nib, own), plays, strict=True)
    )
    most = freedom * _SKEWS.get(nib.ends, 0.0)
    return Tips(
        reaches=(float(start), float(end)), skews=(float(most * skews[0]), float(most * skews[1]))
    )


def cut_tips(tips: Tips, cuts: tuple[Cut, Cut]) -> Tips:
    """The tips of a stroke whose ends an edge cuts, with the play that `tips` have.

    Args:
        tips: as the nib alone would end the stroke.
        cuts: of its start and its end.
    """
    start, end = (cut.lean + _CUT_PLAY * skew for cut, skew in zip(cuts, tips.skews, strict=True))
    return Tips(reaches=(CUT_ROUNDNESS, CUT_ROUNDNESS), skews=(start, end))


def shortfalls(nib: Nib, own: float) -> tuple[float, float]:
    """By how much the nib's tips end short of exact ones in the mean, in half widths.

    At the start and at the end, in half widths of the stroke.

    Letters are drawn longer by it, so that thin and flat tips stand on the same line as bowls do.
    """
    tapers = (PRESSED_IN, TAPERED) if nib.ends == "tapered" else (1.0, 1.0)
    swellings = (1.0 + nib.touchdown + nib.pooling, 1.0 + nib.lift + nib.pooling)
    start, end = (
        own - 0.5 * sum(reaches) * taper * max(swelling, THINNEST)
        for reaches, taper, swelling in zip(_end_reaches(nib, own), tapers, swellings, strict=True)
    )
    return start, end


def usual_reach(nib: Nib) -> float:
    """How far tips of rules reach beyond their last points in the mean, in half widths."""
    start, end = shortfalls(nib, 0.0)
    return -0.5 * (start + end)


def farthest_reach(nib: Nib, own: float) -> float:
    """How far a tip ever reaches beyond its stroke's last point, in half widths of its body."""
    (_, start), (_, end) = _end_reaches(nib, own)
    tapers = (PRESSED_IN, TAPERED) if nib.ends == "tapered" else (1.0, 1.0)
    skew = _SKEWS.get(nib.ends, 0.0)
    return max((start + skew) * tapers[0], (end + skew) * tapers[1])


def _end_reaches(nib: Nib, own: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """Least and most that the start and the end reach beyond a stroke's last points.

    In half widths there.

    Where exact ends are round, as those of letters, blunt ones are half way to round: two square
    ends that meet in an apex would stand out like ears.
    """
    if nib.ends == "tapered":
        return _REACHES["round"], _REACHES["tapered"]
    low, high = _REACHES.get(nib.ends, (own, own))
    if nib.ends == "blunt":
        low, high = low + _ROUNDER * own * (own - low), high + _ROUNDER * own * (own - high)
    return (low, high), (low, high)
