"""What the pen draws beside numerals: a stroke between two, a ring around one, a line under it, a blot."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from inkline.calendar.grid import Box
from inkline.drawing import Cap, Mark, Points, Role, Shape, Stroke


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PenLine:
    """One movement of the pen.

    Attributes:
        label: the last part of its full name.
        text: what the manifest calls it.
        points: its centreline in px, `(n, 2)`.
        width_px: width of the pen.
        cell: the cell it belongs to, in px.
        drawn_as: the full name of its drawing, if another stamp has that as well; else "".
    """

    label: str
    text: str
    points: Points
    width_px: float
    cell: Box
    drawn_as: str = ""

    @property
    def ink(self) -> Box:
        """Exact bounds of the undrawn ink in px."""
        half = 0.5 * self.width_px
        (x0, y0), (x1, y1) = self.points.min(axis=0) - half, self.points.max(axis=0) + half
        return (float(x0), float(y0), float(x1), float(y1))

    def marks(self, stamp: str, role: Role) -> tuple[Mark, ...]:
        """Its exact mark."""
        name = self.drawn_as or f"{stamp}/{self.label}"
        x, y = self.points[0]
        stroke = Stroke(
            name=f"{name}/1",
            group=name,
            role=role,
            points=self.points,
            width_px=self.width_px,
            cap=Cap.ROUND,
            origin=(float(x), float(y)),
        )
        return (stroke,)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Blot:
    """A filled spot of ink.

    Attributes:
        label: the last part of its full name.
        text: what the manifest calls it.
        contour: its outline in px, closed, of positive area by the page's own coordinates, `(n, 2)`.
        cell: the cell it belongs to, in px.
        drawn_as: the full name of its drawing, if another stamp has that as well; else "".
    """

    label: str
    text: str
    contour: Points
    cell: Box
    drawn_as: str = ""

    @property
    def ink(self) -> Box:
        """Exact bounds of the undrawn ink in px."""
        (x0, y0), (x1, y1) = self.contour.min(axis=0), self.contour.max(axis=0)
        return (float(x0), float(y0), float(x1), float(y1))

    def marks(self, stamp: str, role: Role) -> tuple[Mark, ...]:  # noqa: ARG002 - no line, whatever the lines beside it are
        """Its exact mark: a shape, as blocks are."""
        name = self.drawn_as or f"{stamp}/{self.label}"
        x, y = self.contour.mean(axis=0)
        origin = (float(x), float(y))
        return (Shape(name=f"{name}/1", group=name, role=Role.BLOCK, contours=(self.contour,), origin=origin),)


def joined(boxes: list[Box]) -> Box:
    """The smallest box about all of `boxes`, of which there is at least one."""
    x0, y0 = np.min([box[:2] for box in boxes], axis=0)
    x1, y1 = np.max([box[2:] for box in boxes], axis=0)
    return (float(x0), float(y0), float(x1), float(y1))


def shrunk(box: Box, by: float) -> Box:
    """`box` with each side moved inwards by `by`, which may leave its right side before its left one."""
    return (box[0] + by, box[1] + by, box[2] - by, box[3] - by)


def farthest(marks: tuple[Mark, ...], way: Points) -> float:
    """How far the exact ink of `marks` reaches in the direction `way`, a unit vector `(2,)`, in px from the page's origin."""
    reaches = []
    for mark in marks:
        if isinstance(mark, Stroke):
            half = 0.5 * mark.width_px * (1.0 if mark.profile is None else mark.profile)
            reaches.append(float(np.max(mark.points @ way + half)))
        else:
            reaches.extend(float(np.max(contour @ way)) for contour in mark.contours)
    return max(reaches)
