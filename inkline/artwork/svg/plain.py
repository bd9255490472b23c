"""The nearest plain things of what ink can't show: mean colours, and the frames of pictures."""

from __future__ import annotations

from collections.abc import Iterator
from xml.etree.ElementTree import Element

import numpy as np

from inkline.artwork.maps import unmoved
from inkline.artwork.model import ArtPath, Paint, Pen, Subpath
from inkline.artwork.svg.clips import rectangle_corners
from inkline.artwork.svg.place import Place
from inkline.artwork.svg.shapes import SHAPES, shape_subpaths
from inkline.artwork.svg.styles import INHERITED, Style, Styles
from inkline.artwork.svg.tree import plain_tag
from inkline.artwork.svg.units import Viewport, length_from_text, number_from_text
from inkline.geometry.polygon import signed_area
from inkline.geometry.polyline import arc_lengths

_BLACK = Paint(red=0.0, green=0.0, blue=0.0)
_FRAME_PX = 3.0
"""Width of the line about a picture, whatever its units."""
_PATTERN_VIEW = Viewport(width=100.0, height=100.0)
"""What percentages within a pattern are taken of; few have any."""
_MOST_SHAPES = 500
"""Shapes of a pattern that are looked at."""


def mean_of_stops(stops: list[tuple[float, Paint]]) -> Paint:
    """The mean colour of a gradient along its line from 0 to 1.

    Args:
        stops: places and colours, at least one; a place before the last one's is taken for that
            (SVG 2, 14.2.4).
    """
    at = np.maximum.accumulate(np.clip([place for place, _ in stops], 0.0, 1.0))
    values = np.array([(one.red, one.green, one.blue, one.opacity) for _, one in stops])
    at = np.concatenate(([0.0], at, [1.0]))
    values = np.concatenate((values[:1], values, values[-1:]))
    red, green, blue, opacity = map(float, np.trapezoid(values, at, axis=0))
    return Paint(red=red, green=green, blue=blue, opacity=min(max(opacity, 0.0), 1.0))


def shapes_of_pattern(pattern: Element, styles: Styles) -> Iterator[tuple[Style, float, float]]:
    """The style of each shape in a pattern, and how much it fills and strokes, in user units.

    Shapes that cover each other count whole, and groups' transforms not at all.
    """
    waiting, n_seen = [(pattern, styles.style_of(pattern, dict(INHERITED)))], 0
    while waiting and n_seen < _MOST_SHAPES:
        element, style = waiting.pop()
        for child in element:
            own = styles.style_of(child, style)
            waiting.append((child, own))
            if plain_tag(child) not in SHAPES or own["display"] == "none":
                continue
            n_seen += 1
            subpaths, _ = shape_subpaths(
                child, unmoved(), _PATTERN_VIEW, styles.sheet_values(child)
            )
            runs = [run.points for run in subpaths if len(run.points) > 1]
            width = length_from_text(own["stroke-width"], 1.0, whole=100.0, font_size=16.0)
            filled = abs(sum(signed_area(points) for points in runs))
            stroked = width * sum(float(arc_lengths(points)[-1]) for points in runs)
            yield own, filled, stroked


def mean_of_parts(parts: list[tuple[float, Paint]], *, whole: float | None) -> Paint | None:
    """The mean of colours by their areas, as clear as they leave the `whole`; `None` without any.

    Where the whole isn't known it counts as covered.
    """
    areas = np.array([area * paint.opacity for area, paint in parts])
    if not len(areas) or areas.sum() <= 0.0:
        return None
    values = np.array([(one.red, one.green, one.blue) for _, one in parts])
    red, green, blue = map(float, areas @ values / areas.sum())
    opacity = 1.0 if not whole else min(float(areas.sum()) / whole, 1.0)
    return Paint(red=red, green=green, blue=blue, opacity=opacity)


def tile_area(pattern: Element) -> float | None:
    """The area of a pattern's tile in its own units, `None` where it depends on what it fills."""
    if pattern.get("patternUnits") != "userSpaceOnUse" or pattern.get("viewBox") is not None:
        return None
    return number_from_text(pattern.get("width"), 0.0) * number_from_text(
        pattern.get("height"), 0.0
    )


def frame_of_picture(element: Element, place: Place, line: int) -> ArtPath | None:
    """The frame of an `image`; `None` where it doesn't state its size."""
    view = place.viewport
    x, width = (place.length(element.get(name), 0.0, view.width) for name in ("x", "width"))
    y, height = (place.length(element.get(name), 0.0, view.height) for name in ("y", "height"))
    if width <= 0.0 or height <= 0.0 or place.style["visibility"] != "visible":
        return None
    return ArtPath(
        name=element.get("id", ""),
        layer=place.layer,
        line=line,
        subpaths=(
            Subpath(points=rectangle_corners(place.matrix, x, y, width, height), closed=True),
        ),
        stroke=_BLACK,
        pen=Pen(width=_FRAME_PX),
        clip=place.clip,
    )
