"""One format on the overview: a large calendar and its stamps, which are as high as it together.

Lengths are px of the sheet; the values were chosen by eye.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from inkline.kit.papers.overview_draft import Draft, scaled_sizes
from inkline.kit.papers.overview_items import (
    LOW,
    FormatSection,
    PlacedStamp,
    ShownStamp,
    Size,
    StampSeries,
)
from inkline.pages.lines import Align, Tone
from inkline.pages.page import fitted_size

HEADING_HEIGHT, HEADING_GAP = 40, 40
_LABEL_HEIGHT, _LABEL_GAP = 17, 15
_ROW_GAP = 30
_UNDER_TILE = _LABEL_GAP + _LABEL_HEIGHT
_CALENDAR_MARGIN = 56
_NAME_HEIGHT, _NAME_GAP = 76, 30
"""Letter height of month and year above the large calendar, and the white below."""
_COLUMN_GAP = 56
_TILE_GAP = 22
_TILE_PAD = 26
"""White over and under a low stamp on its card."""
_LEAST_TILE, _MOST_TILE = 150, 330
"""Sides of cards between which stamps are told apart and yet look like samples."""
_LOW_TILE = 2.2
"""So many times as wide may the cards of low stamps be."""
_OFF_PX = 250.0
"""Cards off such a size by so many px are as bad as a section that is all white."""
_MOST_COLUMNS = 16
_LARGE_SHARE = 0.15
"""Cards that are too large by 1 px are as bad as ones that are too small by this."""
_LEAST_OF_SERIES = 3
"""Of a series less than two stamps and their number tell little."""
_CALENDAR_SHARES = (0.3, 0.72)
"""Least and largest share of a section's width that its large calendar takes."""
_HALVINGS = 12


def section_draft(section: FormatSection, width: int, *, thrift: float) -> Draft:
    """A format set `width` px wide, with as many cards in a row as leave the least white.

    The more `thrift`, the more a low one is preferred; 0 is none.
    """

    def wrong(one: tuple[float, Draft]) -> float:
        off_px, draft = one
        area = width * max(draft.height, 1)
        return off_px / _OFF_PX - draft.filled_px / area + thrift * draft.height / width

    return min(_drafts(section, width), key=wrong)[1]


@lru_cache(maxsize=256)
def _drafts(section: FormatSection, width: int) -> tuple[tuple[float, Draft], ...]:
    """A format with each number of cards in a row; kept, since they are weighed again and again.

    So nothing may be added to them.
    """
    return tuple(_with_columns(section, width, columns) for columns in range(1, _MOST_COLUMNS + 1))


def _with_columns(section: FormatSection, width: int, columns: int) -> tuple[float, Draft]:
    """A format with so many cards in a row, and how far these are from a size that serves in px."""
    draft = Draft()
    draft.add_text(
        section.title, at=(0, 0), height=HEADING_HEIGHT, tone=Tone.ACCENT, room=width / 2
    )
    top = HEADING_HEIGHT + HEADING_GAP
    left, below = 0, top
    if section.layers and section.is_low:
        below = top + _add_calendar(draft, section, top, width=width) + _ROW_GAP
    elif section.layers:
        calendar = _calendar_width(section, width, columns)
        draft.height = top + _add_calendar(draft, section, top, width=calendar)
        left = calendar + _COLUMN_GAP
    side = _add_tiles(draft, section, (left, below), width=width - left, columns=columns)
    draft.height = max(draft.height, below - _ROW_GAP)
    most = _MOST_TILE * (_LOW_TILE if _are_low(section) else 1.0)
    few = _OFF_PX if section.series and columns < _LEAST_OF_SERIES else 0.0
    return max(_LEAST_TILE - side, _LARGE_SHARE * (side - most), 0.0) + few, draft


def _calendar_width(section: FormatSection, width: int, columns: int) -> int:
    """How wide the large calendar is where it is as high as the stamps beside it."""
    least, most = (share * width for share in _CALENDAR_SHARES)
    for _ in range(_HALVINGS):
        middle = (least + most) / 2
        beside = _tiles_height(section, width - round(middle) - _COLUMN_GAP, columns)
        if _calendar_height(section, round(middle)) < beside:
            least = middle
        else:
            most = middle
    return round((least + most) / 2)


def _calendar_size(section: FormatSection, width: int) -> Size:
    """Width and height of the large calendar itself on a card of this width."""
    x0, y0, x1, y1 = section.part
    inner = max(1, width - 2 * _CALENDAR_MARGIN)
    return inner, max(1, round(inner * (y1 - y0) / (x1 - x0)))


def _calendar_height(section: FormatSection, width: int) -> int:
    """How high the card of the large calendar is."""
    names = _NAME_HEIGHT + _NAME_GAP if section.names else 0
    return 2 * _CALENDAR_MARGIN + names + _calendar_size(section, width)[1]


def _add_calendar(draft: Draft, section: FormatSection, top: int, *, width: int) -> int:
    """Add the large calendar on its card; gives the height of that."""
    height = _calendar_height(section, width)
    x, y = _CALENDAR_MARGIN, top + _CALENDAR_MARGIN
    if section.names:
        _add_names(draft, section.names, y, right=width - _CALENDAR_MARGIN)
        y += _NAME_HEIGHT + _NAME_GAP
    size = _calendar_size(section, width)
    draft.prints.extend(
        PlacedStamp(name=item.name, x=x, y=y, size=size, part=section.part)
        for item in section.layers
    )
    draft.add_card(at=(0, top), size=(width, height))
    return height


def _add_names(draft: Draft, names: Sequence[ShownStamp], y: int, *, right: int) -> None:
    """Add month and year over the calendar, level with its sides, both at one scale."""
    scale = _NAME_HEIGHT / max(item.canvas[1] for item in names)
    scale = min(scale, (right - _CALENDAR_MARGIN) / sum(item.canvas[0] for item in names))
    for item, size in zip(names, scaled_sizes(names, scale), strict=True):
        x = _CALENDAR_MARGIN if item is names[0] else right - size[0]
        draft.add_whole(item, at=(x, y + _NAME_HEIGHT - size[1]), size=size)


def _shown_alone(section: FormatSection) -> list[ShownStamp]:
    return [*section.items, *(item for series in section.series for item in series.items)]


def _are_low(section: FormatSection) -> bool:
    shown = _shown_alone(section)
    return bool(shown) and all(item.canvas[1] <= LOW * item.canvas[0] for item in shown)


def _tile_size(section: FormatSection, width: int, columns: int) -> Size:
    """Width and height of the cards of single stamps."""
    side = max(1, (width - (columns - 1) * _TILE_GAP) // columns)
    shown = _shown_alone(section)
    heights = (round(side * item.canvas[1] / item.canvas[0]) for item in shown)
    return side, min(side, max(heights, default=side) + 2 * _TILE_PAD)


def _n_rows(section: FormatSection, columns: int) -> int:
    return -(-len(section.items) // columns) + len(section.series)


def _tiles_height(section: FormatSection, width: int, columns: int) -> int:
    """How high the single stamps stand together, with their labels."""
    rows = _n_rows(section, columns)
    step = _tile_size(section, width, columns)[1] + _UNDER_TILE + _ROW_GAP
    return max(rows * step - _ROW_GAP, 0)


def _add_tiles(
    draft: Draft, section: FormatSection, at: tuple[int, int], *, width: int, columns: int
) -> int:
    """Add the single stamps on cards in rows: one by one, then a row for each series.

    Gives the side of a card.
    """
    (left, top), size = at, _tile_size(section, width, columns)
    rows = [
        section.items[first : first + columns] for first in range(0, len(section.items), columns)
    ]
    rows += [series.some(columns - 1) for series in section.series]
    n_single = len(rows) - len(section.series)
    for index, row in enumerate(rows):
        y = top + index * (size[1] + _UNDER_TILE + _ROW_GAP)
        for column, item in enumerate(row):
            _add_tile(draft, item, at=(left + column * (size[0] + _TILE_GAP), y), size=size)
        if index >= n_single:
            x = left + len(row) * (size[0] + _TILE_GAP)
            _add_count(draft, section.series[index - n_single], len(row), at=(x, y), size=size)
    draft.height = max(draft.height, top + _tiles_height(section, width, columns))
    return size[0]


def _add_tile(draft: Draft, item: ShownStamp, *, at: tuple[int, int], size: Size) -> None:
    """Add one stamp on a card, its label below."""
    (x, y), fitted = at, fitted_size(item.canvas, within=size)
    draft.add_card(at=at, size=size)
    inside = x + (size[0] - fitted[0]) // 2, y + (size[1] - fitted[1]) // 2
    draft.add_whole(item, at=inside, size=fitted)
    _add_label(draft, item.label, at=at, size=size)


def _add_count(
    draft: Draft, series: StampSeries, shown: int, *, at: tuple[int, int], size: Size
) -> None:
    """Add in the place of a card how many stamps a series has besides those shown."""
    more = len(series.items) - shown
    if more == 0:
        return
    draft.add_text(
        f"+ {more}",
        at=(at[0] + size[0] / 2, at[1] + (size[1] - HEADING_HEIGHT) // 2),
        height=HEADING_HEIGHT,
        tone=Tone.ACCENT,
        room=size[0],
        align=Align.CENTRE,
    )
    draft.filled_px += size[0] * size[1]
    _add_label(draft, f"{len(series.items)} in all", at=at, size=size)


def _add_label(draft: Draft, label: str, *, at: tuple[int, int], size: Size) -> None:
    """Add a label under a card."""
    draft.add_text(
        label,
        at=(at[0] + size[0] / 2, at[1] + size[1] + _LABEL_GAP),
        height=_LABEL_HEIGHT,
        tone=Tone.SOFT,
        room=size[0],
        align=Align.CENTRE,
    )
