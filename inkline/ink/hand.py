"""The hand: it turns an exact centreline into a drawn one, with time along it.

All lengths are mm on the sheet, points are relative to the stroke's origin, y down.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.polyline import arc_lengths, at_arc_lengths, curvatures, tangents, turned, turning_angles
from inkline.ink.noise import band_noise, bent, wander_noise
from inkline.ink.style import Hand
from inkline.ink.timing import STOP_TURN_RAD, Timing, timing

Points = NDArray[np.float64]
Floats = NDArray[np.float64]

# Centrelines are sampled at this step: fine against tremor (a wave is about 4 mm long) and against the bowls of numerals
# (0.001 mm off a circle of 1 mm radius).
HAND_STEP_MM = 0.1
TREMOR_HZ = (8.0, 12.0)
DRIFT_LIMIT_HZ = 2.0
# A corner of an exact stroke that turns more than this keeps its own point when the stroke is sampled.
_KEPT_TURN_RAD = np.deg2rad(12.0)
# The limiter leaves wander alone up to this share of `stray`.
_STRAY_KNEE = 0.7


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
    stops: NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPath:
    """A drawn centreline.

    Attributes:
        points: `(n, 2)` mm.
        lengths: arc length of the exact stroke that each point belongs to; below 0 and beyond the stroke's length where it
            runs over.
        exact_length: length of the exact stroke, mm.
        timing: when the pen is where.
    """

    points: Points
    lengths: Floats
    exact_length: float
    timing: Timing


def sampled_path(points: Points) -> ExactPath:
    """The exact centreline at about `HAND_STEP_MM`, its corners kept; `points` do not repeat."""
    lengths = arc_lengths(points)
    n_steps = max(2, int(np.ceil(lengths[-1] / HAND_STEP_MM)))
    wanted = np.linspace(0.0, lengths[-1], n_steps + 1)
    turns = np.abs(turning_angles(points)) if len(points) > 2 else np.zeros(0)
    corners = lengths[1:-1][turns > _KEPT_TURN_RAD]
    wanted = np.union1d(wanted, corners)
    close = np.diff(wanted) < 1e-6 * max(1.0, lengths[-1])
    wanted = np.delete(wanted, np.flatnonzero(close))
    stops = np.searchsorted(wanted, lengths[1:-1][turns > STOP_TURN_RAD] - 1e-9)
    stops = np.unique(stops[(stops > 0) & (stops < len(wanted) - 1)])
    return ExactPath(points=at_arc_lengths(points, lengths, wanted), lengths=wanted, stops=stops)


def drawn_rule(
    points: Points,
    hand: Hand,
    *,
    own: np.random.Generator,
    shared: np.random.Generator,
    crossings: Floats,
    room: tuple[float, float],
) -> DrawnPath:
    """The drawn centreline of a straight rule.

    The wander is a drift (partly shared with neighbouring rules) and a tremor, with zero mean and zero slope over the exact rule, drawn
    back at crossings by `hand.pinned`, and never beyond `hand.stray`. Ends run over or fall short.

    Args:
        points: first and last point of the exact rule, mm.
        hand: the hand as firm as rules are.
        own: the stream of this rule's hand.
        shared: the stream of the group that it shares its drift with.
        crossings: arc lengths in mm at which other strokes cross.
        room: how far the ends may run over before ink comes too near the edge of the canvas, mm.
    """
    length = float(np.hypot(*(points[-1] - points[0])))
    ends = drawn_ends(own, hand, room)
    first, last = min(0.0, -ends[0]), max(length, length + ends[1])
    n_steps = max(4, int(np.ceil((last - first) / HAND_STEP_MM)))
    lengths = np.union1d(np.linspace(first, last, n_steps + 1), (-ends[0], length + ends[1]))
    pace = timing(lengths - first, np.zeros_like(lengths), np.zeros(0, dtype=np.intp), speed=hand.speed, reference=1.0)
    wander = _drift(own, lengths, hand) * np.sqrt(1.0 - hand.shared) + _drift(shared, lengths, hand) * np.sqrt(
        hand.shared
    )
    wander += _tremor(own, pace, hand)
    offsets = _held(wander, lengths, length, crossings, hand)
    keep = (lengths >= -ends[0] - 1e-9) & (lengths <= length + ends[1] + 1e-9)
    along = (points[-1] - points[0]) / length
    across = np.array([-along[1], along[0]])
    drawn = points[0] + np.outer(lengths, along) + np.outer(offsets, across)
    kept_time = Timing(times=pace.times[keep], speeds=pace.speeds[keep], mean_speed=pace.mean_speed)
    return DrawnPath(points=drawn[keep], lengths=lengths[keep], exact_length=length, timing=kept_time)


def drawn_curve(path: ExactPath, hand: Hand, *, own: np.random.Generator, reference: float) -> DrawnPath:
    """The drawn centreline of a letter's stroke (already posed): a little drift and tremor across it.

    Args:
        path: the posed centreline.
        hand: the hand as firm as the letter's role makes it.
        own: the stream of this stroke's hand.
        reference: curvature in 1 / mm up to which the pen need not slow.
    """
    pace = timing(path.lengths, curvatures(path.points), path.stops, speed=hand.speed, reference=reference)
    offsets = _drift(own, path.lengths, hand) + _tremor(own, pace, hand)
    offsets = (
        bent(offsets, knee=_STRAY_KNEE * hand.stray, limit=hand.stray) if hand.stray > 0.0 else np.zeros_like(offsets)
    )
    drawn = path.points + turned(_smooth_tangents(path)) * offsets[:, None]
    return DrawnPath(points=drawn, lengths=path.lengths, exact_length=float(path.lengths[-1]), timing=pace)


def _smooth_tangents(path: ExactPath) -> Points:
    """Unit tangents for displacing: averaged over a few steps so that a corner's two sides move together."""
    raw = tangents(path.points)
    if len(raw) < 7:
        return raw
    kernel = np.array([1.0, 3.0, 5.0, 6.0, 5.0, 3.0, 1.0]) / 24.0
    padded = np.concatenate((np.repeat(raw[:1], 3, axis=0), raw, np.repeat(raw[-1:], 3, axis=0)))
    smooth = np.column_stack([np.convolve(padded[:, axis], kernel, "valid") for axis in (0, 1)])
    return np.asarray(smooth / np.maximum(np.hypot(smooth[:, 0], smooth[:, 1]), 0.2)[:, None])


def drawn_ends(generator: np.random.Generator, hand: Hand, room: tuple[float, float]) -> tuple[float, float]:
    """How far the start and the end run over (positive) or fall short (negative), mm; always the same number of draws.

    A negative `room` makes an end fall short whatever was drawn.
    """
    kinds, sizes = generator.random(2), generator.random(2)
    over = hand.run_over * (0.25 + 0.75 * sizes)
    short = -hand.fall_short * (0.2 + 0.8 * sizes)
    near = 0.15 * hand.run_over * (2.0 * sizes - 1.0)
    ends = np.where(kinds < hand.run_over_share, over, np.where(kinds > 1.0 - hand.fall_short_share, short, near))
    start, end = np.minimum(ends, room)
    return float(start), float(end)


def _drift(generator: np.random.Generator, lengths: Floats, hand: Hand) -> Floats:
    """The slow wander in mm at `lengths`: below `DRIFT_LIMIT_HZ` in the time of a pen that moves at mean speed.

    Mean speed, and not the bell, so that a start at rest has no hook.
    """
    corner = hand.speed / (2.0 * np.pi * hand.drift_length)
    noise = wander_noise(generator, lengths / hand.speed, corner=corner, limit=DRIFT_LIMIT_HZ)
    return np.asarray(hand.drift * noise)


def _tremor(generator: np.random.Generator, pace: Timing, hand: Hand) -> Floats:
    """The tremble in mm, in time; calmed where the pen is slow, or every start would grow a hair."""
    noise = band_noise(generator, pace.times, low=TREMOR_HZ[0], high=TREMOR_HZ[1])
    calm = np.minimum(1.0, pace.speeds / max(pace.mean_speed, 1e-12)) ** 2
    return np.asarray(hand.tremor * noise * calm)


def _held(wander: Floats, lengths: Floats, length: float, crossings: Floats, hand: Hand) -> Floats:
    """The wander with zero mean and slope over the exact rule, pinned at crossings, within `stray`.

    Limited smoothly first, then corrected by one least-squares projection (mean, slope and pins together), and drawn in as a whole if
    that carried it beyond `stray`: scaling keeps a mean, a slope and pins of zero, so nothing need be repeated.
    """
    if hand.stray <= 0.0:
        return np.zeros_like(wander)
    limited = bent(wander, knee=_STRAY_KNEE * hand.stray, limit=hand.stray)
    basis, conditions, targets = _conditions(limited, lengths, length, crossings, hand.pinned)
    misses = conditions @ limited - targets
    offsets = limited - basis @ np.linalg.lstsq(conditions @ basis, misses, rcond=1e-9)[0]
    return np.asarray(offsets * min(1.0, hand.stray / max(float(np.abs(offsets).max()), 1e-12)))


def _conditions(
    wander: Floats, lengths: Floats, length: float, crossings: Floats, pinned: float
) -> tuple[Floats, Floats, Floats]:
    """Correction basis `(n, k)`, conditions `(m, n)` on the offsets, and the values that they must have `(m,)`."""
    inside = (lengths >= -1e-9) & (lengths <= length + 1e-9)
    u = 2.0 * lengths / length - 1.0
    basis = [np.ones_like(u), u]
    weight = inside / inside.sum()
    conditions = [weight, weight * u]
    targets = [0.0, 0.0]
    if pinned > 0.0 and len(crossings):
        gaps = np.diff(np.concatenate(([0.0], crossings, [length])))
        width = 0.35 * max(float(np.median(gaps[gaps > 1e-6])), 4.0 * HAND_STEP_MM)
        for crossing in crossings:
            basis.append(np.exp(-0.5 * ((lengths - crossing) / width) ** 2))
            row = _interpolation_row(lengths, float(crossing))
            conditions.append(row)
            targets.append((1.0 - pinned) * float(row @ wander))
    return np.column_stack(basis), np.array(conditions), np.array(targets)


def _interpolation_row(lengths: Floats, at: float) -> Floats:
    """Weights that read a value at `at` from values at `lengths`, linearly."""
    row = np.zeros_like(lengths)
    after = int(np.clip(np.searchsorted(lengths, at), 1, len(lengths) - 1))
    share = (at - lengths[after - 1]) / (lengths[after] - lengths[after - 1])
    row[after - 1], row[after] = 1.0 - share, share
    return row
