"""Where everything goes on the overview: one sheet that shows a whole kit.

A section for each format has one large calendar, put together from its stamps as they are used, with the single stamps
beside it; below stand the words, all at one scale. Lengths are px of the sheet; the values were chosen by eye.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from inkline.output.page import fitted_size

Box = tuple[int, int, int, int]
"""Left, top, right and bottom in px."""

WIDTH = 2400
_MARGIN = 130
_TITLE_HEIGHT = 92
_TITLE_ROOM = 1600.0
_NOTE_ROOM = 480.0
_HEADING_HEIGHT = 40
_LABEL_HEIGHT = 17
_HERO = 1120
_HERO_MARGIN = 56
_NAME_HEIGHT = 76
"""Letter height of month and year above the large calendar."""
_COLUMN_GAP = 56
_TILE_COLUMNS = 4
_TILE_GAP = 22
_LABEL_GAP = 15
_ROW_GAP = 30
_SECTION_GAP = 120
_WORD_COLUMNS = 4
_WORD_GAP = 60


class Align(StrEnum):
    """Which point of a text its x gives."""

    LEFT = "left"
    CENTRE = "centre"
    RIGHT = "right"


class Tone(StrEnum):
    """What a text is on the sheet, and so how strong it is."""

    TITLE = "title"
    HEADING = "heading"
    LABEL = "label"


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A text to be lettered: its baseline and x, how high its capitals stand (lower if it were wider than `room`), how it is aligned."""

    text: str
    x: float
    baseline: float
    height: float
    align: Align
    tone: Tone
    room: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """A stamp's place on the sheet: upper left corner, size, and which part of its canvas is shown there, in px of the canvas."""

    name: str
    x: int
    y: int
    size: tuple[int, int]
    part: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A stamp to be shown: its name, its label, its canvas in px."""

    name: str
    label: str
    canvas: tuple[int, int]

    @property
    def whole(self) -> Box:
        """Its whole canvas."""
        return 0, 0, *self.canvas


@dataclass(frozen=True, slots=True, kw_only=True)
class FormatSection:
    """What is shown of one format.

    Attributes:
        title: its heading.
        layers: stamps that make up the large calendar, back to front, on one canvas.
        part: the part of that canvas to show large, in px of it: where the calendar is.
        names: stamps set above it, the first on the left and the last on the right.
        items: all its stamps.
    """

    title: str
    layers: tuple[Item, ...]
    part: Box
    names: tuple[Item, ...]
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """The sheet as set: its size, white cards (x, y, width, height), level rules (x0, x1, y), stamps and texts."""

    size: tuple[int, int]
    cards: tuple[tuple[int, int, int, int], ...]
    rules: tuple[tuple[float, float, float], ...]
    prints: tuple[Print, ...]
    texts: tuple[Text, ...]


class _Sheet:
    """A sheet while it is being set; `y` is where the next thing goes."""

    def __init__(self) -> None:
        self.y = _MARGIN
        self.cards: list[tuple[int, int, int, int]] = []
        self.rules: list[tuple[float, float, float]] = []
        self.prints: list[Print] = []
        self.texts: list[Text] = []

    def text(self, text: str, *, x: float, height: float, tone: Tone, room: float, align: Align = Align.LEFT) -> None:
        """Set `text` with its capitals' top at `y`."""
        baseline = self.y + height
        self.texts.append(Text(text=text, x=x, baseline=baseline, height=height, align=align, tone=tone, room=room))

    def title(self, title: str, note: str) -> None:
        self.text(title, x=_MARGIN, height=_TITLE_HEIGHT, tone=Tone.TITLE, room=_TITLE_ROOM)
        self.y += _TITLE_HEIGHT - _HEADING_HEIGHT
        x = WIDTH - _MARGIN
        self.text(note, x=x, height=_HEADING_HEIGHT, tone=Tone.HEADING, room=_NOTE_ROOM, align=Align.RIGHT)
        self.y += _HEADING_HEIGHT + 48
        self.rules.append((_MARGIN, WIDTH - _MARGIN, self.y))
        self.y += 84

    def heading(self, text: str) -> None:
        self.text(text, x=_MARGIN, height=_HEADING_HEIGHT, tone=Tone.HEADING, room=_HERO)
        self.y += _HEADING_HEIGHT + 40

    def format_section(self, section: FormatSection) -> None:
        self.heading(section.title)
        top = self.y
        bottom = max(self._hero(section, top), self._tiles(section.items, top))
        self.y = bottom + _SECTION_GAP

    def _hero(self, section: FormatSection, top: int) -> int:
        if not section.layers:
            return top
        inner = _HERO - 2 * _HERO_MARGIN
        y = top + _HERO_MARGIN
        if section.names:
            y = self._hero_names(section.names, y)
        part = section.part
        size = inner, max(1, round(inner * (part[3] - part[1]) / (part[2] - part[0])))
        x = _MARGIN + _HERO_MARGIN
        self.prints.extend(Print(name=item.name, x=x, y=y, size=size, part=part) for item in section.layers)
        bottom = y + size[1] + _HERO_MARGIN
        self.cards.append((_MARGIN, top, _HERO, bottom - top))
        return bottom

    def _hero_names(self, names: Sequence[Item], y: int) -> int:
        """Set month and year over the calendar, level with its sides, at one scale that suits their letter height."""
        scale = _NAME_HEIGHT / max(item.canvas[1] for item in names)
        sizes = [(max(1, round(i.canvas[0] * scale)), max(1, round(i.canvas[1] * scale))) for i in names]
        left, right = _MARGIN + _HERO_MARGIN, _MARGIN + _HERO - _HERO_MARGIN
        for item, size in zip(names, sizes, strict=True):
            x = left if item is names[0] else right - size[0]
            self.prints.append(Print(name=item.name, x=x, y=y + _NAME_HEIGHT - size[1], size=size, part=item.whole))
        return y + _NAME_HEIGHT + 30

    def _tiles(self, items: Sequence[Item], top: int) -> int:
        left = _MARGIN + _HERO + _COLUMN_GAP
        side = (WIDTH - _MARGIN - left - (_TILE_COLUMNS - 1) * _TILE_GAP) // _TILE_COLUMNS
        step = side + _LABEL_GAP + _LABEL_HEIGHT + _ROW_GAP
        for index, item in enumerate(items):
            row, column = divmod(index, _TILE_COLUMNS)
            x, self.y = left + column * (side + _TILE_GAP), top + row * step
            size = fitted_size(item.canvas, within=(side, side))
            self.cards.append((x, self.y, side, side))
            place = x + (side - size[0]) // 2, self.y + (side - size[1]) // 2
            self.prints.append(Print(name=item.name, x=place[0], y=place[1], size=size, part=item.whole))
            self.y += side + _LABEL_GAP
            middle = x + side / 2
            self.text(item.label, x=middle, height=_LABEL_HEIGHT, tone=Tone.LABEL, room=side, align=Align.CENTRE)
        rows = -(-len(items) // _TILE_COLUMNS)
        return top + rows * step - (_ROW_GAP if rows else 0)

    def words(self, title: str, groups: Sequence[Sequence[Item]]) -> None:
        self.heading(title)
        self.y += 16
        cell = (WIDTH - 2 * _MARGIN - (_WORD_COLUMNS - 1) * _WORD_GAP) // _WORD_COLUMNS
        scale = min(1.0, cell / max(item.canvas[0] for group in groups for item in group))
        for group in groups:
            self._word_rows(group, scale)
        self.y += _SECTION_GAP - _ROW_GAP - 30

    def _word_rows(self, items: Sequence[Item], scale: float) -> None:
        """Set words at `scale` in level rows of equal columns, as many as fit but no fewer than the standard number."""
        sizes = [(max(1, round(i.canvas[0] * scale)), max(1, round(i.canvas[1] * scale))) for i in items]
        room = WIDTH - 2 * _MARGIN
        columns = max(_WORD_COLUMNS, (room + _WORD_GAP) // (max(size[0] for size in sizes) + _WORD_GAP))
        columns = min(columns, len(items))
        height = max(size[1] for size in sizes)
        for index, (item, size) in enumerate(zip(items, sizes, strict=True)):
            row, column = divmod(index, columns)
            x = _MARGIN + round((column + 0.5) * room / columns - size[0] / 2)
            y = self.y + row * (height + _ROW_GAP) + height - size[1]
            self.prints.append(Print(name=item.name, x=x, y=y, size=size, part=item.whole))
        self.y += -(-len(items) // columns) * (height + _ROW_GAP) + 30


def set_overview(
    *, title: str, note: str, formats: Sequence[FormatSection], words_title: str, words: Sequence[Sequence[Item]]
) -> Setting:
    """The overview of a kit as set: everything has its place and nothing overlaps but the layers of one calendar.

    Args:
        title: of the kit.
        note: a few words opposite the title.
        formats: one section each, from the top.
        words_title: heading of the words.
        words: groups of words, each in rows of its own, all at one scale; empty groups are passed over.
    """
    sheet = _Sheet()
    sheet.title(title, note)
    for section in formats:
        sheet.format_section(section)
    groups = [group for group in words if group]
    if groups:
        sheet.words(words_title, groups)
    height = sheet.y - _SECTION_GAP + _MARGIN
    return Setting(
        size=(WIDTH, max(height, sheet.y)) if not formats and not groups else (WIDTH, height),
        cards=tuple(sheet.cards),
        rules=tuple(sheet.rules),
        prints=tuple(sheet.prints),
        texts=tuple(sheet.texts),
    )
