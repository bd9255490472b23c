"""The hand: it turns an exact centreline into a drawn one, with time along it.

All lengths are mm on the sheet, points are relative to the stroke's origin, y down.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.polyline import arc_lengths, at_arc_lengths, curvatures, tangents, turned, turning_angles
from inkline.ink.noise import band_noise, bent, wander_noise
from inkline.ink.pose import Pose
from inkline.ink.style import Hand
from inkline.ink.timing import STOP_TURN_RAD, Timing, timing

Points = NDArray[np.float64]
Floats = NDArray[np.float64]

# Centrelines are sampled at this step: fine against tremor (a wave is about 4 mm long) and against the bowls of numerals
# (0.001 mm off a circle of 1 mm radius).
HAND_STEP_MM = 0.1
TREMOR_HZ = (8.0, 12.0)
DRIFT_LIMIT_HZ = 2.0
# The speed at which a style's drift is stated.
PACE_MM_S = 40.0
# A corner of an exact stroke that turns more than this keeps its own point when the stroke is sampled.
_KEPT_TURN_RAD = np.deg2rad(12.0)
# The limiter leaves wander alone up to this share of `stray`.
STRAY_KNEE = 0.7
# A practised hand keeps to line and height: letters move this much less up and down than sideways.
LEVEL_SHARE = 0.25
# The flick of a pen that leaves the paper takes up this much of the stroke.
_HOOK_MM = 0.9
# A rule is drawn in at most so many lifts; where one ends varies by this share of a lift.
_MOST_LIFTS, _LIFT_PLAY = 4, 0.3


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
    """A drawn centreline, from touchdown to lift.

    Attributes:
        points: `(n, 2)` mm, in the order of drawing.
        lengths: arc length of the exact stroke that each point belongs to; below 0 and beyond the stroke's length where it
            runs over; descending where a rule is drawn from its far end.
        exact_length: length of the exact stroke, mm.
        timing: when the pen is where.
    """

    points: Points
    lengths: Floats
    exact_length: float
    timing: Timing

    @property
    def travelled(self) -> Floats:
        """How far along the exact stroke the pen has come since touchdown, mm, `(n,)`."""
        return np.asarray(np.abs(self.lengths - self.lengths[0]))

    @property
    def inside(self) -> NDArray[np.bool_]:
        """Which points belong to the exact stroke, and not to its run-over, `(n,)`."""
        return np.asarray((self.lengths >= -1e-9) & (self.lengths <= self.exact_length + 1e-9))


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


def drawn_curve(path: ExactPath, pose: Pose, hand: Hand, *, own: np.random.Generator, reference: float) -> DrawnPath:
    """The drawn centreline of a letter's stroke: its letter's pose, then a little drift, tremor and hook across it.

    Never further than `hand.stray` from the exact centreline.

    Args:
        path: the exact centreline.
        pose: how the letter sits.
        hand: the hand as firm as the letter's role makes it.
        own: the stream of this stroke's hand.
        reference: curvature in 1 / mm up to which the pen need not slow.
    """
    pace = timing(path.lengths, curvatures(path.points), path.stops, speed=hand.speed, reference=reference)
    offsets = _drift(own, path.lengths, hand) + _tremor(own, pace, hand)
    offsets += _hook(own, path.lengths[-1] - path.lengths, hand)
    posed = pose.moved(path.points)
    moves = posed - path.points + turned(_smooth_tangents(posed)) * offsets[:, None]
    return DrawnPath(
        points=path.points + held_within(moves * (1.0, LEVEL_SHARE), hand.stray),
        lengths=path.lengths,
        exact_length=float(path.lengths[-1]),
        timing=pace,
    )


def held_within(moves: Points, stray: float) -> Points:
    """Displacements `(n, 2)`, those longer than most of `stray` shortened smoothly so that none is longer than it."""
    sizes = np.hypot(moves[:, 0], moves[:, 1])
    if stray <= 0.0:
        return np.zeros_like(moves)
    if float(sizes.max(initial=0.0)) <= STRAY_KNEE * stray:
        return moves
    kept = bent(sizes, knee=STRAY_KNEE * stray, limit=stray)
    return np.asarray(moves * (kept / np.maximum(sizes, 1e-12))[:, None])


def _smooth_tangents(points: Points) -> Points:
    """Unit tangents for displacing: averaged over a few steps so that a corner's two sides move together."""
    raw = tangents(points)
    if len(raw) < 7:
        return raw
    kernel = np.array([1.0, 3.0, 5.0, 6.0, 5.0, 3.0, 1.0]) / 24.0
    padded = np.concatenate((np.repeat(raw[:1], 3, axis=0), raw, np.repeat(raw[-1:], 3, axis=0)))
    smooth = np.column_stack([np.convolve(padded[:, axis], kernel, "valid") for axis in (0, 1)])
    return np.asarray(smooth / np.maximum(np.hypot(smooth[:, 0], smooth[:, 1]), 0.2)[:, None])


def drawn_rule(
    points: Points,
    hand: Hand,
    *,
    own: np.random.Generator,
    shared: np.random.Generator,
    crossings: Floats,
    room: tuple[float, float],
) -> tuple[DrawnPath, ...]:
    """The drawn centreline of a straight rule, one piece for each lift.

    The wander is a drift (partly shared with neighbouring rules), a tremor, the steps between lifts and a flick at their ends, with zero mean
    and zero slope over the exact rule, drawn back at crossings by `hand.pinned`, and never beyond `hand.stray`. Ends run
    over or fall short.

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
    is_backward = bool(own.random() < hand.from_far_end)
    span = (min(0.0, -ends[0]), max(length, length + ends[1]))
    n_steps = max(4, int(np.ceil((span[1] - span[0]) / HAND_STEP_MM)))
    lengths = np.union1d(np.linspace(*span, n_steps + 1), (-ends[0], length + ends[1]))
    drift = _drift(own, lengths, hand) * np.sqrt(1.0 - hand.shared) + _drift(shared, lengths, hand) * np.sqrt(
        hand.shared
    )
    pieces = _lifts(own, hand, length, span)
    wanders = [_piece_wander(own, lengths, drift, piece, hand, is_backward=is_backward) for piece in pieces]
    offsets = _held(wanders, pieces, lengths, length, crossings, hand)
    drawn_span = (-ends[0] - 1e-9, length + ends[1] + 1e-9)
    paths = tuple(
        _piece_path(points, lengths, off, piece, drawn_span, hand, is_backward=is_backward)
        for off, piece in zip(offsets, pieces, strict=True)
    )
    return paths[::-1] if is_backward else paths


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lift:
    """One movement of the pen along a rule: its own stretch, and with the overlaps to its neighbours."""

    whole: tuple[float, float]
    drawn: tuple[float, float]
    jump: float

    def part(self, lengths: Floats) -> slice:
        """Which of the ascending `lengths` it draws."""
        first, last = np.searchsorted(lengths, (self.drawn[0] - 1e-9, self.drawn[1] + 1e-9))
        return slice(int(first), int(last))


def _lifts(generator: np.random.Generator, hand: Hand, length: float, span: tuple[float, float]) -> list[_Lift]:
    """The lifts in which a rule is drawn, from its start on; always the same number of draws."""
    play, overlaps = generator.uniform(-1.0, 1.0, _MOST_LIFTS), generator.uniform(0.3, 1.0, _MOST_LIFTS)
    jumps = generator.standard_normal(_MOST_LIFTS)
    n_lifts = 1
    if 0.0 < hand.lift_every < length:
        n_lifts = int(np.clip(np.ceil(length / hand.lift_every), 2, _MOST_LIFTS))
    cuts = (np.arange(1, n_lifts) + 0.5 * _LIFT_PLAY * play[: n_lifts - 1]) * (length / n_lifts)
    bounds = np.concatenate((span[:1], cuts, span[1:]))
    over = np.concatenate(([0.0], 0.5 * hand.lift_overlap * overlaps[: n_lifts - 1], [0.0]))
    sizes = np.clip(jumps, -2.0, 2.0) * (hand.lift_jump if n_lifts > 1 else 0.0)
    return [
        _Lift(
            whole=(float(bounds[n]), float(bounds[n + 1])),
            drawn=(float(bounds[n] - over[n]), float(bounds[n + 1] + over[n + 1])),
            jump=float(sizes[n]),
        )
        for n in range(n_lifts)
    ]


def _piece_wander(
    generator: np.random.Generator, lengths: Floats, drift: Floats, piece: _Lift, hand: Hand, *, is_backward: bool
) -> Floats:
    """The wander of one lift at its own part of `lengths`, before it is held to the exact line."""
    mine = lengths[piece.part(lengths)]
    pace = _pace(mine, hand, is_backward=is_backward)
    from_end = mine - mine[0] if is_backward else mine[-1] - mine
    return drift[piece.part(lengths)] + piece.jump + _tremor(generator, pace, hand) + _hook(generator, from_end, hand)


def _pace(lengths: Floats, hand: Hand, *, is_backward: bool) -> Timing:
    """Time at ascending `lengths` along a straight stroke, whichever end it begins at."""
    straight, no_stops = np.zeros_like(lengths), np.zeros(0, dtype=np.intp)
    if not is_backward:
        return timing(lengths - lengths[0], straight, no_stops, speed=hand.speed, reference=1.0)
    pace = timing((lengths[-1] - lengths)[::-1], straight, no_stops, speed=hand.speed, reference=1.0)
    return Timing(times=pace.times[::-1], speeds=pace.speeds[::-1], mean_speed=pace.mean_speed)


def _piece_path(
    points: Points,
    lengths: Floats,
    offsets: Floats,
    piece: _Lift,
    span: tuple[float, float],
    hand: Hand,
    *,
    is_backward: bool,
) -> DrawnPath:
    """One lift on the page, in the order of drawing, cut to where the rule begins and ends."""
    mine = lengths[piece.part(lengths)]
    keep = (mine >= span[0]) & (mine <= span[1])
    pace = _pace(mine[keep], hand, is_backward=is_backward)
    length = float(np.hypot(*(points[-1] - points[0])))
    along = (points[-1] - points[0]) / length
    across = np.array([-along[1], along[0]])
    drawn = points[0] + np.outer(mine[keep], along) + np.outer(offsets[keep], across)
    order = slice(None, None, -1) if is_backward else slice(None)
    pace = Timing(times=pace.times[order], speeds=pace.speeds[order], mean_speed=pace.mean_speed)
    return DrawnPath(points=drawn[order], lengths=mine[keep][order], exact_length=length, timing=pace)


def drawn_ends(generator: np.random.Generator, hand: Hand, room: tuple[float, float]) -> tuple[float, float]:
    """How far the start and the end run over (positive) or fall short (negative), mm; always the same number of draws.

    A negative `room` makes an end fall short whatever was drawn.
    """
    kinds, sizes = generator.random(2), generator.random(2)
    over = hand.run_over * (0.25 + 0.75 * sizes)
    short = -hand.fall_short * (0.2 + 0.8 * sizes)
    near = 0.25 * hand.run_over * sizes
    ends = np.where(kinds < hand.run_over_share, over, np.where(kinds > 1.0 - hand.fall_short_share, short, near))
    start, end = np.minimum(ends, room)
    return float(start), float(end)


def _drift(generator: np.random.Generator, lengths: Floats, hand: Hand) -> Floats:
    """The slow wander in mm at `lengths`: below `DRIFT_LIMIT_HZ` in the time of a pen that moves at mean speed.

    Mean speed, and not the bell, so that a start at rest has no hook.
    """
    corner = hand.speed / (2.0 * np.pi * hand.drift_length)
    noise = wander_noise(generator, lengths / hand.speed, corner=corner, limit=DRIFT_LIMIT_HZ)
    return np.asarray(drift_rms(hand) * noise)


def drift_rms(hand: Hand) -> float:
    """Root mean square of the slow wander at the hand's speed, mm: `hand.drift` at `PACE_MM_S`, more for a faster hand.

    That faster strokes stray further is published as an ordering (IPSJ J. Inf. Process. 33:91, 2025); the square root is chosen by eye.
    """
    return hand.drift * float(np.sqrt(hand.speed / PACE_MM_S))


def _tremor(generator: np.random.Generator, pace: Timing, hand: Hand) -> Floats:
    """The tremble in mm, in time; calmed where the pen is slow, or every start would grow a hair."""
    noise = band_noise(generator, pace.times, low=TREMOR_HZ[0], high=TREMOR_HZ[1])
    calm = np.minimum(1.0, pace.speeds / max(pace.mean_speed, 1e-12)) ** 2
    return np.asarray(hand.tremor * noise * calm)


def _hook(generator: np.random.Generator, from_end: Floats, hand: Hand) -> Floats:
    """The flick of a pen that leaves the paper, mm: mostly to one side, each as large as it happens to be."""
    side, size = generator.random(2)
    reach = hand.hook * (0.2 + 0.8 * size) * (1.0 if side < 0.8 else -1.0)
    return np.asarray(reach * np.maximum(1.0 - from_end / _HOOK_MM, 0.0) ** 2)


def _held(
    wanders: list[Floats],
    pieces: list[_Lift],
    lengths: Floats,
    length: float,
    crossings: Floats,
    hand: Hand,
) -> list[Floats]:
    """The wander of each lift with zero mean and slope over the exact rule, pinned at crossings, within `stray`.

    Limited smoothly first, then corrected by one least-squares projection (mean, slope and pins together), and drawn in as a whole if
    that carried it beyond `stray`: scaling keeps a mean, a slope and pins of zero, so nothing need be repeated.
    """
    if hand.stray <= 0.0:
        return [np.zeros_like(wander) for wander in wanders]
    limited = [bent(wander, knee=STRAY_KNEE * hand.stray, limit=hand.stray) for wander in wanders]
    joined = _joined(limited, pieces, lengths)
    basis = _basis(lengths, length, crossings, hand.pinned)
    conditions, targets = _conditions(joined, lengths, length, crossings, hand.pinned)
    amounts = np.linalg.lstsq(conditions @ basis, conditions @ joined - targets, rcond=1e-9)[0]
    offsets = [wander - basis[piece.part(lengths)] @ amounts for wander, piece in zip(limited, pieces, strict=True)]
    farthest = max(float(np.abs(off).max()) for off in offsets)
    return [off * min(1.0, hand.stray / max(farthest, 1e-12)) for off in offsets]


def _joined(wanders: list[Floats], pieces: list[_Lift], lengths: Floats) -> Floats:
    """One value at each of `lengths`: that of the lift whose own stretch it is."""
    joined = np.zeros_like(lengths)
    for wander, piece in zip(wanders, pieces, strict=True):
        part = piece.part(lengths)
        mine = (lengths[part] >= piece.whole[0] - 1e-9) & (lengths[part] <= piece.whole[1] + 1e-9)
        joined[part][mine] = wander[mine]
    return joined


def _pin_width(crossings: Floats, length: float) -> float:
    """Standard deviation in mm of the bump that draws the wander back at a crossing."""
    gaps = np.diff(np.concatenate(([0.0], crossings, [length])))
    return 0.35 * max(float(np.median(gaps[gaps > 1e-6])), 4.0 * HAND_STEP_MM)


def _basis(lengths: Floats, length: float, crossings: Floats, pinned: float) -> Floats:
    """What may be added to the wander to hold it, `(n, k)`: a level, a slope, and a bump at each pin."""
    columns = [np.ones_like(lengths), 2.0 * lengths / length - 1.0]
    if pinned > 0.0 and len(crossings):
        width = _pin_width(crossings, length)
        columns += [np.exp(-0.5 * ((lengths - crossing) / width) ** 2) for crossing in crossings]
    return np.column_stack(columns)


def _conditions(
    wander: Floats, lengths: Floats, length: float, crossings: Floats, pinned: float
) -> tuple[Floats, Floats]:
    """Conditions on the offsets, `(m, n)`, and the values that they must have, `(m,)`: mean, slope, and each pin."""
    inside = (lengths >= -1e-9) & (lengths <= length + 1e-9)
    weight = inside / inside.sum()
    conditions = [weight, weight * (2.0 * lengths / length - 1.0)]
    targets = [0.0, 0.0]
    if pinned > 0.0:
        rows = [_interpolation_row(lengths, float(crossing)) for crossing in crossings]
        conditions += rows
        targets += [(1.0 - pinned) * float(row @ wander) for row in rows]
    return np.array(conditions), np.array(targets)


def _interpolation_row(lengths: Floats, at: float) -> Floats:
    """Weights that read a value at `at` from values at `lengths`, linearly."""
    row = np.zeros_like(lengths)
    after = int(np.clip(np.searchsorted(lengths, at), 1, len(lengths) - 1))
    share = (at - lengths[after - 1]) / (lengths[after] - lengths[after - 1])
    row[after - 1], row[after] = 1.0 - share, share
    return row
