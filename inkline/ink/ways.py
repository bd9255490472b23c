"""Where the hand leads the pen along a stroke, in mm about its own origin."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass

import numpy as np

from inkline.drawing import Cap, Role, Stroke
from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polyline import arc_lengths, without_repeats
from inkline.ink.around import drawn_outline
from inkline.ink.edge import largest_offset
from inkline.ink.ends import Tip
from inkline.ink.form.forms import STRAY_SHARE, Form
from inkline.ink.hand import DrawnPath, drawn_curve, sampled_path
from inkline.ink.master import points_on_grid
from inkline.ink.nib import (
    CUT_ROUNDNESS,
    LEAVES,
    farthest_reach,
    largest_pressure,
    shortfalls,
    usual_reach,
)
from inkline.ink.rules import drawn_rule, rule_ends
from inkline.ink.setup import STROKE_SHARE, MarkSetup
from inkline.ink.style import Style
from inkline.ink.timing import Timing
from inkline.ink.together import Asking

# Within a letter the hand wanders in waves shorter than along a rule by this factor: bowls and
# stems bow, and the letter does not lean.
_LETTER_DRIFT_LENGTH = 0.4
LETTER_FREEDOM = 0.3
"""The ends of letters differ by this share of what the ends of rules do."""
# A stroke need not slow for curves wider than this many of its widths.
_EASY_RADIUS_WIDTHS = 8.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Way:
    """Where the hand leads the pen along one stroke.

    Attributes:
        paths: the drawn centreline, one piece for each lift; none for a press of the pen that goes
            nowhere.
        pressed: where such a press lies, `(1, 2)`, or `None`.
        form: the form that the stroke takes as a part of its letter; `None` where that is as laid
            out.
    """

    paths: tuple[DrawnPath, ...]
    pressed: Points | None
    form: Form | None


def drawn_way(stroke: Stroke, setup: MarkSetup, form: Form | None) -> Asking[Way]:
    """The way of the pen along `stroke`, which takes `form` this time."""
    centreline = exact_points(stroke, setup) if form is None else form.points
    if form is None:
        centreline = without_repeats(
            np.concatenate((centreline, centreline[:1])) if stroke.closed else centreline
        )
    if len(centreline) == 1:
        pressed = points_on_grid(setup.pose().moved_points(centreline))
        return Way(paths=(), pressed=pressed, form=form)
    paths = yield from _drawn_paths(stroke, centreline, setup, form)
    return Way(paths=paths, pressed=None, form=form)


def exact_points(stroke: Stroke, setup: MarkSetup) -> Points:
    """The exact centreline of `stroke` in mm about its origin."""
    return points_on_grid((stroke.points - np.array(stroke.origin)) / setup.px_per_mm)


def exact_width(stroke: Stroke, setup: MarkSetup) -> float:
    """The nominal width of `stroke`, mm."""
    return stroke.width_px / setup.px_per_mm


def exact_crossings(stroke: Stroke, setup: MarkSetup) -> Floats:
    """Where others cross `stroke`, mm along it."""
    return np.array(stroke.crossings) / setup.px_per_mm


def reach_of_ends(stroke: Stroke, setup: MarkSetup) -> tuple[object, ...]:
    """What the way of `stroke` depends on besides its hand, its form and its exact course.

    Of nib and edge that is only how far their ink reaches beyond its ends.
    """
    facts = (_is_at_rest(setup.style), _lengthening(stroke, setup))
    points = without_repeats(exact_points(stroke, setup))
    if not _is_rule(stroke, points):
        return facts
    ends = rule_ends(
        float(np.hypot(*(points[-1] - points[0]))),
        setup.style.hand,
        setup.stream("hand"),
        crossings=exact_crossings(stroke, setup),
        room=_room(stroke, setup),
        tip=_tip_of_rule(stroke, setup),
        width=exact_width(stroke, setup),
    )
    return facts + ends


def _is_rule(stroke: Stroke, centreline: Points) -> bool:
    """Whether it is a straight rule, which follows its own law."""
    return stroke.role is Role.RULE and not stroke.closed and len(centreline) == 2


def _drawn_paths(
    stroke: Stroke, centreline: Points, setup: MarkSetup, form: Form | None
) -> Asking[tuple[DrawnPath, ...]]:
    """The drawn centreline.

    Straight rules follow their own law, everything else is posed and then drawn.
    """
    if _is_at_rest(setup.style):
        more = _lengthening(stroke, setup) if stroke.cuts is not None else (0.0, 0.0)
        return (_exact_path(centreline, more),)
    if _is_rule(stroke, centreline):
        return (
            yield from drawn_rule(
                centreline,
                setup.style.hand,
                own=setup.stream("hand"),
                shared=setup.shared_stream(),
                crossings=exact_crossings(stroke, setup),
                room=_room(stroke, setup),
                tip=_tip_of_rule(stroke, setup),
                width=exact_width(stroke, setup),
            )
        )
    return ((yield from _letter_path(stroke, centreline, setup, form)),)


def _room(stroke: Stroke, setup: MarkSetup) -> tuple[float, float]:
    """How far ink may run over before it comes too near the edge of the canvas, mm."""
    return stroke.room_px[0] / setup.px_per_mm, stroke.room_px[1] / setup.px_per_mm


def _tip_of_rule(stroke: Stroke, setup: MarkSetup) -> Tip:
    """How far the ink of a rule reaches beyond its last points."""
    width = exact_width(stroke, setup)
    return Tip(
        usual=0.5 * width * usual_reach(setup.style.nib),
        farthest=_farthest_tip(setup.style, width),
        leaving=max(LEAVES),
    )


def _letter_path(
    stroke: Stroke, centreline: Points, setup: MarkSetup, form: Form | None
) -> Asking[DrawnPath]:
    """The drawn centreline of a letter's stroke, lengthened for the nib's tips.

    By as much as they would fall short of the exact one.
    """
    hand, more = setup.style.hand, (0.0, 0.0)
    exact_length = float(arc_lengths(centreline)[-1])
    if not stroke.closed:
        more = _lengthening(stroke, setup)
        centreline = _lengthened_path(centreline, *more)
    calmer = dataclasses.replace(
        hand,
        drift=hand.drift * STROKE_SHARE,
        stray=hand.stray if form is None else (1.0 - STRAY_SHARE) * hand.stray,
        drift_length=hand.drift_length * _LETTER_DRIFT_LENGTH,
        hook=hand.hook * LETTER_FREEDOM,
    )
    reference = 1.0 / (_EASY_RADIUS_WIDTHS * exact_width(stroke, setup))
    exact, pose, own = sampled_path(centreline), setup.pose(), setup.stream("hand")
    if stroke.role is Role.BLOCK:
        path = yield from drawn_outline(exact, pose, calmer, own=own, reference=reference)
    else:
        ring = None if form is None or form.ring is None else form.ring.later(more[0])
        path = yield from drawn_curve(exact, pose, calmer, own=own, reference=reference, ring=ring)
    return dataclasses.replace(path, lengths=path.lengths - more[0], exact_length=exact_length)


def own_reach(stroke: Stroke) -> float:
    """How far the exact stroke reaches beyond its last points, in half widths."""
    return 0.0 if stroke.cap is Cap.BUTT else 1.0


def _lengthening(stroke: Stroke, setup: MarkSetup) -> tuple[float, float]:
    """By how much a letter's centreline is drawn longer, mm, so that its ink ends where it should.

    A free tip may fall short of the exact one; a cut end reaches as far as its cut says.
    """
    ends = np.ones(2) if stroke.profile is None else stroke.profile[[0, -1]]
    short = (
        shortfalls(setup.style.nib, own_reach(stroke))
        if stroke.cuts is None
        else tuple(cut.reach - CUT_ROUNDNESS for cut in stroke.cuts)
    )
    start, end = (
        0.5 * exact_width(stroke, setup) * max(by, 0.0) * float(own)
        for by, own in zip(short, ends, strict=True)
    )
    return start, end


def _lengthened_path(points: Points, at_start: float, at_end: float) -> Points:
    """A letter's centreline longer by as much at its start and end."""
    before, after = points[0] - points[1], points[-1] - points[-2]
    start = points[:1] + before * (at_start / np.hypot(*before))
    end = points[-1:] + after * (at_end / np.hypot(*after))
    return without_repeats(np.concatenate((start, points, end)))


def _farthest_tip(style: Style, width: float) -> float:
    """How far ink may reach beyond the last point of a drawn centreline, mm."""
    tip = 0.5 * width * largest_pressure(style.nib) * max(1.0, farthest_reach(style.nib, 1.0))
    return tip + largest_offset(style.edge, 0.5 * width)


def _is_at_rest(style: Style) -> bool:
    """Whether neither hand nor nib changes anything.

    Then the exact centreline may stay as it is.
    """
    hand, nib = style.hand, style.nib
    moves = (
        hand.drift,
        hand.tremor,
        hand.run_over,
        hand.fall_short,
        hand.tilt,
        hand.size_play,
        hand.bounce,
    )
    lifts = (hand.hook, hand.lift_every)
    swells = (nib.pressure, nib.touchdown, nib.lift, nib.pooling, nib.crossing_pool, nib.contrast)
    forces = (nib.flex, nib.speeding)
    return (
        not any(moves)
        and not any(lifts)
        and not any(swells)
        and not any(forces)
        and nib.ends != "tapered"
    )


def _exact_path(centreline: Points, more: tuple[float, float]) -> DrawnPath:
    """The exact centreline itself, longer by `more` at its start and end, at no particular time."""
    points = _lengthened_path(centreline, *more) if any(more) else centreline
    lengths = arc_lengths(points)
    still = Timing(times=lengths, speeds=np.ones_like(lengths), mean_speed=1.0)
    return DrawnPath(
        points=points,
        lengths=lengths - more[0],
        exact_length=float(arc_lengths(centreline)[-1]),
        timing=still,
    )
