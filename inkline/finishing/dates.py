"""What is set into a grid that was found: dates or numerals, weekdays above it, blocks."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from inkline.calendar.months import (
    DAYS_PER_WEEK,
    FIRST_YEAR,
    MONTHS_PER_YEAR,
    first_weekday,
    month_length,
    month_rows,
    offset_from,
)
from inkline.calendar.names import LetterCase, NameWidth, weekday_names
from inkline.drawing import Mark, Role, Shape
from inkline.errors import InputError
from inkline.finishing.cells import CellGrid
from inkline.geometry.boxes import Box, inset_box
from inkline.lettering.face import Face
from inkline.lettering.line import marks_from_line, set_line
from inkline.lettering.optical import optical_left, set_numeral
from inkline.lettering.setting import TypeSize, size_from_height

_HEIGHT = 0.34
"""Height of numerals as a share of the smaller side of a cell; chosen by eye."""
_WHITE = 0.1
"""White beside and over numerals, as a share of the smaller side of a cell; chosen by eye."""
_NAME_HEIGHT, _NAME_WIDTH = 0.2, 0.86
"""Height of weekdays as a share of the smaller side, and the share of a column that they may fill;
chosen by eye."""
_BESIDE_BLOCKS = 0.05
"""White about blocks, as a share of the smaller side of a cell; chosen by eye."""
_LANGUAGE = "en"
_DEPTH = 1.0 / 12.0
"""How deep into a numeral white counts, as a share of its height, as in kits."""
_LEAST_STEM, _MOST_STEM = 5.0, 12.0
"""Pen widths in a numeral's height, whatever the lines of the grid are like."""
_MOST_NUMBER = 9_999


@dataclass(frozen=True, slots=True, kw_only=True)
class Filling:
    """What is set into cells.

    Attributes:
        first, last: the numbers; none where the last is less than the first.
        offset: how many cells stay empty before the first.
        columns: how many columns the grid must have, 0 if any will do.
        rows: how many rows it must have at least.
        weekdays: names above the columns, none for no names.
        blocks: the numbers of cells that are filled: those of dates or numerals, or counted from 1.
        what: what it is, for sentences.
    """

    first: int = 1
    last: int = 0
    offset: int = 0
    columns: int = 0
    rows: int = 0
    weekdays: tuple[str, ...] = ()
    blocks: tuple[int, ...] = ()
    what: str = ""

    def cell_of(self, number: int) -> int:
        """The index of the cell of a number."""
        return self.offset + number - self.first


@dataclass(frozen=True, slots=True, kw_only=True)
class CellMarks:
    """What is set into cells.

    Attributes:
        ink: blocks, and numerals and names that lie on none.
        white: numerals that lie on blocks.
    """

    ink: tuple[Mark, ...]
    white: tuple[Mark, ...]


def filling_from_text(text: str, *, week_start: int) -> Filling:
    """What a text such as "dates=2027-02 weekdays blocks=14,20-22" asks for.

    Args:
        text: what was asked: dates of a month or numerals, weekdays and blocks, in any order.
        week_start: the first day of the week, 0 for Monday to 6 for Sunday.

    Raises:
        InputError: it is none of these, or there is no such month or language.
    """
    filling = Filling()
    for word in text.split():
        name, _, said = word.partition("=")
        read = _READERS.get(name)
        changed = None if read is None else read(filling, said, week_start)
        if changed is None or changed == filling:
            raise _refused(text)
        filling = replace(changed, what=f"{filling.what} {said or name}".strip())
    if filling == Filling():
        raise _refused(text)
    n_last = filling.last or _MOST_NUMBER
    if any(not filling.first <= number <= n_last for number in filling.blocks):
        raise InputError(
            f"blocks stand in the cells of {filling.first} to {n_last}, not of "
            f"{', '.join(map(str, filling.blocks[:3]))}"
        )
    return filling


def _refused(text: str) -> InputError:
    return InputError(
        'what goes into cells is said as "dates=2027-02" or "numerals=1-31", with "weekdays" and '
        f'"blocks=6,13-15" if there are to be any, not {text!r}'
    )


def _with_dates(filling: Filling, said: str, week_start: int) -> Filling | None:
    month = re.fullmatch(r"(\d{4})-(\d{2})", said)
    if filling.last or month is None or int(month[1]) < FIRST_YEAR:
        return None
    year, number = int(month[1]), int(month[2])
    if not 1 <= number <= MONTHS_PER_YEAR:
        return None
    return replace(
        filling,
        last=month_length(year, number),
        offset=offset_from(first_weekday(year, number), week_start=week_start),
        columns=DAYS_PER_WEEK,
        rows=month_rows(year, number, week_start=week_start),
    )


def _with_numerals(filling: Filling, said: str, _: int) -> Filling | None:
    numbers = re.fullmatch(r"(\d{1,4})-(\d{1,4})", said)
    if filling.last or numbers is None or not 1 <= int(numbers[2]) <= _MOST_NUMBER:
        return None
    first, last = int(numbers[1]), int(numbers[2])
    return replace(filling, first=first, last=last) if first <= last else None


def _with_weekdays(filling: Filling, said: str, week_start: int) -> Filling:
    names = weekday_names(
        said or _LANGUAGE, width=NameWidth.ABBREVIATED, case=LetterCase.AS_WRITTEN
    )
    turned = (*names[week_start:], *names[:week_start])
    return replace(filling, weekdays=turned, columns=DAYS_PER_WEEK)


def _with_blocks(filling: Filling, said: str, _: int) -> Filling | None:
    numbers = list[int]()
    for part in said.split(","):
        match = re.fullmatch(r"(\d{1,4})(?:-(\d{1,4}))?", part)
        if match is None:
            return None
        numbers += range(int(match[1]), int(match[2] or match[1]) + 1)
    return replace(filling, blocks=tuple(dict.fromkeys(numbers)))


_READERS: Mapping[str, Callable[[Filling, str, int], Filling | None]] = {
    "dates": _with_dates,
    "numerals": _with_numerals,
    "weekdays": _with_weekdays,
    "blocks": _with_blocks,
}


def filled_cells(
    grid: CellGrid | None, filling: Filling, face: Face, *, name: str, file: str
) -> CellMarks:
    """The marks of what is set into the cells of a grid.

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
        raise InputError(f"{file}: a week needs {filling.columns} columns, and there are {size}")
    last = max((filling.last, *filling.blocks))
    needed = filling.cell_of(last) + 1
    if needed > grid.columns * grid.rows or filling.rows > grid.rows:
        rows = max(filling.rows, -(-needed // grid.columns))
        raise InputError(f"{file}: {filling.what} needs {rows} rows, and there are {size}")
    ink: list[Mark] = [
        _block(grid, filling.cell_of(one), f"{name}/cells/block-{one}") for one in filling.blocks
    ]
    white = list[Mark]()
    for number in range(filling.first, filling.last + 1):
        cell = grid.cell(filling.cell_of(number))
        numeral = _numeral(grid, cell, face, number, f"{name}/cells/{number}")
        (white if number in filling.blocks else ink).extend(numeral)
    ink += _weekdays(grid, filling.weekdays, face, f"{name}/cells", file)
    return CellMarks(ink=tuple(ink), white=tuple(white))


def _sized(grid: CellGrid, face: Face, height_px: float, design_em: float) -> TypeSize:
    """Letters of a height whose pen suits the lines of the grid."""
    stem = min(max(height_px / grid.width_px / 1.3, _LEAST_STEM), _MOST_STEM)
    return size_from_height(face, height_px=height_px, stem=stem, design_em=design_em)


def _numeral(grid: CellGrid, cell: Box, face: Face, number: int, name: str) -> tuple[Mark, ...]:
    """A numeral in the upper left of its cell."""
    side = min(grid.size)
    letters = _sized(grid, face, _HEIGHT * side, face.digit_height_em)
    line = set_numeral(face, str(number), width_em=letters.pen_px / letters.em_px)
    depth = _DEPTH * letters.height_px
    left = optical_left(line, size_px=letters.em_px, width_px=letters.pen_px, depth_px=depth)
    baseline = (
        cell[0] + _WHITE * side - left,
        cell[1] + _WHITE * side + letters.height_px - _below(face, letters.pen_px),
    )
    return marks_from_line(
        line,
        name=name,
        role=Role.NUMERAL,
        baseline=baseline,
        size_px=letters.em_px,
        width_px=letters.pen_px,
    )


def _block(grid: CellGrid, index: int, name: str) -> Shape:
    """A cell that is filled but for a little white along its sides."""
    x0, y0, x1, y1 = inset_box(grid.cell(index), _BESIDE_BLOCKS * min(grid.size))
    corners = np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]])
    return Shape(name=name, group=name, role=Role.BLOCK, contours=(corners,), origin=(x0, y0))


def _weekdays(
    grid: CellGrid, names: Sequence[str], face: Face, name: str, file: str
) -> Iterator[Mark]:
    """Names over the middles of the columns, as large as the longest leaves them room to be."""
    if not names:
        return
    side, wide = min(grid.size), grid.size[0]
    letters = _sized(grid, face, _NAME_HEIGHT * side, face.cap_height_em)
    longest = max(set_line(face, one).advance_em for one in names) * letters.em_px
    shrunk = min(1.0, _NAME_WIDTH * wide / longest)
    letters = _sized(grid, face, shrunk * letters.height_px, face.cap_height_em)
    foot = grid.down[0] - 0.5 * grid.width_px - _WHITE * side
    if foot - letters.height_px < 0.0:
        raise InputError(f"{file}: there is no room for weekdays above the cells")
    for column, one in enumerate(names):
        line = set_line(face, one)
        middle = 0.5 * (grid.across[column] + grid.across[column + 1])
        yield from marks_from_line(
            line,
            name=f"{name}/weekday-{column + 1}",
            role=Role.WORD,
            baseline=(middle - 0.5 * line.advance_em * letters.em_px, foot),
            size_px=letters.em_px,
            width_px=letters.pen_px,
        )


def _below(face: Face, pen_px: float) -> float:
    """How far ink reaches below the baseline: half the pen, where a pen draws it."""
    return 0.5 * pen_px if face.is_drawn_with_pen else 0.0
