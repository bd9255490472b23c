"""Parts of the overview while they are set: things with their places, put together on a sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from inkline.kit.papers.overview_items import PlacedStamp, ShownStamp, Size
from inkline.pages.lines import Align, TextLine, Tone


class Draft:
    """A part of a sheet, from an upper left corner of its own.

    Attributes:
        height: of the part in px.
        filled_px: how much of it things fill, in px2.
        cards: white cards as (x, y, width, height).
        rules: level rules as (x0, x1, y).
        prints: stamps in their places.
        lines: texts.
    """

    def __init__(self) -> None:
        self.height = 0
        self.filled_px = 0
        self.cards: list[tuple[int, int, int, int]] = []
        self.rules: list[tuple[float, float, float]] = []
        self.prints: list[PlacedStamp] = []
        self.lines: list[TextLine] = []

    def put(self, part: Draft, *, x: int, y: int) -> None:
        """Take in another part, whose upper left corner is to lie at (`x`, `y`)."""
        self.cards += [(x + left, y + top, wide, high) for left, top, wide, high in part.cards]
        self.rules += [(x + x0, x + x1, y + at) for x0, x1, at in part.rules]
        self.prints += [replace(one, x=x + one.x, y=y + one.y) for one in part.prints]
        self.lines += [replace(one, x=x + one.x, baseline=y + one.baseline) for one in part.lines]
        self.filled_px += part.filled_px
        self.height = max(self.height, y + part.height)

    def add_text(
        self,
        text: str,
        *,
        at: tuple[float, float],
        height: float,
        tone: Tone,
        room: float,
        align: Align = Align.LEFT,
    ) -> None:
        """Add `text`, the top of its capitals `at` (x, y)."""
        x, y = at
        line = TextLine(
            text=text, x=x, baseline=y + height, height=height, align=align, tone=tone, room=room
        )
        self.lines.append(line)

    def add_card(self, *, at: tuple[int, int], size: Size) -> None:
        """Add a white card."""
        self.cards.append((*at, *size))
        self.filled_px += size[0] * size[1]

    def add_whole(self, item: ShownStamp, *, at: tuple[int, int], size: Size) -> None:
        """Add the whole of a stamp."""
        x, y = at
        self.prints.append(PlacedStamp(name=item.name, x=x, y=y, size=size, part=item.whole))


def scaled_sizes(items: Sequence[ShownStamp], scale: float) -> list[Size]:
    """The sizes of stamps at one scale, in whole px and never less than one."""
    return [
        (max(1, round(item.canvas[0] * scale)), max(1, round(item.canvas[1] * scale)))
        for item in items
    ]
