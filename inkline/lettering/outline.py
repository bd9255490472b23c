"""A pen, in the sense of fontTools, that flattens what is drawn with it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from fontTools.pens.basePen import BasePen

from inkline.geometry.arrays import Floats, Points
from inkline.geometry.curves import flattened_cubic, flattened_quadratic
from inkline.geometry.polyline import arc_lengths, without_repeats
from inkline.lettering.face import GlyphStroke


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FlatContour:
    """One contour as drawn, flattened.

    A closed one does not repeat its first point, and a lone point is one row. `nodes` is the arc
    length at each node on the curve.
    """

    points: Points
    closed: bool
    nodes: Floats


class FlatteningPen(BasePen):  # type: ignore[misc]  # fontTools carries no types
    """Collects flattened contours in `contours`.

    Components are drawn in place, implied points and longer curve runs resolved, by the pen's base.

    Args:
        glyph_set: where components are found, by name.
        tolerance: largest distance between a curve and its flattening, in font units.
    """

    def __init__(self, glyph_set: Mapping[str, Any], *, tolerance: float) -> None:
        super().__init__(glyph_set)
        self.contours: list[FlatContour] = []
        self._tolerance = tolerance
        self._parts: list[Points] = []

    def _moveTo(self, pt: tuple[float, float]) -> None:  # noqa: N802 (the base's name)
        self._parts = [np.array([pt], dtype=np.float64)]

    def _lineTo(self, pt: tuple[float, float]) -> None:  # noqa: N802 (the base's name)
        self._parts.append(np.array([pt], dtype=np.float64))

    def _curveToOne(  # noqa: N802 (the base's name)
        self, pt1: tuple[float, float], pt2: tuple[float, float], pt3: tuple[float, float]
    ) -> None:
        points = flattened_cubic(self._getCurrentPoint(), pt1, pt2, pt3, tolerance=self._tolerance)
        self._parts.append(points[1:])

    def _qCurveToOne(  # noqa: N802 (the base's name)
        self, pt1: tuple[float, float], pt2: tuple[float, float]
    ) -> None:
        points = flattened_quadratic(self._getCurrentPoint(), pt1, pt2, tolerance=self._tolerance)
        self._parts.append(points[1:])

    def _closePath(self) -> None:  # noqa: N802 (the base's name)
        self._finish(closed=True)

    def _endPath(self) -> None:  # noqa: N802 (the base's name)
        self._finish(closed=False)

    def _finish(self, *, closed: bool) -> None:
        whole = np.concatenate(self._parts)
        ends = np.cumsum([len(part) for part in self._parts]) - 1
        points, nodes = without_repeats(whole), arc_lengths(whole)[ends]
        if closed and len(points) > 1 and np.array_equal(points[0], points[-1]):
            points, nodes = points[:-1], nodes[:-1]
        self.contours.append(FlatContour(points=points, closed=closed, nodes=nodes))
        self._parts = []


def stroke_along(contour: FlatContour, units_per_em: float) -> GlyphStroke:
    """A contour in font units as a stroke in em; where the pen only presses, two equal points."""
    points = contour.points if len(contour.points) > 1 else np.repeat(contour.points, 2, axis=0)
    return GlyphStroke(
        points=points / units_per_em, closed=contour.closed and len(contour.points) > 2
    )


FARTHEST_UNITS = 32_767
"""The farthest that a point may lie in font units, as in OpenType fonts (int16)."""


def refuse_far_points(commands: Iterable[tuple[str, tuple[Any, ...]]], *, width: float) -> None:
    """Refuse a glyph, as recording pens say it, with numbers that no font has.

    Raises:
        ValueError: its advance, a point or a component's place is no number or lies too far off.
    """
    numbers = [width]
    for _, operands in commands:
        for operand in operands:
            numbers += [one for one in _flat(operand) if isinstance(one, int | float)]
    far = next((one for one in numbers if not abs(one) <= FARTHEST_UNITS), None)
    if far is not None:
        said = f"{far:g}" if isinstance(far, float) else f"{str(far)[:20]}"
        raise ValueError(f"its numbers must lie within {FARTHEST_UNITS} font units, not at {said}")


def _flat(operand: Any) -> Iterator[Any]:
    if isinstance(operand, tuple | list):
        for one in operand:
            yield from _flat(one)
    else:
        yield operand
