"""Inked drawings: the drawn outlines of one stamp, in px of its canvas."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.polygon import bounds
from inkline.geometry.stitching import united_shapes
from inkline.ink.fillet import filleted
from inkline.ink.master import Master
from inkline.ink.paper import Tooth

Points = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class InkedMark:
    """The ink of one mark on its canvas.

    Attributes:
        name: the mark's full name.
        contours: simple contours in px, each `(n, 2)`; outer ones of positive area in the page's own coordinates, holes negative.
        origin: the mark's origin in px.
        px_per_mm: px to a mm of the sheet.
        tooth: the paper under it in mm about its origin, or `None` where it is solid.
    """

    name: str
    contours: tuple[Points, ...]
    origin: tuple[float, float]
    px_per_mm: float
    tooth: Tooth | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class InkedDrawing:
    """The ink of one stamp.

    Attributes:
        name: the stamp's name.
        canvas: width and height in px.
        marks: its marks, back to front.
        masters: their masters, in the same order.
        n_drawn: how many of them were drawn just now rather than taken from masters kept.
        fillet_px: radius to which wet ink fills the corners where marks cross.
    """

    name: str
    canvas: tuple[int, int]
    marks: tuple[InkedMark, ...]
    masters: tuple[Master, ...]
    n_drawn: int
    fillet_px: float = 0.0


def united_contours(inked: InkedDrawing) -> tuple[Points, ...]:
    """All ink of the stamp as simple contours that nowhere overlap, in px.

    Only marks whose boxes touch are united; a sheet of numerals costs next to nothing.
    """
    boxes = np.array([bounds(mark.contours) for mark in inked.marks if mark.contours])
    marks = [mark for mark in inked.marks if mark.contours]
    contours: list[Points] = []
    for cluster in _touching(boxes):
        shapes = [marks[index].contours for index in cluster]
        contours.extend(shapes[0] if len(shapes) == 1 else _joined(shapes, inked.fillet_px))
    return tuple(contours)


def _joined(shapes: list[tuple[Points, ...]], fillet_px: float) -> tuple[Points, ...]:
    """Marks that touch, united; wet ink fills the corners between them."""
    whole = united_shapes(shapes)
    return tuple(filleted(contour, fillet_px) for contour in whole) if fillet_px > 0.0 else whole


def _touching(boxes: NDArray[np.float64]) -> list[list[int]]:
    """Indices of `boxes`, `(n, 4)`, in clusters that hang together by overlaps."""
    n_boxes = len(boxes)
    if n_boxes == 0:
        return []
    x0, y0, x1, y1 = boxes.T
    overlap = (x0[:, None] <= x1) & (x0 <= x1[:, None]) & (y0[:, None] <= y1) & (y0 <= y1[:, None])
    from scipy.sparse.csgraph import connected_components  # noqa: PLC0415 - slow to import and wanted only here

    _, labels = connected_components(overlap, directed=False)
    order = np.argsort(labels, kind="stable")
    return [group.tolist() for group in np.split(order, np.flatnonzero(np.diff(labels[order])) + 1)]
