"""Inked drawings: the drawn outlines of one stamp, in px of its canvas."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from inkline.geometry.arrays import Points
from inkline.geometry.boxes import touching_clusters
from inkline.geometry.polygon import bounds
from inkline.geometry.stitching import united_shapes
from inkline.ink.fillet import filleted_contour
from inkline.ink.master import Master
from inkline.ink.media.medium import Medium
from inkline.ink.media.paper import Tooth


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class InkedMark:
    """The ink of one mark on its canvas.

    Attributes:
        name: the mark's full name.
        contours: simple contours in px, each `(n, 2)`; outer ones of positive area in the page's
            own coordinates, holes negative.
        origin: the mark's origin in px.
        px_per_mm: px to a mm of the sheet.
        tooth: the paper under it or its medium, in mm about its origin, or `None` where it is
            solid.
    """

    name: str
    contours: tuple[Points, ...]
    origin: tuple[float, float]
    px_per_mm: float
    tooth: Tooth | Medium | None

    def at_scale(self, factor: float) -> InkedMark:
        """The same ink on a canvas `factor` times as large."""
        return replace(
            self,
            contours=tuple(contour * factor for contour in self.contours),
            origin=(self.origin[0] * factor, self.origin[1] * factor),
            px_per_mm=self.px_per_mm * factor,
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class InkedDrawing:
    """The ink of one stamp.

    Attributes:
        name: the stamp's name.
        canvas: width and height in px.
        marks: its marks, back to front.
        masters: masters of all marks of the drawing in its own order: those of `marks`, marks
            without ink, then those of `cut`.
        n_drawn: how many of them were drawn just now rather than taken from masters kept.
        fillet_px: radius to which wet ink fills the corners where marks cross.
        cut: what is cut out of the ink, inked by itself on the same canvas and without masters of
            its own; or `None`.
    """

    name: str
    canvas: tuple[int, int]
    marks: tuple[InkedMark, ...]
    masters: tuple[Master, ...]
    n_drawn: int
    fillet_px: float = 0.0
    cut: InkedDrawing | None = None

    def at_scale(self, factor: float) -> InkedDrawing:
        """The same ink on a canvas `factor` times as large, its sides rounded to whole px.

        The lines are the same ones; masters are the same values, since they know no px.
        """
        return replace(
            self,
            canvas=scaled_canvas(self.canvas, factor),
            marks=tuple(mark.at_scale(factor) for mark in self.marks),
            fillet_px=self.fillet_px * factor,
            cut=None if self.cut is None else self.cut.at_scale(factor),
        )


def scaled_canvas(canvas: tuple[int, int], factor: float) -> tuple[int, int]:
    """Sides in whole px, one at least, of a canvas `factor` times as large."""
    width, height = (max(1, round(side * factor)) for side in canvas)
    return width, height


def united_contours(inked: InkedDrawing) -> tuple[Points, ...]:
    """All ink of the stamp as simple contours that nowhere overlap, in px.

    What is cut out of it is not looked at.

    Only marks whose boxes touch are united; a sheet of numerals costs next to nothing.
    """
    return _united_where_touching([mark.contours for mark in inked.marks], inked.fillet_px)


def united_with_cut(ink: tuple[Points, ...], cut: tuple[Points, ...]) -> tuple[Points, ...]:
    """The union of ink and what is cut out of it, each given as `united_contours` gives it.

    Exact areas of this and of `cut` alone differ by the area of the ink that is left, on every
    pixel.
    """
    return united_shapes([ink, cut])


def _united_where_touching(
    shapes: list[tuple[Points, ...]], fillet_px: float
) -> tuple[Points, ...]:
    """Shapes united where their boxes touch."""
    inked = [contours for contours in shapes if contours]
    united: list[Points] = []
    for cluster in touching_clusters(np.array([bounds(contours) for contours in inked])):
        parts = [inked[index] for index in cluster]
        united.extend(parts[0] if len(parts) == 1 else _union_of_touching(parts, fillet_px))
    return tuple(united)


def _union_of_touching(shapes: list[tuple[Points, ...]], fillet_px: float) -> tuple[Points, ...]:
    """Marks that touch, united; wet ink fills the corners between them."""
    whole = united_shapes(shapes)
    return (
        tuple(filleted_contour(contour, fillet_px) for contour in whole)
        if fillet_px > 0.0
        else whole
    )
