"""What bounds an element of an SVG file: clip paths and nested viewports (CSS Masking 1, 5)."""

from __future__ import annotations

from dataclasses import replace
from xml.etree.ElementTree import Element

import numpy as np

from inkline.artwork.areas import enclosed_area
from inkline.artwork.maps import Matrix, after, moved, scaled
from inkline.artwork.model import FillRule, Subpath
from inkline.artwork.svg.lacks import Lacks
from inkline.artwork.svg.place import Area, Place, place_of_child, reference_of
from inkline.artwork.svg.shapes import SHAPES, shape_subpaths
from inkline.artwork.svg.styles import Styles
from inkline.artwork.svg.tree import XLINK_HREF, SvgTree, plain_tag
from inkline.geometry.arrays import Points
from inkline.geometry.clipping import common_area
from inkline.geometry.union import union_of_contours

_DEEPEST = 8


class Clips:
    """Finds the areas that clip paths leave."""

    def __init__(self, tree: SvgTree, styles: Styles, lacks: Lacks) -> None:
        self._tree, self._styles, self._lacks = tree, styles, lacks

    def clipped(self, element: Element, place: Place, box: Matrix | None, depth: int = 0) -> Place:
        """The place of an element within its own clip path, if it has one.

        Args:
            element: what is clipped.
            place: where it stands.
            box: the map of the unit square to its bounds, in user units; `None` if it has none.
            depth: how many clip paths lead to it.
        """
        text = place.style["clip-path"]
        if text == "none":
            return place
        clip = reference_of(text, self._tree)
        if clip is None or plain_tag(clip) != "clipPath":
            self._lacks.add(element, f"clip-path {text!r} is left out")
            return place
        if depth >= _DEEPEST:
            self._lacks.add(element, "clip paths lie too deep in one another")
            return place
        matrix = place.matrix
        if clip.get("clipPathUnits") == "objectBoundingBox":
            if box is None:
                return place.within(())
            matrix = after(matrix, box)
        root = replace(place, matrix=matrix, style={}, clip=None, opacity=1.0)
        around, wrong = place_of_child(clip, root, self._styles)
        if around is None:
            if wrong:
                self._lacks.add(clip, wrong)
            return place.within(())
        area = self._area(clip, around, depth)
        bounded = self.clipped(clip, replace(around, clip=area), None, depth + 1)
        return place.within(bounded.clip or ())

    def _area(self, clip: Element, around: Place, depth: int) -> Area:
        """What the children of a clip path cover together."""
        found = list[Area]()
        for child in clip:
            place, _ = place_of_child(child, around, self._styles)
            if place is None or place.style["visibility"] != "visible":
                continue
            shape = child
            if plain_tag(child) == "use":
                target = reference_of(child.get("href") or child.get(XLINK_HREF), self._tree)
                shape = child if target is None else target
                x = place.length(child.get("x"), 0.0, place.viewport.width)
                y = place.length(child.get("y"), 0.0, place.viewport.height)
                moved_place = replace(place, matrix=after(place.matrix, scaled(1.0, 1.0, x, y)))
                inner, _ = place_of_child(shape, moved_place, self._styles)
                if inner is None:
                    continue
                place = inner
            if plain_tag(shape) not in SHAPES:
                if plain_tag(shape) not in {"title", "desc", "metadata"}:
                    self._lacks.add(shape, "it is left out of a clip path")
                continue
            subpaths, _ = shape_subpaths(
                shape, place.matrix, place.viewport, self._styles.sheet_values(shape)
            )
            rule = "evenodd" if place.style["clip-rule"] == "evenodd" else "nonzero"
            area = enclosed_area(subpaths, FillRule(rule))
            if place.style["clip-path"] != "none":
                bounded = self.clipped(shape, replace(place, clip=area), None, depth + 1)
                area = bounded.clip or ()
            found.append(area)
        return union_of_contours([contour for area in found for contour in area])


def rectangle_area(matrix: Matrix, x: float, y: float, width: float, height: float) -> Area:
    """The area of a rectangle in user units."""
    run = Subpath(points=rectangle_corners(matrix, x, y, width, height), closed=True)
    return enclosed_area([run], FillRule.NONZERO)


def rectangle_corners(matrix: Matrix, x: float, y: float, width: float, height: float) -> Points:
    """The corners of a rectangle in user units, in px of the picture."""
    corners = np.array([[x, y], [x + width, y], [x + width, y + height], [x, y + height]])
    return moved(corners, matrix)


def is_all_within(subpaths: tuple[Subpath, ...], area: Area, reach: float) -> bool:
    """Whether nothing of a shape, with lines that reach so far beyond it, is cut off by an area.

    Only rectangles are looked at; any other area cuts.
    """
    if len(area) != 1 or len(area[0]) != 4:
        return False
    low, high = area[0].min(axis=0), area[0].max(axis=0)
    if common_area(area, area) and not np.all((area[0] == low) | (area[0] == high)):
        return False
    points = np.concatenate([run.points for run in subpaths])
    inside = (points.min(axis=0) - reach >= low) & (points.max(axis=0) + reach <= high)
    return bool(inside.all())
