"""A grid of equal cells among the straight lines of an artwork."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from inkline.finishing.lines import PenLine
from inkline.geometry.arrays import Bools, Floats
from inkline.geometry.boxes import Box

_LEANING = 0.01
"""How far a line of a grid leans from upright or level, as a share of its length."""
_SAME_PLACE_SHARE = 0.25
"""Lines that lie nearer than this share of their widths are one line drawn in parts."""
_SAME_SIZE = 0.03
"""By what share cells that count as equal differ."""
_COVERED = 0.92
"""The share of a cell's side that must be drawn: corners are rounded, gaps are left at them."""
_LONG = 0.5
"""A line is long that has this share of the longest one's length."""
_LEAST_CELLS = 4


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CellGrid:
    """Equal cells side by side.

    Attributes:
        across: where the lines between columns lie, from the left, px.
        down: where the lines between rows lie, from the top, px.
        width_px: of those lines, the widest.
    """

    across: tuple[float, ...]
    down: tuple[float, ...]
    width_px: float

    @property
    def columns(self) -> int:
        """How many columns it has."""
        return len(self.across) - 1

    @property
    def rows(self) -> int:
        """How many rows it has."""
        return len(self.down) - 1

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of a cell, from line to line."""
        return (
            (self.across[-1] - self.across[0]) / self.columns,
            (self.down[-1] - self.down[0]) / self.rows,
        )

    def cell(self, index: int) -> Box:
        """The inside of a cell, counted row by row from 0."""
        row, column = divmod(index, self.columns)
        half = 0.5 * self.width_px
        return (
            self.across[column] + half,
            self.down[row] + half,
            self.across[column + 1] - half,
            self.down[row + 1] - half,
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Lines:
    """Lines in one direction: where each lies, and from where to where it runs."""

    places: Floats
    starts: Floats
    ends: Floats
    widths: Floats


def found_grid(lines: Sequence[PenLine]) -> CellGrid | None:
    """The grid of the most equal cells that straight lines make, `None` if they make none.

    Looked for among all lines, and among those alone that are long for their direction, since short
    ones between would part its cells. Of several grids with as many cells it is the uppermost, then
    the leftmost.
    """
    upright, level = _in_direction(lines, 0), _in_direction(lines, 1)
    some = (_grid_of(_long_ones(upright), _long_ones(level)), _grid_of(upright, level))
    found = [grid for grid in some if grid is not None]
    return max(found, key=lambda grid: grid.columns * grid.rows, default=None)


def _long_ones(lines: _Lines) -> _Lines:
    lengths = lines.ends - lines.starts
    is_long = lengths >= _LONG * lengths.max(initial=0.0)
    return _Lines(
        places=lines.places[is_long],
        starts=lines.starts[is_long],
        ends=lines.ends[is_long],
        widths=lines.widths[is_long],
    )


def _grid_of(upright: _Lines, level: _Lines) -> CellGrid | None:
    across, down = _merged_places(upright), _merged_places(level)
    if len(across) < 2 or len(down) < 2:
        return None
    stands = _are_drawn(upright, across, down)
    lies = _are_drawn(level, down, across).T
    cells = stands[:-1] & stands[1:] & lies[:, :-1] & lies[:, 1:]
    best: tuple[int, int, int, int] | None = None
    for first, last in _equal_runs(across):
        for top, bottom in _equal_runs(down):
            found = _largest_block(cells[first:last, top:bottom])
            if found is None:
                continue
            a, b, c, d = found
            block = (first + a, first + b, top + c, top + d)
            if best is None or _n_cells(block) > _n_cells(best):
                best = block
    if best is None or _n_cells(best) < _LEAST_CELLS:
        return None
    first, last, top, bottom = best
    return CellGrid(
        across=tuple(float(x) for x in across[first : last + 1]),
        down=tuple(float(y) for y in down[top : bottom + 1]),
        width_px=float(max(upright.widths.max(), level.widths.max())),
    )


def _n_cells(block: tuple[int, int, int, int]) -> int:
    return (block[1] - block[0]) * (block[3] - block[2])


def _in_direction(lines: Sequence[PenLine], axis: int) -> _Lines:
    """Upright lines for axis 0, level ones for axis 1."""
    rows = []
    for line in lines:
        if not line.is_straight:
            continue
        span = np.abs(line.points[1] - line.points[0])
        if span[axis] <= _LEANING * span[1 - axis]:
            along = np.sort(line.points[:, 1 - axis])
            rows.append((line.points[:, axis].mean(), along[0], along[1], line.width))
    table = np.array(rows, dtype=np.float64).reshape(-1, 4)
    return _Lines(places=table[:, 0], starts=table[:, 1], ends=table[:, 2], widths=table[:, 3])


def _merged_places(lines: _Lines) -> Floats:
    """The places of lines in order, those of one line drawn in parts taken as one."""
    if not len(lines.places):
        return np.empty(0)
    order = np.argsort(lines.places)
    places = lines.places[order]
    apart = np.diff(places) > np.maximum(_SAME_PLACE_SHARE * lines.widths[order][1:], 0.5)
    groups = np.split(places, np.flatnonzero(apart) + 1)
    return np.array([group.mean() for group in groups])


def _are_drawn(lines: _Lines, places: Floats, marks: Floats) -> Bools:
    """Whether the line at each place is drawn between each two marks, `(places, marks - 1)`."""
    drawn = np.zeros((len(places), len(marks) - 1), dtype=bool)
    low, high = marks[:-1], marks[1:]
    for index, place in enumerate(places):
        mine = np.flatnonzero(np.abs(lines.places - place) <= np.maximum(lines.widths, 1.0))
        covered = np.zeros(len(low))
        for line in mine:
            shared = np.minimum(high, lines.ends[line]) - np.maximum(low, lines.starts[line])
            covered += np.clip(shared, 0.0, None)
        drawn[index] = covered >= _COVERED * (high - low)
    return drawn


def _equal_runs(places: Floats) -> list[tuple[int, int]]:
    """The longest runs of equal steps between places, each from one index to another."""
    steps = np.diff(places)
    runs, start = [], 0
    for index in range(1, len(steps) + 1):
        mean = float(steps[start:index].mean())
        if index == len(steps) or abs(float(steps[index]) - mean) > _SAME_SIZE * mean:
            runs.append((start, index))
            start = index
    return runs


def _largest_block(cells: Bools) -> tuple[int, int, int, int] | None:
    """The block of the most cells that are all there: first, last, top and bottom index."""
    best: tuple[int, int, int, int] | None = None
    for first in range(len(cells)):
        open_rows = np.ones(cells.shape[1], dtype=bool)
        for last in range(first + 1, len(cells) + 1):
            open_rows = open_rows & cells[last - 1]
            edges = np.flatnonzero(np.diff(np.concatenate(([False], open_rows, [False]))))
            for top, bottom in edges.reshape(-1, 2):
                block = (first, last, int(top), int(bottom))
                if best is None or _n_cells(block) > _n_cells(best):
                    best = block
    return best
