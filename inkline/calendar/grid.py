"""The exact grid of a calendar: columns, rows, cells, panels and rules, with nothing rounded.

Page space, y down, in px. One grid serves a month, a strip, a week and a day: equal columns and
equal rows, gutters between them or none, and bands for the weekdays' letters over the first row or
over each.

Cells that touch share the rule between them; a gutter parts them, and each *panel*, as many cells
as hang together, has rules of its own. A rule is given so that the picture of a panel is exactly
the union of the rectangles from start to end, as wide as the rule: inner rules run from centre to
centre of the frame, and the frame's own rules are longer by half their width at both ends, so that
they make square corners.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise, zip_longest
from typing import TypeVar

from inkline.calendar.months import DAYS_PER_WEEK
from inkline.geometry.boxes import Box, Interval

_Part = TypeVar("_Part")


class Standing(StrEnum):
    """Where in its panel a rule stands: around it, under a header band, or inside."""

    FRAME = "frame"
    HEADER = "header"
    INNER = "inner"


class Direction(StrEnum):
    """Which way a rule runs."""

    ACROSS = "across"
    DOWN = "down"


class HeaderOver(StrEnum):
    """Which rows have a header band above them, where there are any."""

    FIRST_ROW = "first row"
    EACH_ROW = "each row"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One straight rule of a grid, with its exact place, width and crossings.

    Attributes:
        direction: across from left to right, or down from top to bottom.
        number: 1 for the uppermost or leftmost of its direction in its panel.
        place: where in its panel it stands.
        start: first point of its centreline.
        end: last point of its centreline.
        width_px: its width.
        crossings: arc lengths from `start` at which the rules of the other direction meet it,
            ascending.
        panel: which panel it belongs to, such as `r2c3`: row and column of panels counted from 1 at
            the upper left, each left out where there is only one.
    """

    direction: Direction
    number: int
    place: Standing
    start: tuple[float, float]
    end: tuple[float, float]
    width_px: float
    crossings: tuple[float, ...]
    panel: str = ""

    @property
    def name(self) -> str:
        """Panel, direction and number, such as `across-3` or `r2c3-down-1`."""
        own = f"{self.direction.value}-{self.number}"
        return f"{self.panel}-{own}" if self.panel else own


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleWidths:
    """Widths of a grid's rules in px, each above 0."""

    frame_px: float
    header_px: float
    inner_px: float

    def __post_init__(self) -> None:
        for name in ("frame_px", "header_px", "inner_px"):
            _require_above_zero(name, getattr(self, name))

    def width_at(self, place: Standing) -> float:
        """The width of a rule at `place`."""
        return {
            Standing.FRAME: self.frame_px,
            Standing.HEADER: self.header_px,
            Standing.INNER: self.inner_px,
        }[place]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A grid of equal cells, with or without header bands for the weekdays' letters.

    A header band touches the cells below it, or stands off by the row gutter if there is one.
    Columns are counted in reading order: column 0 is the week's first day, at the left, or at the
    right where the grid is mirrored.

    Attributes:
        n_rows: rows of cells, at least 1.
        cell_width_px: from edge to edge of a column, above 0; where columns touch, their edge is
            the middle of a rule.
        cell_height_px: the same of rows, above 0.
        origin: upper left corner of the first row's leftmost cell; header bands lie above their
            rows.
        header_height_px: height of the header bands, 0 for none.
        n_columns: columns, at least 1.
        column_gutter_px: white between the edges of neighbouring columns, at least 0; at 0 they
            share a rule.
        row_gutter_px: white below a row to what comes next, a header band or cells, and between a
            header band and its cells.
        header_over: the rows that have a header band.
        mirrored: whether the columns run from right to left.
    """

    n_rows: int
    cell_width_px: float
    cell_height_px: float
    origin: tuple[float, float]
    header_height_px: float = 0.0
    n_columns: int = DAYS_PER_WEEK
    column_gutter_px: float = 0.0
    row_gutter_px: float = 0.0
    header_over: HeaderOver = HeaderOver.FIRST_ROW
    mirrored: bool = False

    def __post_init__(self) -> None:
        for name in ("n_rows", "n_columns", "cell_width_px", "cell_height_px"):
            _require_above_zero(name, getattr(self, name))
        for name in ("header_height_px", "column_gutter_px", "row_gutter_px"):
            _require_zero_or_more(name, getattr(self, name))

    @property
    def columns(self) -> tuple[Interval, ...]:
        """Left and right edge of each column, from the left, whether or not it is mirrored."""
        return _intervals(self.origin[0], self.cell_width_px, self.column_gutter_px, self.n_columns)

    @property
    def rows(self) -> tuple[Interval, ...]:
        """Upper and lower edge of each row of cells, from the top."""
        return _intervals(self.origin[1], self.cell_height_px, self._between_rows_px, self.n_rows)

    @property
    def header_bands(self) -> tuple[Interval, ...]:
        """Upper and lower edge of each header band, from the top.

        None if the header height is 0.
        """
        if self.header_height_px == 0:
            return ()
        rows, gutter = self.rows, self.row_gutter_px
        first = (rows[0][0] - gutter - self.header_height_px, rows[0][0] - gutter)
        if self.header_over is HeaderOver.FIRST_ROW:
            return (first,)
        later = ((above[1] + gutter, row[0] - gutter) for above, row in pairwise(rows))
        return (first, *later)

    @property
    def outer_box(self) -> Box:
        """The outermost edges, header bands included."""
        columns, bands = self.columns, self._bands
        return (columns[0][0], bands[0].top, columns[-1][1], bands[-1].foot)

    def cell(self, row: int, column: int) -> Box:
        """The cell in `row` and `column`, both counted from 0 in reading order.

        Raises:
            IndexError: no such cell.
        """
        if not (0 <= row < self.n_rows and 0 <= column < self.n_columns):
            raise IndexError(
                f"a grid of {self.n_rows} rows and {self.n_columns} columns has no cell ({row}, "
                f"{column})"
            )
        return self._box(column, self.rows[row])

    def header_cell(self, column: int, *, row: int = 0) -> Box:
        """The cell in `column` of the header band over `row`, both counted from 0 in reading order.

        Raises:
            IndexError: no such cell, or no header band over that row.
        """
        bands = self.header_bands
        if not (0 <= row < len(bands) and 0 <= column < self.n_columns):
            raise IndexError(f"this grid has no header cell {column} over row {row}")
        return self._box(column, bands[row])

    def day_cell(self, day: int, *, offset: int) -> Box:
        """The cell of `day` (from 1) in a month whose first stands `offset` columns in.

        Raises:
            IndexError: the day lies outside the grid.
        """
        row, column = divmod(offset + day - 1, self.n_columns)
        return self.cell(row, column)

    def without_header(self) -> Grid:
        """The same cells at the same places without header bands.

        Where each row had one, white is left instead.
        """
        return replace(self, header_height_px=0.0, row_gutter_px=self._between_rows_px)

    def rules(self, widths: RuleWidths) -> tuple[Rule, ...]:
        """All rules, panel by panel from the upper left, row by row.

        In each panel those across come from the top, then those down from the left.
        """
        return tuple(rule for panel in self._panels() for rule in panel.rules(widths))

    @property
    def _between_rows_px(self) -> float:
        """From the foot of a row of cells to the top of the next."""
        if self.header_over is HeaderOver.FIRST_ROW or self.header_height_px == 0:
            return self.row_gutter_px
        return 2.0 * self.row_gutter_px + self.header_height_px

    @property
    def _bands(self) -> tuple[_Band, ...]:
        """Header bands and rows of cells, from the top."""
        bands = []
        for row, header in zip_longest(self.rows, self.header_bands):
            if header is not None:
                bands.append(_Band(top=header[0], foot=header[1], is_header=True))
            bands.append(_Band(top=row[0], foot=row[1], is_header=False))
        return tuple(bands)

    def _box(self, column: int, band: Interval) -> Box:
        left, right = self.columns[self.n_columns - 1 - column if self.mirrored else column]
        return (left, band[0], right, band[1])

    def _panels(self) -> Iterator[_Panel]:
        rows = _runs(self._bands, self.row_gutter_px)
        columns = _runs(self.columns, self.column_gutter_px)
        for row, bands in enumerate(rows, start=1):
            for column, intervals in enumerate(columns, start=1):
                name = (f"r{row}" if len(rows) > 1 else "") + (
                    f"c{column}" if len(columns) > 1 else ""
                )
                yield _Panel(name=name, columns=intervals, bands=bands)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Band:
    """A row of cells, or a header band: its upper and lower edge in y."""

    top: float
    foot: float
    is_header: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Panel:
    """Cells that touch, with the rules around and between them.

    Attributes:
        name: what the names of its rules begin with, "" where it is the only one.
        columns: its columns, each beginning where the one before ends.
        bands: its bands, likewise.
    """

    name: str
    columns: Sequence[Interval]
    bands: Sequence[_Band]

    def rules(self, widths: RuleWidths) -> Iterator[Rule]:
        """Its rules across from the top, then those down from the left."""
        xs = (self.columns[0][0], *(right for _, right in self.columns))
        ys = (self.bands[0].top, *(band.foot for band in self.bands))
        inner = [Standing.HEADER if band.is_header else Standing.INNER for band in self.bands[:-1]]
        for number, place in enumerate((Standing.FRAME, *inner, Standing.FRAME)):
            yield self._rule(Direction.ACROSS, number, place, ys, xs, widths)
        inner = [Standing.INNER] * (len(self.columns) - 1)
        for number, place in enumerate((Standing.FRAME, *inner, Standing.FRAME)):
            yield self._rule(Direction.DOWN, number, place, xs, ys, widths)

    def _rule(
        self,
        direction: Direction,
        number: int,
        place: Standing,
        places: Sequence[float],
        crossed: Sequence[float],
        widths: RuleWidths,
    ) -> Rule:
        """The rule that stands at `places[number]` and meets the others at `crossed`."""
        beyond = widths.frame_px / 2 if place is Standing.FRAME else 0.0
        ends = ((end, places[number]) for end in (crossed[0] - beyond, crossed[-1] + beyond))
        start, end = ends if direction is Direction.ACROSS else ((y, x) for x, y in ends)
        return Rule(
            direction=direction,
            number=number + 1,
            place=place,
            start=start,
            end=end,
            width_px=widths.width_at(place),
            crossings=tuple(at - crossed[0] + beyond for at in crossed),
            panel=self.name,
        )


def _intervals(start: float, length: float, gutter: float, count: int) -> tuple[Interval, ...]:
    """`count` intervals of one length and one gutter.

    Without a gutter each begins at the very number at which the last one ends.
    """
    return tuple(
        (start + index * length + index * gutter, start + (index + 1) * length + index * gutter)
        for index in range(count)
    )


def _runs(parts: Sequence[_Part], gutter: float) -> tuple[Sequence[_Part], ...]:
    """What hangs together: all of it without a gutter, else each part alone."""
    return (parts,) if gutter == 0 else tuple((part,) for part in parts)


def _require_above_zero(name: str, value: float) -> None:
    if not 0 < value < math.inf:
        raise ValueError(f"{name} must be above 0, not {value}")


def _require_zero_or_more(name: str, value: float) -> None:
    if not 0 <= value < math.inf:
        raise ValueError(f"{name} must be at least 0, not {value}")
