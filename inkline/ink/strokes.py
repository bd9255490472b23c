"""A stroke through hand, nib, edge and paper, in mm about its own origin."""

from __future__ import annotations

import dataclasses

import numpy as np

from inkline.drawing import Cap, Role, Stroke
from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polyline import arc_lengths, without_repeats
from inkline.geometry.stitching import united_shapes
from inkline.geometry.sweep import swept_outline, swept_ring
from inkline.geometry.union import union_of_contours
from inkline.ink.around import drawn_outline
from inkline.ink.edge import inked_contours, is_quiet, largest_offset
from inkline.ink.ends import Tip
from inkline.ink.forms import STRAY_SHARE
from inkline.ink.hand import DrawnPath, drawn_curve, sampled_path
from inkline.ink.master import Master, points_on_grid, rounded_values
from inkline.ink.media.flow import overlapping_levels, stroke_levels
from inkline.ink.media.paper import drawn_tooth_place, pressed_tooth
from inkline.ink.nib import (
    CUT_ROUNDNESS,
    LEAVES,
    Tips,
    cut_tips,
    drawn_tips,
    farthest_reach,
    largest_pressure,
    pressures,
    shortfalls,
    usual_reach,
)
from inkline.ink.profiles import own_profile, pressed_profile
from inkline.ink.rules import drawn_rule
from inkline.ink.setup import STROKE_SHARE, MarkSetup
from inkline.ink.specks import specks_beside
from inkline.ink.style import Style
from inkline.ink.timing import Timing

# Arcs of swept outlines keep within this of a true arc, in mm: 0.001 px on 2500 px where the
# outline is kept as it is, 0.04 px where ink then rounds and roughens it (finer costs time in the
# union and nobody sees it).
_EXACT_TOLERANCE_MM, _INKED_TOLERANCE_MM = 0.00004, 0.0014
# Within a letter the hand wanders in waves shorter than along a rule by this factor: bowls and
# stems bow, and the letter does not lean.
_LETTER_DRIFT_LENGTH = 0.4
# The ends of letters differ by this share of what the ends of rules do.
_LETTER_FREEDOM = 0.3
# Whose ends are those of letters.
_LETTERS = frozenset({Role.NUMERAL, Role.WORD})
# A stroke need not slow for curves wider than this many of its widths.
_EASY_RADIUS_WIDTHS = 8.0


def stroke_master(stroke: Stroke, setup: MarkSetup) -> Master:
    """`stroke` drawn: its hand, its nib, its edge, and the paper under it."""
    points = points_on_grid((stroke.points - np.array(stroke.origin)) / setup.px_per_mm)
    width = stroke.width_px / setup.px_per_mm
    centreline = (
        without_repeats(np.concatenate((points, points[:1])) if stroke.closed else points)
        if setup.form is None
        else setup.form.points
    )
    if len(centreline) == 1:
        return _press_master(centreline[0], width, setup)
    crossings = np.array(stroke.crossings) / setup.px_per_mm
    paths = _drawn_paths(stroke, centreline, setup, width, crossings)
    freedom = _LETTER_FREEDOM if stroke.role in _LETTERS else 1.0
    nib, pen = setup.style.nib, setup.nib
    if stroke.closed:
        nib = dataclasses.replace(nib, touchdown=0.0, lift=0.0, pooling=0.0)
    joined = (False, False) if setup.form is None else setup.form.joined
    own = own_profile(stroke, points, setup.form)
    profiles = [
        pressed_profile(
            own(path.lengths),
            pressures(
                path, nib, pen, width=width, crossings=crossings, freedom=freedom, joined=joined
            ),
        )
        for path in paths
    ]
    outlines = []
    for path, profile in zip(paths, profiles, strict=True):
        tips = drawn_tips(nib, pen, own=_own_reach(stroke), freedom=freedom)
        if stroke.cuts is not None:
            tips = cut_tips(tips, stroke.cuts)
        outlines.append(_swept_contours(stroke, path, 0.5 * width * profile, tips, setup.style))
    outline = (
        outlines[0]
        if len(outlines) == 1
        else union_of_contours([part for parts in outlines for part in parts])
    )
    return _finished_master(paths, profiles, outline, setup, width)


def _finished_master(
    paths: tuple[DrawnPath, ...],
    profiles: list[Floats],
    outline: tuple[Points, ...],
    setup: MarkSetup,
    width: float,
) -> Master:
    """The master of a swept outline: edge, paper and specks."""
    style = setup.style
    contours = inked_contours(outline, style.edge, setup.edge, half_width=0.5 * width)
    path = points_on_grid(np.concatenate([drawn.points for drawn in paths]))
    profile = rounded_values(np.concatenate(profiles))
    halves = rounded_values(0.5 * width * profile)
    draws = drawn_tooth_place(setup.paper)
    specks = specks_beside(path, halves, style.paper, setup.paper)
    starts = setup.paper.random((len(paths), 3))
    lifts = [
        stroke_levels(drawn, prof, style.paper, width=width, start=start)
        for drawn, prof, start in zip(paths, profiles, starts, strict=True)
    ]
    levels = rounded_values(np.concatenate(overlapping_levels(paths, lifts)))
    if specks:
        contours = united_shapes([contours, *([speck] for speck in specks)])
    contours = tuple(points_on_grid(contour) for contour in contours)
    tooth = pressed_tooth(
        style.paper,
        draws,
        setup.sheet,
        contours=contours,
        spine=path,
        levels=levels,
        halves=halves,
    )
    return Master(
        key=setup.key,
        contours=contours,
        path=path,
        times=rounded_values(np.concatenate([drawn.timing.times for drawn in paths])),
        pressures=profile,
        levels=levels,
        tooth=tooth,
    )


def _drawn_paths(
    stroke: Stroke, centreline: Points, setup: MarkSetup, width: float, crossings: Floats
) -> tuple[DrawnPath, ...]:
    """The drawn centreline.

    Straight rules follow their own law, everything else is posed and then drawn.
    """
    style = setup.style
    if _is_at_rest(style):
        more = _lengthening(stroke, style, width) if stroke.cuts is not None else (0.0, 0.0)
        return (_exact_path(centreline, more),)
    if stroke.role is Role.RULE and len(centreline) == 2:
        return drawn_rule(
            centreline,
            style.hand,
            own=setup.hand,
            shared=setup.shared,
            crossings=crossings,
            room=(stroke.room_px[0] / setup.px_per_mm, stroke.room_px[1] / setup.px_per_mm),
            tip=Tip(
                usual=0.5 * width * usual_reach(style.nib),
                farthest=_farthest_tip(style, width),
                leaving=max(LEAVES),
            ),
            width=width,
        )
    return (_letter_path(stroke, centreline, setup, width),)


def _letter_path(stroke: Stroke, centreline: Points, setup: MarkSetup, width: float) -> DrawnPath:
    """The drawn centreline of a letter's stroke, lengthened for the nib's tips.

    By as much as they would fall short of the exact one.
    """
    hand, more = setup.style.hand, (0.0, 0.0)
    stray = hand.stray if setup.form is None else (1.0 - STRAY_SHARE) * hand.stray
    exact_length = float(arc_lengths(centreline)[-1])
    if not stroke.closed:
        more = _lengthening(stroke, setup.style, width)
        centreline = _lengthened_path(centreline, *more)
    calmer = dataclasses.replace(
        hand,
        drift=hand.drift * STROKE_SHARE,
        stray=stray,
        drift_length=hand.drift_length * _LETTER_DRIFT_LENGTH,
        hook=hand.hook * _LETTER_FREEDOM,
    )
    reference, exact = 1.0 / (_EASY_RADIUS_WIDTHS * width), sampled_path(centreline)
    if stroke.role is Role.BLOCK:
        path = drawn_outline(exact, setup.pose, calmer, own=setup.hand, reference=reference)
    else:
        ring = None if setup.form is None else setup.form.ring
        path = drawn_curve(
            exact,
            setup.pose,
            calmer,
            own=setup.hand,
            reference=reference,
            ring=None if ring is None else ring.later(more[0]),
        )
    return dataclasses.replace(path, lengths=path.lengths - more[0], exact_length=exact_length)


def _own_reach(stroke: Stroke) -> float:
    """How far the exact stroke reaches beyond its last points, in half widths."""
    return 0.0 if stroke.cap is Cap.BUTT else 1.0


def _lengthening(stroke: Stroke, style: Style, width: float) -> tuple[float, float]:
    """By how much a letter's centreline is drawn longer, mm, so that its ink ends where it should.

    A free tip may fall short of the exact one; a cut end reaches as far as its cut says.
    """
    ends = np.ones(2) if stroke.profile is None else stroke.profile[[0, -1]]
    short = (
        shortfalls(style.nib, _own_reach(stroke))
        if stroke.cuts is None
        else tuple(cut.reach - CUT_ROUNDNESS for cut in stroke.cuts)
    )
    start, end = (
        0.5 * width * max(by, 0.0) * float(own) for by, own in zip(short, ends, strict=True)
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


def _swept_contours(
    stroke: Stroke,
    path: DrawnPath,
    half_widths: Floats,
    tips: Tips,
    style: Style,
) -> tuple[Points, ...]:
    """The outline that the nib leaves."""
    if stroke.closed:
        points = _closed_up(path.points, path.lengths)
        halves = _closed_up(half_widths, path.lengths)
        return swept_ring(points[:-1], halves[:-1], tolerance=_tolerance(style))
    return swept_outline(
        path.points,
        half_widths,
        round_start=tips.reaches[0],
        round_end=tips.reaches[1],
        skews=tips.skews,
        tolerance=_tolerance(style),
    )


def _closed_up(values: Floats, lengths: Floats) -> Floats:
    """Values along a ring, points or widths, that end where they began.

    What they are off by is spread over the whole length, so that no step shows where it closes.
    """
    shares = (lengths - lengths[0]) / (lengths[-1] - lengths[0])
    off = values[0] - values[-1]
    return np.asarray(values + np.multiply.outer(shares, off))


def _tolerance(style: Style) -> float:
    """How near swept outlines must come to true arcs, mm."""
    return _EXACT_TOLERANCE_MM if is_quiet(style.edge) else _INKED_TOLERANCE_MM


def _press_master(point: Points, width: float, setup: MarkSetup) -> Master:
    """A press of the pen that goes nowhere: a dot, posed, a little larger or smaller each time."""
    style = setup.style
    centre = points_on_grid(setup.pose.moved_points(point[None, :]))
    half = (
        0.5
        * width
        * (1.0 + style.nib.pressure * float(np.clip(setup.nib.standard_normal(), -2.0, 2.0)))
    )
    outline = swept_outline(
        centre, np.array([half]), round_start=1.0, round_end=1.0, tolerance=_tolerance(style)
    )
    inked = inked_contours(outline, style.edge, setup.edge, half_width=half)
    contours = tuple(points_on_grid(contour) for contour in inked)
    tooth = pressed_tooth(
        style.paper,
        drawn_tooth_place(setup.paper),
        setup.sheet,
        contours=contours,
        spine=centre,
        levels=np.zeros(1),
        halves=rounded_values(np.array([half])),
    )
    return Master(
        key=setup.key,
        contours=contours,
        tooth=tooth,
    )
