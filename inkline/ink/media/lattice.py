"""Values on a lattice over a mark, read between its points; and how deep in the ink each lies.

A mark's ink changes slowly against a pixel: how far from its rim a place lies, how much ink lay
there. Such values are found once on a coarse lattice in mm of the sheet, so that they are the same
at any resolution, and each pixel is read between four of its points.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Bools, Floats, Indices, Points, Singles
from inkline.geometry.polygon import bounds
from inkline.ink.media.places import Box, Places

# Depths are taken from edges of about so many steps of the lattice.
_EDGE_STEPS = 0.8
# So many distances are at work at a time, in the processor's near memory.
_AT_WORK = 1 << 16


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lattice:
    """Points at even steps over a box.

    Attributes:
        corner: the first point, mm.
        step: from one to the next, mm.
        shape: rows and columns.
    """

    corner: tuple[float, float]
    step: float
    shape: tuple[int, int]

    @property
    def xs(self) -> Floats:
        """Where its columns lie, mm."""
        return np.asarray(self.corner[0] + self.step * np.arange(self.shape[1], dtype=np.float64))

    @property
    def ys(self) -> Floats:
        """Where its rows lie, mm."""
        return np.asarray(self.corner[1] + self.step * np.arange(self.shape[0], dtype=np.float64))

    @property
    def points(self) -> Points:
        """All its points row by row, `(rows x columns, 2)`."""
        xs, ys = np.meshgrid(self.xs, self.ys)
        return np.column_stack((xs.reshape(-1), ys.reshape(-1)))

    def reading_at(self, places: Places) -> Reading | BoxReading:
        """How to read values of the lattice at `places`, in mm."""
        if isinstance(places, Box):
            return self._reading_in_box(places)
        return self.reading_between(places[:, 0], places[:, 1])

    def reading_between(self, xs: Floats, ys: Floats) -> Reading:
        """How to read values of the lattice at the places `(xs, ys)`, each `(n,)` in mm."""
        rows, columns = self.shape
        step = np.float32(1.0 / self.step)
        u = (xs.astype(np.float32) - np.float32(self.corner[0])) * step
        v = (ys.astype(np.float32) - np.float32(self.corner[1])) * step
        column, row = u.astype(np.int32), v.astype(np.int32)
        column.clip(0, columns - 2, out=column)
        row.clip(0, rows - 2, out=row)
        return Reading(
            first=row * columns + column, right=u - column, down=v - row, columns=columns
        )

    def cells_above(self, values: Singles, least: float) -> Bools:
        """Whether any of the four corners of a cell has more than `least`, by its first corner."""
        above = values.reshape(self.shape) > least
        above[:, :-1] |= above[:, 1:]
        above[:-1] |= above[1:]
        return above.reshape(-1)

    def _reading_in_box(self, box: Box) -> BoxReading:
        u, v = (
            (axis - c) / self.step for axis, c in zip((box.xs, box.ys), self.corner, strict=True)
        )
        column = np.clip(u.astype(np.intp), 0, self.shape[1] - 2)
        row = np.clip(v.astype(np.intp), 0, self.shape[0] - 2)
        return BoxReading(
            rows=row,
            columns=column,
            right=(u - column).astype(np.float32),
            down=(v - row).astype(np.float32)[:, None],
            shape=self.shape,
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BoxReading:
    """Rows and columns between a lattice's points, at which any of its values can be read.

    Attributes:
        rows, columns: the row above each of the box's, and the column left of each of its columns.
        right: how far beyond that each column lies, in steps, `(columns,)`.
        down: how far below that each row lies, `(rows, 1)`.
        shape: of the lattice.
    """

    rows: Indices
    columns: Indices
    right: Singles
    down: Singles
    shape: tuple[int, int]

    def read(self, values: Singles) -> Singles:
        """`values`, one for each point of the lattice, between its points, `(rows, columns)`."""
        part, row, column = self._part(values)
        left = part.take(column, axis=1)
        right = np.diff(part, axis=1).take(column, axis=1)
        right *= self.right
        left += right
        below = np.diff(left, axis=0)
        read = left.take(row, axis=0)
        below = below.take(row, axis=0)
        below *= self.down
        read += below
        return np.asarray(read)

    def least(self, values: Singles) -> float:
        """The least that `read` could give."""
        return float(self._part(values)[0].min())

    def _part(self, values: Singles) -> tuple[Singles, Indices, Indices]:
        """The part of the lattice that is read, and rows and columns within it."""
        first, left = int(self.rows[0]), int(self.columns[0])
        part = values.reshape(self.shape)[
            first : int(self.rows[-1]) + 2, left : int(self.columns[-1]) + 2
        ]
        return part, self.rows - first, self.columns - left


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Reading:
    """Places between a lattice's points, at which any of its values can be read.

    Attributes:
        first: index of the point above and left of each place, `(n,)`.
        right, down: how far beyond it the place lies, in steps, `(n,)`.
        columns: columns of the lattice.
    """

    first: Indices
    right: Singles
    down: Singles
    columns: int

    def part(self, where: Indices) -> Reading:
        """That of the places `where` alone."""
        return Reading(
            first=self.first.take(where),
            right=self.right.take(where),
            down=self.down.take(where),
            columns=self.columns,
        )

    def least(self, values: Singles) -> float:
        """The least that `read` could give."""
        return float(values.min())

    def read(self, values: Singles) -> Singles:
        """`values`, one for each point of the lattice, between its points, `(n,)`."""
        first, columns = self.first, self.columns
        left = values.take(first)
        upper = left + (values.take(first + 1) - left) * self.right
        left = values.take(first + columns)
        lower = left + (values.take(first + columns + 1) - left) * self.right
        return np.asarray(upper + (lower - upper) * self.down)


def lattice_over(contours: tuple[Points, ...], *, step: float) -> Lattice:
    """A lattice over `contours` and a step beyond them."""
    x0, y0, x1, y1 = bounds(contours)
    corner = (x0 - step, y0 - step)
    shape = (int((y1 - y0) / step) + 4, int((x1 - x0) / step) + 4)
    return Lattice(corner=corner, step=step, shape=shape)


def lattice_depths(
    lattice: Lattice, contours: tuple[Points, ...], *, reaches: Floats | float
) -> Singles:
    """How deep inside `contours` each point lies, as a share of the reach, at most 1.

    Points outside are below 0, at least -1. Exact distances to the contours' straight edges.

    Args:
        lattice: covers the contours.
        contours: simple closed contours in mm.
        reaches: depth that counts as 1, mm: one for all, or one at each point of the contours
            joined (their samples are taken at these points).
    """
    n_points = sum(len(contour) for contour in contours)
    reach = np.broadcast_to(np.asarray(reaches, dtype=np.float64), (n_points,))
    starts, ends, reach = _edges(contours, reach, shortest=_EDGE_STEPS * lattice.step)
    starts, ends, reach = _pieces(starts, ends, reach, longest=1.5 * lattice.step)
    n_cells = int(np.ceil(float(reach.max()) / lattice.step)) + 1
    shares = _spread_distances(lattice, starts, ends, reach, n_cells)
    inside = inside_contours(contours, lattice.xs, lattice.ys).reshape(-1)
    return np.where(inside, shares, -shares)


def _edges(
    contours: tuple[Points, ...], reach: Floats, *, shortest: float
) -> tuple[Points, Points, Floats]:
    """First and last point of each edge and its reach; edges much below `shortest` are joined."""
    points, following, firsts = _joined(contours)
    steps = np.hypot(*(points[following] - points).T)
    before = np.cumsum(steps) - steps
    sizes = np.diff(firsts, append=len(points))
    before -= np.repeat(before[firsts], sizes)
    number = np.floor(before / shortest)
    is_kept = np.diff(number, prepend=-1.0) != 0.0
    is_kept[firsts] = True
    kept = np.flatnonzero(is_kept)
    after = np.append(kept[1:], len(points))
    beyond = np.append(firsts[1:], len(points))
    contour = np.searchsorted(firsts, kept, side="right") - 1
    ends = np.where(after == beyond[contour], firsts[contour], after)
    return points[kept], points[ends], reach[kept]


def _joined(contours: tuple[Points, ...]) -> tuple[Points, Indices, Indices]:
    """All points of `contours`, the index of the one after each, and that of each's first point."""
    sizes = np.array([len(contour) for contour in contours])
    firsts = np.cumsum(sizes) - sizes
    following = np.arange(1, int(sizes.sum()) + 1)
    following[firsts + sizes - 1] = firsts
    return np.concatenate(contours), following, firsts


def _pieces(
    starts: Points, ends: Points, reach: Floats, *, longest: float
) -> tuple[Points, Points, Floats]:
    """Edges cut so that none is longer than `longest`."""
    lengths = np.hypot(*(ends - starts).T)
    counts = np.maximum(np.ceil(lengths / longest).astype(np.intp), 1)
    edges = np.repeat(np.arange(len(starts)), counts)
    within = np.arange(len(edges)) - np.repeat(np.cumsum(counts) - counts, counts)
    ahead = (ends - starts)[edges] / counts[edges, None]
    first = starts[edges] + ahead * within[:, None]
    return first, first + ahead, reach[edges]


def _spread_distances(
    lattice: Lattice,
    starts: Points,
    ends: Points,
    reach: Floats,
    n_cells: int,
) -> Singles:
    """The distance over reach of the nearest edge at each point of the lattice, at most 1.

    Found for the square of `n_cells` about each edge, on a lattice that is as much wider.
    """
    rows, columns = (n + 2 * n_cells for n in lattice.shape)
    shares = np.full(rows * columns, 1.0, dtype=np.float32)
    middles = (0.5 * (starts + ends) - np.array(lattice.corner)) / lattice.step
    cells = np.rint(middles).astype(np.intp)
    ahead = (ends - starts) / lattice.step
    halves = 0.5 * np.hypot(*ahead.T)
    is_point = halves < 1e-9  # the whole of a tiny speck: any direction will do
    ahead = np.where(
        is_point[:, None], (1.0, 0.0), ahead / np.where(is_point, 1.0, 2.0 * halves)[:, None]
    )
    span = np.arange(-n_cells, n_cells + 1)
    facts = np.column_stack((cells - middles, ahead, halves, lattice.step / reach))
    facts = facts.astype(np.float32)[:, :, None, None]
    about = (cells[:, 1] + n_cells) * columns + cells[:, 0] + n_cells
    window = (span[:, None] * columns + span).reshape(-1)
    n_edges = max(1, _AT_WORK // len(window))
    for first in range(0, len(cells), n_edges):
        part = slice(first, first + n_edges)
        apart = _distances(facts[part], span.astype(np.float32)).reshape(-1)
        near = np.flatnonzero(apart < 1.0)
        places = np.add.outer(about[part], window).reshape(-1)
        np.minimum.at(shares, places.take(near), apart.take(near))
    within = shares.reshape(rows, columns)[n_cells:-n_cells, n_cells:-n_cells]
    return within.reshape(-1)


def _distances(facts: Singles, span: Singles) -> Singles:
    """Distance over reach from each edge to the lattice's points about it, `(n, span, span)`."""
    dx = facts[:, 0] + span[None, None, :]
    dy = facts[:, 1] + span[None, :, None]
    tx, ty, halves, scale = (facts[:, index] for index in range(2, 6))
    beyond = dx * tx + dy * ty
    np.abs(beyond, out=beyond)
    beyond -= halves
    np.maximum(beyond, 0.0, out=beyond)
    beyond *= beyond
    aside = dx * ty - dy * tx
    aside *= aside
    aside += beyond
    np.sqrt(aside, out=aside)
    aside *= scale
    return np.asarray(aside)


def inside_contours(contours: tuple[Points, ...], xs: Floats, ys: Floats) -> Bools:
    """Whether each point of the lattice of `xs` and `ys` lies inside (even-odd), `(ys, xs)`."""
    shape = (len(ys), len(xs) + 1)
    codes = _crossing_codes(contours, xs, ys)
    crossed = np.bincount(codes, minlength=shape[0] * shape[1]).reshape(shape)
    return np.asarray(np.cumsum(crossed[:, :-1], axis=1) % 2 == 1)


def _crossing_codes(contours: tuple[Points, ...], xs: Floats, ys: Floats) -> Indices:
    """Flat index of the first lattice place right of each crossing.

    For each edge and each row that it crosses.
    """
    start, following, _ = _joined(contours)
    above = np.searchsorted(ys, start[:, 1])
    low, high = np.minimum(above, above[following]), np.maximum(above, above[following])
    crossing = np.flatnonzero(high > low)
    low, counts = low[crossing], (high - low)[crossing]
    edges = np.repeat(crossing, counts)
    rows = (
        np.repeat(low, counts)
        + np.arange(len(edges))
        - np.repeat(np.cumsum(counts) - counts, counts)
    )
    start, end = start[edges], start[following[edges]]
    share = (ys[rows] - start[:, 1]) / (end[:, 1] - start[:, 1])
    at = start[:, 0] + share * (end[:, 0] - start[:, 0])
    return np.asarray(rows * (len(xs) + 1) + np.searchsorted(xs, at))
