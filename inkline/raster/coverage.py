"""How much of each pixel closed contours cover, exact for straight edges.

Each piece of an edge that lies inside a pixel adds a signed height and the area between itself and
the pixel's right border; the running sum of heights along a row is the cover that the next pixels
inherit. That is signed-area accumulation (S. Barrett's article on exact coverage of glyph outlines,
2015; the idea is E. Catmull's, 1978, from memory). Only pixels that an edge touches are ever
summed, and whole runs between them are kept as spans, so cost follows the inked perimeter and not
the canvas.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.arrays import Floats, Grey, Ints, Points
from inkline.raster.edges import (
    CellPieces,
    cell_pieces,
    cut_to_canvas,
    edges_from_contours,
    row_pieces,
)

_Value = TypeVar("_Value", np.uint8, np.float64)

FULL = 255
"""The grey value of full ink."""

# What is left of a row's running sum where it should be nothing is rounding, about 1e-13 on the
# largest canvas.
_DUST = 1e-11


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Coverage:
    """The coverage of a canvas by contours, held only where there is any.

    Attributes:
        canvas: width and height in px.
        pixels: flat indices (row x width + column) of the pixels that an edge touches, ascending,
            `(n,)`.
        coverage: their coverage, 0 to 1, `(n,)`.
        span_starts: flat index of the first pixel of each run between touched pixels, ascending,
            `(m,)`.
        span_ends: flat index behind the last pixel of each run, in the same row, `(m,)`.
        span_coverage: the coverage of all pixels of each run, `(m,)`: 1 inside a shape, less along
            a level edge.
    """

    canvas: tuple[int, int]
    pixels: Ints
    coverage: Floats
    span_starts: Ints
    span_ends: Ints
    span_coverage: Floats

    def total(self) -> float:
        """The covered area in px2."""
        return float(self.coverage.sum() + self.span_coverage @ (self.span_ends - self.span_starts))

    def grey(self) -> Grey:
        """The picture as uint8 `(height, width)`: 255 x coverage, rounded to the nearest."""
        return self._canvas(pixels=_greys(self.coverage), spans=_greys(self.span_coverage))

    def dense_coverage(self) -> Floats:
        """The coverage of every pixel as float64 `(height, width)`, 0 to 1; for small canvases."""
        return self._canvas(pixels=self.coverage, spans=self.span_coverage)

    def _canvas(self, *, pixels: NDArray[_Value], spans: NDArray[_Value]) -> NDArray[_Value]:
        """The canvas `(height, width)` with the values of its runs and of the touched pixels.

        It is written in one pass from the lengths and values of the runs, then the touched pixels
        go over it.
        """
        width, height = self.canvas
        borders = np.zeros(2 * len(spans) + 2, dtype=np.int64)
        borders[1:-1:2], borders[2:-1:2], borders[-1] = (
            self.span_starts,
            self.span_ends,
            width * height,
        )
        values = np.zeros(len(borders) - 1, dtype=spans.dtype)
        values[1::2] = spans
        flat = np.repeat(values, np.diff(borders))
        flat[self.pixels] = pixels
        return flat.reshape(height, width)


def coverage_from_contours(contours: Sequence[Points], *, canvas: tuple[int, int]) -> Coverage:
    """The exact coverage of each pixel by the inside of `contours`.

    Args:
        contours: closed contours in px, each `(n, 2)`, in page space; simple and united, so that
            they overlap nowhere and holes run opposite to what they lie in. All of them may be
            reversed together. Parts beyond the canvas are cut off.
        canvas: width and height in px, each at least 1.

    Raises:
        ValueError: a coordinate is not finite, or the canvas has no pixels.
    """
    if min(canvas) < 1:
        raise ValueError(
            f"a canvas needs at least one pixel each way, not {canvas[0]} x {canvas[1]}"
        )
    edges = cut_to_canvas(edges_from_contours(contours), canvas=canvas)
    return _coverage_from_pieces(cell_pieces(row_pieces(edges)), canvas=canvas)


def grey_from_contours(contours: Sequence[Points], *, canvas: tuple[int, int]) -> Grey:
    """The picture of `contours` as uint8 `(height, width)`, 255 where a pixel is wholly covered.

    Arguments and errors are those of `coverage_from_contours`.
    """
    return coverage_from_contours(contours, canvas=canvas).grey()


def _greys(coverage: Floats) -> Grey:
    return np.rint(coverage * FULL).astype(np.uint8)


def _shares(signed: Floats) -> Floats:
    """Coverage from its signed sum, whichever way the contours run.

    The limit takes off rounding above 1.
    """
    return np.minimum(np.abs(signed), 1.0)


def _coverage_from_pieces(pieces: CellPieces, *, canvas: tuple[int, int]) -> Coverage:
    stride = canvas[0] + 1
    keys = pieces.row * stride + pieces.column
    # The stable sort gains from keys that rise or fall over long stretches, as along a contour: 2.5
    # times as fast here.
    order = np.argsort(keys, kind="stable")
    keys = keys[order]
    first = np.flatnonzero(np.append(True, keys[1:] != keys[:-1])[: len(keys)])
    cells = keys[first]
    carried, coverage = np.zeros(len(cells)), np.zeros(len(cells))
    if len(cells):
        carried = np.cumsum(pieces.height[order])[np.append(first[1:], len(keys)) - 1]
        coverage = np.add.reduceat(pieces.area[order], first)
        coverage[1:] += carried[:-1]
    flat = cells - cells // stride
    inside = cells % stride < canvas[0]
    before = np.flatnonzero((np.abs(carried[:-1]) > _DUST) & (np.diff(cells) > 1))
    return Coverage(
        canvas=canvas,
        pixels=flat[inside],
        coverage=_shares(coverage[inside]),
        span_starts=flat[before] + 1,
        span_ends=flat[before + 1],
        span_coverage=_shares(carried[before]),
    )
