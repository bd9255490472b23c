"""The exact measures of one format: its cells, rules, gaps and margins, in px of its canvas."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from inkline.calendar.grid import Grid, RuleWidths
from inkline.geometry.boxes import Box
from inkline.kit.recipe.choices import Level, Side

HANGING_WHITE = 0.09
"""White between the outermost rule and what hangs beside it, as a share of the cell's width. Chosen
by eye: wider than a rule, narrower than the gap of a numeral."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Margins:
    """White around the middle of the outermost rules, in px, on each side of a canvas."""

    top: float
    right: float
    bottom: float
    left: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FormatLayout:
    """The exact measures of one format, in px of its canvas.

    Attributes:
        name: the format's name.
        canvas: width and height of the canvas.
        safe: no ink comes nearer to the canvas edge.
        margins: what the cells and header bands keep free on each side; they stand in the middle of
            the rest.
        full_grid: all rows with their header bands.
        rule: width of rules.
        heavy: width of the frame and of the rules under header bands in grids that have these.
        inset: from a cell's edge to its block's.
        corner: radius of the blocks' corners.
        block_line: width of the lines of outlined blocks and of underlines.
        gap: white between a numeral and the edge of a rule or a block.
        gap_is_from_blocks: whether numerals are placed from their blocks' edges.
        edge: from the middle of a rule to that edge.
        edge_of_marks: from there to the edge that marks keep off.
        place: where in its cell a numeral stands: left, in the centre or right, and how high.
        shifts: how far single numerals are moved to the right and down from there.
        title_box: where a finished month's title stands, as wide as the grid, or `None` without a
            title.
    """

    name: str
    canvas: tuple[int, int]
    safe: float
    margins: Margins
    full_grid: Grid
    rule: float
    heavy: float
    inset: float
    corner: float
    block_line: float
    gap: float
    gap_is_from_blocks: bool
    edge: float
    edge_of_marks: float
    place: tuple[Side, Level]
    shifts: Mapping[str, tuple[float, float]]
    title_box: Box | None = None

    @property
    def side(self) -> int:
        """Width of the canvas, which is the whole sheet's."""
        return self.canvas[0]

    @property
    def cell_width(self) -> float:
        """From edge to edge of a column; the distance between neighbouring rules down."""
        return self.full_grid.cell_width_px

    @property
    def cell_height(self) -> float:
        """From edge to edge of a row."""
        return self.full_grid.cell_height_px

    @property
    def header_height(self) -> float:
        """Height of a header band."""
        return self.full_grid.header_height_px

    @property
    def column_gutter(self) -> float:
        """White between the edges of neighbouring columns; 0 where they share a rule."""
        return self.full_grid.column_gutter_px

    @property
    def row_gutter(self) -> float:
        """White between the edges of rows, and of header bands, likewise."""
        return self.full_grid.row_gutter_px

    @property
    def mirrored(self) -> bool:
        """Whether the columns run from right to left."""
        return self.full_grid.mirrored

    @property
    def origin(self) -> tuple[float, float]:
        """Upper left corner of the first row's leftmost cell."""
        return self.full_grid.origin

    @property
    def white(self) -> float:
        """From the middle of a rule to where a numeral's side lies to the eye."""
        return self.edge + self.gap

    def grid(self, n_rows: int | None = None) -> Grid:
        """The grid of the first `n_rows` rows, or of all, without header bands."""
        return self.headed_grid(n_rows).without_header()

    def headed_grid(self, n_rows: int | None = None) -> Grid:
        """The grid of the first `n_rows` rows, or of all, with header bands over the same cells."""
        return self.full_grid if n_rows is None else replace(self.full_grid, n_rows=n_rows)

    @property
    def even_widths(self) -> RuleWidths:
        """Widths of rules in grids without header bands: all the same."""
        return RuleWidths(frame_px=self.rule, header_px=self.rule, inner_px=self.rule)

    @property
    def framed_widths(self) -> RuleWidths:
        """Widths of rules in grids with header bands: a heavier frame, and one under each band."""
        return RuleWidths(frame_px=self.heavy, header_px=self.heavy, inner_px=self.rule)

    @property
    def header_cells(self) -> tuple[Box, ...]:
        """The cells of all header bands in reading order.

        They run from the week's first day on, and band by band from the top.
        """
        grid = self.full_grid
        bands = range(len(grid.header_bands))
        return tuple(
            grid.header_cell(column, row=band) for band in bands for column in range(grid.n_columns)
        )

    @property
    def hanging_column(self) -> Box:
        """The room beside the first day's column where week numbers hang, as high as all rows.

        It lies between what is safe from the canvas edge and a small white off the outermost rule;
        where the margin is too narrow for that, its right side lies at or before its left one.
        """
        rows = self.full_grid.rows
        left, right = self._hanging_sides
        return (left, rows[0][0], right, rows[-1][1])

    def hanging_cell(self, row: int) -> Box:
        """The part of the hanging column beside `row`, counted from 0.

        Raises:
            IndexError: no such row.
        """
        _, top, _, bottom = self.full_grid.cell(row, 0)
        left, right = self._hanging_sides
        return (left, top, right, bottom)

    @property
    def _hanging_sides(self) -> tuple[float, float]:
        left, _, right, _ = self.full_grid.outer_box
        off = max(self.rule, self.heavy) / 2.0 + HANGING_WHITE * self.cell_width
        return (right + off, self.side - self.safe) if self.mirrored else (self.safe, left - off)
