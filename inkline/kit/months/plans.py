"""Plans of finished months: what one month of one year needs in one format, each layer a stamp on the same canvas.

Layers hold what the kit's own stamps hold, and its dates, weekdays, names and years are drawn as
these are, so that a finished month looks as if it had been put together from the kit. Its grid and
its blocks are drawn for it alone, so that no two months on a wall show one wobble.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from inkline.calendar.months import DAYS_PER_WEEK
from inkline.drawing import Role
from inkline.kit.months.recipe import MonthsRecipe
from inkline.kit.months.small import neighbour_plans
from inkline.kit.months.title import TitleSetting, placed_name, placed_year, title_setting
from inkline.kit.recipe.choices import (
    Blocks,
    Dates,
    Header,
    Shows,
    SixthWeek,
    WeekNumbers,
    WeekNumbersIn,
)
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.blocks import block_parts
from inkline.kit.stamps.content import Piece, SharedContent, TextContent
from inkline.kit.stamps.dates import date_parts
from inkline.kit.stamps.grids import grid_parts
from inkline.kit.stamps.marks import mark_parts
from inkline.kit.stamps.measures import MOST_WEEKS, FormatLayout, layout_of
from inkline.kit.stamps.month import CalendarMonth, calendar_month, calendar_stems
from inkline.kit.stamps.names import MonthLayer, StampName, Subject, layer_of, month_folder
from inkline.kit.stamps.place import Place
from inkline.kit.stamps.plan import Part, PartMaker, StampPlan
from inkline.kit.stamps.weekdays import weekday_parts
from inkline.kit.stamps.weeks import margin_lack, week_number_parts
from inkline.lettering.face import Face

_MAKERS: tuple[PartMaker, ...] = (grid_parts, date_parts, weekday_parts, mark_parts)
"""What else than blocks a month is made of; these are asked for another number of rows."""
AIR = 0.04
"""Least white around a finished month, as a share of the canvas side of the kit; a stamp may stand
nearer to its edge. Chosen by eye."""
_OWN = frozenset({MonthLayer.GRID, MonthLayer.BLOCKS, MonthLayer.HEADER_BLOCKS})
"""Layers that are drawn for each month alone."""


def month_plans(recipe: MonthsRecipe, face: Face) -> tuple[StampPlan, ...]:
    """Plans of all layers of all months that `recipe` asks for, month by month and format by format, each from the back to the front."""
    return tuple(
        plan
        for year, month in recipe.months
        for shape in recipe.shapes
        for plan in _Month(
            recipe=recipe, shape=shape, face=face, shown=_shown(recipe, shape, year, month)
        ).plans()
    )


def _shown(recipe: MonthsRecipe, shape: FormatRecipe, year: int, month: int) -> CalendarMonth:
    """What a calendar of the format shows; the days of a strip begin at its first cell."""
    shown = calendar_month(year, month, start=recipe.week_start)
    return replace(shown, offset=0) if shape.shows is Shows.STRIP else shown


@dataclass(frozen=True, slots=True, kw_only=True)
class _Month:
    """One month in one format."""

    recipe: MonthsRecipe
    shape: FormatRecipe
    face: Face
    shown: CalendarMonth

    def plans(self) -> Iterator[StampPlan]:
        """Its layers, from the back to the front."""
        year, month = self.shown.year, self.shown.month
        setting = title_setting(self.recipe, self.shape, self.face, year)
        layout = self._fitted(self._trimmed(layout_of(self.recipe, self.shape), setting))
        yield from (self._plan(layout, part) for part in self._layers(layout))
        if not self._is_strip:
            yield from neighbour_plans(
                self._alone,
                self.face,
                layout,
                self.shown,
                folder=self._folder,
                n_rows=self._most_rows,
            )
        title = (self.recipe, layout, self.face, setting)
        for layer, placed in (
            (MonthLayer.NAME, partial(placed_name, *title, month)),
            (MonthLayer.YEAR, partial(placed_year, *title, year)),
        ):
            content = TextContent(role=Role.WORD, layer_name="words", labels=(), setting=placed)
            yield self._plan(layout, Part(name=self._name(layer), kind="words", content=content))

    def _name(self, layer: MonthLayer) -> StampName:
        return StampName(folder=self._folder, subject=Subject.LAYER, layer=layer)

    def _plan(self, layout: FormatLayout, part: Part) -> StampPlan:
        return StampPlan(
            name=part.name.text,
            kind=part.kind,
            format=self.shape.name,
            canvas=layout.canvas,
            sheet_px=float(self.recipe.side_px),
            content=part.content,
            raggedness=part.raggedness,
            crisp=part.crisp,
            cut=part.cut,
        )

    @property
    def _folder(self) -> str:
        return month_folder(self.shown.year, self.shown.month, self.shape.name)

    @property
    def _alone(self) -> Recipe:
        """The recipe as a kit for this one month would have it."""
        words = replace(self.recipe.words, years=(self.shown.year,))
        return replace(self.recipe, words=words, week_starts=(self.recipe.week_start,))

    @property
    def _is_strip(self) -> bool:
        return self.shape.shows is Shows.STRIP

    @property
    def _most_rows(self) -> int:
        """Rows that no month of the format has more of: five where a sixth week shares the cells of the fifth."""
        shared = self.shape.sixth_week is SixthWeek.SHARED and self.shape.blocks is not Blocks.CUT
        return MOST_WEEKS - 1 if shared else MOST_WEEKS

    @property
    def _rows(self) -> int:
        """Rows of the calendar: as many as the month needs."""
        return self.shape.rows if self._is_strip else min(self.shown.rows, self._most_rows)

    def _fitted(self, layout: FormatLayout) -> FormatLayout:
        """`layout` without the cells of a one-line strip that come after the last day."""
        grid = layout.full_grid
        surplus = grid.n_columns - self.shown.days
        if not self._is_strip or grid.n_rows > 1 or surplus <= 0:
            return layout
        shift = surplus * (grid.cell_width_px + grid.column_gutter_px) if grid.mirrored else 0.0
        origin = (grid.origin[0] + shift, grid.origin[1])
        return replace(layout, full_grid=replace(grid, n_columns=self.shown.days, origin=origin))

    def _trimmed(self, layout: FormatLayout, setting: TitleSetting) -> FormatLayout:
        """`layout` on a canvas that leaves the same white around title and calendar whatever the kit's canvas leaves.

        All moves by whole px, so that what the kit's stamps show too has the same pixels. A month
        keeps room for as many weeks as any: all months of a format lie alike on canvases of one
        size.
        """
        left, top, right, _ = layout.full_grid.outer_box
        bottom = (
            layout.full_grid.outer_box[3]
            if self._is_strip
            else layout.headed_grid(self._most_rows).outer_box[3]
        )
        white, air = layout.margins, AIR * self.recipe.side_px
        x = math.floor(left - max(white.left, air))
        y = math.floor(top - setting.below - setting.above - max(white.top, air))
        size = (
            math.ceil(right + max(white.right, air)) - x,
            math.ceil(bottom + max(white.bottom, air)) - y,
        )
        origin = (layout.full_grid.origin[0] - x, layout.full_grid.origin[1] - y)
        trimmed = replace(layout, canvas=size, full_grid=replace(layout.full_grid, origin=origin))
        if self.shape.week_numbers is WeekNumbers.NONE or self._is_strip:
            return trimmed
        lack = max(0, math.ceil(margin_lack(self._place(trimmed)) + max(0.0, air - layout.safe)))
        shift = 0 if layout.mirrored else lack
        grid = replace(trimmed.full_grid, origin=(origin[0] + shift, origin[1]))
        return replace(trimmed, canvas=(size[0] + lack, size[1]), full_grid=grid)

    def _layers(self, layout: FormatLayout) -> Iterator[Part]:
        """The layers, each with what a kit has for it; dates and words are drawn as the kit's own."""
        place = self._place(layout)
        parts = {part.name.stem: part for part in self._parts(place)}
        for stem in calendar_stems(parts, place.shape, self.shown):
            part = parts[stem]
            layer = layer_of(part.name)
            if self._is_strip and layer is MonthLayer.WEEKDAYS:
                part = _with_first(part, self.shown.days)
            if layer not in _OWN:
                lent = SharedContent(content=part.content, stamp=part.name.text)
                part = replace(part, content=lent)
            yield replace(part, name=self._name(layer))

    def _place(self, layout: FormatLayout) -> Place:
        """The format as a kit for this one month would have it."""
        shape = replace(
            self.shape,
            weeks=(self._rows,),
            takes=1,
            header=Header.WITHOUT if self.shape.header is Header.WITHOUT else Header.WITH,
            dates=Dates.EXACT,
            week_numbers_in=WeekNumbersIn.MARGIN,
        )
        return Place(recipe=self._alone, shape=shape, layout=layout, face=self.face)

    def _parts(self, place: Place) -> Iterator[Part]:
        """What that kit would hold."""
        for maker in _MAKERS:
            yield from maker(place)
        # Where two weeks share a row, the first one's number stands.
        yield from (_with_first(part, self._rows) for part in week_number_parts(place))
        # With six rows there are blocks for every month, also cut ones; those without a day are
        # left out anyway.
        shape = replace(
            place.shape, weeks=(MOST_WEEKS,), block_omit=self._without_days(place.layout)
        )
        for part in block_parts(replace(place, shape=shape)):
            rows = part.name.rows and self._rows
            yield replace(part, name=replace(part.name, rows=rows))

    def _without_days(self, layout: FormatLayout) -> tuple[str, ...]:
        """Names of the blocks that none of the month's days stands on, and of those that the recipe leaves out."""
        grid, rows = layout.full_grid, self._rows
        places = range(self.shown.offset, self.shown.offset + self.shown.days)
        dated = {
            place if place < rows * grid.n_columns else place - DAYS_PER_WEEK for place in places
        }
        empty = (
            divmod(place, grid.n_columns)
            for place in range(grid.n_rows * grid.n_columns)
            if place not in dated
        )
        heads = range(self.shown.days, len(layout.header_cells)) if self._is_strip else ()
        return (
            *self.shape.block_omit,
            *(f"r{row + 1}c{column + 1}" for row, column in empty),
            *(f"c{head + 1}" for head in heads),
        )


def _with_first(part: Part, count: int) -> Part:
    """`part` with the first `count` of its texts."""
    content = part.content
    assert isinstance(content, TextContent)  # noqa: S101 - asked for of texts alone
    setting = partial(_first_texts, content.setting, count)
    return replace(part, content=replace(content, labels=content.labels[:count], setting=setting))


def _first_texts(setting: Callable[[], Sequence[Piece]], count: int) -> Sequence[Piece]:
    return setting()[:count]
