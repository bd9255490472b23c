"""How ink flows along a stroke: by pressure, by speed, where the pen rests, and as it starts."""

from __future__ import annotations

import numpy as np

from inkline.geometry.arrays import Floats
from inkline.ink.hand import DrawnPath
from inkline.ink.media.paper_values import Paper

# Where the pen rests, ink gathers over this many widths to either side.
_REST_WIDTHS = 0.9
# A pen that starts too fast leaves a gap: so many widths long, in which by so much less ink stays
# (in a wash by the second), and so many widths from the start at the most.
_GAP_WIDTHS, _GAP_LEVEL, _WASH_GAP, _GAP_FROM = (0.7, 2.4), 6.0, 0.5, 2.0


def stroke_levels(
    path: DrawnPath, profile: Floats, paper: Paper, *, width: float, start: Floats
) -> Floats:
    """Level of ink along one lift of the pen, `(n,)`, 0 for a middling one.

    It is higher where the pen presses, rests or is slow, and falls as the load runs out; the pen
    was filled before it.

    Args:
        path: the drawn centreline.
        profile: width over nominal width at each of its points.
        paper: the paper.
        width: nominal width, mm.
        start: three even numbers from 0 to 1: whether the lift starts with a gap, where and how
            long that is.
    """
    along = path.travelled_lengths
    levels = __ink_levels(profile, along / max(float(along[-1]), 1e-9), paper)
    if paper.speeding > 0.0:
        speeds = path.timing.speeds / max(path.timing.mean_speed, 1e-9)
        levels = levels - paper.speeding * (np.minimum(speeds, 2.0) - 1.0)
    if paper.pooled > 0.0:
        levels = levels + paper.pooled * _nearness_to_rests(path, width)
    if start[0] < paper.skips:
        middle = _GAP_FROM * width * start[1]
        half = 0.5 * width * float(np.interp(start[2], (0.0, 1.0), _GAP_WIDTHS))
        depth = _WASH_GAP if paper.medium == "wash" else _GAP_LEVEL
        levels = levels - depth * np.exp(-(((along - middle) / half) ** 4))
    return np.asarray(levels)


def overlapping_levels(paths: tuple[DrawnPath, ...], levels: list[Floats]) -> list[Floats]:
    """Levels of the lifts of one stroke; where two lie over each other, the higher one in both."""
    wettest = [own.copy() for own in levels]
    for mine, path in zip(wettest, paths, strict=True):
        for other, theirs in zip(paths, levels, strict=True):
            order = slice(None) if other.lengths[0] <= other.lengths[-1] else slice(None, None, -1)
            there = np.interp(
                path.lengths, other.lengths[order], theirs[order], left=-np.inf, right=-np.inf
            )
            np.maximum(mine, there, out=mine)
    return wettest


def __ink_levels(pressures: Floats, shares: Floats, paper: Paper) -> Floats:
    """Level of ink along a stroke: higher where the pen presses, falling as the load runs out.

    Args:
        pressures: width over nominal width, `(n,)`.
        shares: arc length over the stroke's length, `(n,)`, 0 at the start.
        paper: the paper.
    """
    return np.asarray(paper.pressing * 4.0 * (pressures - 1.0) - paper.emptying * (shares - 0.5))


def _nearness_to_rests(path: DrawnPath, width: float) -> Floats:
    """1 where the pen rests, at its ends and at stops, and 0 far from there."""
    rests = np.flatnonzero(path.timing.speeds <= 0.0)
    rests = np.union1d(rests, (0, len(path.lengths) - 1))
    apart = (path.lengths[:, None] - path.lengths[rests]) / (_REST_WIDTHS * width)
    return np.asarray(np.exp(-(apart**2)).max(axis=1))
