"""The layout of one format on its canvas: every length of the recipe worked out in px.

One origin for the whole format: the six-week grid with its weekday row, the largest that fits between the margins, stands in
the middle of the canvas, and every other stamp of the format uses its cells. So whatever is stamped at one size and one place
lines up.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from inkline.calendar.grid import Box, MonthGrid, RuleWidths
from inkline.calendar.months import DAYS_PER_WEEK
from inkline.kit.recipe_model import FormatRecipe, Recipe
from inkline.kit.schema_words import GapFrom, Level, Side
from inkline.units import Length

MOST_WEEKS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class FormatLayout:
    """The exact measures of one format, in px of its canvas.

    Attributes:
        name: the format's name.
        side: width and height of the canvas.
        safe: no ink comes nearer to the canvas edge.
        cell_width: distance between neighbouring rules down.
        cell_height: distance between neighbouring rules across.
        header_height: height of the weekday row.
        origin: upper left corner of the first cell.
        rule: width of rules.
        heavy: width of the frame and of the rule under the weekdays in grids with a weekday row.
        inset: from a cell's edge to its block's.
        corner: radius of the blocks' corners.
        gap: white between a numeral and the edge of a rule or a block.
        edge: from the middle of a rule to that edge.
        place: where in its cell a numeral stands.
        shifts: how far single numerals are moved to the right and down from there.
    """

    name: str
    side: int
    safe: float
    cell_width: float
    cell_height: float
    header_height: float
    origin: tuple[float, float]
    rule: float
    heavy: float
    inset: float
    corner: float
    gap: float
    edge: float
    place: tuple[Side, Level]
    shifts: Mapping[str, tuple[float, float]]

    @property
    def white(self) -> float:
        """From the middle of a rule to where a numeral's side lies to the eye."""
        return self.edge + self.gap

    def grid(self, n_rows: int) -> MonthGrid:
        """The grid of `n_rows` weeks without a weekday row."""
        return MonthGrid(
            n_rows=n_rows, cell_width_px=self.cell_width, cell_height_px=self.cell_height, origin=self.origin
        )

    def headed_grid(self, n_rows: int) -> MonthGrid:
        """The grid of `n_rows` weeks with the weekday row on top of the same cells."""
        return MonthGrid(
            n_rows=n_rows,
            cell_width_px=self.cell_width,
            cell_height_px=self.cell_height,
            origin=self.origin,
            header_height_px=self.header_height,
        )

    @property
    def even_widths(self) -> RuleWidths:
        """Widths of rules in grids without a weekday row: all the same."""
        return RuleWidths(frame_px=self.rule, header_px=self.rule, inner_px=self.rule)

    @property
    def framed_widths(self) -> RuleWidths:
        """Widths of rules in grids with a weekday row: a heavier frame, and a heavier rule under the weekdays."""
        return RuleWidths(frame_px=self.heavy, header_px=self.heavy, inner_px=self.rule)

    @property
    def header_cells(self) -> tuple[Box, ...]:
        """The seven cells of the weekday row."""
        grid = self.headed_grid(MOST_WEEKS)
        return tuple(grid.header_cell(column) for column in range(DAYS_PER_WEEK))


def layout_of(recipe: Recipe, shape: FormatRecipe) -> FormatLayout:
    """The measures of the format `shape` of `recipe`.

    Whether rules, blocks and letters fit them is for the catalogue's checks to say.
    """
    side, margin = recipe.side_px, recipe.px(recipe.margin)
    rows_high = MOST_WEEKS + shape.weekday_row
    free = side - 2.0 * margin
    cell_width = min(free / DAYS_PER_WEEK, free / (rows_high * shape.cell))
    cell_height = cell_width * shape.cell
    header_height = cell_height * shape.weekday_row
    left = (side - DAYS_PER_WEEK * cell_width) / 2.0
    top = (side - rows_high * cell_height) / 2.0
    rule, inset = recipe.px(shape.rule), px_of_share(recipe, shape.block_inset, cell_width)
    return FormatLayout(
        name=shape.name,
        side=side,
        safe=recipe.px(recipe.safe),
        cell_width=cell_width,
        cell_height=cell_height,
        header_height=header_height,
        origin=(left, top + header_height),
        rule=rule,
        heavy=rule * shape.frame,
        inset=inset,
        corner=px_of_share(recipe, shape.block_corner, cell_width),
        gap=px_of_share(recipe, shape.gap, cell_width),
        edge=rule / 2.0 if shape.gap_from is GapFrom.RULES else inset,
        place=(shape.side, shape.level),
        shifts={text: (recipe.px(right), recipe.px(down)) for text, right, down in shape.shift},
    )


def px_of_share(recipe: Recipe, value: float | Length, whole_px: float) -> float:
    """A share of `whole_px`, or a length, in px."""
    return recipe.px(value) if isinstance(value, Length) else value * whole_px
