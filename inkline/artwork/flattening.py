"""Outlines as runs of points, mapped to the picture and flattened there."""

from __future__ import annotations

import numpy as np
from fontTools.pens.basePen import BasePen

from inkline.artwork.maps import Matrix, moved
from inkline.artwork.model import TOLERANCE_PX, Subpath
from inkline.geometry.arrays import Points
from inkline.geometry.curves import flattened_cubic
from inkline.geometry.polyline import without_repeats


class FlatteningPen(BasePen):  # type: ignore[misc]
    """Collects the runs of an outline, mapped to the picture and flattened there."""

    def __init__(self, matrix: Matrix) -> None:
        super().__init__(glyphSet=None)
        self._matrix = matrix
        self._pieces: list[Points] = []
        self._subpaths: list[Subpath] = []

    @property
    def subpaths(self) -> tuple[Subpath, ...]:
        """What was drawn so far."""
        self._finish(closed=False)
        return tuple(self._subpaths)

    def _moveTo(self, point: tuple[float, float]) -> None:  # noqa: N802 - the pen's own names
        self._finish(closed=False)
        self._pieces = [self._mapped([point])]

    def _lineTo(self, point: tuple[float, float]) -> None:  # noqa: N802
        self._pieces.append(self._mapped([point]))

    def _curveToOne(  # noqa: N802
        self, one: tuple[float, float], two: tuple[float, float], three: tuple[float, float]
    ) -> None:
        start = self._pieces[-1][-1]
        first, second, last = self._mapped([one, two, three])
        curve = flattened_cubic(
            (start[0], start[1]),
            (first[0], first[1]),
            (second[0], second[1]),
            (last[0], last[1]),
            tolerance=TOLERANCE_PX,
        )
        self._pieces.append(curve[1:])

    def _closePath(self) -> None:  # noqa: N802
        self._finish(closed=True)

    def _endPath(self) -> None:  # noqa: N802
        self._finish(closed=False)

    def _mapped(self, points: list[tuple[float, float]]) -> Points:
        return moved(np.array(points, dtype=np.float64), self._matrix)

    def _finish(self, *, closed: bool) -> None:
        if not self._pieces:
            return
        drawn = np.concatenate(self._pieces)
        self._pieces = []
        points = without_repeats(drawn)
        if closed and len(points) > 1 and np.hypot(*(points[0] - points[-1])) < 1e-9:
            points = points[:-1]
        if len(points) > 1 or len(drawn) > 1 or closed:
            self._subpaths.append(Subpath(points=points, closed=closed))
