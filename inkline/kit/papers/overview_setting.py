"""Where everything goes on the overview: one sheet that shows a whole kit.

A section for each format has one large calendar, put together from its stamps as they are used,
with the single stamps beside it; below stand the words, all at one scale. Lengths are px of the
sheet; the values were chosen by eye.
"""

from __future__ import annotations

from collections.abc import Sequence

from inkline.kit.papers.overview_items import (
    LOW,
    FormatSection,
    OverviewSetting,
    PlacedStamp,
    ShownStamp,
    StampSeries,
)
from inkline.pages.lines import Align, TextLine, Tone
from inkline.pages.page import fitted_size

_WIDTH = 2400
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
_WHOLE_WIDTH_COLUMNS = 8
"""Tiles side by side where no large calendar stands beside them."""
_STRIP_COLUMNS = 2
"""The same of stamps so wide and low that they would be too small in a narrower column."""
_TILE_GAP = 22
_TILE_PAD = 26
"""White over and under a low stamp on its card."""
_LABEL_GAP = 15
_ROW_GAP = 30
_SECTION_GAP = 120
_WORD_COLUMNS = 4
_WORD_GAP = 60


class _Draft:
    """A sheet while it is being set; `y` is where the next thing goes."""

    def __init__(self) -> None:
        self.y = _MARGIN
        self.cards: list[tuple[int, int, int, int]] = []
        self.rules: list[tuple[float, float, float]] = []
        self.prints: list[PlacedStamp] = []
        self.lines: list[TextLine] = []

    def add_text(
        self,
        text: str,
        *,
        x: float,
        height: float,
        tone: Tone,
        room: float,
        align: Align = Align.LEFT,
    ) -> None:
        """Add `text` with its capitals' top at `y`."""
        baseline = self.y + height
        self.lines.append(
            TextLine(
                text=text, x=x, baseline=baseline, height=height, align=align, tone=tone, room=room
            )
        )

    def add_title(self, title: str, note: str) -> None:
        """Add the title, a note opposite and a rule under both."""
        self.add_text(title, x=_MARGIN, height=_TITLE_HEIGHT, tone=Tone.STRONG, room=_TITLE_ROOM)
        self.y += _TITLE_HEIGHT - _HEADING_HEIGHT
        x = _WIDTH - _MARGIN
        self.add_text(
            note, x=x, height=_HEADING_HEIGHT, tone=Tone.ACCENT, room=_NOTE_ROOM, align=Align.RIGHT
        )
        self.y += _HEADING_HEIGHT + 48
        self.rules.append((_MARGIN, _WIDTH - _MARGIN, self.y))
        self.y += 84

    def add_heading(self, text: str) -> None:
        """Add the heading of a section."""
        self.add_text(text, x=_MARGIN, height=_HEADING_HEIGHT, tone=Tone.ACCENT, room=_HERO)
        self.y += _HEADING_HEIGHT + 40

    def add_format_section(self, section: FormatSection) -> None:
        """Add a format: its calendar and its stamps, beside it or below."""
        self.add_heading(section.title)
        top, width = self.y, _WIDTH - 2 * _MARGIN
        if not section.layers:
            bottom = self._add_tiles(section, top, left=_MARGIN, columns=_WHOLE_WIDTH_COLUMNS)
        elif section.is_low:
            below = self._add_calendar(section, top, width=width) + _ROW_GAP + _LABEL_GAP
            bottom = max(
                self._add_tiles(section, below, left=_MARGIN, columns=_WHOLE_WIDTH_COLUMNS),
                below - _ROW_GAP,
            )
        else:
            left = _MARGIN + _HERO + _COLUMN_GAP
            bottom = self._add_calendar(section, top, width=_HERO)
            bottom = max(bottom, self._add_tiles(section, top, left=left, columns=_TILE_COLUMNS))
        self.y = bottom + _SECTION_GAP

    def _add_calendar(self, section: FormatSection, top: int, *, width: int) -> int:
        """Add the large calendar on its card; gives the y at which the card ends."""
        inner = width - 2 * _HERO_MARGIN
        y = top + _HERO_MARGIN
        if section.names:
            y = self._add_calendar_names(section.names, y, right=_MARGIN + width - _HERO_MARGIN)
        part = section.part
        size = inner, max(1, round(inner * (part[3] - part[1]) / (part[2] - part[0])))
        x = _MARGIN + _HERO_MARGIN
        self.prints.extend(
            PlacedStamp(name=item.name, x=x, y=y, size=size, part=part) for item in section.layers
        )
        bottom = y + size[1] + _HERO_MARGIN
        self.cards.append((_MARGIN, top, width, bottom - top))
        return bottom

    def _add_calendar_names(self, names: Sequence[ShownStamp], y: int, *, right: int) -> int:
        """Add month and year over the calendar, level with its sides, both at one scale.

        Gives the y below them.
        """
        left = _MARGIN + _HERO_MARGIN
        scale = _NAME_HEIGHT / max(item.canvas[1] for item in names)
        scale = min(scale, (right - left) / sum(item.canvas[0] for item in names))
        sizes = [
            (max(1, round(i.canvas[0] * scale)), max(1, round(i.canvas[1] * scale))) for i in names
        ]
        for item, size in zip(names, sizes, strict=True):
            x = left if item is names[0] else right - size[0]
            self.prints.append(
                PlacedStamp(
                    name=item.name, x=x, y=y + _NAME_HEIGHT - size[1], size=size, part=item.whole
                )
            )
        return y + _NAME_HEIGHT + 30

    def _add_tiles(self, section: FormatSection, top: int, *, left: int, columns: int) -> int:
        """Add the section's stamps on cards in rows: the single ones, then a row for each series.

        Gives the y at which they end.
        """
        shown = [*section.items, *(item for series in section.series for item in series.items)]
        if shown and all(item.canvas[1] <= LOW * item.canvas[0] for item in shown):
            columns = max(_STRIP_COLUMNS, columns // 2)
        side = (_WIDTH - _MARGIN - left - (columns - 1) * _TILE_GAP) // columns
        highest = max(
            (round(side * item.canvas[1] / item.canvas[0]) for item in shown), default=side
        )
        size = side, min(side, highest + 2 * _TILE_PAD)
        rows = [
            section.items[first : first + columns]
            for first in range(0, len(section.items), columns)
        ]
        rows += [series.some(columns - 1) for series in section.series]
        for index, row in enumerate(rows):
            self.y = top + index * (size[1] + _LABEL_GAP + _LABEL_HEIGHT + _ROW_GAP)
            for column, item in enumerate(row):
                self._add_tile(item, x=left + column * (side + _TILE_GAP), size=size)
            if index >= len(rows) - len(section.series):
                series = section.series[index - len(rows)]
                self._add_count(series, len(row), x=left + len(row) * (side + _TILE_GAP), size=size)
        return self.y + size[1] + _LABEL_GAP + _LABEL_HEIGHT if rows else top

    def _add_tile(self, item: ShownStamp, *, x: int, size: tuple[int, int]) -> None:
        """Add one stamp on a card whose upper left lies at (`x`, `y`), its label below."""
        fitted = fitted_size(item.canvas, within=size)
        self.cards.append((x, self.y, *size))
        place = x + (size[0] - fitted[0]) // 2, self.y + (size[1] - fitted[1]) // 2
        self.prints.append(
            PlacedStamp(name=item.name, x=place[0], y=place[1], size=fitted, part=item.whole)
        )
        self._add_label(item.label, x=x, size=size)

    def _add_count(self, series: StampSeries, shown: int, *, x: int, size: tuple[int, int]) -> None:
        """Add in the place of a tile how many stamps a series has besides those shown."""
        more = len(series.items) - shown
        if more == 0:
            return
        top = self.y
        self.y += (size[1] - _HEADING_HEIGHT) // 2
        middle = x + size[0] / 2
        self.add_text(
            f"+ {more}",
            x=middle,
            height=_HEADING_HEIGHT,
            tone=Tone.ACCENT,
            room=size[0],
            align=Align.CENTRE,
        )
        self.y = top
        self._add_label(f"{len(series.items)} in all", x=x, size=size)

    def _add_label(self, label: str, *, x: int, size: tuple[int, int]) -> None:
        """Add a label under the card at (`x`, `y`)."""
        top, middle = self.y, x + size[0] / 2
        self.y += size[1] + _LABEL_GAP
        self.add_text(
            label, x=middle, height=_LABEL_HEIGHT, tone=Tone.SOFT, room=size[0], align=Align.CENTRE
        )
        self.y = top

    def add_words(self, title: str, groups: Sequence[Sequence[ShownStamp]]) -> None:
        """Add groups of words under a heading, all at the scale of the first if they fit."""
        self.add_heading(title)
        self.y += 16
        room = _WIDTH - 2 * _MARGIN
        cell = (room - (_WORD_COLUMNS - 1) * _WORD_GAP) // _WORD_COLUMNS
        scale = min(1.0, cell / max(item.canvas[0] for item in groups[0]))
        for group in groups:
            self._add_word_rows(group, min(scale, room / max(item.canvas[0] for item in group)))
        self.y += _SECTION_GAP - _ROW_GAP - 30

    def _add_word_rows(self, items: Sequence[ShownStamp], scale: float) -> None:
        """Add words at `scale` in level rows of equal columns, as many as fit."""
        sizes = [
            (max(1, round(i.canvas[0] * scale)), max(1, round(i.canvas[1] * scale))) for i in items
        ]
        room = _WIDTH - 2 * _MARGIN
        fitting = (room + _WORD_GAP) // (max(size[0] for size in sizes) + _WORD_GAP)
        columns = max(1, min(fitting, len(items)))
        height = max(size[1] for size in sizes)
        for index, (item, size) in enumerate(zip(items, sizes, strict=True)):
            row, column = divmod(index, columns)
            x = _MARGIN + round((column + 0.5) * room / columns - size[0] / 2)
            y = self.y + row * (height + _ROW_GAP) + height - size[1]
            self.prints.append(PlacedStamp(name=item.name, x=x, y=y, size=size, part=item.whole))
        self.y += -(-len(items) // columns) * (height + _ROW_GAP) + 30


def set_overview(
    *,
    title: str,
    note: str,
    formats: Sequence[FormatSection],
    words_title: str,
    words: Sequence[Sequence[ShownStamp]],
) -> OverviewSetting:
    """The overview of a kit as set: nothing overlaps but the layers of one calendar.

    Args:
        title: of the kit.
        note: a few words opposite the title.
        formats: one section each, from the top.
        words_title: heading of the words.
        words: groups of words, each in rows of its own, at the scale of the first group if they fit
            the sheet; empty groups are passed over.
    """
    sheet = _Draft()
    sheet.add_title(title, note)
    for section in formats:
        sheet.add_format_section(section)
    groups = [group for group in words if group]
    if groups:
        sheet.add_words(words_title, groups)
    height = sheet.y - _SECTION_GAP + _MARGIN
    return OverviewSetting(
        size=(_WIDTH, max(height, sheet.y)) if not formats and not groups else (_WIDTH, height),
        cards=tuple(sheet.cards),
        rules=tuple(sheet.rules),
        prints=tuple(sheet.prints),
        lines=tuple(sheet.lines),
    )
