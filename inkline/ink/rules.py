"""Rules: straight lines that a hand draws in one lift or several, held to their exact line.

All lengths are mm on the sheet, points are relative to the stroke's origin, y down.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from inkline.geometry.arrays import Floats, Points
from inkline.ink.ends import Tip, corners_of, drawn_ends
from inkline.ink.hand import (
    HAND_STEP_MM,
    STRAY_KNEE,
    DrawnPath,
    drift_along,
    hook_along,
    tremor_along,
)
from inkline.ink.lifts import Lift, drawn_lifts
from inkline.ink.noise import bent_values
from inkline.ink.style import Hand
from inkline.ink.timing import Timing, timing
from inkline.ink.together import Asking

_MOST_FALLEN_SHORT = 0.9
"""Share of a rule that its ends leave out together where they would leave out all of it."""
# A rule that ends in another one thins over so many of its widths at least.
_LEAST_THINNED = 0.3
# Where a pen is lifted and set down again within a rule it hardly flicks.
_INNER_HOOK = 0.3


def drawn_rule(
    points: Points,
    hand: Hand,
    *,
    own: np.random.Generator,
    shared: np.random.Generator,
    crossings: Floats,
    room: tuple[float, float],
    tip: Tip,
    width: float,
) -> Asking[tuple[DrawnPath, ...]]:
    """The drawn centreline of a straight rule, one piece for each lift.

    The wander is a drift (partly shared with neighbouring rules), a tremor, the steps between lifts
    and a flick at their ends, with zero mean and zero slope over the exact rule, drawn back at
    crossings by `hand.pinned`, and never beyond `hand.stray`. Ends run over or fall short.

    Args:
        points: first and last point of the exact rule, mm.
        hand: the hand as firm as rules are.
        own: the stream of this rule's hand.
        shared: the stream of the group that it shares its drift with.
        crossings: arc lengths in mm at which other strokes cross.
        room: how far ink may run over before it comes too near the edge of the canvas, mm.
        tip: how far ink reaches beyond the last points of the drawn rule.
        width: nominal width, mm. A rule that another crosses within this of its end runs over, or
            falls short, from that crossing.
    """
    length = float(np.hypot(*(points[-1] - points[0])))
    corners = corners_of(crossings, length, width)
    ends = rule_ends(length, hand, own, crossings=crossings, room=room, tip=tip, width=width)
    is_backward = bool(own.random() < hand.from_far_end)
    span = (min(0.0, -ends[0]), max(length, length + ends[1]))
    n_steps = max(4, int(np.ceil((span[1] - span[0]) / HAND_STEP_MM)))
    lengths = np.union1d(np.linspace(*span, n_steps + 1), (-ends[0], length + ends[1]))
    drift = (yield from drift_along(own, lengths, hand)) * np.sqrt(1.0 - hand.shared)
    drift = drift + (yield from drift_along(shared, lengths, hand)) * np.sqrt(hand.shared)
    pieces, wanders = drawn_lifts(own, hand, length, span, crossings=crossings), []
    for piece in pieces:
        wander = _piece_wander(own, lengths, drift, piece, hand, is_backward=is_backward)
        wanders.append((yield from wander))
    offsets = _held_wanders(wanders, pieces, lengths, length, crossings, hand)
    drawn_span = (-ends[0] - 1e-9, length + ends[1] + 1e-9)
    paths = tuple(
        replace(
            _piece_path(points, lengths, off, piece, drawn_span, hand, is_backward=is_backward),
            thins=_thins(piece, ends, corners, width, is_backward=is_backward),
        )
        for off, piece in zip(offsets, pieces, strict=True)
        if _has_points(lengths[piece.part(lengths)], drawn_span)
    )
    return paths[::-1] if is_backward else paths


def rule_ends(
    length: float,
    hand: Hand,
    own: np.random.Generator,
    *,
    crossings: Floats,
    room: tuple[float, float],
    tip: Tip,
    width: float,
) -> tuple[float, float]:
    """How far the ends of a rule of `length` run over, or fall short where negative, mm.

    The other arguments are those of `drawn_rule`; of nib and edge only `tip` counts. Ends are the
    first that is drawn from `own`.
    """
    corners = corners_of(crossings, length, width)
    ends = drawn_ends(own, hand, room, corners=corners, tip=tip, width=width)
    if -sum(ends) >= length:  # nothing would be left of a rule as short as that
        scale = _MOST_FALLEN_SHORT * length / -sum(ends)
        return ends[0] * scale, ends[1] * scale
    return ends


def _thins(
    piece: Lift,
    ends: tuple[float, float],
    corners: tuple[float | None, float | None],
    width: float,
    *,
    is_backward: bool,
) -> tuple[float, float]:
    """Over what length one lift thins from its start on, and towards its end, mm.

    A rule does so where it ends at another one, which it runs over or hides in, and where a lift
    runs over the next one.
    """
    over = [
        0.0 if corner is None else max(end + corner, _LEAST_THINNED * width)
        for end, corner in zip(ends, corners, strict=True)
    ]
    overlaps = (piece.whole[0] - piece.drawn[0], piece.drawn[1] - piece.whole[1])
    thins = [
        2.0 * overlap if is_inner else run
        for is_inner, overlap, run in zip(piece.inner, overlaps, over, strict=True)
    ]
    first, last = thins[::-1] if is_backward else thins
    return first, last


def _piece_wander(
    generator: np.random.Generator,
    lengths: Floats,
    drift: Floats,
    piece: Lift,
    hand: Hand,
    *,
    is_backward: bool,
) -> Asking[Floats]:
    """The wander of one lift at its own part of `lengths`, before it is held to the exact line."""
    mine = lengths[piece.part(lengths)]
    pace = _pace(mine, hand, is_backward=is_backward)
    from_end = mine - mine[0] if is_backward else mine[-1] - mine
    is_inner = piece.inner[0 if is_backward else 1]
    tremor = yield from tremor_along(generator, pace, hand)
    hook = hook_along(generator, from_end, hand) * (_INNER_HOOK if is_inner else 1.0)
    return drift[piece.part(lengths)] + piece.jump + tremor + hook


def _pace(lengths: Floats, hand: Hand, *, is_backward: bool) -> Timing:
    """Time at ascending `lengths` along a straight stroke, whichever end it begins at."""
    straight, no_stops = np.zeros_like(lengths), np.zeros(0, dtype=np.intp)
    if not is_backward:
        return timing(lengths - lengths[0], straight, no_stops, speed=hand.speed, reference=1.0)
    pace = timing(
        (lengths[-1] - lengths)[::-1], straight, no_stops, speed=hand.speed, reference=1.0
    )
    return Timing(times=pace.times[::-1], speeds=pace.speeds[::-1], mean_speed=pace.mean_speed)


def _has_points(lengths: Floats, span: tuple[float, float]) -> bool:
    """Whether a lift draws anything: an end may fall short by more than the whole of it."""
    return bool(np.any((lengths >= span[0]) & (lengths <= span[1])))


def _piece_path(
    points: Points,
    lengths: Floats,
    offsets: Floats,
    piece: Lift,
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
    return DrawnPath(
        points=drawn[order], lengths=mine[keep][order], exact_length=length, timing=pace
    )


def _held_wanders(
    wanders: list[Floats],
    pieces: list[Lift],
    lengths: Floats,
    length: float,
    crossings: Floats,
    hand: Hand,
) -> list[Floats]:
    """The wander of each lift, with zero mean and slope over the exact rule.

    It is pinned at crossings and stays within `stray`.

    Limited smoothly first, then corrected by least-squares projections (mean and slope, then those
    and the pins together), and drawn in as a whole if that carried it beyond `stray`: scaling keeps
    a mean, a slope and pins of zero, so nothing need be repeated.
    """
    if hand.stray <= 0.0:
        return [np.zeros_like(wander) for wander in wanders]
    limited = [
        bent_values(wander, knee=STRAY_KNEE * hand.stray, limit=hand.stray) for wander in wanders
    ]
    none = np.zeros(0)
    # Mean and slope first by themselves: pins set on a wander that still had them would keep a
    # share of them at every crossing, and the rule would bulge in every cell to make up for it.
    level = _corrected_wanders(limited, pieces, lengths, length, none, 0.0)
    offsets = _corrected_wanders(level, pieces, lengths, length, crossings, hand.pinned)
    farthest = max(float(np.abs(off).max()) for off in offsets)
    return [off * min(1.0, hand.stray / max(farthest, 1e-12)) for off in offsets]


def _corrected_wanders(
    wanders: list[Floats],
    pieces: list[Lift],
    lengths: Floats,
    length: float,
    crossings: Floats,
    pinned: float,
) -> list[Floats]:
    """The wander of each lift, corrected so that mean, slope and pins are as they must be.

    Those of the whole rule.
    """
    joined = _joined_values(wanders, pieces, lengths)
    basis = _basis(lengths, length, crossings, pinned)
    conditions, targets = _conditions(joined, lengths, length, crossings, pinned)
    amounts = np.linalg.lstsq(conditions @ basis, conditions @ joined - targets, rcond=1e-9)[0]
    return [
        wander - basis[piece.part(lengths)] @ amounts
        for wander, piece in zip(wanders, pieces, strict=True)
    ]


def _joined_values(wanders: list[Floats], pieces: list[Lift], lengths: Floats) -> Floats:
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
    """What may be added to the wander to hold it, `(n, k)`.

    A level, a slope, and a bump at each pin.
    """
    pins = crossings if pinned > 0.0 else crossings[:0]
    basis = np.empty((len(lengths), 2 + len(pins)))
    basis[:, 0], basis[:, 1] = 1.0, 2.0 * lengths / length - 1.0
    if len(pins):
        width = _pin_width(pins, length)
        basis[:, 2:] = np.exp(-0.5 * ((lengths[:, None] - pins) / width) ** 2)
    return basis


def _conditions(
    wander: Floats, lengths: Floats, length: float, crossings: Floats, pinned: float
) -> tuple[Floats, Floats]:
    """Conditions on the offsets, `(m, n)`, and the values that they must have, `(m,)`.

    For the mean, the slope, and each pin.
    """
    inside = (lengths >= -1e-9) & (lengths <= length + 1e-9)
    weight = inside / inside.sum()
    rows = _interpolation_rows(lengths, crossings if pinned > 0.0 else crossings[:0])
    conditions = np.concatenate(([weight, weight * (2.0 * lengths / length - 1.0)], rows))
    targets = [0.0, 0.0, *((1.0 - pinned) * float(row @ wander) for row in rows)]
    return conditions, np.array(targets)


def _interpolation_rows(lengths: Floats, at: Floats) -> Floats:
    """Weights that read values at each of `at` from values at `lengths`, linearly, `(k, n)`."""
    after = np.searchsorted(lengths, at).clip(1, len(lengths) - 1)
    shares = (at - lengths[after - 1]) / (lengths[after] - lengths[after - 1])
    rows, each = np.zeros((len(at), len(lengths))), np.arange(len(at))
    rows[each, after - 1], rows[each, after] = 1.0 - shares, shares
    return rows
