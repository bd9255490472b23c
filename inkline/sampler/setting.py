"""Where everything goes on a sampler: one sheet of styles side by side, or of one style at many settings.

Lengths are px of the sheet; pictures stand on it at their own size, so that one of its px is one of
a stamp's. The values were chosen by eye. Two columns of four styles fill an A3 sheet, 297 x 420 mm
(ISO 216), at 300 pixels per inch.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from inkline.pages.lines import Align, TextLine, Tone

PPI = 300.0
"""Printed at this, a stamp on the sheet is as large as a stamp of a kit printed at its own
resolution."""
_MARGIN = 140
_TITLE, _NOTE, _ABOUT = 116, 36, 30
_COLUMN_GAP, _ROW_GAP = 108, 160
_NAME, _IMITATES = 58, 27
_QUARTER_GAP, _QUARTER_TOP = 24, 34
_FIGURE, _FIGURE_STEP = 25, 45
_TABLE_GAP, _TABLE_COLUMN, _TABLE_LEFT = 30, 160, 90
_AXIS, _STEP, _CELL_FIGURE = 26, 34, 23
_CELL_GAP, _CELL_ROW_GAP, _ROW_HEADS = 40, 56, 230


class Ground(StrEnum):
    """What a picture stands on."""

    WHITE = "white"
    TINT = "tint"


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A picture's place: which it is, its upper left corner and size, and what it stands on."""

    index: int
    quarter: bool
    x: int
    y: int
    size: tuple[int, int]
    ground: Ground


@dataclass(frozen=True, slots=True, kw_only=True)
class SamplerSetting:
    """A sheet as set: its size, pictures, lines of text, and level rules as (x0, x1, y)."""

    size: tuple[int, int]
    places: tuple[Place, ...]
    lines: tuple[TextLine, ...]
    rules: tuple[tuple[int, int, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Caption:
    """What is said of one picture: its name, what it imitates, and measured figures as (name, value)."""

    name: str
    imitates: str
    figures: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """One value that a matrix varies: its name, and its steps in words."""

    name: str
    steps: tuple[str, ...]


@dataclass(slots=True, kw_only=True)
class _Sheet:
    """A sheet while it is being set; `y` is where the next thing goes."""

    width: int
    y: int = _MARGIN
    places: list[Place] = field(default_factory=list)
    lines: list[TextLine] = field(default_factory=list)
    rules: list[tuple[int, int, int]] = field(default_factory=list)

    def head(self, title: str, note: str, about: Sequence[str]) -> None:
        """The title in the first style's own ink, a note opposite, a rule, and sentences on what is to be seen."""
        room = self.width - 2 * _MARGIN
        right, base = self.width - _MARGIN, self.y + _TITLE
        title_line = TextLine(
            text=title,
            x=_MARGIN,
            baseline=base,
            height=_TITLE,
            room=0.62 * room,
            tone=Tone.STRONG,
            inked=0,
        )
        self.lines.append(title_line)
        self.lines.append(
            TextLine(
                text=note,
                x=right,
                baseline=base,
                height=_NOTE,
                room=0.34 * room,
                align=Align.RIGHT,
                tone=Tone.ACCENT,
            )
        )
        self.rules.append((_MARGIN, right, base + 56))
        self.y = base + 56 + 62
        for sentence in about:
            baseline = self.y + _ABOUT
            self.lines.append(
                TextLine(text=sentence, x=_MARGIN, baseline=baseline, height=_ABOUT, room=room)
            )
            self.y += _ABOUT + 24
        self.y += 77

    def set(self) -> SamplerSetting:
        """The sheet as it stands, closed with a margin below `y`."""
        return SamplerSetting(
            size=(self.width, self.y + _MARGIN),
            places=tuple(self.places),
            lines=tuple(self.lines),
            rules=tuple(self.rules),
        )


def quarter_size(size: tuple[int, int]) -> tuple[int, int]:
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
    """The sheet that shows each style once: at full size, at a quarter on white and on a tint, and what it measures.

    Args:
        title: of the sheet.
        note: a few words opposite the title.
        about: sentences under the title.
        captions: one for each style, at least one.
        picture: size of a picture in px.
    """
    n_columns = min(2, len(captions))
    sheet = _Sheet(width=2 * _MARGIN + n_columns * picture[0] + (n_columns - 1) * _COLUMN_GAP)
    sheet.head(title, note, about)
    top = sheet.y
    step = _NAME + 40 + picture[1] + _QUARTER_TOP + quarter_size(picture)[1] + _ROW_GAP
    for index, caption in enumerate(captions):
        row, column = divmod(index, n_columns)
        _specimen(
            sheet,
            index,
            caption,
            x=_MARGIN + column * (picture[0] + _COLUMN_GAP),
            y=top + row * step,
            picture=picture,
        )
    sheet.y = top + -(-len(captions) // n_columns) * step - _ROW_GAP
    return sheet.set()


def _specimen(
    sheet: _Sheet, index: int, caption: Caption, *, x: int, y: int, picture: tuple[int, int]
) -> None:
    right, base = x + picture[0], y + _NAME
    room = 0.46 * picture[0]
    sheet.lines.append(
        TextLine(
            text=caption.name,
            x=x,
            baseline=base,
            height=_NAME,
            room=room,
            tone=Tone.STRONG,
            inked=index,
        )
    )
    sheet.lines.append(
        TextLine(
            text=caption.imitates,
            x=right,
            baseline=base,
            height=_IMITATES,
            room=room,
            align=Align.RIGHT,
        )
    )
    top = base + 40
    sheet.places.append(
        Place(index=index, quarter=False, x=x, y=top, size=picture, ground=Ground.WHITE)
    )
    small = quarter_size(picture)
    top += picture[1] + _QUARTER_TOP
    for number, ground in enumerate((Ground.WHITE, Ground.TINT)):
        left = x + number * (small[0] + _QUARTER_GAP)
        sheet.places.append(
            Place(index=index, quarter=True, x=left, y=top, size=small, ground=ground)
        )
    left = x + 2 * (small[0] + _QUARTER_GAP) + _TABLE_LEFT - _QUARTER_GAP
    height = (len(caption.figures) - 1) * _FIGURE_STEP + _FIGURE
    first = top + (small[1] - height) // 2 + _FIGURE
    for number, (name, value) in enumerate(caption.figures):
        baseline = first + number * _FIGURE_STEP
        sheet.lines.append(
            TextLine(text=name, x=left, baseline=baseline, height=_FIGURE, room=_TABLE_COLUMN)
        )
        column = left + _TABLE_COLUMN + _TABLE_GAP
        sheet.lines.append(
            TextLine(
                text=value,
                x=column,
                baseline=baseline,
                height=_FIGURE,
                room=right - column,
                tone=Tone.STRONG,
            )
        )


def set_matrix(
    *,
    title: str,
    note: str,
    about: Sequence[str],
    across: Axis,
    down: Axis | None,
    figures: Sequence[Sequence[tuple[str, str]]],
    picture: tuple[int, int],
) -> SamplerSetting:
    """The sheet that shows one style at every step of one or two values.

    Args:
        title: of the sheet.
        note: a few words opposite the title.
        about: sentences under the title.
        across: the value that grows from left to right.
        down: the one that grows from top to bottom, if any.
        figures: measured figures as (name, value) for each picture, row by row.
        picture: size of a picture in px.
    """
    left = _MARGIN + (_ROW_HEADS if down else 0)
    n_columns, n_rows = len(across.steps), len(down.steps) if down else 1
    wide = left + n_columns * (picture[0] + _CELL_GAP) - _CELL_GAP + _MARGIN
    sheet = _Sheet(width=max(wide, 1500))
    sheet.head(title, note, about)
    _axis_heads(sheet, across, down, left=left, picture=picture)
    step = picture[1] + 20 + quarter_size(picture)[1] + _CELL_ROW_GAP
    for index, measured in enumerate(figures):
        row, column = divmod(index, n_columns)
        x, y = left + column * (picture[0] + _CELL_GAP), sheet.y + row * step
        _cell(sheet, index, measured, x=x, y=y, picture=picture)
        if down and column == 0:
            baseline = y + 0.5 * (picture[1] + _STEP)
            sheet.lines.append(
                TextLine(
                    text=down.steps[row],
                    x=_MARGIN,
                    baseline=baseline,
                    height=_STEP,
                    room=_ROW_HEADS - 40,
                    tone=Tone.STRONG,
                )
            )
    sheet.y += n_rows * step - _CELL_ROW_GAP
    return sheet.set()


def _axis_heads(
    sheet: _Sheet, across: Axis, down: Axis | None, *, left: int, picture: tuple[int, int]
) -> None:
    baseline = sheet.y + _AXIS
    sheet.lines.append(
        TextLine(
            text=across.name,
            x=left,
            baseline=baseline,
            height=_AXIS,
            room=picture[0] * 2,
            tone=Tone.ACCENT,
        )
    )
    baseline += 40 + _STEP
    for column, words in enumerate(across.steps):
        x = left + column * (picture[0] + _CELL_GAP)
        sheet.lines.append(
            TextLine(
                text=words, x=x, baseline=baseline, height=_STEP, room=picture[0], tone=Tone.STRONG
            )
        )
    if down:
        sheet.lines.append(
            TextLine(
                text=down.name,
                x=_MARGIN,
                baseline=baseline,
                height=_AXIS,
                room=_ROW_HEADS - 30,
                tone=Tone.ACCENT,
            )
        )
    sheet.y = round(baseline) + 34


def _cell(
    sheet: _Sheet,
    index: int,
    measured: Sequence[tuple[str, str]],
    *,
    x: int,
    y: int,
    picture: tuple[int, int],
) -> None:
    sheet.places.append(
        Place(index=index, quarter=False, x=x, y=y, size=picture, ground=Ground.WHITE)
    )
    small = quarter_size(picture)
    top = y + picture[1] + 20
    sheet.places.append(
        Place(index=index, quarter=True, x=x, y=top, size=small, ground=Ground.TINT)
    )
    left = x + small[0] + 26
    height = len(measured) * (_CELL_FIGURE + 26) - 26
    baseline = top + 0.5 * (small[1] - min(height, small[1])) + _CELL_FIGURE
    for name, value in measured:
        text = f"{name} {value}"
        room = x + picture[0] - left
        sheet.lines.append(
            TextLine(
                text=text,
                x=left,
                baseline=baseline,
                height=_CELL_FIGURE,
                room=room,
                tone=Tone.STRONG,
            )
        )
        baseline += _CELL_FIGURE + 26
