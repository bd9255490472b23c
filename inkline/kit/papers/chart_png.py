"""The chart of a year as a picture for a telephone, 1080 x 1920 px.

Everything on it is lettered: the year and the months in the kit's own ink, what is to be read small
without a hand. No letter is smaller than 32 px, a fifteenth of the width of a thumb on most
screens; the values were chosen by eye.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from inkline.calendar.months import DAYS_PER_WEEK
from inkline.calendar.names import LetterCase, NameWidth, weekday_names
from inkline.ink.style import Style
from inkline.kit.recipe.key import WEEK_STARTS
from inkline.kit.stamps.cells import LONGEST
from inkline.kit.stamps.year_chart import NAME, MonthChart, YearChart, comma_list, named_stamps
from inkline.lettering.face import Face
from inkline.output.png import colour_png_bytes
from inkline.pages.faces import first_with, usual_family
from inkline.pages.letters import PLAIN, centreline_width, print_line
from inkline.pages.lines import Align, TextLine, Tone
from inkline.pages.page import Page
from inkline.pages.palette import CARD, DAY, ERASED_DAY, HAIRLINE, PAPER
from inkline.phrases.phrases import Phrases

_SIZE = (1080, 1920)
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
        phrases: sentences in the language of all else.
    """

    title: str
    family: str
    faces: tuple[Face, ...]
    style: Style
    number: int
    mirrored: bool
    language: str
    phrases: Phrases = field(default_factory=Phrases)

    def week_start(self, start: str) -> str:
        """That weeks begin on the day that `WEEK_STARTS` calls `start`."""
        days = weekday_names(
            self.phrases.language, width=NameWidth.WIDE, case=LetterCase.AS_WRITTEN
        )
        return self.phrases.say("chart.begins", day=days[WEEK_STARTS[start]])


def chart_png(chart: YearChart, look: ChartLook) -> bytes:
    """The picture of a year's chart as a PNG file; about a second."""
    page = Page(_SIZE, colour=PAPER)
    _box(page, (_MARGIN, _CARD_TOP, _SIZE[0] - _MARGIN, _CARD_BOTTOM), CARD)
    for index, month in enumerate(chart.months):
        top = _CARD_TOP + (_CARD_BOTTOM - _CARD_TOP - 12 * _ROW) // 2 + index * _ROW
        if index:
            _box(
                page, (_MARGIN + _INSIDE, top - 1, _SIZE[0] - _MARGIN - _INSIDE, top + 1), HAIRLINE
            )
        for box, colour in little_month(month, mirrored=look.mirrored):
            left, height = (
                _SIZE[0] - _MARGIN - _INSIDE - DAYS_PER_WEEK * _STEP + _STEP - _CELL,
                _ROWS * _STEP,
            )
            _box(
                page, _box_moved_by(box, (left, top + (_ROW - height + _STEP - _CELL) // 2)), colour
            )
        for line in _month_lines(month, top, look):
            _letter(page, line, look)
    for line in _head_lines(chart, look):
        _letter(page, line, look)
    return colour_png_bytes(page.srgb(), ppi=_PPI)


def little_month(
    month: MonthChart, *, mirrored: bool
) -> Iterator[tuple[tuple[int, int, int, int], str]]:
    """A month's days as small boxes in px, each with its colour.

    Days that are to be erased have a colour of their own.
    """
    for day in range(1, LONGEST + 1):
        if day <= month.days or day in month.way.erase:
            row, column = divmod(month.column - 1 + day - 1, DAYS_PER_WEEK)
            x = (DAYS_PER_WEEK - 1 - column if mirrored else column) * _STEP
            yield (
                (x, row * _STEP, x + _CELL, row * _STEP + _CELL),
                DAY if day <= month.days else ERASED_DAY,
            )


def _head_lines(chart: YearChart, look: ChartLook) -> Iterator[TextLine]:
    room = _SIZE[0] - 2.0 * _MARGIN
    about = look.week_start(chart.start)
    year = _line(str(chart.year), (_MARGIN, _YEAR_BASE), _YEAR, room, tone=Tone.STRONG)
    yield replace(year, style_index=0)
    yield _line(about, (_MARGIN, _ABOUT_BASE), _SMALL, 0.6 * room, tone=Tone.ACCENT)
    formats = _line(
        comma_list(chart.formats), (_SIZE[0] - _MARGIN, _ABOUT_BASE), _SMALL, 0.38 * room
    )
    yield replace(formats, align=Align.RIGHT)
    names = look.phrases.say("chart.names", stamps=chart.languages) if chart.languages else ""
    title = f"{look.title} \N{EN DASH} {names}" if names else look.title
    yield _line(title, (_MARGIN, _FOOT_BASE), _SMALL, room)


def _month_lines(month: MonthChart, top: int, look: ChartLook) -> Iterator[TextLine]:
    """The month, its stamps under it, and opposite to it what else there is to know."""
    left = _MARGIN + _INSIDE
    right = _SIZE[0] - left - DAYS_PER_WEEK * _STEP - 30
    name_room = 0.45 * (right - left)
    name = _line(month.name, (left, top + _NAME_BASE), _NAME, name_room, tone=Tone.STRONG)
    yield replace(name, style_index=0)
    room = right - left - min(_width(month.name, look) * _NAME / _SMALL, name_room) - 24
    stamps, notes = _stamps_and_notes(month, look, rooms=(right - left, room))
    beside = _line(notes, (right, top + _NAME_BASE), _SMALL, room, tone=Tone.ACCENT)
    yield replace(beside, align=Align.RIGHT)
    yield _line(stamps, (left, top + _STAMPS_BASE), _SMALL, right - left, tone=Tone.STRONG)


def _stamps_and_notes(
    month: MonthChart, look: ChartLook, *, rooms: tuple[float, float]
) -> tuple[str, str]:
    """What stands under a month's name, and what beside it.

    The first way in which both fit at full size is taken, else the last: all stamps stand below;
    else the week numbers, if any, move up; else what every month has, its name, is left out; else
    both.
    """
    notes = month.notes_in(look.phrases)
    up = [*notes, f"+ {month.weeks}"] if month.weeks else notes
    without_name = [part for part in month.stamps if part != NAME]
    ways = (
        (month.stamps, notes),
        ([part for part in month.stamps if part != month.weeks], up),
        (without_name, notes),
        ([part for part in without_name if part != month.weeks], up),
    )
    texts = [
        (" + ".join(named_stamps(stamps, look.phrases)), "  ".join(beside))
        for stamps, beside in ways
    ]
    fits = (
        way
        for way in texts
        if all(_width(text, look) <= room for text, room in zip(way, rooms, strict=True))
    )
    return next(fits, texts[-1])


def _width(text: str, look: ChartLook) -> float:
    """How wide a small line is in px."""
    face = _face(text, PLAIN, look)
    return centreline_width(text, face=face, height=_SMALL) if text else 0.0


def _face(text: str, style: Style, look: ChartLook) -> Face:
    """The letters for a text: where it is small, the most even family first; else the kit's own."""
    faces = look.faces if style is not PLAIN else (usual_family(), *look.faces)
    return first_with(text, faces) or look.faces[-1]


def _line(
    text: str, at: tuple[float, float], height: float, room: float, *, tone: Tone = Tone.SOFT
) -> TextLine:
    """A line in plain letters that begins at `at`."""
    return TextLine(text=text, x=at[0], baseline=at[1], height=height, room=room, tone=tone)


def _letter(page: Page, line: TextLine, look: ChartLook) -> None:
    """Print a line on the page, without what no face can write."""
    style = PLAIN if line.style_index is None else look.style
    face, name = _face(line.text, style, look), f"chart/{line.text}"
    print_line(page, line, face=face, style=style, number=look.number, name=name)


def _box(page: Page, box: tuple[int, int, int, int], colour: str) -> None:
    left, top, right, bottom = box
    page.ink(np.full((bottom - top, right - left), 255, np.uint8), at=(left, top), colour=colour)


def _box_moved_by(box: Sequence[int], by: tuple[int, int]) -> tuple[int, int, int, int]:
    return box[0] + by[0], box[1] + by[1], box[2] + by[0], box[3] + by[1]
