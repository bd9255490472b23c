"""The hand: it turns an exact centreline into a drawn one, with time along it.

All lengths are mm on the sheet, points are relative to the stroke's origin, y down.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Bools, Floats, Indices, Points
from inkline.geometry.polyline import (
    arc_lengths,
    at_arc_lengths,
    curvatures,
    normals_of,
    tangents,
    turning_angles,
)
from inkline.ink.form.ring import Ring
from inkline.ink.form.stance import shift_and_lean
from inkline.ink.noise import band_waves, bent_values, slow_waves
from inkline.ink.pose import Pose
from inkline.ink.style import Hand
from inkline.ink.timing import STOP_TURN_RAD, Timing, timing
from inkline.ink.together import Asking

# Centrelines are sampled at this step: fine against tremor (a wave is about 4 mm long) and against
# the bowls of numerals (0.001 mm off a circle of 1 mm radius).
HAND_STEP_MM = 0.1
TREMOR_HZ = (8.0, 12.0)
_DRIFT_LIMIT_HZ = 2.0
# The speed at which a style's drift is stated.
_PACE_MM_S = 40.0
# A corner of an exact stroke that turns more than this keeps its own point when the stroke is
# sampled.
_KEPT_TURN_RAD = np.deg2rad(12.0)
# The limiter leaves wander alone up to this share of `stray`.
STRAY_KNEE = 0.7
# A practised hand keeps to line and height: letters move this much less up and down than sideways.
_LEVEL_SHARE = 0.25
# The flick of a pen that leaves the paper takes up this much of the stroke.
_HOOK_MM = 0.9


@dataclass(frozen=True, slots=True, kw_only=True)
class ExactPath:
    """An exact stroke, sampled.

    Attributes:
        points: `(n, 2)` mm.
        lengths: arc length at each point, `(n,)`.
        stops: indices of inner corners at which the pen stops.
    """

    points: Points
    lengths: Floats
    stops: Indices


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPath:
    """A drawn centreline, from touchdown to lift.

    Attributes:
        points: `(n, 2)` mm, in the order of drawing.
        lengths: arc length of the exact stroke that each point belongs to; below 0 and beyond the
            stroke's length where it runs over; descending where a rule is drawn from its far end.
        exact_length: length of the exact stroke, mm.
        timing: when the pen is where.
        thins: over what length it thins from touchdown on, and towards the lift, mm: where a rule
            runs over, and where one lift lies over another; 0 where it doesn't.
    """

    points: Points
    lengths: Floats
    exact_length: float
    timing: Timing
    thins: tuple[float, float] = (0.0, 0.0)

    @property
    def travelled_lengths(self) -> Floats:
        """How far along the exact stroke the pen has come since touchdown, mm, `(n,)`."""
        return np.asarray(np.abs(self.lengths - self.lengths[0]))

    @property
    def is_on_stroke(self) -> Bools:
        """Which points belong to the exact stroke, and not to its run-over, `(n,)`."""
        return np.asarray((self.lengths >= -1e-9) & (self.lengths <= self.exact_length + 1e-9))


def sampled_path(points: Points) -> ExactPath:
    """The exact centreline at about `HAND_STEP_MM`, its corners kept; `points` do not repeat."""
    lengths = arc_lengths(points)
    n_steps = max(2, int(np.ceil(lengths[-1] / HAND_STEP_MM)))
    wanted = np.linspace(0.0, lengths[-1], n_steps + 1)
    turns = np.abs(turning_angles(points)) if len(points) > 2 else np.zeros(0)
    corners = lengths[1:-1][turns > _KEPT_TURN_RAD]
    if len(corners):
        wanted = np.union1d(wanted, corners)
    close = np.diff(wanted) < 1e-6 * max(1.0, lengths[-1])
    if close.any():
        wanted = np.delete(wanted, np.flatnonzero(close))
    stops = np.searchsorted(wanted, lengths[1:-1][turns > STOP_TURN_RAD] - 1e-9)
    stops = np.unique(stops[(stops > 0) & (stops < len(wanted) - 1)])
    return ExactPath(points=at_arc_lengths(points, lengths, wanted), lengths=wanted, stops=stops)


def drawn_curve(
    path: ExactPath,
    pose: Pose,
    hand: Hand,
    *,
    own: np.random.Generator,
    reference: float,
    ring: Ring | None = None,
) -> Asking[DrawnPath]:
    """The drawn centreline of a letter's stroke.

    It has its letter's pose, then a little drift, tremor and hook across it.

    Never further than `hand.stray` from the exact centreline.

    Args:
        path: the exact centreline.
        pose: how the letter sits.
        hand: the hand as firm as the letter's role makes it.
        own: the stream of this stroke's hand.
        reference: curvature in 1 / mm up to which the pen need not slow.
        ring: where it closes by running on over its start, if it does.
    """
    pace = timing(
        path.lengths, curvatures(path.points), path.stops, speed=hand.speed, reference=reference
    )
    offsets = yield from drift_along(own, path.lengths, hand)
    offsets = offsets + (yield from tremor_along(own, pace, hand))
    offsets += hook_along(own, path.lengths[-1] - path.lengths, hand)
    if ring is not None:
        offsets = ring.closed_up(offsets, path.lengths)
    posed = pose.moved_points(path.points)
    normals = normals_of(_smooth_tangents(posed))
    level = np.array([1.0, _LEVEL_SHARE])
    wander = moves_within(normals * offsets[:, None] * level, hand.stray)
    across = (wander * normals).sum(axis=1)
    wander -= shift_and_lean(path.points, across, normals, np.gradient(path.lengths))
    (moves,) = drawn_in([(posed - path.points) * level + wander], hand.stray)
    return DrawnPath(
        points=path.points + moves,
        lengths=path.lengths,
        exact_length=float(path.lengths[-1]),
        timing=pace,
    )


def moves_within(moves: Points, stray: float) -> Points:
    """Displacements `(n, 2)`, none longer than `stray`.

    Those longer than most of it are shortened smoothly.
    """
    sizes = np.hypot(moves[:, 0], moves[:, 1])
    if stray <= 0.0:
        return np.zeros_like(moves)
    if float(sizes.max(initial=0.0)) <= STRAY_KNEE * stray:
        return moves
    kept = bent_values(sizes, knee=STRAY_KNEE * stray, limit=stray)
    return np.asarray(moves * (kept / np.maximum(sizes, 1e-12))[:, None])


def drawn_in(moves: Sequence[Points], stray: float) -> list[Points]:
    """Displacements `(n, 2)` of what belongs together, all smaller by as much as `stray` asks.

    What they leave where it is, mean and lean among it, stays there.
    """
    farthest = max((float(np.hypot(*moved.T).max(initial=0.0)) for moved in moves), default=0.0)
    share = min(1.0, stray / max(farthest, 1e-12))
    return [moved * share for moved in moves]


def _smooth_tangents(points: Points) -> Points:
    """Unit tangents along which points are displaced.

    Averaged over a few steps so that a corner's two sides move together.
    """
    raw = tangents(points)
    if len(raw) < 7:
        return raw
    kernel = np.array([1.0, 3.0, 5.0, 6.0, 5.0, 3.0, 1.0]) / 24.0
    padded = np.concatenate((np.repeat(raw[:1], 3, axis=0), raw, np.repeat(raw[-1:], 3, axis=0)))
    smooth = np.column_stack([np.convolve(padded[:, axis], kernel, "valid") for axis in (0, 1)])
    return np.asarray(smooth / np.maximum(np.hypot(smooth[:, 0], smooth[:, 1]), 0.2)[:, None])


def drift_along(generator: np.random.Generator, lengths: Floats, hand: Hand) -> Asking[Floats]:
    """The slow wander at `lengths`, mm.

    Below `_DRIFT_LIMIT_HZ` in the time of a pen that moves at mean speed.

    Mean speed, and not the bell, so that a start at rest has no hook.
    """
    corner = hand.speed / (2.0 * np.pi * hand.drift_length)
    noise = yield slow_waves(generator, lengths / hand.speed, corner=corner, limit=_DRIFT_LIMIT_HZ)
    return np.asarray(drift_rms(hand) * noise)


def drift_rms(hand: Hand) -> float:
    """Root mean square of the slow wander at the hand's speed, mm.

    It is `hand.drift` at `_PACE_MM_S`, more for a faster hand.

    That faster strokes stray further is published as an ordering (IPSJ J. Inf. Process. 33:91,
    2025); the square root is chosen by eye.
    """
    return hand.drift * float(np.sqrt(hand.speed / _PACE_MM_S))


def tremor_along(generator: np.random.Generator, pace: Timing, hand: Hand) -> Asking[Floats]:
    """The tremble in mm, in time.

    It is calmed where the pen is slow, or every start would grow a hair.
    """
    noise = yield band_waves(generator, pace.times, low=TREMOR_HZ[0], high=TREMOR_HZ[1])
    calm = np.minimum(1.0, pace.speeds / max(pace.mean_speed, 1e-12)) ** 2
    return np.asarray(hand.tremor * noise * calm)


def hook_along(generator: np.random.Generator, from_end: Floats, hand: Hand) -> Floats:
    """The flick of a pen that leaves the paper, mm.

    Mostly to one side, each as large as it happens to be.
    """
    side, size = generator.random(2)
    reach = hand.hook * (0.2 + 0.8 * size) * (1.0 if side < 0.8 else -1.0)
    return np.asarray(reach * np.maximum(1.0 - from_end / _HOOK_MM, 0.0) ** 2)
