"""The small months before and after a finished month, reduced into two of its empty cells.

They are the kit's own stamps of those months.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from inkline.calendar.months import (
    DAYS_PER_WEEK,
    FIRST_YEAR,
    LAST_YEAR,
    MONTHS_PER_YEAR,
    next_month,
    previous_month,
)
from inkline.calendar.names import NameWidth, month_names
from inkline.drawing import Role
from inkline.geometry.boxes import Box, inset_box
from inkline.kit.recipe.choices import Shows
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.cells import numeral_size
from inkline.kit.stamps.content import TextContent
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.month import CalendarMonth, calendar_month
from inkline.kit.stamps.names import MonthLayer, StampName, Subject
from inkline.kit.stamps.pieces import PlacedText
from inkline.kit.stamps.place import Place, place_of
from inkline.kit.stamps.plan import SMALL_RAGGEDNESS, StampPlan
from inkline.kit.stamps.small import SmallMonth
from inkline.lettering.face import Face
from inkline.lettering.setting import line_ink, size_from_height, spaced_words
from inkline.source.faults import text_rounded_up

_LAYERS = (MonthLayer.BEFORE, MonthLayer.AFTER)
_AIR = 0.07
"""White between a small month and the sides of the cell that it stands in, as a share of the cell's
width. Chosen by eye."""
_NAME = 1.1
"""Height of a small month's name, in heights of its numerals. Chosen by eye."""
_ANY_YEAR = 2027
"""Of which small months are measured; all years have the same names."""
_LEAST_READ = 7.0
"""Height of the smallest numerals that can be read, in px of the size of use: a seven-row dot
matrix is the coarsest that digits are shown on. Common practice, no source."""
_OFF = 0.9
"""From a small month's name to its weekdays' row, in heights of its numerals. Chosen by eye."""


def _small_shape(recipe: Recipe) -> FormatRecipe | None:
    """The recipe's first format of small months, or `None` if it has none."""
    return next((shape for shape in recipe.formats if shape.shows is Shows.SMALL), None)


def neighbour_cells(
    shown: CalendarMonth, *, n_rows: int
) -> tuple[tuple[int, int], tuple[int, int]]:
    """Row and column, from 0, of two cells side by side that no day stands in.

    They are the last of the month's own rows; else, under its grid, the last of the row that it
    doesn't need of `n_rows`; else the first of all. A month leaves one of these pairs free in six
    rows, and in five also where days of a sixth week share the fifth's cells.
    """
    own = min(shown.rows, n_rows)
    taken = min(shown.offset + shown.days, n_rows * DAYS_PER_WEEK)
    if taken <= own * DAYS_PER_WEEK - 2:
        return _last_two(own - 1)
    return _last_two(own) if own < n_rows else ((0, 0), (0, 1))


def _last_two(row: int) -> tuple[tuple[int, int], tuple[int, int]]:
    return (row, DAYS_PER_WEEK - 2), (row, DAYS_PER_WEEK - 1)


def neighbour_plans(
    finished: Place, shown: CalendarMonth, *, folder: str, n_rows: int, language: str
) -> Iterator[StampPlan]:
    """Plans of the layers of the month before and the month after, if the recipe has small months.

    They are drawn as the kit's own stamps of those months and then reduced, hand and all, as
    whoever stamps them small would see them.

    Args:
        finished: the finished month's format.
        shown: the finished month.
        folder: the first part of its layers' names.
        n_rows: rows that the months of its format have room for.
        language: of their names and weekdays.
    """
    recipe, layout = finished.recipe, finished.layout
    shape = _small_shape(recipe)
    if shape is None:
        return
    place = place_of(recipe, shape, finished.face)
    grid = layout.headed_grid(n_rows)
    cells = neighbour_cells(shown, n_rows=n_rows)
    neighbours = (previous_month(shown.year, shown.month), next_month(shown.year, shown.month))
    for layer, (year, month), (row, column) in zip(_LAYERS, neighbours, cells, strict=True):
        if not FIRST_YEAR <= year <= LAST_YEAR:
            continue
        box = _box_in(grid.cell(row, column), layout)
        neighbour = calendar_month(year, month, start=shown.start)
        small = _Small(place=place, shown=neighbour, box=box, language=language)
        yield StampPlan(
            name=StampName(folder=folder, subject=Subject.LAYER, layer=layer).text,
            kind="dates",
            format=layout.name,
            canvas=layout.canvas,
            sheet_px=recipe.side_px * small.scale,
            content=TextContent(
                role=Role.NUMERAL, layer_name="month", labels=(), setting=small.texts
            ),
            raggedness=SMALL_RAGGEDNESS if shape.is_small else 1.0,
        )


def neighbour_notes(recipe: Recipe, face: Face) -> Iterator[str]:
    """Formats in whose finished months the small months before and after can't be read, or named.

    They are told for the size at which the format is used.
    """
    shape = _small_shape(recipe)
    if shape is None:
        return
    place, language = place_of(recipe, shape, face), recipe.words.language
    for finished in (one for one in recipe.formats if one.shows is Shows.MONTH):
        layout = place_of(recipe, finished, face).layout
        box = _box_in(layout.full_grid.cell(0, 0), layout)
        shown = calendar_month(_ANY_YEAR, 1, start=next(iter(recipe.starts)))
        small = _Small(place=place, shown=shown, box=box, language=language)
        high = small.digits_px * finished.used_at / 100.0
        if high < _LEAST_READ:
            larger = text_rounded_up(finished.used_at * _LEAST_READ / high)
            help_ = f"used_at = {larger} holds" if float(larger) <= 100.0 else "larger cells hold"
            yield (
                f"{finished.name}: the small months that stand in empty cells of finished months "
                f"would have numerals {high:.2g} px high at {finished.used_at:g} %, at which this "
                f"format is used, and {_LEAST_READ:g} px are needed to read them; {help_}"
            )
        wide = max(replace(small, shown=month).name_width for month in _year_of(shown))
        room = box[2] - box[0]
        if wide > room:
            yield (
                f"{finished.name}: names over the small months of finished months are up to "
                f"{wide:.0f} px wide, and their cells have room for {room:.0f} px"
            )


def _year_of(shown: CalendarMonth) -> Iterator[CalendarMonth]:
    """The twelve months of the year of `shown`."""
    return (
        calendar_month(shown.year, month, start=shown.start)
        for month in range(1, MONTHS_PER_YEAR + 1)
    )


def _box_in(cell: Box, layout: FormatLayout) -> Box:
    """Where in `cell` a small month stands."""
    return inset_box(cell, _AIR * layout.cell_width + layout.rule / 2.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Small:
    """One small month reduced into `box`."""

    place: Place
    shown: CalendarMonth
    box: Box
    language: str

    @property
    def scale(self) -> float:
        """How many times as large as the kit's stamp it is."""
        x0, y0, x1, y1 = self._room
        return min((self.box[2] - self.box[0]) / (x1 - x0), (self.box[3] - self.box[1]) / (y1 - y0))

    @property
    def digits_px(self) -> float:
        """Height of its numerals in px of the finished month."""
        return self.scale * self._height

    @property
    def name_width(self) -> float:
        """Width of its name's ink in px of the finished month."""
        x0, _, x1, _ = self._name().ink
        return self.scale * (x1 - x0)

    @property
    def _height(self) -> float:
        return numeral_size(self.place).height_px

    @property
    def _room(self) -> Box:
        """What a small month of six weeks takes on the kit's canvas, its name over it.

        So all are reduced alike.
        """
        x0, y0, x1, y1 = self.place.layout.full_grid.outer_box
        return (x0, y0 - (_NAME + _OFF) * self._height, x1, y1)

    def texts(self) -> tuple[PlacedText, ...]:
        """Its name, its weekdays' letters and its dates.

        They stand in the middle of the box from left to right, and at its top.
        """
        place, scale = self.place, self.scale
        month = SmallMonth(
            place=place,
            offset=self.shown.offset,
            days=self.shown.days,
            start=self.shown.start,
            language=self.language,
        )
        x0, y0, x1, _ = self._room
        right, lower = (
            (self.box[0] + self.box[2] - scale * (x0 + x1)) / 2.0,
            self.box[1] - scale * y0,
        )
        texts = (self._name(), *month.letters(), *month.dates())
        return tuple(_text_at_scale(text, scale, right, lower) for text in texts)

    def _name(self) -> PlacedText:
        """The month's abbreviated name, on the kit's canvas."""
        place = self.place
        recipe, words = place.recipe, place.recipe.words
        name = month_names(self.language, width=NameWidth.ABBREVIATED, case=words.letters)[
            self.shown.month - 1
        ]
        line = spaced_words(words.spacing)(place.face, name, recipe.figures, ())
        numerals = numeral_size(place)
        if place.numerals_face is place.face:
            size = numerals.times(_NAME * place.face.digit_height_em / place.face.cap_height_em)
        else:
            size = size_from_height(
                place.face,
                height_px=_NAME * numerals.height_px,
                stem=numerals.height_px / numerals.pen_px,
                design_em=place.face.cap_height_em,
            )
        x0, _, x1, _ = line_ink(line, size)
        left, top, right, _ = self._room
        baseline = ((left + right - x0 - x1) / 2.0, top + _NAME * self._height)
        return PlacedText(
            label="",
            line=line,
            size=size,
            baseline=baseline,
            cell=(left, top, right, place.layout.full_grid.outer_box[1]),
            drawn_as=f"{place.layout.name}/name-{self.shown.month:02d}",
        )


def _text_at_scale(text: PlacedText, scale: float, right: float, lower: float) -> PlacedText:
    """`text` times `scale`, then moved."""
    (x, y), (x0, y0, x1, y1) = text.baseline, text.cell
    return replace(
        text,
        size=text.size.times(scale),
        baseline=(x * scale + right, y * scale + lower),
        cell=(x0 * scale + right, y0 * scale + lower, x1 * scale + right, y1 * scale + lower),
    )
