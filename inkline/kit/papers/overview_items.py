"""What the overview of a kit shows, and where it stands: stamps, sections, and the sheet as set."""

from __future__ import annotations

from dataclasses import dataclass

from inkline.pages.lines import TextLine

PixelBox = tuple[int, int, int, int]
"""Left, top, right and bottom in px."""
Size = tuple[int, int]
"""Width and height in px."""


LOW = 0.5
"""Calendars and stamps no higher than this share of their width count as low."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedStamp:
    """A stamp's place on the sheet.

    Attributes:
        name: of the stamp.
        x: of its upper left corner.
        y: of its upper left corner.
        size: width and height on the sheet.
        part: which part of its canvas is shown, in px of the canvas.
    """

    name: str
    x: int
    y: int
    size: tuple[int, int]
    part: PixelBox

    @property
    def box(self) -> PixelBox:
        """Its place on the sheet."""
        return self.x, self.y, self.x + self.size[0], self.y + self.size[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownStamp:
    """A stamp to be shown: its name, its label, its canvas in px."""

    name: str
    label: str
    canvas: tuple[int, int]

    @property
    def whole(self) -> PixelBox:
        """Its whole canvas."""
        return 0, 0, *self.canvas


@dataclass(frozen=True, slots=True, kw_only=True)
class StampSeries:
    """Stamps that differ in little, of which a row shows some and says how many there are."""

    items: tuple[ShownStamp, ...]

    def some(self, count: int) -> tuple[ShownStamp, ...]:
        """`count` of them from the first to the last, evenly spread."""
        shown, last = min(count, len(self.items)), len(self.items) - 1
        return tuple(self.items[round(index * last / max(1, shown - 1))] for index in range(shown))


@dataclass(frozen=True, slots=True, kw_only=True)
class FormatSection:
    """What is shown of one format.

    Attributes:
        title: its heading.
        layers: stamps that make up the large calendar, back to front, on one canvas; none for a
            section of single stamps.
        part: the part of that canvas to show large, in px of it: where the calendar is.
        names: stamps set above it, the first on the left and the last on the right.
        items: stamps to show one by one.
        series: of stamps, to show some of each.
    """

    title: str
    layers: tuple[ShownStamp, ...]
    part: PixelBox
    names: tuple[ShownStamp, ...]
    items: tuple[ShownStamp, ...]
    series: tuple[StampSeries, ...] = ()

    @property
    def is_low(self) -> bool:
        """Whether its calendar is so low that it is shown as wide as the sheet."""
        width, height = self.part[2] - self.part[0], self.part[3] - self.part[1]
        return bool(self.layers) and height <= LOW * width


@dataclass(frozen=True, slots=True, kw_only=True)
class OverviewSetting:
    """The sheet as set.

    Attributes:
        size: width and height.
        cards: white cards as (x, y, width, height).
        rules: level rules as (x0, x1, y).
        prints: the stamps.
        lines: the texts; strong ones are titles, those with an accent headings, soft ones labels.
    """

    size: tuple[int, int]
    cards: tuple[tuple[int, int, int, int], ...]
    rules: tuple[tuple[float, float, float], ...]
    prints: tuple[PlacedStamp, ...]
    lines: tuple[TextLine, ...]
