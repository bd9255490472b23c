"""The ink engine: an exact drawing in, a drawn one out.

Each stroke goes through hand (where the centreline runs), nib (how wide it is), edge (how rough its outline is) and paper (what
stays bare); outlines and blocks move as one piece and enter at the edge. Everything happens in mm of the sheet about the
mark's own origin; the scale to the canvas is applied once, at the end.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from inkline.drawing import Cap, Drawing, Mark, Role, Shape, Stroke
from inkline.geometry.polygon import positively_wound, total_area
from inkline.geometry.polyline import closed_arc_lengths, resampled_contour, tangents, turned, without_repeats
from inkline.geometry.sweep import swept_outline, swept_ring
from inkline.geometry.union import united
from inkline.ink.edge import EDGE_STEP_MM, inked_contours, is_quiet, mood_peak
from inkline.ink.hand import DrawnPath, ExactPath, drawn_curve, drawn_rule, sampled_path
from inkline.ink.inked import InkedDrawing, InkedMark
from inkline.ink.master import Master, master_key, on_grid
from inkline.ink.nib import end_reaches, pressures
from inkline.ink.noise import ring_noise, stream
from inkline.ink.paper import area_probes, ink_levels, pressed_tooth, stroke_probes
from inkline.ink.pose import Pose, drawn_pose
from inkline.ink.style import Hand, Style, styled_for
from inkline.ink.timing import Timing

Points = NDArray[np.float64]
Floats = NDArray[np.float64]

# Arcs of swept outlines keep within this of a true arc, in mm: 0.001 px on 2500 px where the outline is kept as it is, 0.04 px
# where ink then rounds and roughens it (finer costs time in the union and nobody sees it).
_EXACT_TOLERANCE_MM, _INKED_TOLERANCE_MM = 0.00004, 0.0014
# No tip reaches further beyond its centreline than this many half widths, whatever pressure and pooling do there.
_LARGEST_TIP = 1.4
# A stroke need not slow for curves wider than this many of its widths.
_EASY_RADIUS_WIDTHS = 8.0
# A letter bends over about its own height, a block over a part of its side.
_LETTER_BEND_MM, _BLOCK_BEND_MM = 5.0, 6.0
# Of a letter's drift, the shares that bend the whole letter and that belong to each stroke (squares add to one).
_LETTER_SHARE, _STROKE_SHARE = 0.8, 0.6
# A block's sides waver over this length, by this share of the drift.
_WAVER_MM, _WAVER_SHARE = 2.2, 0.45


def draw(
    drawing: Drawing,
    style: Style,
    number: int,
    *,
    again: Mapping[str, int] | None = None,
    kept: Mapping[str, Master] | None = None,
) -> InkedDrawing:
    """The ink of `drawing` in `style`.

    Args:
        drawing: the exact drawing.
        style: how it is drawn.
        number: the drawing number, which seeds every stroke together with the stroke's name.
        again: for a mark or a numeral by full name, how many times it was asked to be drawn afresh.
        kept: masters by key; a mark whose key is among them is not drawn.

    Returns:
        Contours in px for each mark, its masters, and how many were drawn.
    """
    px_per_mm = drawing.sheet_px / style.drawn_at
    masters, n_drawn = [], 0
    for mark in drawing.marks:
        count = _times_again(mark.name, again or {})
        key = master_key(mark, style, number=number, again=count, px_per_mm=px_per_mm)
        master = (kept or {}).get(key)
        if master is None:
            master = _drawn_master(mark, style, number, again or {}, px_per_mm, key)
            n_drawn += 1
        masters.append(master)
    marks = tuple(
        _placed(mark, master, px_per_mm) for mark, master in zip(drawing.marks, masters, strict=True) if master.contours
    )
    return InkedDrawing(name=drawing.name, canvas=drawing.canvas, marks=marks, masters=tuple(masters), n_drawn=n_drawn)


def _placed(mark: Mark, master: Master, px_per_mm: float) -> InkedMark:
    """A master on its canvas; the one place where the sheet's scale is applied."""
    origin = np.array(mark.origin)
    contours = tuple(contour * px_per_mm + origin for contour in master.contours)
    return InkedMark(name=mark.name, contours=contours, origin=mark.origin, px_per_mm=px_per_mm, tooth=master.tooth)


def _times_again(name: str, again: Mapping[str, int]) -> int:
    """How often `name`, or the numeral or stamp that it is part of, was asked to be drawn again."""
    if not again:
        return 0
    parts = name.split("/")
    whole = ["/".join(parts[:n]) for n in range(1, len(parts) + 1)]
    return sum(again.get(part, 0) for part in {*whole, *(part.rsplit(".", 1)[0] for part in whole)})


def _drawn_master(
    mark: Mark, style: Style, number: int, again: Mapping[str, int], px_per_mm: float, key: str
) -> Master:
    """`mark` drawn in mm about its origin."""
    mine = styled_for(style, mark.role)
    times = _times_again(mark.name, again)
    streams = {part: stream(number, mark.name, times, part) for part in ("hand", "nib", "edge", "paper")}
    pose = _pose(mark, mine.hand, number, again)
    if isinstance(mark, Shape):
        return _shape_master(mark, mine, streams, pose, px_per_mm, key)
    shared = stream(number, mark.shared or mark.name + "|alone", 0, "hand")
    return _stroke_master(mark, mine, streams | {"shared": shared}, pose, px_per_mm, key)


def _pose(mark: Mark, hand: Hand, number: int, again: Mapping[str, int]) -> Pose:
    """How the mark's group sits; a rule is held by its own projection instead."""
    generator = stream(number, mark.group, _times_again(mark.group, again), "pose")
    if mark.role is Role.BLOCK:
        still = dataclasses.replace(hand, tilt=0.0, size_play=0.0, bounce=0.0)
        return drawn_pose(generator, still, bend=hand.drift * _LETTER_SHARE, bend_length=_BLOCK_BEND_MM)
    return drawn_pose(generator, hand, bend=hand.drift * _LETTER_SHARE, bend_length=_LETTER_BEND_MM)


def _stroke_master(
    stroke: Stroke, style: Style, streams: Mapping[str, np.random.Generator], pose: Pose, px_per_mm: float, key: str
) -> Master:
    """A stroke through hand, nib, edge and paper."""
    points = on_grid((stroke.points - np.array(stroke.origin)) / px_per_mm)
    width = stroke.width_px / px_per_mm
    crossings = np.array(stroke.crossings) / px_per_mm
    centreline = without_repeats(np.concatenate((points, points[:1])) if stroke.closed else points)
    if len(centreline) == 1:
        return _press_master(centreline[0], width, style, streams, pose, key)
    path = _hand_path(stroke, centreline, style, streams, pose, width, crossings, px_per_mm)
    profile = pressures(path, style.nib, streams["nib"], width=width, crossings=crossings)
    reaches = end_reaches(style.nib, streams["nib"], 0.0 if stroke.cap is Cap.BUTT else 1.0)
    outline = _swept(stroke, path, 0.5 * width * profile, reaches, _tolerance(style))
    contours = inked_contours(outline, style.edge, streams["edge"], half_width=0.5 * width)
    levels = ink_levels(profile, np.clip(path.lengths / path.exact_length, 0.0, 1.0), style.paper)
    tooth = pressed_tooth(
        style.paper,
        streams["paper"],
        spine=path.points,
        levels=levels,
        probes=lambda: stroke_probes(path.points, 0.5 * width * profile, levels),
    )
    return Master(
        key=key,
        contours=tuple(on_grid(contour) for contour in contours),
        path=on_grid(path.points),
        times=path.timing.times,
        pressures=profile,
        levels=levels,
        tooth=tooth,
    )


def _hand_path(
    stroke: Stroke,
    centreline: Points,
    style: Style,
    streams: Mapping[str, np.random.Generator],
    pose: Pose,
    width: float,
    crossings: Floats,
    px_per_mm: float,
) -> DrawnPath:
    """The drawn centreline: straight rules by their own law, everything else posed and then drawn."""
    if _is_at_rest(style):
        return _exact_path(centreline)
    if stroke.role is Role.RULE and len(centreline) == 2:
        margin = _LARGEST_TIP * 0.5 * width + 4.0 * style.edge.raggedness * mood_peak(style.edge.liveliness)
        room = (stroke.room_px[0] / px_per_mm - margin, stroke.room_px[1] / px_per_mm - margin)
        return drawn_rule(
            centreline, style.hand, own=streams["hand"], shared=streams["shared"], crossings=crossings, room=room
        )
    exact = sampled_path(centreline)
    posed = ExactPath(points=pose.moved(exact.points), lengths=exact.lengths, stops=exact.stops)
    calmer = dataclasses.replace(style.hand, drift=style.hand.drift * _STROKE_SHARE)
    reference = 1.0 / (_EASY_RADIUS_WIDTHS * width)
    return drawn_curve(posed, calmer, own=streams["hand"], reference=reference)


def _is_at_rest(style: Style) -> bool:
    """Whether neither hand nor nib changes anything, so that the exact centreline may stay as it is."""
    hand, nib = style.hand, style.nib
    moves = (hand.drift, hand.tremor, hand.run_over, hand.fall_short, hand.tilt, hand.size_play, hand.bounce)
    swells = (nib.pressure, nib.touchdown, nib.lift, nib.pooling, nib.crossing_pool, nib.contrast)
    return not any(moves) and not any(swells)


def _exact_path(centreline: Points) -> DrawnPath:
    """The exact centreline itself, at no particular time."""
    lengths = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(centreline, axis=0).T))))
    still = Timing(times=lengths, speeds=np.ones_like(lengths), mean_speed=1.0)
    return DrawnPath(points=centreline, lengths=lengths, exact_length=float(lengths[-1]), timing=still)


def _swept(
    stroke: Stroke, path: DrawnPath, half_widths: Floats, reaches: tuple[float, float], tolerance: float
) -> tuple[Points, ...]:
    """The outline that the nib leaves."""
    if stroke.closed:
        return swept_ring(path.points[:-1], half_widths[:-1], tolerance=tolerance)
    return swept_outline(path.points, half_widths, round_start=reaches[0], round_end=reaches[1], tolerance=tolerance)


def _tolerance(style: Style) -> float:
    """How near swept outlines must come to true arcs, mm."""
    return _EXACT_TOLERANCE_MM if is_quiet(style.edge) else _INKED_TOLERANCE_MM


def _press_master(
    point: Points, width: float, style: Style, streams: Mapping[str, np.random.Generator], pose: Pose, key: str
) -> Master:
    """A press of the pen that goes nowhere: a dot, posed, a little larger or smaller each time."""
    centre = pose.moved(point[None, :])
    grown = 1.0 + style.nib.pressure * float(np.clip(streams["nib"].standard_normal(), -2.0, 2.0))
    half = 0.5 * width * grown
    outline = swept_outline(centre, np.array([half]), round_start=1.0, round_end=1.0, tolerance=_tolerance(style))
    contours = inked_contours(outline, style.edge, streams["edge"], half_width=half)
    tooth = pressed_tooth(
        style.paper, streams["paper"], spine=centre, levels=np.zeros(1), probes=lambda: area_probes(contours)
    )
    return Master(key=key, contours=tuple(on_grid(contour) for contour in contours), tooth=tooth)


def _shape_master(
    shape: Shape, style: Style, streams: Mapping[str, np.random.Generator], pose: Pose, px_per_mm: float, key: str
) -> Master:
    """An outline or a block: moved as one piece, its sides wavering, then edge and paper."""
    local = tuple(on_grid((contour - np.array(shape.origin)) / px_per_mm) for contour in shape.contours)
    contours = positively_wound(local)
    half_width = _half_width(contours)
    if not pose.is_still or style.hand.drift > 0.0:
        contours = _wavering(contours, shape.role, style, streams["hand"], pose, half_width)
    contours = inked_contours(contours, style.edge, streams["edge"], half_width=half_width)
    tooth = pressed_tooth(
        style.paper,
        streams["paper"],
        spine=np.zeros((1, 2)),
        levels=np.zeros(1),
        probes=lambda: area_probes(contours),
    )
    return Master(key=key, contours=tuple(on_grid(contour) for contour in contours), tooth=tooth)


def _half_width(contours: tuple[Points, ...]) -> float:
    """A shape's typical half width in mm: area over half the perimeter, that of a long stroke of even width.

    A compact shape such as a block comes out at a quarter of its side, which is as much as its edge should ever move.
    """
    perimeter = sum(float(closed_arc_lengths(contour)[-1]) for contour in contours)
    return total_area(contours) / max(perimeter, 1e-9)


def _wavering(
    contours: tuple[Points, ...],
    role: Role,
    style: Style,
    generator: np.random.Generator,
    pose: Pose,
    half_width: float,
) -> tuple[Points, ...]:
    """The contours posed, and for blocks each side wavering a little by itself."""
    moved = []
    for contour in contours:
        points = pose.moved(resampled_contour(contour, EDGE_STEP_MM))
        if role is Role.BLOCK:
            length = float(closed_arc_lengths(points)[-1])
            waver = ring_noise(generator, len(points), length, correlation=_WAVER_MM, exponent=1.0)
            offsets = np.clip(waver, -2.5, 2.5) * min(style.hand.drift * _WAVER_SHARE, 0.3 * half_width)
            closed = np.concatenate((points[-1:], points, points[:1]))
            points = points - turned(tangents(closed)[1:-1]) * offsets[:, None]
        moved.append(points)
    return united(moved)
