"""How much of each pixel closed contours cover, exact for straight edges.

Each piece of an edge that lies inside a pixel adds a signed height and the area between itself and the pixel's right
border; the running sum of heights along a row is the cover that the next pixels inherit. That is signed-area accumulation
(S. Barrett's article on exact coverage of glyph outlines, 2015; the idea is E. Catmull's, 1978, from memory). Only pixels
that an edge touches are ever summed, and whole runs between them are kept as spans, so cost follows the inked perimeter
and not the canvas.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from inkline.drawing import Points
from inkline.raster.edges import CellPieces, cell_pieces, cut_to_canvas, edges_from_contours, row_pieces

_Value = TypeVar("_Value", np.uint8, np.float64)

FULL = 255
"""The grey value of full ink."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Coverage:
    """The coverage of a canvas by contours, held only where there is any.

    Attributes:
        canvas: width and height in px.
        pixels: flat indices (row x width + column) of the pixels that an edge touches, ascending, `(n,)`.
        coverage: their coverage, 0 to 1, `(n,)`.
        span_starts: flat index of the first pixel of each run of fully covered pixels, ascending, `(m,)`.
        span_ends: flat index behind the last pixel of each run, in the same row, `(m,)`.
    """

    canvas: tuple[int, int]
    pixels: NDArray[np.int64]
    coverage: NDArray[np.float64]
    span_starts: NDArray[np.int64]
    span_ends: NDArray[np.int64]

    def total(self) -> float:
        """The covered area in px2."""
        return float(self.coverage.sum() + (self.span_ends - self.span_starts).sum())

    def grey(self) -> NDArray[np.uint8]:
        """The picture as uint8 `(height, width)`: 255 x coverage, rounded to the nearest whole number."""
        flat = self._runs(full=np.uint8(FULL))
        flat[self.pixels] = np.rint(self.coverage * FULL).astype(np.uint8)
        return flat.reshape(self.canvas[::-1])

    def dense(self) -> NDArray[np.float64]:
        """The coverage of every pixel as float64 `(height, width)`, 0 to 1; for small canvases."""
        flat = self._runs(full=np.float64(1.0))
        flat[self.pixels] = self.coverage
        return flat.reshape(self.canvas[::-1])

    def _runs(self, *, full: _Value) -> NDArray[_Value]:
        """The flat canvas with `full` in the spans and zero elsewhere, written in one pass from its run lengths."""
        width, height = self.canvas
        borders = np.zeros(2 * len(self.span_starts) + 2, dtype=np.int64)
        borders[1:-1:2], borders[2:-1:2], borders[-1] = self.span_starts, self.span_ends, width * height
        values = np.zeros(len(borders) - 1, dtype=full.dtype)
        values[1::2] = full
        return np.repeat(values, np.diff(borders))


def coverage_from_contours(contours: Sequence[Points], *, canvas: tuple[int, int]) -> Coverage:
    """The exact coverage of each pixel by the inside of `contours`.

    Args:
        contours: closed contours in px, each `(n, 2)`, in page space; simple and united, so that they overlap nowhere
            and holes run opposite to what they lie in. All of them may be reversed together. Parts beyond the canvas
            are cut off.
        canvas: width and height in px, each at least 1.

    Raises:
        ValueError: a coordinate is not finite, or the canvas has no pixels.
    """
    if min(canvas) < 1:
        raise ValueError(f"a canvas needs at least one pixel each way, not {canvas[0]} x {canvas[1]}")
    edges = cut_to_canvas(edges_from_contours(contours), canvas=canvas)
    return _summed(cell_pieces(row_pieces(edges)), canvas=canvas)


def grey_from_contours(contours: Sequence[Points], *, canvas: tuple[int, int]) -> NDArray[np.uint8]:
    """The picture of `contours` as uint8 `(height, width)`, 255 where a pixel is wholly covered.

    Arguments and errors are those of `coverage_from_contours`.
    """
    return coverage_from_contours(contours, canvas=canvas).grey()


def _summed(pieces: CellPieces, *, canvas: tuple[int, int]) -> Coverage:
    width, _ = canvas
    stride = width + 1
    keys = pieces.row * stride + pieces.column
    # The stable sort gains from keys that rise or fall over long stretches, as they do along a contour: 2.5 times as fast here.
    order = np.argsort(keys, kind="stable")
    keys = keys[order]
    first = np.flatnonzero(np.diff(keys, prepend=-1))
    cells = keys[first]
    if not len(cells):
        none = np.empty(0, dtype=np.int64)
        return Coverage(canvas=canvas, pixels=none, coverage=np.empty(0), span_starts=none, span_ends=none)
    carried = np.cumsum(np.add.reduceat(pieces.height[order], first))
    coverage = np.add.reduceat(pieces.area[order], first)
    coverage[1:] += carried[:-1]
    rows, columns = np.divmod(cells, stride)
    flat = cells - rows
    inside = columns < width
    solid = np.flatnonzero((np.abs(carried[:-1]) > 0.5) & (np.diff(cells) > 1))
    return Coverage(
        canvas=canvas,
        pixels=flat[inside],
        coverage=np.minimum(np.abs(coverage[inside]), 1.0),
        span_starts=flat[solid] + 1,
        span_ends=flat[solid + 1],
    )
