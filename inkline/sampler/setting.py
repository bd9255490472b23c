"""Where everything goes on a sampler, a sheet of styles or of one style at many settings.

Lengths are px of the sheet; pictures stand on it at their own size, so that one of its px is one of
a stamp's. The values were chosen by eye. Two columns of four styles fill an A3 sheet, 297 x 420 mm
(ISO 216), at 300 pixels per inch.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from inkline.pages.lines import Align, TextLine, Tone
from inkline.pages.palette import CARD, TINT

PPI = 300.0
"""Printed at this, a stamp on the sheet is as large as a stamp of a kit printed at its own
resolution."""
_MARGIN = 140
_TITLE, _NOTE, _ABOUT = 116, 36, 30
_COLUMN_GAP, _ROW_GAP = 108, 160
_NAME, _IMITATES = 58, 27
_QUARTER_GAP, _QUARTER_TOP = 24, 34
_READING, _READING_STEP = 25, 45
_TABLE_GAP, _TABLE_COLUMN, _TABLE_LEFT = 30, 160, 90
_AXIS, _STEP, _CELL_READING = 26, 34, 23
_CELL_GAP, _CELL_ROW_GAP, _ROW_HEADS = 40, 56, 230


@dataclass(frozen=True, slots=True, kw_only=True)
class PicturePlace:
    """A picture's place on the sheet.

    Attributes:
        index: which picture it is.
        quarter: whether it is shown at a quarter of its size.
        x: of its upper left corner.
        y: of its upper left corner.
        size: width and height on the sheet.
        colour: of the paper that it is printed on.
    """

    index: int
    quarter: bool
    x: int
    y: int
    size: tuple[int, int]
    colour: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SamplerSetting:
    """A sheet as set: its size, pictures, lines of text, and level rules as (x0, x1, y)."""

    size: tuple[int, int]
    places: tuple[PicturePlace, ...]
    lines: tuple[TextLine, ...]
    rules: tuple[tuple[int, int, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Caption:
    """What is said of one picture.

    Attributes:
        name: of the style.
        imitates: what the style imitates.
        readings: what was measured, as (name, value).
    """

    name: str
    imitates: str
    readings: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """One value that a matrix varies: its name, and its steps in words."""

    name: str
    steps: tuple[str, ...]


@dataclass(slots=True, kw_only=True)
class _Draft:
    """A sheet while it is being set; `y` is where the next thing goes."""

    width: int
    y: int = _MARGIN
    places: list[PicturePlace] = field(default_factory=list)
    lines: list[TextLine] = field(default_factory=list)
    rules: list[tuple[int, int, int]] = field(default_factory=list)

    def add_line(
        self,
        text: str,
        *,
        at: tuple[float, float],
        height: float,
        room: float,
        align: Align = Align.LEFT,
        tone: Tone = Tone.SOFT,
        style_index: int | None = None,
    ) -> None:
        """Add a line of text whose x and baseline are `at`; the rest as in `TextLine`."""
        line = TextLine(
            text=text,
            x=at[0],
            baseline=at[1],
            height=height,
            room=room,
            align=align,
            tone=tone,
            style_index=style_index,
        )
        self.lines.append(line)

    def add_head(self, title: str, note: str, about: Sequence[str]) -> None:
        """Add the title in the first style's own ink, a note opposite, a rule, and sentences."""
        room = self.width - 2 * _MARGIN
        right, base = self.width - _MARGIN, self.y + _TITLE
        self.add_line(
            title,
            at=(_MARGIN, base),
            height=_TITLE,
            room=0.62 * room,
            tone=Tone.STRONG,
            style_index=0,
        )
        self.add_line(
            note,
            at=(right, base),
            height=_NOTE,
            room=0.34 * room,
            align=Align.RIGHT,
            tone=Tone.ACCENT,
        )
        self.rules.append((_MARGIN, right, base + 56))
        self.y = base + 56 + 62
        for sentence in about:
            baseline = self.y + _ABOUT
            self.add_line(sentence, at=(_MARGIN, baseline), height=_ABOUT, room=room)
            self.y += _ABOUT + 24
        self.y += 77

    def setting(self) -> SamplerSetting:
        """The sheet as it stands, closed with a margin below `y`."""
        return SamplerSetting(
            size=(self.width, self.y + _MARGIN),
            places=tuple(self.places),
            lines=tuple(self.lines),
            rules=tuple(self.rules),
        )


def _quarter_size(size: tuple[int, int]) -> tuple[int, int]:
    """The size of a picture whose pixels are means of 4 x 4."""
    return -(-size[0] // 4), -(-size[1] // 4)


def set_specimens(
    *,
    title: str,
    note: str,
    about: Sequence[str],
    captions: Sequence[Caption],
    picture: tuple[int, int],
) -> SamplerSetting:
    """The sheet that shows each style once, and what it measures.

    Each is shown at full size, and at a quarter on a pale card and on a tinted one.

    Args:
        title: of the sheet.
        note: a few words opposite the title.
        about: sentences under the title.
        captions: one for each style, at least one.
        picture: size of a picture in px.
    """
    n_columns = min(2, len(captions))
    sheet = _Draft(width=2 * _MARGIN + n_columns * picture[0] + (n_columns - 1) * _COLUMN_GAP)
    sheet.add_head(title, note, about)
    top = sheet.y
    step = _NAME + 40 + picture[1] + _QUARTER_TOP + _quarter_size(picture)[1] + _ROW_GAP
    for index, caption in enumerate(captions):
        row, column = divmod(index, n_columns)
        _add_specimen(
            sheet,
            index,
            caption,
            x=_MARGIN + column * (picture[0] + _COLUMN_GAP),
            y=top + row * step,
            picture=picture,
        )
    sheet.y = top + -(-len(captions) // n_columns) * step - _ROW_GAP
    return sheet.setting()


def _add_specimen(
    sheet: _Draft, index: int, caption: Caption, *, x: int, y: int, picture: tuple[int, int]
) -> None:
    """Add one style: its name, its pictures at full size and at a quarter, and its readings."""
    right, base = x + picture[0], y + _NAME
    room = 0.46 * picture[0]
    sheet.add_line(
        caption.name, at=(x, base), height=_NAME, room=room, tone=Tone.STRONG, style_index=index
    )
    sheet.add_line(
        caption.imitates, at=(right, base), height=_IMITATES, room=room, align=Align.RIGHT
    )
    top = base + 40
    sheet.places.append(
        PicturePlace(index=index, quarter=False, x=x, y=top, size=picture, colour=CARD)
    )
    small = _quarter_size(picture)
    top += picture[1] + _QUARTER_TOP
    for number, colour in enumerate((CARD, TINT)):
        left = x + number * (small[0] + _QUARTER_GAP)
        sheet.places.append(
            PicturePlace(index=index, quarter=True, x=left, y=top, size=small, colour=colour)
        )
    left = x + 2 * (small[0] + _QUARTER_GAP) + _TABLE_LEFT - _QUARTER_GAP
    height = (len(caption.readings) - 1) * _READING_STEP + _READING
    first = top + (small[1] - height) // 2 + _READING
    for number, (name, value) in enumerate(caption.readings):
        baseline = first + number * _READING_STEP
        sheet.add_line(name, at=(left, baseline), height=_READING, room=_TABLE_COLUMN)
        column = left + _TABLE_COLUMN + _TABLE_GAP
        sheet.add_line(
            value, at=(column, baseline), height=_READING, room=right - column, tone=Tone.STRONG
        )


def set_matrix(
    *,
    title: str,
    note: str,
    about: Sequence[str],
    across: Axis,
    down: Axis | None,
    readings: Sequence[Sequence[tuple[str, str]]],
    picture: tuple[int, int],
) -> SamplerSetting:
    """The sheet that shows one style at every step of one or two values.

    Args:
        title: of the sheet.
        note: a few words opposite the title.
        about: sentences under the title.
        across: the value that grows from left to right.
        down: the one that grows from top to bottom, if any.
        readings: what was measured as (name, value), for each picture, row by row.
        picture: size of a picture in px.
    """
    left = _MARGIN + (_ROW_HEADS if down else 0)
    n_columns, n_rows = len(across.steps), len(down.steps) if down else 1
    wide = left + n_columns * (picture[0] + _CELL_GAP) - _CELL_GAP + _MARGIN
    sheet = _Draft(width=max(wide, 1500))
    sheet.add_head(title, note, about)
    _add_axis_heads(sheet, across, down, left=left, picture=picture)
    step = picture[1] + 20 + _quarter_size(picture)[1] + _CELL_ROW_GAP
    for index, measured in enumerate(readings):
        row, column = divmod(index, n_columns)
        x, y = left + column * (picture[0] + _CELL_GAP), sheet.y + row * step
        _add_cell(sheet, index, measured, x=x, y=y, picture=picture)
        if down and column == 0:
            baseline = y + 0.5 * (picture[1] + _STEP)
            sheet.add_line(
                down.steps[row],
                at=(_MARGIN, baseline),
                height=_STEP,
                room=_ROW_HEADS - 40,
                tone=Tone.STRONG,
            )
    sheet.y += n_rows * step - _CELL_ROW_GAP
    return sheet.setting()


def _add_axis_heads(
    sheet: _Draft, across: Axis, down: Axis | None, *, left: int, picture: tuple[int, int]
) -> None:
    """Add the names of the values that vary, and the steps across."""
    baseline = sheet.y + _AXIS
    sheet.add_line(
        across.name, at=(left, baseline), height=_AXIS, room=picture[0] * 2, tone=Tone.ACCENT
    )
    baseline += 40 + _STEP
    for column, words in enumerate(across.steps):
        x = left + column * (picture[0] + _CELL_GAP)
        sheet.add_line(words, at=(x, baseline), height=_STEP, room=picture[0], tone=Tone.STRONG)
    if down:
        sheet.add_line(
            down.name, at=(_MARGIN, baseline), height=_AXIS, room=_ROW_HEADS - 30, tone=Tone.ACCENT
        )
    sheet.y = round(baseline) + 34


def _add_cell(
    sheet: _Draft,
    index: int,
    measured: Sequence[tuple[str, str]],
    *,
    x: int,
    y: int,
    picture: tuple[int, int],
) -> None:
    """Add one picture of a matrix at full size, at a quarter under it, and its readings."""
    sheet.places.append(
        PicturePlace(index=index, quarter=False, x=x, y=y, size=picture, colour=CARD)
    )
    small = _quarter_size(picture)
    top = y + picture[1] + 20
    sheet.places.append(
        PicturePlace(index=index, quarter=True, x=x, y=top, size=small, colour=TINT)
    )
    left = x + small[0] + 26
    height = len(measured) * (_CELL_READING + 26) - 26
    baseline = top + 0.5 * (small[1] - min(height, small[1])) + _CELL_READING
    for name, value in measured:
        text = f"{name} {value}"
        room = x + picture[0] - left
        sheet.add_line(text, at=(left, baseline), height=_CELL_READING, room=room, tone=Tone.STRONG)
        baseline += _CELL_READING + 26
