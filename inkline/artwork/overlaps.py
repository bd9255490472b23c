"""Shapes that are made clear together: what lies under another of them is cut away.

A group that is half clear is drawn whole and then made so (SVG 2, 3.4): what lies within it is not
seen through what lies over it. Each shape is drawn by itself here, so it ends where another begins.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from inkline.artwork.areas import enclosed_area, stroked_area
from inkline.artwork.dashes import dashed_line
from inkline.artwork.model import ArtItem, ArtPath, FillRule, Subpath
from inkline.geometry.arrays import Points
from inkline.geometry.boxes import Box
from inkline.geometry.clipping import common_area, contours_without

_MOST_SHAPES = 80
"""Groups of more are left as they are, since each shape is held against each."""
_WHOLE = 0.999
_SHOWS = "what lies over other things in it shows them through"
_TEXT = "text in it shows what lies under it through"
_CLEAR = "what is clearer in it than the rest shows more of what lies under it"


def without_hidden_parts(
    items: Sequence[ArtItem], opacity: float
) -> tuple[tuple[ArtItem, ...], str]:
    """The items of a group, cut where others of it lie over them, and what of it is left out.

    Args:
        items: the hindmost first.
        opacity: of the group and of what it lies in; what is clearer by itself hides nothing.
    """
    if len(items) > _MOST_SHAPES:
        return tuple(items), _SHOWS
    found, lack = list[ArtItem](), ""
    over, clear = list[tuple[Box, tuple[Points, ...]]](), list[Box]()
    for item in reversed(items):
        if not isinstance(item, ArtPath):
            found.append(item)
            if len(items) == 1:
                continue
            lack = _TEXT
            continue
        parts = [replace(item, stroke=None, pen=None), replace(item, fill=None)]
        whole = parts if item.fill is not None and item.pen is not None else [item]
        for part in reversed(whole):
            area = _area(part)
            if not area:
                continue
            box = _box(area)
            hiding = [contour for other, cut in over if _meet(box, other) for contour in cut]
            found += _cut(part, area, box, hiding) if hiding else [part]
            paint = part.fill or part.stroke
            lack = _CLEAR if any(_meet(box, other) for other in clear) else lack
            if paint is not None and paint.opacity >= _WHOLE * opacity:
                over.append((box, area))
            else:
                clear.append(box)
    return tuple(reversed(found)), lack


def _area(item: ArtPath) -> tuple[Points, ...]:
    """What a fill or a line covers."""
    if item.pen is None:
        area = enclosed_area(item.subpaths, item.fill_rule)
    else:
        runs = list[Subpath]()
        for run in item.subpaths:
            dashed = dashed_line(run, item.pen.dashes, item.pen.dash_offset)
            runs += (run,) if not item.pen.dashes or dashed is None else dashed
        area = stroked_area(runs, item.pen)
    return area if item.clip is None else common_area(area, item.clip)


def _cut(
    item: ArtPath, area: tuple[Points, ...], box: Box, hiding: Sequence[Points]
) -> list[ArtPath]:
    """A fill or a line without what is hidden of it; none if all is."""
    left = contours_without(area, hiding)
    if not left:
        return []
    if item.pen is None:
        runs = tuple(Subpath(points=contour, closed=True) for contour in left)
        return [replace(item, subpaths=runs, fill_rule=FillRule.NONZERO, clip=None)]
    x0, y0, x1, y1 = box
    around = item.clip or (np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]]),)
    return [replace(item, clip=contours_without(around, hiding))]


def _box(contours: Sequence[Points]) -> Box:
    points = np.concatenate(contours)
    (x0, y0), (x1, y1) = points.min(axis=0), points.max(axis=0)
    return float(x0), float(y0), float(x1), float(y1)


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
