"""What the arms of a stroke bring to the places that they pass: where it crosses itself, two do.

The stroke is taken in pieces that turn less than any loop. Each that passes near a place says what
level of ink it left there, and the wettest wins: an arm lies over the other, and nothing jumps
where the nearest one changes. Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Floats, Indices, Points
from inkline.geometry.polyline import arc_lengths, tangents
from inkline.ink.media.cuts import apart_points, stroke_cuts
from inkline.ink.media.medium import Medium
from inkline.ink.media.nearest import is_straight, nearest_indices

# Points of a spine nearer than this share of its typical half width have no direction of their own.
_APART = 0.2
# An arm counts in full up to so many half widths from its spine, and dies away over the second; a
# piece runs on so many half widths where another follows it.
_FULL, _FADE, _BEYOND = 0.75, 0.22, 0.15
# How far the wettest arm wins over another that is drier by so much, as a logarithm.
_WETTER = {"wash": 0.02, "film": 0.05, "contact": 0.05, "bristles": 0.05}
_FARTHEST, _DRIEST = 200.0, 60.0
# Where wet ink runs into one, arms count in full up to the first only, die away over the second and
# win over drier ones as gradually as the third.
_MERGED = (0.2, 0.7, 0.25)
# Two arms are two strokes where they lie so many half widths apart along the spine.
_LOOP = 8.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Arms:
    """What a stroke brought to some places.

    Attributes:
        levels: level of ink, `(n,)`.
        doubled: share of a second arm over the first, 0 to 1, `(n,)`; 0 where nothing darkens.
    """

    levels: Floats
    doubled: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Arm:
    """What one piece of a stroke brings to the places near it.

    Attributes:
        near: which places, `(k,)`.
        along: arc length there.
        level: of ink.
        remoteness: 1 at its rims and round ends.
    """

    near: Indices
    along: Floats
    level: Floats
    remoteness: Floats


def arms_at(medium: Medium, places: Points, *, step: float) -> Arms:
    """What the arms of the stroke of `medium` bring to `places`, `(n, 2)`.

    Args:
        medium: of a stroke.
        places: where.
        step: how far apart places lie: a second arm begins about so gradually.
    """
    spine = medium.spine
    if is_straight(spine):
        levels = medium.levels[nearest_indices(spine, places)]
        return Arms(levels=levels, doubled=np.zeros(len(places)))
    kept = apart_points(spine, at_least=_APART * float(np.median(medium.halves)))
    spine, levels, halves = spine[kept], medium.levels[kept], medium.halves[kept]
    arms = _arms(spine, levels, halves, places)
    doubled = (
        _doubled(arms, halves, len(places), step, medium.merging)
        if medium.overlap > 0.0
        else np.zeros(len(places))
    )
    return Arms(levels=_wettest(arms, medium, places), doubled=doubled)


def _arms(spine: Points, levels: Floats, halves: Floats, places: Points) -> list[_Arm]:
    """The pieces of a stroke at the places near them."""
    lengths, arms = arc_lengths(spine), []
    xs, ys = (np.ascontiguousarray(places[:, axis]) for axis in (0, 1))
    for first, last, hard in stroke_cuts(spine, lengths, halves):
        part = slice(first, last + 1)
        if last == first:
            continue
        reach = 2.0 * float(halves[part].max())
        low, high = spine[part].min(axis=0) - reach, spine[part].max(axis=0) + reach
        near = np.flatnonzero((xs >= low[0]) & (xs <= high[0]) & (ys >= low[1]) & (ys <= high[1]))
        if len(near):
            arms.append(
                _arm(
                    spine[part],
                    lengths[part],
                    levels[part],
                    halves[part],
                    hard,
                    places.take(near, axis=0),
                    near,
                )
            )
    return arms


def _arm(
    spine: Points,
    lengths: Floats,
    levels: Floats,
    halves: Floats,
    hard: tuple[bool, bool],
    places: Points,
    near: Indices,
) -> _Arm:
    """One piece along `spine` at `places`, which are those of all that are `near`."""
    nearest = nearest_indices(spine, places)
    ahead_x, ahead_y = (axis.take(nearest) for axis in tangents(spine).T)
    apart_x, apart_y = (places[:, axis] - spine[:, axis].take(nearest) for axis in (0, 1))
    along = lengths.take(nearest) + (apart_x * ahead_x + apart_y * ahead_y)
    across = (ahead_x * apart_y - ahead_y * apart_x) / np.interp(along, lengths, halves)
    rooms = [halves[i] * (1.0 if h else _BEYOND) for i, h in zip((0, -1), hard, strict=True)]
    over = np.maximum((lengths[0] - along) / rooms[0], (along - lengths[-1]) / rooms[1])
    return _Arm(
        near=near,
        along=along,
        level=np.interp(along, lengths, levels),
        remoteness=np.hypot(across, np.maximum(over, 0.0)),
    )


def _wettest(arms: list[_Arm], medium: Medium, places: Points) -> Floats:
    """The mean level of the arms, in which the wettest and the nearest weigh most by far."""
    ends = ((_FULL, _FADE, _WETTER[medium.kind]), _MERGED)
    full, fade, softness = (
        apart + medium.merging * (merged - apart) for apart, merged in zip(*ends, strict=True)
    )
    wettest = float(medium.levels.max())
    weights, levels = np.zeros(len(places)), np.zeros(len(places))
    for arm in arms:
        faded = np.maximum(arm.remoteness - full, 0.0) / fade
        weight = -np.minimum(faded**2, _FARTHEST)
        weight -= np.minimum((wettest - arm.level) / softness, _DRIEST)
        weight = np.exp(weight)
        weights[arm.near] += weight
        levels[arm.near] += weight * arm.level
    alone = np.flatnonzero(weights == 0.0)
    if len(alone):
        levels[alone] = medium.levels[nearest_indices(medium.spine, places[alone])]
        weights[alone] = 1.0
    return np.asarray(levels / weights)


def _doubled(
    arms: list[_Arm], halves: Floats, n_places: int, step: float, merging: float
) -> Floats:
    """Where a second arm lies over a first from elsewhere along the stroke.

    It begins within a step, or as gradually as wet ink runs into one.
    """
    half = float(np.median(halves))
    over = step + merging * half
    shares = [
        np.clip(((1.0 - arm.remoteness) * half + 0.5 * step) / over, 0.0, 1.0) for arm in arms
    ]
    first, along = np.zeros(n_places), np.zeros(n_places)
    for arm, share in zip(arms, shares, strict=True):
        more = share > first[arm.near]
        first[arm.near[more]], along[arm.near[more]] = share[more], arm.along[more]
    second = np.zeros(n_places)
    for arm, share in zip(arms, shares, strict=True):
        elsewhere = np.abs(arm.along - along[arm.near]) > _LOOP * half
        second[arm.near] = np.maximum(second[arm.near], share * elsewhere)
    return np.asarray(second)
