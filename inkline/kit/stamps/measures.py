"""The layout of one format on its canvas: every length of the recipe worked out in px.

One origin for the whole format: all its rows with their header bands, the largest that fit between
the margins, stand in the middle between them, and every stamp of the format uses the same cells. A
month always keeps room for six weeks and the row of weekdays, whatever its stamps show. So whatever
is stamped at one size and one place lines up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from inkline.calendar.grid import Grid, HeaderOver
from inkline.calendar.months import DAYS_PER_WEEK
from inkline.errors import InputError
from inkline.kit.recipe.choices import BlockForm, Blocks, GapFrom, Shows, Side
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.layout import FormatLayout, Margins
from inkline.units import Length

MOST_WEEKS = 6
_WHOLE_PX = 1e-6
"""A height so little over a whole px is that number of px, and the rest is rounding."""
_MOST_INSET = 1 / 6
"""Boxes set in by more than this share of the cell's height, on either side, are too low for
numerals to be placed from their edges. Chosen by eye."""
_WEEKS = frozenset({Shows.MONTH, Shows.SMALL})
_LETTERS_OVER_EACH_ROW = frozenset({Shows.STRIP, Shows.WEEK})


class NoRoomError(InputError):
    """The margins and gutters of a format leave nothing for its cells.

    Attributes:
        format: the format's name.
        key: the last part of the recipe's key for the gutters that run that way, `column_gutter` or
            `row_gutter`.
        between_px: what lies between the margins, from left to right or from top to bottom.
        gutters_px: what the gutters that are lengths take of it.
    """

    def __init__(
        self, message: str, *, format_name: str, key: str, between_px: float, gutters_px: float
    ) -> None:
        super().__init__(message)
        self.format, self.key, self.between_px, self.gutters_px = (
            format_name,
            key,
            between_px,
            gutters_px,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Need:
    """What cells and their gutters need in one direction.

    That is `share` for a cell width of 1, and `fixed` px more.
    """

    share: float
    fixed: float

    def width_in(self, between: float) -> float:
        """The cell width with which they fill `between` px; 0 or less if they can't."""
        return (between - self.fixed) / self.share

    def at(self, cell_width: float) -> float:
        """What they need in px with cells of that width."""
        return self.share * cell_width + self.fixed


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """A format's rows and columns before their size is known."""

    n_rows: int
    n_columns: int
    header_over: HeaderOver
    n_row_gutters: int
    rows_high: float


def layout_of(recipe: Recipe, shape: FormatRecipe, *, title: float = 0.0) -> FormatLayout:
    """The measures of the format `shape` of `recipe`.

    Whether rules, blocks and letters fit them is for the catalogue's checks to say.

    Args:
        recipe: the kit's.
        shape: one of its formats.
        title: height of a band for a title above everything, a share of the canvas side; the canvas
            grows and all else moves down by the same whole number of px.

    Raises:
        NoRoomError: margins and gutters leave nothing for the cells.
    """
    margins, plan = _margins(recipe, shape), _plan(shape)
    across = _need(recipe, shape.column_gutter, plan.n_columns, plan.n_columns - 1)
    down = _need(recipe, shape.row_gutter, plan.rows_high * shape.cell, plan.n_row_gutters)
    width = recipe.side_px
    cell_width = _cell_width_in(
        shape, "column_gutter", across, width - (margins.left + margins.right)
    )
    if isinstance(shape.height, str):
        height = math.ceil(down.at(cell_width) + (margins.top + margins.bottom) - _WHOLE_PX)
    else:
        height = max(1, round(shape.height * width))
        cell_width = min(
            cell_width,
            _cell_width_in(shape, "row_gutter", down, height - (margins.top + margins.bottom)),
        )
    cell_height = cell_width * shape.cell
    header_height, row_gutter = (
        cell_height * shape.weekday_row,
        px_of_share(recipe, shape.row_gutter, cell_width),
    )
    used = plan.rows_high * cell_height + plan.n_row_gutters * row_gutter
    left = (width + (margins.left - margins.right) - across.at(cell_width)) / 2.0
    top = (height + (margins.top - margins.bottom) - used) / 2.0 + header_height + row_gutter
    grid = Grid(
        n_rows=plan.n_rows,
        n_columns=plan.n_columns,
        cell_width_px=cell_width,
        cell_height_px=cell_height,
        origin=(left, top),
        header_height_px=header_height,
        column_gutter_px=px_of_share(recipe, shape.column_gutter, cell_width),
        row_gutter_px=row_gutter,
        header_over=plan.header_over,
        mirrored=recipe.mirrored,
    )
    layout = _layout(recipe, shape, canvas=(width, height), margins=margins, grid=grid)
    return _with_title_band(layout, math.ceil(title * width - _WHOLE_PX)) if title > 0 else layout


def _gap_is_from_blocks(shape: FormatRecipe, *, inset_px: float, most_px: float) -> bool:
    """Whether the numerals of a format are placed from its blocks' edges, not from its rules'.

    The nearest edges are those of boxes, unless these are set in by more than `most_px`, so that
    numerals can't be meant to stand within them.
    """
    if shape.gap_from is not GapFrom.NEAREST:
        return shape.gap_from is GapFrom.BLOCKS
    has_boxes = shape.blocks is not Blocks.NONE and shape.block_form is BlockForm.BOX
    return has_boxes and inset_px <= most_px


def _side(recipe: Recipe, shape: FormatRecipe) -> Side:
    """The side of its cell at which a numeral stands, the start told by how columns run."""
    if shape.side is not Side.START:
        return shape.side
    return Side.RIGHT if recipe.mirrored else Side.LEFT


def px_of_share(recipe: Recipe, value: float | Length, whole_px: float) -> float:
    """A share of `whole_px`, or a length, in px."""
    return recipe.px(value) if isinstance(value, Length) else value * whole_px


def _layout(
    recipe: Recipe, shape: FormatRecipe, *, canvas: tuple[int, int], margins: Margins, grid: Grid
) -> FormatLayout:
    """What the lengths of `shape` are with the cells of `grid`."""
    cell_width, rule = grid.cell_width_px, recipe.px(shape.rule)
    inset = px_of_share(recipe, shape.block_inset, cell_width)
    gap = px_of_share(recipe, shape.gap, cell_width)
    from_blocks = _gap_is_from_blocks(
        shape, inset_px=inset, most_px=min(gap, _MOST_INSET * grid.cell_height_px)
    )
    return FormatLayout(
        name=shape.name,
        canvas=canvas,
        safe=recipe.px(recipe.safe),
        margins=margins,
        full_grid=grid,
        rule=rule,
        heavy=rule * shape.frame,
        inset=inset,
        corner=px_of_share(recipe, shape.block_corner, cell_width),
        block_line=recipe.px(shape.block_line),
        gap=gap,
        gap_is_from_blocks=from_blocks,
        edge=inset if from_blocks else rule / 2.0,
        edge_of_marks=inset if shape.gap_from is GapFrom.BLOCKS else rule / 2.0,
        place=(_side(recipe, shape), shape.level),
        shifts={text: (recipe.px(right), recipe.px(down)) for text, right, down in shape.shift},
    )


def _margins(recipe: Recipe, shape: FormatRecipe) -> Margins:
    if isinstance(shape.margin, str):
        margin = recipe.px(recipe.margin)
        return Margins(top=margin, right=margin, bottom=margin, left=margin)
    top, right, bottom, left = (recipe.px(length) for length in shape.margin)
    return Margins(top=top, right=right, bottom=bottom, left=left)


def _plan(shape: FormatRecipe) -> _Plan:
    weeks = shape.shows in _WEEKS
    n_rows, n_columns = (MOST_WEEKS, DAYS_PER_WEEK) if weeks else (shape.rows, shape.columns)
    each = shape.shows in _LETTERS_OVER_EACH_ROW
    n_headers = n_rows if each else 1
    return _Plan(
        n_rows=n_rows,
        n_columns=n_columns,
        header_over=HeaderOver.EACH_ROW if each else HeaderOver.FIRST_ROW,
        n_row_gutters=n_rows + n_headers - 1,
        rows_high=n_rows + n_headers * shape.weekday_row,
    )


def _need(recipe: Recipe, gutter: float | Length, cells: float, n_gutters: int) -> _Need:
    """What `cells` cell widths and `n_gutters` gutters need."""
    if isinstance(gutter, Length):
        return _Need(share=cells, fixed=n_gutters * recipe.px(gutter))
    return _Need(share=cells + n_gutters * gutter, fixed=0.0)


def _cell_width_in(shape: FormatRecipe, key: str, need: _Need, between: float) -> float:
    """The cell width with which `need` fills `between` px.

    Raises:
        NoRoomError: it would be nothing.
    """
    cell_width = need.width_in(between)
    if cell_width > 0:
        return cell_width
    way = "from left to right" if key == "column_gutter" else "from top to bottom"
    message = (
        f"the cells of {shape.name} need room {way}: between the margins lie {between:.4g} px, "
        f"of which the gutters take "
        f"{need.fixed:.4g} px"
    )
    raise NoRoomError(
        message, format_name=shape.name, key=key, between_px=between, gutters_px=need.fixed
    )


def _with_title_band(layout: FormatLayout, band: int) -> FormatLayout:
    """`layout` with `band` px more on top of its canvas, and a box as high for a title.

    The upper margin stays above the box.
    """
    (width, height), grid = layout.canvas, layout.full_grid
    left, _, right, _ = grid.outer_box
    return replace(
        layout,
        canvas=(width, height + band),
        full_grid=replace(grid, origin=(grid.origin[0], grid.origin[1] + band)),
        title_box=(left, layout.margins.top, right, layout.margins.top + band),
    )
