"""Where the markers of an SVG line stand, and how they are turned (SVG 2, 13.7)."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any
from xml.etree.ElementTree import Element

import numpy as np

from inkline.artwork.maps import Matrix, after, moved, scaled
from inkline.artwork.svg.place import Place
from inkline.artwork.svg.units import Viewport, fitted_box, number_from_text, view_box
from inkline.geometry.arrays import Points

MARKED = frozenset({"path", "line", "polyline", "polygon"})
"""Shapes that may have markers."""
_USUAL_SIDE = 3.0
_Vector = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Vertex:
    """A point at which a marker may stand, in user units.

    Attributes:
        at: the point.
        before, after: directions in which the line arrives and leaves; `None` at its ends.
    """

    at: _Vector
    before: _Vector | None
    after: _Vector | None

    @property
    def turn(self) -> float:
        """The direction of the line there, in radians: halfway between arriving and leaving."""
        if self.before is None or self.after is None:
            x, y = self.before or self.after or (1.0, 0.0)
            return math.atan2(y, x)
        one, other = math.atan2(*self.before[::-1]), math.atan2(*self.after[::-1])
        apart = (other - one + math.pi) % (2.0 * math.pi) - math.pi
        return one + 0.5 * apart


def vertices_of_steps(steps: Sequence[tuple[str, tuple[Any, ...]]]) -> list[Vertex]:
    """The vertices of an outline as fontTools' RecordingPen keeps it, in order."""
    found = list[Vertex]()
    start = at = (0.0, 0.0)
    arriving: _Vector | None = None
    for name, points in steps:
        if name == "moveTo":
            if found and arriving is not None:
                found.append(Vertex(at=at, before=arriving, after=None))
            at = start = points[0]
            arriving = None
            continue
        if name == "endPath":
            continue
        path = [at, *(points if name != "closePath" else (start,))]
        leaving, reached = _first_direction(path), _first_direction(path[::-1])
        if leaving is None or reached is None:
            continue
        found.append(Vertex(at=at, before=arriving, after=leaving))
        arriving, at = (-reached[0], -reached[1]), path[-1]
    if arriving is not None:
        found.append(Vertex(at=at, before=arriving, after=None))
    return found


def _first_direction(points: Sequence[_Vector]) -> _Vector | None:
    """From the first of some points towards the first that lies elsewhere."""
    x0, y0 = points[0]
    for x, y in points[1:]:
        if (x, y) != (x0, y0):
            return x - x0, y - y0
    return None


def placed_markers(vertices: Sequence[Vertex]) -> Iterator[tuple[str, Vertex]]:
    """The property that says which marker stands at each vertex, with the vertex."""
    if not vertices:
        return
    yield "marker-start", vertices[0]
    for vertex in vertices[1:-1]:
        yield "marker-mid", vertex
    yield "marker-end", vertices[-1]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MarkerFit:
    """How a marker is put at a vertex.

    Attributes:
        matrix: from the marker's own units to user units of the line.
        box: its window in its own units: x, y, width and height.
    """

    matrix: Matrix
    box: tuple[float, float, float, float]


def marker_fit(
    marker: Element, vertex: Vertex, *, place: Place, width: float, is_start: bool
) -> MarkerFit | None:
    """How `marker` is put at `vertex`; `None` if it has no size.

    Args:
        marker: the element.
        vertex: where it stands.
        place: of the line.
        width: of the line's stroke in user units.
        is_start: whether it is the first of the line.
    """
    view = place.viewport
    across = place.length(marker.get("markerWidth"), _USUAL_SIDE, view.width)
    down = place.length(marker.get("markerHeight"), _USUAL_SIDE, view.height)
    box = view_box(marker.get("viewBox"))
    if across <= 0.0 or down <= 0.0 or (marker.get("viewBox") is not None and box is None):
        return None
    fitted = fitted_box(box, (across, down), marker.get("preserveAspectRatio"))
    inside = box or (0.0, 0.0, across, down)
    own = Viewport(width=inside[2], height=inside[3], font_size=view.font_size)
    ref = (_reference(marker.get("refX"), own.width), _reference(marker.get("refY"), own.height))
    held = moved(np.array([ref]), fitted)[0]
    size = 1.0 if marker.get("markerUnits") == "userSpaceOnUse" else width
    turn = _turn(marker.get("orient", "0"), vertex, is_start=is_start)
    cos, sin = math.cos(turn), math.sin(turn)
    turned: Points = np.array([[cos, -sin, vertex.at[0]], [sin, cos, vertex.at[1]]])
    inner = after(scaled(size, size, -size * held[0], -size * held[1]), fitted)
    return MarkerFit(matrix=after(turned, inner), box=inside)


def _reference(text: str | None, side: float) -> float:
    shares = {"left": 0.0, "top": 0.0, "center": 0.5, "right": 1.0, "bottom": 1.0}
    if text in shares:
        return shares[text] * side
    return number_from_text(text, 0.0) * (side if text and text.strip().endswith("%") else 1.0)


def _turn(orient: str, vertex: Vertex, *, is_start: bool) -> float:
    if orient.strip() in {"auto", "auto-start-reverse"}:
        back = math.pi if is_start and orient.strip() != "auto" else 0.0
        return vertex.turn + back
    degrees = number_from_text(orient.strip().removesuffix("deg"), 0.0)
    return math.radians(degrees)
