"""Plans of finished months: what one month of one year needs in one format.

Each layer is a stamp on the same canvas.

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
from inkline.kit.months.small import neighbour_cells, neighbour_plans
from inkline.kit.months.title import TitleSetting, name_texts, title_setting, year_texts
from inkline.kit.months.tucked import TuckedName, tucked_name
from inkline.kit.recipe.choices import (
    Blocks,
    Dates,
    Header,
    NamePlace,
    Shows,
    SixthWeek,
    WeekNumbers,
    WeekNumbersIn,
)
from inkline.kit.recipe.model import Recipe, language_tags
from inkline.kit.stamps.blocks import block_parts
from inkline.kit.stamps.content import CellContent, RuleContent, SharedContent, TextContent
from inkline.kit.stamps.dates import date_parts
from inkline.kit.stamps.grids import grid_parts
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.marks import mark_parts
from inkline.kit.stamps.measures import MOST_WEEKS
from inkline.kit.stamps.month import CalendarMonth, calendar_month, calendar_stems
from inkline.kit.stamps.names import MonthLayer, StampName, Subject, layer_of, month_folder
from inkline.kit.stamps.place import Place, place_of
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
    """Plans of all layers of all months that `recipe` asks for, each from the back to the front.

    They come month by month, and of each month format by format.
    """
    kits = [place_of(recipe, shape, face) for shape in recipe.shapes]
    months = (calendar_month(*month, start=recipe.week_start) for month in recipe.months)
    return tuple(
        plan
        for month in months
        for kit in kits
        for plan in _Month(
            kit=kit, shown=_month_shown(kit, month), language=recipe.language
        ).plans()
    )


def _month_shown(kit: Place, month: CalendarMonth) -> CalendarMonth:
    """What a calendar of the format shows; the days of a strip begin at its first cell."""
    return replace(month, offset=0) if kit.shape.shows is Shows.STRIP else month


@dataclass(frozen=True, slots=True, kw_only=True)
class _Month:
    """One month in one format, as the kit has it, in one of its languages."""

    kit: Place
    shown: CalendarMonth
    language: str

    def plans(self) -> Iterator[StampPlan]:
        """Its layers, from the back to the front."""
        year = self.shown.year
        setting = title_setting(self.kit, year, language=self.language)
        layout = self._without_surplus(self._trimmed_layout(setting))
        place = replace(self.kit, layout=layout)
        tucked = self._tucked(place, setting)
        for part in self._layers(layout):
            content = part.content
            if tucked is not None and isinstance(content, RuleContent):
                part = replace(part, content=tucked.rules_around(content))  # noqa: PLW2901
            yield self._plan(layout, part)
        if not self._is_strip:
            yield from neighbour_plans(
                replace(place, recipe=self._alone),
                self.shown,
                folder=self._folder,
                n_rows=self._most_rows,
                language=self.language,
            )
        for layer, texts in (
            (MonthLayer.NAME, self._name_setting(place, setting, tucked)),
            (MonthLayer.YEAR, partial(year_texts, place, setting, year)),
        ):
            content = TextContent(role=Role.WORD, layer_name="words", labels=(), setting=texts)
            yield self._plan(layout, Part(name=self._name(layer), kind="words", content=content))

    def _tucked(self, place: Place, setting: TitleSetting) -> TuckedName | None:
        """Its name in cells without a day, where it is asked for there and has room."""
        if self._is_strip or place.recipe.words.name is not NamePlace.TUCKED:
            return None
        has_small = any(shape.shows is Shows.SMALL for shape in place.recipe.formats)
        taken = neighbour_cells(self.shown, n_rows=self._most_rows) if has_small else ()
        return tucked_name(
            place, setting, self.shown, n_rows=self._rows, taken=taken, language=self.language
        )

    def _name_setting(
        self, place: Place, setting: TitleSetting, tucked: TuckedName | None
    ) -> Callable[[], Sequence[CellContent]]:
        if tucked is not None:
            return partial(_given, tucked.texts)
        return partial(name_texts, place, setting, self.shown.month, language=self.language)

    def _name(self, layer: MonthLayer) -> StampName:
        return StampName(folder=self._folder, subject=Subject.LAYER, layer=layer)

    def _plan(self, layout: FormatLayout, part: Part) -> StampPlan:
        return StampPlan(
            name=part.name.text,
            kind=part.kind,
            format=self.kit.shape.name,
            canvas=layout.canvas,
            sheet_px=float(self.kit.recipe.side_px),
            content=part.content,
            raggedness=part.raggedness,
            crisp=part.crisp,
            cut=part.cut,
        )

    @property
    def _folder(self) -> str:
        return month_folder(self.shown.year, self.shown.month, self.kit.shape.name)

    @property
    def _alone(self) -> Recipe:
        """The recipe as a kit for this one month would have it."""
        recipe = self.kit.recipe
        words = replace(recipe.words, years=(self.shown.year,))
        return replace(recipe, words=words, week_starts=(self.shown.start,))

    @property
    def _is_strip(self) -> bool:
        return self.kit.shape.shows is Shows.STRIP

    @property
    def _most_rows(self) -> int:
        """Rows that no month of the format has more of: five where days of a sixth week share."""
        shape = self.kit.shape
        shared = shape.sixth_week is SixthWeek.SHARED and shape.blocks is not Blocks.CUT
        return MOST_WEEKS - 1 if shared else MOST_WEEKS

    @property
    def _rows(self) -> int:
        """Rows of the calendar: as many as the month needs."""
        return self.kit.shape.rows if self._is_strip else min(self.shown.rows, self._most_rows)

    def _without_surplus(self, layout: FormatLayout) -> FormatLayout:
        """`layout` without the cells of a one-line strip that come after the last day."""
        grid = layout.full_grid
        surplus = grid.n_columns - self.shown.days
        if not self._is_strip or grid.n_rows > 1 or surplus <= 0:
            return layout
        shift = surplus * (grid.cell_width_px + grid.column_gutter_px) if grid.mirrored else 0.0
        origin = (grid.origin[0] + shift, grid.origin[1])
        return replace(layout, full_grid=replace(grid, n_columns=self.shown.days, origin=origin))

    def _trimmed_layout(self, setting: TitleSetting) -> FormatLayout:
        """The kit's layout on a canvas with the same white around title and calendar in any kit.

        All moves by whole px, so that what the kit's stamps show too has the same pixels. A month
        keeps room for as many weeks as any: all months of a format lie alike on canvases of one
        size.
        """
        layout = self.kit.layout
        left, top, right, _ = layout.full_grid.outer_box
        bottom = (
            layout.full_grid.outer_box[3]
            if self._is_strip
            else layout.headed_grid(self._most_rows).outer_box[3]
        )
        white, air = layout.margins, AIR * self.kit.recipe.side_px
        x = math.floor(left - max(white.left, air))
        y = math.floor(top - setting.below - setting.above - max(white.top, air))
        size = (
            math.ceil(right + max(white.right, air)) - x,
            math.ceil(bottom + max(white.bottom, air)) - y,
        )
        origin = (layout.full_grid.origin[0] - x, layout.full_grid.origin[1] - y)
        trimmed = replace(layout, canvas=size, full_grid=replace(layout.full_grid, origin=origin))
        if self.kit.shape.week_numbers is WeekNumbers.NONE or self._is_strip:
            return trimmed
        lack = max(0, math.ceil(margin_lack(self._place(trimmed)) + max(0.0, air - layout.safe)))
        shift = 0 if layout.mirrored else lack
        grid = replace(trimmed.full_grid, origin=(origin[0] + shift, origin[1]))
        return replace(trimmed, canvas=(size[0] + lack, size[1]), full_grid=grid)

    def _layers(self, layout: FormatLayout) -> Iterator[Part]:
        """The layers, each with what a kit has for it.

        Dates and words are drawn as the kit's own.
        """
        place = self._place(layout)
        spoken = {"", language_tags(place.recipe)[self.language]}
        parts = {
            replace(part.name, language="").stem: part
            for part in self._parts(place)
            if part.name.language in spoken
        }
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
            self.kit.shape,
            weeks=(self._rows,),
            takes=1,
            header=Header.WITHOUT if self.kit.shape.header is Header.WITHOUT else Header.WITH,
            dates=Dates.EXACT,
            week_numbers_in=WeekNumbersIn.MARGIN,
        )
        return Place(recipe=self._alone, shape=shape, layout=layout, face=self.kit.face)

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
        """Names of blocks without a day of the month, and of those that the recipe leaves out."""
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
            *self.kit.shape.block_omit,
            *(f"r{row + 1}c{column + 1}" for row, column in empty),
            *(f"c{head + 1}" for head in heads),
        )


def _given(texts: Sequence[CellContent]) -> Sequence[CellContent]:
    return texts


def _with_first(part: Part, count: int) -> Part:
    """`part` with the first `count` of its texts."""
    content = part.content
    assert isinstance(content, TextContent)  # noqa: S101 - asked for of texts alone
    setting = partial(_first_texts, content.setting, count)
    return replace(part, content=replace(content, labels=content.labels[:count], setting=setting))


def _first_texts(setting: Callable[[], Sequence[CellContent]], count: int) -> Sequence[CellContent]:
    return setting()[:count]
