"""The exact drawing: strokes and shapes as frozen values, which layout makes and ink takes.

Page space throughout: x to the right, y down, in pixels of the canvas, pixel (0, 0) covering [0, 1)
x [0, 1). Nothing here is rounded, and nothing here knows how a drawing is laid out or how it is
inked.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from inkline.geometry.arrays import Floats, Points
from inkline.geometry.boxes import Box


class Role(StrEnum):
    """What a stroke or shape is in the calendar; a style gives each role its own firmness."""

    RULE = "rule"
    NUMERAL = "numeral"
    WORD = "word"
    BLOCK = "block"


class Leaves(StrEnum):
    """What the marks of a layer leave: ink, or white in the ink of the layers before theirs."""

    INK = "ink"
    WHITE = "white"


class Cap(StrEnum):
    """How an exact stroke ends: cut off at its last point, or with half a disc beyond it."""

    BUTT = "butt"
    ROUND = "round"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """An end that the edge of a broad nib cuts straight, in half widths of the stroke there.

    Attributes:
        reach: how far the side that ends first reaches beyond the last point, >= 0.
        lean: how far the other side reaches further: the right one where it is positive, as one
            looks out of the end with y up; the left one where y points down.
    """

    reach: float
    lean: float

    @property
    def mirrored(self) -> Cut:
        """The same cut where y points the other way."""
        return Cut(reach=self.reach, lean=-self.lean)


@dataclass(frozen=True, slots=True, kw_only=True)
class Play:
    """How far a letter's form may lie from how it is laid out, each the most; >= 0.

    In the unit of what it belongs to: px in a drawing, em in lettering.

    Attributes:
        waist: how far what lies between top and foot moves up or down.
        width: how far sides of bowls move outwards or inwards, and tops aside.
        arms: how far free ends reach further or less far.
        turns: how far free ends turn aside.
        closing: how far along its ring a bowl closes earlier or later.
        lines: heights besides top and foot at which what stands there holds, y as in the drawing.
    """

    waist: float
    width: float
    arms: float
    turns: float
    closing: float
    lines: tuple[float, ...] = ()

    @property
    def most(self) -> tuple[float, float, float, float, float]:
        """Waist, width, arms, turns and closing."""
        return self.waist, self.width, self.arms, self.turns, self.closing

    def freed(self, factor: float) -> Play:
        """`factor` times as much play about the same lines."""
        return replace(self.times(factor), lines=self.lines)

    def times(self, factor: float) -> Play:
        """The same play where everything is larger by `factor`."""
        waist, width, arms, turns, closing = (value * factor for value in self.most)
        return Play(
            waist=waist,
            width=width,
            arms=arms,
            turns=turns,
            closing=closing,
            lines=tuple(line * factor for line in self.lines),
        )


def _frozen_points(points: Points) -> Points:
    """A read-only float64 copy of `points`, `(n, 2)`, all finite.

    Raises:
        ValueError: another shape, or a coordinate that is not finite.
    """
    array = np.array(points, dtype=np.float64, order="C")
    if array.ndim != 2 or array.shape[1] != 2:
        raise ValueError(f"points must have the shape (n, 2), not {array.shape}")
    if not np.isfinite(array).all():
        raise ValueError("points must be finite")
    array.setflags(write=False)
    return array


def _frozen_profile(profile: Floats, n_points: int) -> Floats:
    """A read-only copy of a stroke's profile.

    Raises:
        ValueError: it has not one finite value above 0 for each point.
    """
    array = np.array(profile, dtype=np.float64)
    if array.shape != (n_points,) or not (np.isfinite(array).all() and (array > 0).all()):
        raise ValueError(f"a profile needs one finite width above 0 for each of {n_points} points")
    array.setflags(write=False)
    return array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stroke:
    """One exact movement of the pen with a constant nominal width.

    Attributes:
        name: full name, unique in a kit, such as `tall/dates-3/17/1`; it seeds the stroke's ink.
        group: what moves as one piece with it: the full name of its numeral or word's letter
            (`tall/dates-3/17`), or of the stroke itself for a rule.
        role: what it is in the calendar.
        points: the centreline in px, `(n, 2)`, n >= 2 (a press of the pen that goes nowhere is two
            equal points), in the direction in which it is drawn, curves already flattened to within
            0.01 px.
        width_px: nominal width, > 0.
        cap: how the exact stroke ends.
        origin: the point it belongs to in px: a glyph's baseline point, a rule's start. Moving
            origin and points together moves the drawing without drawing it anew.
        crossings: arc lengths in px along the stroke at which other strokes cross it, ascending.
        room_px: how far ink may run beyond the start and the end of the centreline before it comes
            too near the canvas edge; infinite where that is of no concern.
        shared: name of the group of neighbouring strokes that share a little drift, or "" for none.
        closed: the pen returns to its start (the first point is not repeated).
        profile: width over nominal width at each point, `(n,)`, > 0, for a stroke that was traced
            from an outline and swells as that does, or whose glyph carries its widths; `None` for
            an even one.
        cuts: how an edge cuts its start and its end; `None` where the pen shapes its ends.
        play: how far its letter's form may differ from one drawing to the next, its lines about the
            origin; `None` where the form stays as it is.
    """

    name: str
    group: str
    role: Role
    points: Points
    width_px: float
    cap: Cap
    origin: tuple[float, float]
    crossings: tuple[float, ...] = ()
    room_px: tuple[float, float] = (np.inf, np.inf)
    shared: str = ""
    closed: bool = False
    profile: Floats | None = None
    cuts: tuple[Cut, Cut] | None = None
    play: Play | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "points", _frozen_points(self.points))
        if self.profile is not None:
            object.__setattr__(self, "profile", _frozen_profile(self.profile, len(self.points)))
        if len(self.points) < 2:
            raise ValueError(
                f"stroke {self.name!r} needs at least two points, not {len(self.points)}"
            )
        if not 0 < self.width_px < np.inf:
            raise ValueError(f"stroke {self.name!r} needs a width above 0 px, not {self.width_px}")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shape:
    """One exact filled shape: a glyph outline or a block.

    Attributes:
        name: full name, as of a stroke.
        group: what moves as one piece with it, as of a stroke.
        role: what it is in the calendar.
        contours: closed contours in px, each `(n, 2)`, n >= 3; simple and apart from each other,
            outer ones of positive area by the page's own coordinates
            (`geometry.polygon.signed_area`), holes negative.
        origin: the point it belongs to in px.
    """

    name: str
    group: str
    role: Role
    contours: tuple[Points, ...]
    origin: tuple[float, float]

    def __post_init__(self) -> None:
        object.__setattr__(
            self, "contours", tuple(_frozen_points(contour) for contour in self.contours)
        )
        if not self.contours or min(len(contour) for contour in self.contours) < 3:
            raise ValueError(f"shape {self.name!r} needs contours of at least three points each")


Mark = Stroke | Shape
"""Anything that a drawing holds."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Layer:
    """Marks that belong together on one stamp: its rules, its numerals, its words or its blocks.

    Attributes:
        name: what it is called on its stamp.
        marks: what is drawn.
        leaves: whether its marks are ink, or are cut out of the ink of all layers before it. They
            are drawn alike.
    """

    name: str
    marks: tuple[Mark, ...]
    leaves: Leaves = Leaves.INK


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drawing:
    """The exact drawing of one stamp.

    Attributes:
        name: the stamp's name, such as `tall/dates-3`.
        canvas: width and height in px.
        sheet_px: how many px of this drawing make the width of the whole sheet; the same for a
            whole kit, so that words on small canvases are inked as large as the grids that they go
            with.
        layers: what is drawn, back to front; layers that leave white come last.
    """

    name: str
    canvas: tuple[int, int]
    sheet_px: float
    layers: tuple[Layer, ...]

    def __post_init__(self) -> None:
        leaves = [layer.leaves for layer in self.layers]
        if leaves != sorted(leaves, key=[Leaves.INK, Leaves.WHITE].index):
            raise ValueError(
                f"drawing {self.name!r} has ink over a layer that leaves white, which must come "
                f"last"
            )

    @property
    def marks(self) -> Iterator[Mark]:
        """All marks of all layers, in order."""
        return (mark for layer in self.layers for mark in layer.marks)

    def marks_that_leave(self, leaves: Leaves) -> tuple[Mark, ...]:
        """The marks of the layers that leave ink, or of those that leave white, in order."""
        return tuple(
            mark for layer in self.layers if layer.leaves is leaves for mark in layer.marks
        )


def box_of_mark(mark: Mark) -> Box:
    """The box about the exact ink of a mark, px; a stroke is taken for as wide as nominal."""
    if isinstance(mark, Stroke):
        points, reach = mark.points, 0.5 * mark.width_px
    else:
        points, reach = np.concatenate(mark.contours), 0.0
    low, high = points.min(axis=0) - reach, points.max(axis=0) + reach
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])
