"""What marks cover and where they lie: cut away under others, and bounded by clip paths."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from inkline.artwork.areas import stroked_area
from inkline.artwork.model import LineCap, LineJoin, Pen, Subpath
from inkline.drawing import Cap, Mark, Shape, box_of_mark
from inkline.finishing.islands import islands
from inkline.geometry.arrays import Bools, Floats, Points
from inkline.geometry.clipping import common_area, contours_without
from inkline.geometry.polygon import signed_area

_ALL, _NOTHING = 0.998, 0.002
"""Shares of a mark's area from which it counts as all there, and up to which as not there."""


def _area(mark: Mark) -> tuple[Points, ...]:
    """What a mark covers exactly."""
    if isinstance(mark, Shape):
        return mark.contours
    cap = LineCap.ROUND if mark.cap is Cap.ROUND else LineCap.BUTT
    pen = Pen(width=mark.width_px, cap=cap, join=LineJoin.ROUND)
    return stroked_area([Subpath(points=mark.points, closed=mark.closed)], pen)


def marks_within(marks: Iterable[Mark], clip: Sequence[Points]) -> Iterator[Mark]:
    """Marks that lie in an area, those that lie in it in part as the shapes that are left."""
    for mark in marks:
        area = _area(mark)
        left = common_area(area, clip)
        share = _size(left) / max(_size(area), 1e-12)
        if share >= _ALL:
            yield mark
        elif share > _NOTHING:
            yield Shape(
                name=mark.name, group=mark.group, role=mark.role, contours=left, origin=mark.origin
            )


def _size(contours: Sequence[Points]) -> float:
    return abs(sum(signed_area(contour) for contour in contours))


def bared_marks(mark: Mark, over: Sequence[Mark]) -> Iterator[Mark]:
    """What is left of a mark where others lie over it."""
    own = mark_boxes([mark])
    near = [one for one in over if boxes_meet(own, mark_boxes([one]))]
    if not near:
        yield mark
        return
    cut = [contour for one in near for contour in _area(one)]
    left = contours_without(_area(mark), cut)
    for number, island in enumerate(islands(left), start=1):
        name = mark.name if number == 1 else f"{mark.name}~over{number}"
        low = np.min([contour.min(axis=0) for contour in island], axis=0)
        yield Shape(
            name=name,
            group=name,
            role=mark.role,
            contours=island,
            origin=(float(low[0]), float(low[1])),
        )


def mark_boxes(marks: Iterable[Mark]) -> Floats:
    """The bounds of marks, `(n, 4)`: x0, y0, x1, y1."""
    return np.array([box_of_mark(mark) for mark in marks], dtype=np.float64).reshape(-1, 4)


def boxes_meet(some: Floats, others: Floats) -> bool:
    """Whether any of some boxes meets any of others."""
    if not len(some) or not len(others):
        return False
    near = others[_touches(_hull(some), others)]
    return any(bool(_touches(box, near).any()) for box in some) if len(near) else False


def _hull(boxes: Floats) -> Floats:
    """The bounds of some boxes, `(4,)`."""
    return np.concatenate((boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)))


def _touches(box: Floats, others: Floats) -> Bools:
    """Which of others a box meets, `(n,)`."""
    return np.asarray(
        (others[:, 0] < box[2])
        & (others[:, 2] > box[0])
        & (others[:, 1] < box[3])
        & (others[:, 3] > box[1])
    )
