"""The outlines of SVG's basic shapes and paths, flattened (SVG 2, chapters 9 and 10)."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Any
from xml.etree.ElementTree import Element

import numpy as np
from fontTools.pens.basePen import AbstractPen
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.svgLib.path import parse_path
from fontTools.svgLib.path.arc import EllipticalArc

from inkline.artwork.flattening import FlatteningPen
from inkline.artwork.maps import Matrix
from inkline.artwork.model import Subpath
from inkline.artwork.svg.tree import plain_tag
from inkline.artwork.svg.units import Viewport, length_from_text, numbers_from_text

SHAPES = frozenset({"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"})
GEOMETRY = frozenset({"x", "y", "cx", "cy", "r", "rx", "ry", "width", "height"})
"""Attributes of shapes that style sheets may set too (SVG 2, 8.10)."""
_FARTHEST_PX = 1e9
"""Beyond it pixels are lost in the rounding."""
_TOO_FAR = "it reaches too far to be drawn, and is left out"
_PATH = re.compile(r"path\(\s*[\"'](.*)[\"']\s*\)", re.DOTALL)
_KAPPA = 4.0 / 3.0 * (math.sqrt(2.0) - 1.0)
"""Handle of the cubic that stands for a quarter of a circle, over its radius."""


def shape_subpaths(
    element: Element, matrix: Matrix, viewport: Viewport, declared: Mapping[str, str]
) -> tuple[tuple[Subpath, ...], str]:
    """The outline of a shape on the picture, and what is wrong with it, "" if nothing.

    As SVG 2, 9.5.4 asks, a path is drawn up to what can't be read.

    Args:
        element: one of `SHAPES`.
        matrix: from its user units to px.
        viewport: what its percentages are taken of.
        declared: what style sheets say of it, which goes before its attributes.
    """
    pen = FlatteningPen(matrix)
    try:
        wrong = _draw_shape(pen, element, viewport, declared)
    except ValueError:  # a curve far beyond any canvas
        return (), _TOO_FAR
    if any(not (np.abs(run.points) <= _FARTHEST_PX).all() for run in pen.subpaths):
        return (), _TOO_FAR
    return pen.subpaths, wrong


def shape_steps(
    element: Element, viewport: Viewport, declared: Mapping[str, str]
) -> list[tuple[str, tuple[Any, ...]]]:
    """The steps by which a shape is drawn in its own units, as a RecordingPen keeps them."""
    pen = DecomposingRecordingPen(glyphSet=None)
    _draw_shape(pen, element, viewport, declared)
    steps: list[tuple[str, tuple[Any, ...]]] = pen.value
    return steps


def _draw_shape(
    pen: AbstractPen, element: Element, viewport: Viewport, declared: Mapping[str, str]
) -> str:
    """Draw a shape with `pen`; what is wrong with it, "" if nothing."""
    tag, wrong = plain_tag(element), ""
    length = _Lengths(element, viewport, declared)
    if tag == "path":
        wrong = _draw_path(pen, _path_data(element, declared))
    elif tag in {"polyline", "polygon"}:
        wrong = _draw_polyline(pen, element.get("points", ""), closed=tag == "polygon")
    elif tag == "line":
        pen.moveTo((length.across("x1"), length.down("y1")))
        pen.lineTo((length.across("x2"), length.down("y2")))
        pen.endPath()
    elif tag == "rect":
        _draw_rectangle(pen, length)
    else:
        _draw_ellipse(pen, length, is_circle=tag == "circle")
    return wrong


class _Arc(EllipticalArc):  # type: ignore[misc]
    """An arc that is a straight line where a radius is nothing (SVG 2, 9.5.1)."""

    def draw(self, pen: AbstractPen) -> None:
        if self.rx and self.ry:
            super().draw(pen)
        elif self.target_point != self.current_point:
            pen.lineTo((self.target_point.real, self.target_point.imag))


class _Lengths:
    """The lengths of an element in user units: by its style sheets, else by its attributes."""

    def __init__(self, element: Element, viewport: Viewport, declared: Mapping[str, str]) -> None:
        self._viewport = viewport
        said = {name: value for name, value in declared.items() if name in GEOMETRY}
        self._texts = {**element.attrib, **said}

    def across(self, name: str) -> float:
        return self._length(name, self._viewport.width)

    def down(self, name: str) -> float:
        return self._length(name, self._viewport.height)

    def radius(self, name: str) -> float:
        return self._length(name, self._viewport.diagonal)

    def has(self, name: str) -> bool:
        return self._texts.get(name, "auto").strip() != "auto"

    def _length(self, name: str, whole: float) -> float:
        font_size = self._viewport.font_size
        return length_from_text(self._texts.get(name), 0.0, whole=whole, font_size=font_size)


def _path_data(element: Element, declared: Mapping[str, str]) -> str:
    """The path that a style sheet gives in place of the attribute's, or that."""
    given = _PATH.fullmatch(declared.get("d", "").strip())
    return given[1] if given else element.get("d", "")


def _draw_path(pen: AbstractPen, data: str) -> str:
    try:
        parse_path(data, pen, arc_class=_Arc)
    except (ValueError, IndexError, TypeError, AssertionError, OverflowError) as error:
        return f"its path can't be read to the end ({error})"
    return ""


def _draw_polyline(pen: AbstractPen, text: str, *, closed: bool) -> str:
    numbers = numbers_from_text(text)
    points = list(zip(numbers[::2], numbers[1::2], strict=False))
    if len(points) > 1:
        pen.moveTo(points[0])
        for point in points[1:]:
            pen.lineTo(point)
        (pen.closePath if closed else pen.endPath)()
    return "its last point lacks a number" if len(numbers) % 2 else ""


def _draw_rectangle(pen: AbstractPen, length: _Lengths) -> None:
    x, y = length.across("x"), length.down("y")
    width, height = length.across("width"), length.down("height")
    if width <= 0.0 or height <= 0.0:
        return
    rx = length.across("rx") if length.has("rx") else None
    ry = length.down("ry") if length.has("ry") else None
    rx, ry = (ry if rx is None else rx) or 0.0, (rx if ry is None else ry) or 0.0
    rx, ry = min(max(rx, 0.0), 0.5 * width), min(max(ry, 0.0), 0.5 * height)
    right, bottom = x + width, y + height
    if rx == 0.0 or ry == 0.0:
        pen.moveTo((x, y))
        for corner in ((right, y), (right, bottom), (x, bottom)):
            pen.lineTo(corner)
        pen.closePath()
        return
    kx, ky = rx * (1.0 - _KAPPA), ry * (1.0 - _KAPPA)
    pen.moveTo((x + rx, y))
    pen.lineTo((right - rx, y))
    pen.curveTo((right - kx, y), (right, y + ky), (right, y + ry))
    pen.lineTo((right, bottom - ry))
    pen.curveTo((right, bottom - ky), (right - kx, bottom), (right - rx, bottom))
    pen.lineTo((x + rx, bottom))
    pen.curveTo((x + kx, bottom), (x, bottom - ky), (x, bottom - ry))
    pen.lineTo((x, y + ry))
    pen.curveTo((x, y + ky), (x + kx, y), (x + rx, y))
    pen.closePath()


def _draw_ellipse(pen: AbstractPen, length: _Lengths, *, is_circle: bool) -> None:
    x, y = length.across("cx"), length.down("cy")
    if is_circle:
        rx = ry = length.radius("r")
    else:
        rx = length.across("rx") if length.has("rx") else length.down("ry")
        ry = length.down("ry") if length.has("ry") else rx
    if rx <= 0.0 or ry <= 0.0:
        return
    kx, ky = rx * _KAPPA, ry * _KAPPA
    pen.moveTo((x + rx, y))
    pen.curveTo((x + rx, y + ky), (x + kx, y + ry), (x, y + ry))
    pen.curveTo((x - kx, y + ry), (x - rx, y + ky), (x - rx, y))
    pen.curveTo((x - rx, y - ky), (x - kx, y - ry), (x, y - ry))
    pen.curveTo((x + kx, y - ry), (x + rx, y - ky), (x + rx, y))
    pen.closePath()
