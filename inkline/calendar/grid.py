"""The exact grid of a month: edges, cells, blocks and rules as numbers, with nothing rounded.

Page space, y down, in px. A rule is given so that the picture of a grid is exactly the union of the rectangles from
start to end, as wide as the rule: inner rules run from centre to centre of the frame, and the frame's own rules are
longer by half their width at both ends, so that they make square corners.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from inkline.calendar.months import DAYS_PER_WEEK

Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""


class Place(StrEnum):
    """Where in a grid a rule stands: around it, under its weekday row, or inside."""

    FRAME = "frame"
    HEADER = "header"
    INNER = "inner"


class Direction(StrEnum):
    """Which way a rule runs."""

    ACROSS = "across"
    DOWN = "down"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One exact rule.

    Attributes:
        direction: across from left to right, or down from top to bottom.
        number: 1 for the uppermost or leftmost of its direction.
        place: where in the grid it stands.
        start: first point of its centreline.
        end: last point of its centreline.
        width_px: its width.
        crossings: arc lengths from `start` at which the rules of the other direction meet it, ascending.
    """

    direction: Direction
    number: int
    place: Place
    start: tuple[float, float]
    end: tuple[float, float]
    width_px: float
    crossings: tuple[float, ...]

    @property
    def name(self) -> str:
        """Direction and number, such as `across-3`."""
        return f"{self.direction.value}-{self.number}"


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleWidths:
    """Widths of a grid's rules in px, each above 0."""

    frame_px: float
    header_px: float
    inner_px: float

    def __post_init__(self) -> None:
        for name in ("frame_px", "header_px", "inner_px"):
            _require_above_zero(name, getattr(self, name))

    def of(self, place: Place) -> float:
        """The width of a rule at `place`."""
        return {Place.FRAME: self.frame_px, Place.HEADER: self.header_px, Place.INNER: self.inner_px}[place]


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthGrid:
    """A grid of equal cells, with or without a row for the weekdays on top.

    Attributes:
        n_rows: weeks, at least 1.
        cell_width_px: distance between the centres of neighbouring rules down, above 0.
        cell_height_px: the same of rules across, above 0.
        origin: upper left corner of the first cell; the weekday row lies above it, so that grids with and without one
            have the same cells.
        header_height_px: height of the weekday row, 0 for none.
        n_columns: days of a week.
    """

    n_rows: int
    cell_width_px: float
    cell_height_px: float
    origin: tuple[float, float]
    header_height_px: float = 0.0
    n_columns: int = DAYS_PER_WEEK

    def __post_init__(self) -> None:
        for name in ("n_rows", "n_columns", "cell_width_px", "cell_height_px"):
            _require_above_zero(name, getattr(self, name))
        if not 0 <= self.header_height_px < math.inf:
            raise ValueError(f"header_height_px must be at least 0, not {self.header_height_px}")

    @property
    def column_edges(self) -> tuple[float, ...]:
        """Where the rules down stand in x, `n_columns` + 1 of them, left to right."""
        return tuple(self.origin[0] + index * self.cell_width_px for index in range(self.n_columns + 1))

    @property
    def cell_edges(self) -> tuple[float, ...]:
        """Where the rules across that bound the weeks stand in y, `n_rows` + 1 of them, top to bottom."""
        return tuple(self.origin[1] + index * self.cell_height_px for index in range(self.n_rows + 1))

    @property
    def row_edges(self) -> tuple[float, ...]:
        """Where all rules across stand in y: the weekday row's upper edge if there is one, then `cell_edges`."""
        if self.header_height_px == 0:
            return self.cell_edges
        return (self.origin[1] - self.header_height_px, *self.cell_edges)

    @property
    def outer(self) -> Box:
        """The outermost edges, weekday row included."""
        columns, rows = self.column_edges, self.row_edges
        return (columns[0], rows[0], columns[-1], rows[-1])

    def cell(self, row: int, column: int) -> Box:
        """The cell in `row` and `column`, both counted from 0.

        Raises:
            IndexError: no such cell.
        """
        if not (0 <= row < self.n_rows and 0 <= column < self.n_columns):
            raise IndexError(f"a grid of {self.n_rows} rows and {self.n_columns} columns has no cell ({row}, {column})")
        columns, rows = self.column_edges, self.cell_edges
        return (columns[column], rows[row], columns[column + 1], rows[row + 1])

    def header_cell(self, column: int) -> Box:
        """The cell of the weekday row in `column`, counted from 0.

        Raises:
            IndexError: no such cell, or no weekday row.
        """
        if self.header_height_px == 0 or not 0 <= column < self.n_columns:
            raise IndexError(f"this grid has no weekday cell {column}")
        columns, bottom = self.column_edges, self.origin[1]
        return (columns[column], bottom - self.header_height_px, columns[column + 1], bottom)

    def day_cell(self, day: int, *, offset: int) -> Box:
        """The cell of `day` (from 1) in a month whose first stands `offset` columns in.

        Raises:
            IndexError: the day lies outside the grid.
        """
        row, column = divmod(offset + day - 1, self.n_columns)
        return self.cell(row, column)

    def rules(self, widths: RuleWidths) -> tuple[Rule, ...]:
        """All rules, those across from the top down and then those down from the left."""
        across = tuple(self._across(number, widths) for number in range(1, len(self.row_edges) + 1))
        down = tuple(self._down(number, widths) for number in range(1, self.n_columns + 2))
        return across + down

    def _across(self, number: int, widths: RuleWidths) -> Rule:
        edges, columns = self.row_edges, self.column_edges
        outermost = number in {1, len(edges)}
        below_header = self.header_height_px > 0 and number == 2
        place = Place.FRAME if outermost else Place.HEADER if below_header else Place.INNER
        beyond, y = _beyond(place, widths), edges[number - 1]
        return Rule(
            direction=Direction.ACROSS,
            number=number,
            place=place,
            start=(columns[0] - beyond, y),
            end=(columns[-1] + beyond, y),
            width_px=widths.of(place),
            crossings=tuple(x - columns[0] + beyond for x in columns),
        )

    def _down(self, number: int, widths: RuleWidths) -> Rule:
        columns, rows = self.column_edges, self.row_edges
        place = Place.FRAME if number in {1, len(columns)} else Place.INNER
        beyond, x = _beyond(place, widths), columns[number - 1]
        return Rule(
            direction=Direction.DOWN,
            number=number,
            place=place,
            start=(x, rows[0] - beyond),
            end=(x, rows[-1] + beyond),
            width_px=widths.of(place),
            crossings=tuple(y - rows[0] + beyond for y in rows),
        )


def inset_box(box: Box, inset_px: float) -> Box:
    """`box` set in by `inset_px` on all four sides.

    Raises:
        ValueError: nothing of the box would be left, or the inset is negative.
    """
    left, top, right, bottom = box
    if not 0 <= 2 * inset_px < min(right - left, bottom - top):
        raise ValueError(f"an inset of {inset_px} px does not fit a box of {right - left} x {bottom - top} px")
    return (left + inset_px, top + inset_px, right - inset_px, bottom - inset_px)


def _beyond(place: Place, widths: RuleWidths) -> float:
    return widths.frame_px / 2 if place is Place.FRAME else 0.0


def _require_above_zero(name: str, value: float) -> None:
    if not 0 < value < math.inf:
        raise ValueError(f"{name} must be above 0, not {value}")
