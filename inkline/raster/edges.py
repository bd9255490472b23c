"""The edges of closed contours, cut to the canvas and then at every pixel border that they cross.

The cutting is done in three steps, each for all edges at once: to the canvas, at the borders
between rows, at the borders between columns. Each piece that comes out of the last step lies inside
one pixel, and coverage is summed from these.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Bools, Floats, Ints, Points

# An edge flatter than this bounds no area that a float64 sum could hold, and dividing by its height
# could overflow.
_FLAT_PX = 1e-100


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Edges:
    """Straight edges, each from its upper end `(x0, y0)` to its lower end `(x1, y1)`, in px.

    All arrays are `(n,)`.

    Attributes:
        sign: 1 where the contour runs down the page, -1 where it runs up.
    """

    x0: Floats
    y0: Floats
    x1: Floats
    y1: Floats
    sign: Floats

    def where(self, chosen: Bools) -> Edges:
        """The edges for which `chosen`, `(n,)`, is true."""
        return Edges(
            x0=self.x0[chosen],
            y0=self.y0[chosen],
            x1=self.x1[chosen],
            y1=self.y1[chosen],
            sign=self.sign[chosen],
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RowPieces:
    """Pieces of edges that lie within one row of pixels each, all arrays `(n,)`.

    Attributes:
        row: the row.
        xa: x at the upper end, in px.
        xb: x at the lower end, in px.
        height: signed height in px, positive where the contour runs down the page.
    """

    row: Ints
    xa: Floats
    xb: Floats
    height: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CellPieces:
    """Pieces of edges that lie within one pixel each, all arrays `(n,)`.

    Attributes:
        row: the pixel's row.
        column: the pixel's column; the canvas width for what lies on its right border.
        height: signed height in px, positive where the contour runs down the page.
        area: height x mean distance to the pixel's right border, in px2.
    """

    row: Ints
    column: Ints
    height: Floats
    area: Floats


def edges_from_contours(contours: Sequence[Points]) -> Edges:
    """The sloping edges of closed contours.

    Level ones are left out: they bound no area to their right.

    Args:
        contours: closed contours in px, each `(n, 2)`; fewer than three points enclose nothing.

    Raises:
        ValueError: a coordinate is not finite.
    """
    solid = [contour for contour in contours if len(contour) >= 3]
    if not solid:
        none = np.empty(0)
        return Edges(x0=none, y0=none, x1=none, y1=none, sign=none)
    points = np.concatenate(solid, dtype=np.float64)
    if not np.isfinite(points).all():
        raise ValueError("contours must be finite")
    last = np.cumsum([len(contour) for contour in solid]) - 1
    first = np.concatenate([[0], last[:-1] + 1])
    x, y = np.ascontiguousarray(points.T)
    x_next, y_next = np.append(x[1:], 0.0), np.append(y[1:], 0.0)
    x_next[last], y_next[last] = x[first], y[first]
    down = y_next > y
    sloping = np.abs(y_next - y) > _FLAT_PX
    return Edges(
        x0=np.where(down, x, x_next),
        y0=np.minimum(y, y_next),
        x1=np.where(down, x_next, x),
        y1=np.maximum(y, y_next),
        sign=np.where(down, 1.0, -1.0),
    ).where(sloping)


def cut_to_canvas(edges: Edges, *, canvas: tuple[int, int]) -> Edges:
    """The edges cut to a canvas of `(width, height)` px.

    All that bears on the pixels inside is kept. What lies above or below is dropped. What lies left
    or right is laid onto that border: a pixel's coverage depends on the heights of edges to its
    left, wherever they are, and each row must close again at its right end.
    """
    width, height = canvas
    if not len(edges.y0):
        return edges
    if edges.y0.min() < 0 or edges.y1.max() > height:
        edges = _within_rows(edges, height=height)
    if len(edges.y0) and (
        min(edges.x0.min(), edges.x1.min()) < 0 or max(edges.x0.max(), edges.x1.max()) > width
    ):
        edges = _with_ends_on_sides(edges, width=width)
    return edges


def row_pieces(edges: Edges) -> RowPieces:
    """The edges cut at each whole y; they must lie on the canvas."""
    top = np.floor(edges.y0).astype(np.int64)
    n_rows = np.maximum(np.ceil(edges.y1).astype(np.int64) - top, 1)
    slope = (edges.x1 - edges.x0) / (edges.y1 - edges.y0)
    owner, step = _repetitions(n_rows)
    row = top[owner] + step
    x0, y0, x1 = edges.x0[owner], edges.y0[owner], edges.x1[owner]
    ya = np.maximum(y0, row)
    yb = np.minimum(edges.y1[owner], row + 1)
    slope = slope[owner]
    low, high = np.minimum(x0, x1), np.maximum(x0, x1)
    return RowPieces(
        row=row,
        xa=np.clip(x0 + (ya - y0) * slope, low, high),
        xb=np.clip(x0 + (yb - y0) * slope, low, high),
        height=(yb - ya) * edges.sign[owner],
    )


def cell_pieces(pieces: RowPieces) -> CellPieces:
    """The pieces cut at each whole x."""
    low, high = np.minimum(pieces.xa, pieces.xb), np.maximum(pieces.xa, pieces.xb)
    left = np.floor(low).astype(np.int64)
    n_columns = np.maximum(np.ceil(high).astype(np.int64) - left, 1)
    owner, step = _repetitions(n_columns)
    column = left[owner] + step
    many = n_columns > 1
    height_per_px = np.where(many, pieces.height / np.where(many, high - low, 1.0), 0.0)
    start = np.maximum(low[owner], column)
    end = np.minimum(high[owner], column + 1)
    height = np.where(many[owner], (end - start) * height_per_px[owner], pieces.height[owner])
    return CellPieces(
        row=pieces.row[owner],
        column=column,
        height=height,
        area=height * (column + 1 - 0.5 * (start + end)),
    )


def _repetitions(counts: Ints) -> tuple[Ints, Ints]:
    """Which item each of `counts` repetitions belongs to, and its number within it from 0."""
    ends = np.cumsum(counts)
    owner = np.repeat(np.arange(len(counts)), counts)
    return owner, np.arange(len(owner)) - (ends - counts)[owner]


def _within_rows(edges: Edges, *, height: float) -> Edges:
    edges = edges.where((edges.y1 > 0) & (edges.y0 < height))
    slope = (edges.x1 - edges.x0) / (edges.y1 - edges.y0)
    y0, y1 = np.maximum(edges.y0, 0.0), np.minimum(edges.y1, height)
    return Edges(
        x0=np.where(y0 > edges.y0, edges.x0 + (y0 - edges.y0) * slope, edges.x0),
        y0=y0,
        x1=np.where(y1 < edges.y1, edges.x0 + (y1 - edges.y0) * slope, edges.x1),
        y1=y1,
        sign=edges.sign,
    )


def _with_ends_on_sides(edges: Edges, *, width: float) -> Edges:
    """The edges with what lies beyond the left or right border laid onto that border.

    Each edge is cut where it meets a border.
    """
    run = edges.x1 - edges.x0
    safe_run = np.where(run == 0, 1.0, run)
    at_sides = [
        np.where(run == 0, 0.0, (side - edges.x0) / safe_run).clip(0.0, 1.0)
        for side in (0.0, width)
    ]
    shares = [np.zeros_like(run), np.minimum(*at_sides), np.maximum(*at_sides), np.ones_like(run)]
    ys = [edges.y0, *(edges.y0 + share * (edges.y1 - edges.y0) for share in shares[1:3]), edges.y1]
    xs = [edges.x0, *(edges.x0 + share * run for share in shares[1:3]), edges.x1]
    xs = [x.clip(0.0, width) for x in xs]
    cut = Edges(
        x0=np.concatenate(xs[:3]),
        y0=np.concatenate(ys[:3]),
        x1=np.concatenate(xs[1:]),
        y1=np.concatenate(ys[1:]),
        sign=np.tile(edges.sign, 3),
    )
    return cut.where(cut.y1 - cut.y0 > _FLAT_PX)
