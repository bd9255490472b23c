"""The chart of a year as a picture for a telephone, 1080 x 1920 px.

Everything on it is lettered: the year and the months in the kit's own ink, what is to be read small
without a hand. No letter is smaller than 32 px, a fifteenth of the width of a thumb on most
screens; the values were chosen by eye.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from inkline.calendar.months import DAYS_PER_WEEK
from inkline.ink.style import Style
from inkline.kit.stamps.month import LONGEST, NAME, MonthChart, YearChart, listed
from inkline.lettering.face import Face
from inkline.lettering.line import ink_bounds, set_line
from inkline.output.png import colour_png_bytes
from inkline.pages.letters import PLAIN, lettered
from inkline.pages.lines import Align, TextLine
from inkline.pages.page import Page
from inkline.pages.pdf_letters import first_with, usual_family

SIZE = (1080, 1920)
_PPI = 400.0
"""About what such a screen has."""
_MARGIN, _INSIDE = 44, 34
_YEAR, _NAME, _SMALL = 112, 42, 33
_YEAR_BASE, _ABOUT_BASE = 190, 260
_CARD_TOP, _CARD_BOTTOM = 310, 1836
_ROW = 125
_NAME_BASE, _STAMPS_BASE = 56, 106
_CELL, _STEP = 12, 16
"""Side of a day in the little month, and from one day to the next."""
_FOOT_BASE = 1886
_SPACING_EM = 0.035
"""As `sampler_letters` sets lines."""
_PAPER, _CARD, _INK, _ACCENT, _SOFT, _RULE = (
    "#f3ece1",
    "#fffdf9",
    "#27343d",
    "#bd5a3c",
    "#857a6d",
    "#e6dccd",
)
_DAY, _ERASED = "#b9c3c4", "#bd5a3c"
_ROWS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartLook:
    """How charts look.

    Attributes:
        title: of the kit.
        family: the kit's family of letters, or what it would be if it had no font.
        faces: letters, the first that can write a text first; the last are the kit's own.
        style: the ink of year and months.
        number: the drawing number.
        mirrored: whether columns run from right to left.
        language: of the names, as CLDR calls it.
    """

    title: str
    family: str
    faces: tuple[Face, ...]
    style: Style
    number: int
    mirrored: bool
    language: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Inked:
    """A line of text with its colour, and whether the kit's own ink shows in it."""

    line: TextLine
    colour: str
    style: Style = PLAIN


def chart_png(chart: YearChart, look: ChartLook) -> bytes:
    """The picture of a year's chart as a PNG file; about a second."""
    page = Page(SIZE, colour=_PAPER)
    _box(page, (_MARGIN, _CARD_TOP, SIZE[0] - _MARGIN, _CARD_BOTTOM), _CARD)
    for index, month in enumerate(chart.months):
        top = _CARD_TOP + (_CARD_BOTTOM - _CARD_TOP - 12 * _ROW) // 2 + index * _ROW
        if index:
            _box(page, (_MARGIN + _INSIDE, top - 1, SIZE[0] - _MARGIN - _INSIDE, top + 1), _RULE)
        for box, colour in little_month(month, mirrored=look.mirrored):
            left, height = (
                SIZE[0] - _MARGIN - _INSIDE - DAYS_PER_WEEK * _STEP + _STEP - _CELL,
                _ROWS * _STEP,
            )
            _box(page, _moved(box, (left, top + (_ROW - height + _STEP - _CELL) // 2)), colour)
        for text in _month_lines(month, top, look):
            _letter(page, text, look)
    for text in _head_lines(chart, look):
        _letter(page, text, look)
    return colour_png_bytes(page.srgb(), ppi=_PPI)


def little_month(
    month: MonthChart, *, mirrored: bool
) -> Iterator[tuple[tuple[int, int, int, int], str]]:
    """A month's days as small boxes in px, each with its colour: days that are to be erased are told apart."""
    for day in range(1, LONGEST + 1):
        if day <= month.days or day in month.way.erase:
            row, column = divmod(month.column - 1 + day - 1, DAYS_PER_WEEK)
            x = (DAYS_PER_WEEK - 1 - column if mirrored else column) * _STEP
            yield (
                (x, row * _STEP, x + _CELL, row * _STEP + _CELL),
                _DAY if day <= month.days else _ERASED,
            )


def _head_lines(chart: YearChart, look: ChartLook) -> Iterator[_Inked]:
    room = SIZE[0] - 2.0 * _MARGIN
    about = f"weeks begin on {chart.start.capitalize()}"
    yield _inked(str(chart.year), (_MARGIN, _YEAR_BASE), _YEAR, room, colour=_INK, style=look.style)
    yield _inked(about, (_MARGIN, _ABOUT_BASE), _SMALL, 0.6 * room, colour=_ACCENT)
    formats = listed(chart.formats)
    yield _inked(
        formats,
        (SIZE[0] - _MARGIN, _ABOUT_BASE),
        _SMALL,
        0.38 * room,
        colour=_SOFT,
        align=Align.RIGHT,
    )
    yield _inked(look.title, (_MARGIN, _FOOT_BASE), _SMALL, room, colour=_SOFT)


def _month_lines(month: MonthChart, top: int, look: ChartLook) -> Iterator[_Inked]:
    """The month, its stamps under it, and opposite to it what else there is to know."""
    left = _MARGIN + _INSIDE
    right = SIZE[0] - left - DAYS_PER_WEEK * _STEP - 30
    name_room = 0.45 * (right - left)
    yield _inked(
        month.name, (left, top + _NAME_BASE), _NAME, name_room, colour=_INK, style=look.style
    )
    room = right - left - min(_width(month.name, look) * _NAME / _SMALL, name_room) - 24
    stamps, beside = _shared_out(month, look, rooms=(right - left, room))
    yield _inked(beside, (right, top + _NAME_BASE), _SMALL, room, colour=_ACCENT, align=Align.RIGHT)
    yield _inked(stamps, (left, top + _STAMPS_BASE), _SMALL, right - left, colour=_INK)


def _shared_out(
    month: MonthChart, look: ChartLook, *, rooms: tuple[float, float]
) -> tuple[str, str]:
    """What stands under a month's name and what beside it: the first way in which both fit at full size, else the last.

    All stamps stand below; else the week numbers, if any, move up; else what every month has, its
    name, is left out; else both.
    """
    notes = [note for note in month.notes if note not in month.shared_notes]
    up = [*notes, f"+ {month.weeks}"] if month.weeks else notes
    without_name = [part for part in month.stamps if part != NAME]
    ways = (
        (month.stamps, notes),
        ([part for part in month.stamps if part != month.weeks], up),
        (without_name, notes),
        ([part for part in without_name if part != month.weeks], up),
    )
    texts = [(" + ".join(stamps), "  ".join(beside)) for stamps, beside in ways]
    fits = (
        way
        for way in texts
        if all(_width(text, look) <= room for text, room in zip(way, rooms, strict=True))
    )
    return next(fits, texts[-1])


def _width(text: str, look: ChartLook) -> float:
    """How wide a small line is in px."""
    if not text:
        return 0.0
    face = _face(text, PLAIN, look)
    line = set_line(face, text, spacing_em=_SPACING_EM)
    x0, _, x1, _ = ink_bounds(line, size_px=_SMALL / face.cap_height_em, width_px=0.0)
    return x1 - x0


def _face(text: str, style: Style, look: ChartLook) -> Face:
    """The letters for a text: where it is small, the most even family first; else the kit's own."""
    faces = look.faces if style is not PLAIN else (usual_family(), *look.faces)
    return first_with(text, faces) or look.faces[-1]


def _inked(
    text: str,
    at: tuple[float, float],
    height: float,
    room: float,
    *,
    colour: str,
    style: Style = PLAIN,
    align: Align = Align.LEFT,
) -> _Inked:
    line = TextLine(text=text, x=at[0], baseline=at[1], height=height, room=room, align=align)
    return _Inked(line=line, colour=colour, style=style)


def _letter(page: Page, text: _Inked, look: ChartLook) -> None:
    """Ink a line of text on the page, without what no face can write."""
    face = _face(text.line.text, text.style, look)
    name = f"chart/{text.line.text}"
    letters = lettered(text.line, face=face, style=text.style, number=look.number, name=name)
    if letters is not None:
        x, y = letters.at
        inside = letters.grey[max(-y, 0) : max(SIZE[1] - y, 0), max(-x, 0) : max(SIZE[0] - x, 0)]
        page.inked(inside, at=(max(x, 0), max(y, 0)), colour=text.colour)


def _box(page: Page, box: tuple[int, int, int, int], colour: str) -> None:
    left, top, right, bottom = box
    page.inked(np.full((bottom - top, right - left), 255, np.uint8), at=(left, top), colour=colour)


def _moved(box: Sequence[int], by: tuple[int, int]) -> tuple[int, int, int, int]:
    return box[0] + by[0], box[1] + by[1], box[2] + by[0], box[3] + by[1]
