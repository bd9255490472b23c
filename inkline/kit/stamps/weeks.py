"""Week numbers beside the rows of a month.

They hang in the margin, which leaves the columns where they are, or have a narrow canvas of their
own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from inkline.calendar.months import MONTHS_PER_YEAR
from inkline.calendar.weeks import WeekCount, iso_weeks_in_year, row_weeks, us_weeks_in_year
from inkline.drawing import Role
from inkline.geometry.boxes import Box
from inkline.kit.recipe.choices import Shows, SixthWeek, WeekNumbers, WeekNumbersIn
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.cells import NumeralSet, numeral_size, numerals_of, smaller_numerals_of
from inkline.kit.stamps.content import TextContent
from inkline.kit.stamps.measures import MOST_WEEKS
from inkline.kit.stamps.names import StampName, Subject
from inkline.kit.stamps.pieces import PlacedText
from inkline.kit.stamps.place import Place
from inkline.kit.stamps.plan import SMALL_RAGGEDNESS, Part
from inkline.kit.stamps.shared import SHARED_ROWS

_MOST_WEEKS_OF_YEAR = 54
"""The largest number that a week may have: US weeks of leap years that begin on a Saturday."""
_COUNTS = {WeekNumbers.ISO: WeekCount.ISO, WeekNumbers.US: WeekCount.US}
_WEEKS_IN_YEAR = {WeekNumbers.ISO: iso_weeks_in_year, WeekNumbers.US: us_weeks_in_year}
_USUAL = {WeekNumbers.ISO: 52, WeekNumbers.US: 53}
"""Weeks of most years: ISO years have 52 or 53, and 53 or 54 are touched where weeks begin on
Sunday."""


def weeks_name(counted: WeekNumbers, year: int, month: int, *, week_start: int) -> StampName | None:
    """The name, without its folder, of the stamp with a month's week numbers; `None` if none count.

    It is called by the first row's week, such as `weeks-05`; where six rows from there could pass
    the end of a year that is longer than most, by that as well: `weeks-49-of-53`. Months with one
    name have the same numbers as far as both have rows.

    Raises:
        ValueError: a month or year outside its range.
    """
    if counted is WeekNumbers.NONE:
        return None
    first = weeks_of_rows(counted, year, month, week_start=week_start)[0]
    weeks = None
    if first + MOST_WEEKS - 1 > _USUAL[counted]:
        in_year = _WEEKS_IN_YEAR[counted](year - 1 if month == 1 else year)
        weeks = in_year if in_year != _USUAL[counted] else None
    return StampName(subject=Subject.WEEKS, week=first, weeks=weeks)


def weeks_of_rows(
    counted: WeekNumbers, year: int, month: int, *, week_start: int
) -> tuple[int, ...]:
    """The numbers of the weeks that a month's rows are, counted in any way but not at all."""
    return row_weeks(year, month, week_start=week_start, count=_COUNTS[counted])


def week_number_parts(place: Place) -> Iterator[Part]:
    """The week numbers of every month of the kit's years, each column of numbers once."""
    shape = place.shape
    if shape.shows is not Shows.MONTH or shape.week_numbers is WeekNumbers.NONE:
        return
    canvas = narrow_canvas(place) if shape.week_numbers_in is WeekNumbersIn.NARROW else None
    for name, (run, weeks) in week_columns(place.recipe, shape).items():
        setting = partial(_week_texts, place, weeks, run=run)
        labels = tuple(str(week) for week in weeks)
        content = TextContent(
            role=Role.NUMERAL, layer_name="numerals", labels=labels, setting=setting
        )
        ragged = SMALL_RAGGEDNESS if shape.is_small else 1.0
        yield Part(name=name, kind="words", content=content, raggedness=ragged, canvas=canvas)


def week_columns(
    recipe: Recipe, shape: FormatRecipe
) -> dict[StampName, tuple[StampName, tuple[int, ...]]]:
    """The different columns of week numbers of the kit's years, by their stamps' names.

    Each with the name of the stamp whose drawings it shares. Of several that begin alike the
    longest is called by that week alone, such as `weeks-18`, and the others by their rows as well,
    such as `weeks-18-5-rows`. Where six weeks may share five rows, the longest of five rows is,
    since charts name that.
    """
    most = SHARED_ROWS if shape.sixth_week is SixthWeek.SHARED else MOST_WEEKS
    found: dict[StampName, set[tuple[int, ...]]] = {}
    for year in recipe.words.years:
        for month in range(1, MONTHS_PER_YEAR + 1):
            for start in recipe.starts.values():
                name = weeks_name(shape.week_numbers, year, month, week_start=start)
                if name is None:
                    return {}
                weeks = weeks_of_rows(shape.week_numbers, year, month, week_start=start)
                own = replace(name, folder=shape.name)
                found.setdefault(own, set()).update(_columns_beside(weeks, shape))
    columns = {}
    for name, several in sorted(found.items(), key=lambda one: one[0].stem):
        usual, *others = sorted(several, key=lambda weeks: (len(weeks) > most, -len(weeks), weeks))
        columns[name] = (name, usual)
        columns |= {replace(name, rows=len(weeks)): (name, weeks) for weeks in others}
    return columns


def _columns_beside(weeks: tuple[int, ...], shape: FormatRecipe) -> Iterator[tuple[int, ...]]:
    """The numbers that stand beside the rows of a month.

    Where two weeks share the last row, it is only the first one's.
    """
    shared = shape.sixth_week is SixthWeek.SHARED
    if not shared or len(weeks) in shape.weeks:
        yield weeks
    if shared:
        yield weeks[:SHARED_ROWS]


def _week_texts(place: Place, weeks: tuple[int, ...], *, run: StampName) -> tuple[PlacedText, ...]:
    """Week numbers from the first row down, right against the grid.

    They stand in the middle of the height at which the row's dates do.

    Args:
        place: the format.
        weeks: the number of each row.
        run: the name of the stamp whose drawings they are.
    """
    recipe, layout = place.recipe, place.layout
    dates = numerals_of(place)
    numerals = _week_numerals(place)
    drop = 0.5 * (sum(dates.levels) - sum(numerals.levels))
    texts = []
    for row, week in enumerate(weeks):
        cell = _cell(place, row)
        number, name = str(week), replace(run, part=str(week)).text
        forms = numerals.forms(recipe, number, name)
        numeral = numerals.numeral(number, forms)
        margin = _white(place)
        x = cell[0] + margin - numeral.left if layout.mirrored else cell[2] - margin - numeral.right
        texts.append(
            PlacedText(
                label=number,
                line=numeral.line,
                size=numerals.size,
                baseline=(x, dates.baseline_in(cell, layout) + drop),
                cell=_room(place, cell),
                drawings=dict(numerals.drawings(recipe, number)),
                drawn_as=name,
            )
        )
    return tuple(texts)


def _week_numerals(place: Place) -> NumeralSet:
    """The numerals in which the week numbers of a format are set."""
    height = place.shape.week_numeral * place.layout.cell_width
    share = height / numeral_size(place).height_px
    return replace(smaller_numerals_of(place, share), least_digits=1)


def narrow_canvas(place: Place) -> tuple[int, int]:
    """The size of a canvas for week numbers alone: as wide as any needs.

    It is as high as the format's canvas, so that rows line up when both are used at one size.
    """
    return math.ceil(widest_week(place) + 2.0 * _white(place)), place.layout.canvas[1]


def widest_week(place: Place) -> float:
    """Width of the widest week number in px, from side to side as the eye sees them."""
    numerals = _week_numerals(place)
    sides = (numerals.numeral(str(week)) for week in range(1, _MOST_WEEKS_OF_YEAR + 1))
    return max(numeral.right - numeral.left for numeral in sides)


def margin_lack(place: Place) -> float:
    """How many px the margin lacks for week numbers to hang in it; 0 or less if they fit."""
    left, _, right, _ = place.layout.hanging_column
    return widest_week(place) - (right - left)


def _cell(place: Place, row: int) -> Box:
    """The place of a row's number."""
    cell = place.layout.hanging_cell(row)
    if place.shape.week_numbers_in is WeekNumbersIn.MARGIN:
        return cell
    return (0.0, cell[1], float(narrow_canvas(place)[0]), cell[3])


def _room(place: Place, cell: Box) -> Box:
    """The cell, in the margin as far as the rule beside it.

    Open numerals hang out of it a little, by what the eye makes of their sides.
    """
    if place.shape.week_numbers_in is WeekNumbersIn.NARROW:
        return cell
    layout = place.layout
    off = max(layout.rule, layout.heavy) / 2.0
    left, _, right, _ = layout.full_grid.outer_box
    return (right + off, *cell[1:]) if layout.mirrored else (cell[0], cell[1], left - off, cell[3])


def _white(place: Place) -> float:
    """White beside the numbers: none in the margin, whose column begins off the rules.

    On a canvas of their own it is that of words alone.
    """
    return (
        0.0
        if place.shape.week_numbers_in is WeekNumbersIn.MARGIN
        else place.recipe.px(place.recipe.words.margin)
    )
