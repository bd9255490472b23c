"""Outlines of glyphs and blocks: moved as one piece, then edge and paper.

In mm about their own origin.
"""

from __future__ import annotations

import numpy as np

from inkline.drawing import Role, Shape
from inkline.geometry.arrays import Floats, Points
from inkline.geometry.polygon import bounds, total_area, with_positive_area
from inkline.geometry.polyline import (
    closed_arc_lengths,
    contour_tangents,
    normals_of,
    resampled_contour,
)
from inkline.geometry.union import union_of_contours
from inkline.ink.hand import drift_rms, moves_within
from inkline.ink.master import points_on_grid
from inkline.ink.media.medium import Medium
from inkline.ink.media.paper import Tooth, drawn_tooth_place, pressed_tooth
from inkline.ink.noise import ring_noise
from inkline.ink.pose import Pose
from inkline.ink.roughening import EDGE_STEP_MM
from inkline.ink.setup import MarkSetup
from inkline.ink.strokes import Outline
from inkline.ink.style import Hand

# A block's sides waver over this length, by this share of the drift, never by more than this share
# of its half width.
_WAVER_MM, _WAVER_SHARE, _WAVER_LIMIT = 2.2, 0.45, 0.3
_WAVER_DEVIATIONS = 2.5
_AREA_PLAY = 0.03
"""By which share of its exact area a hand makes a block larger or smaller at most; a part of what
proof allows (6 %), which edges and paper change further."""


def moved_shape(shape: Shape, setup: MarkSetup) -> Outline:
    """The outline of `shape`, moved as one piece; the sides of a block waver besides."""
    local = (
        points_on_grid((contour - np.array(shape.origin)) / setup.px_per_mm)
        for contour in shape.contours
    )
    contours, pose = with_positive_area(tuple(local)), setup.pose()
    half_width = _half_width(contours)
    if not pose.is_still or setup.style.hand.drift > 0.0:
        hand = setup.stream("hand")
        contours = union_of_contours(
            [
                _moved_contour(contour, shape.role, setup, pose, hand, half_width)
                for contour in contours
            ]
        )
    return Outline(contours=contours, half_width=half_width)


def shape_tooth(setup: MarkSetup, contours: tuple[Points, ...]) -> Tooth | Medium | None:
    """The paper under a shape or its medium; `contours` as its master keeps them."""
    return pressed_tooth(
        setup.style.paper,
        drawn_tooth_place(setup.stream("paper")),
        setup.sheet(),
        contours=contours,
        spine=_filling_stroke(contours),
        levels=np.zeros(2),
        halves=np.full(2, np.inf),
        fills=True,
    )


def _filling_stroke(contours: tuple[Points, ...]) -> Points:
    """The line along which a shape is filled, across its middle.

    So streaks run from side to side; it has no rims.
    """
    x0, y0, x1, y1 = bounds(contours)
    middle = 0.5 * (y0 + y1)
    return points_on_grid(np.array([[x0, middle], [max(x1, x0 + 1e-3), middle]]))


def _half_width(contours: tuple[Points, ...]) -> float:
    """A shape's typical half width in mm: area over half the perimeter.

    That of a long stroke of even width.

    A compact shape such as a block comes out at a quarter of its side, which is as much as its edge
    should ever move.
    """
    perimeter = sum(float(closed_arc_lengths(contour)[-1]) for contour in contours)
    return total_area(contours) / max(perimeter, 1e-9)


def _moved_contour(
    contour: Points,
    role: Role,
    setup: MarkSetup,
    pose: Pose,
    hand: np.random.Generator,
    half_width: float,
) -> Points:
    """One contour as the pose places it, within `stray`.

    Each side of a block wavers a little by itself.
    """
    exact = resampled_contour(contour, EDGE_STEP_MM)
    moves = pose.moved_points(exact) - exact
    if role is Role.BLOCK:
        waver = _waver(exact, setup.style.hand, hand, half_width)
        moves = moves - normals_of(contour_tangents(exact)) * waver[:, None]
    moved = np.asarray(exact + moves_within(moves, setup.style.hand.stray))
    return _of_like_area(moved, exact) if role is Role.BLOCK else moved


def _of_like_area(moved: Points, exact: Points) -> Points:
    """A moved block, larger or smaller where its bend has changed its area by too much."""
    ratio = total_area((moved,)) / total_area((exact,))
    wanted = float(np.clip(ratio, 1.0 - _AREA_PLAY, 1.0 + _AREA_PLAY))
    if wanted == ratio:
        return moved
    middle = moved.mean(axis=0)
    return np.asarray(middle + (moved - middle) * np.sqrt(wanted / ratio))


def _waver(
    contour: Points, hand: Hand, generator: np.random.Generator, half_width: float
) -> Floats:
    """How far the sides of a block waver outwards, mm."""
    length = float(closed_arc_lengths(contour)[-1])
    noise = ring_noise(generator, len(contour), length, correlation=_WAVER_MM, exponent=1.0)
    reach = min(drift_rms(hand) * _WAVER_SHARE, _WAVER_LIMIT * half_width / _WAVER_DEVIATIONS)
    return np.clip(noise, -_WAVER_DEVIATIONS, _WAVER_DEVIATIONS) * reach
