"""Numerals for the cells of a grid that was found: a month's dates, or any run of numbers."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from inkline.calendar.months import (
    DAYS_PER_WEEK,
    FIRST_YEAR,
    MONTHS_PER_YEAR,
    first_weekday,
    month_length,
    month_rows,
    offset_from,
)
from inkline.drawing import Mark, Role
from inkline.errors import InputError
from inkline.finishing.cells import CellGrid
from inkline.lettering.face import Face
from inkline.lettering.line import marks_from_line
from inkline.lettering.optical import optical_left, set_numeral
from inkline.lettering.setting import size_from_height

_HEIGHT = 0.34
"""Height of numerals as a share of the smaller side of a cell; chosen by eye."""
_WHITE = 0.1
"""White beside and over numerals, as a share of the smaller side of a cell; chosen by eye."""
_DEPTH = 1.0 / 12.0
"""How deep into a numeral white counts, as a share of its height, as in kits."""
_LEAST_STEM, _MOST_STEM = 5.0, 12.0
"""Pen widths in a numeral's height, whatever the lines of the grid are like."""
_MOST_NUMBER = 9_999


@dataclass(frozen=True, slots=True, kw_only=True)
class Filling:
    """What is set into cells.

    Attributes:
        first, last: the numbers.
        offset: how many cells stay empty before the first.
        columns: how many columns the grid must have, 0 if any will do.
        rows: how many rows it must have at least.
        what: what it is, for sentences.
    """

    first: int
    last: int
    offset: int = 0
    columns: int = 0
    rows: int = 0
    what: str = ""


def filling_from_text(text: str, *, week_start: int) -> Filling:
    """What "dates=2027-02" or "numerals=1-31" asks for.

    Args:
        text: what was asked.
        week_start: the first day of the week, 0 for Monday to 6 for Sunday.

    Raises:
        InputError: it is neither, or there is no such month.
    """
    month = re.fullmatch(r"dates=(\d{4})-(\d{2})", text)
    if month is not None and int(month[1]) >= FIRST_YEAR and 1 <= int(month[2]) <= MONTHS_PER_YEAR:
        year, number = int(month[1]), int(month[2])
        return Filling(
            first=1,
            last=month_length(year, number),
            offset=offset_from(first_weekday(year, number), week_start=week_start),
            columns=DAYS_PER_WEEK,
            rows=month_rows(year, number, week_start=week_start),
            what=f"{year}-{number:02d}",
        )
    numbers = re.fullmatch(r"numerals=(\d{1,4})-(\d{1,4})", text)
    if numbers is not None and int(numbers[1]) <= int(numbers[2]) <= _MOST_NUMBER:
        return Filling(first=int(numbers[1]), last=int(numbers[2]), what=text.partition("=")[2])
    raise InputError(
        f'what goes into cells is said as "dates=2027-02" or "numerals=1-31", not {text!r}'
    )


def filled_cells(
    grid: CellGrid | None, filling: Filling, face: Face, *, name: str, file: str
) -> Iterator[Mark]:
    """The marks of numerals in the cells of a grid.

    Args:
        grid: the cells.
        filling: what is set.
        face: the letters.
        name: of the picture.
        file: where the artwork lies, for sentences.

    Raises:
        InputError: there is no grid, or what is to be set doesn't fit its cells.
    """
    if grid is None:
        raise InputError(f"{file}: no grid of equal cells was found to set {filling.what} into")
    size = f"{grid.columns} x {grid.rows} cells"
    if filling.columns and grid.columns != filling.columns:
        raise InputError(f"{file}: a month needs {filling.columns} columns, and there are {size}")
    needed = filling.offset + filling.last - filling.first + 1
    if needed > grid.columns * grid.rows or filling.rows > grid.rows:
        rows = max(filling.rows, -(-needed // grid.columns))
        raise InputError(f"{file}: {filling.what} needs {rows} rows, and there are {size}")
    side = min(grid.size)
    stem = min(max(_HEIGHT * side / grid.width_px / 1.3, _LEAST_STEM), _MOST_STEM)
    letters = size_from_height(
        face, height_px=_HEIGHT * side, stem=stem, design_em=face.digit_height_em
    )
    for number in range(filling.first, filling.last + 1):
        cell = grid.cell(filling.offset + number - filling.first)
        line = set_numeral(face, str(number), width_em=letters.pen_px / letters.em_px)
        left = optical_left(
            line,
            size_px=letters.em_px,
            width_px=letters.pen_px,
            depth_px=_DEPTH * letters.height_px,
        )
        baseline = (
            cell[0] + _WHITE * side - left,
            cell[1] + _WHITE * side + letters.height_px - _below(face, letters.pen_px),
        )
        yield from marks_from_line(
            line,
            name=f"{name}/cells/{number}",
            role=Role.NUMERAL,
            baseline=baseline,
            size_px=letters.em_px,
            width_px=letters.pen_px,
        )


def _below(face: Face, pen_px: float) -> float:
    """How far ink reaches below the baseline: half the pen, where a pen draws it."""
    return 0.5 * pen_px if face.is_drawn_with_pen else 0.0
