"""Where everything goes on the overview: one sheet that shows a whole kit.

A section for each format has one large calendar, put together from its stamps as they are used,
with the single stamps beside it; the words stand below, all at one scale, or beside the last
section. Sections stand in one column or in several, so that the sheet is filled and neither side of
it is much longer than the other. Lengths are px of the sheet; the values were chosen by eye.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from inkline.kit.papers.overview_draft import Draft, scaled_sizes
from inkline.kit.papers.overview_items import FormatSection, OverviewSetting, ShownStamp
from inkline.kit.papers.overview_section import HEADING_GAP, HEADING_HEIGHT, section_draft
from inkline.pages.lines import Align, Tone

_WIDTHS = (2400, 3300, 4200)
"""Of a sheet with one column of sections, with two and with three."""
_MARGIN = 130
_TITLE_HEIGHTS = (92, 120, 150)
_UNDER_TITLE, _UNDER_RULE = 48, 84
_SECTION_GAP = 110
_WORD_COLUMNS = range(2, 13)
_USUAL_WORD_COLUMNS = 4
_WORD_GAP, _WORD_ROW_GAP, _WORD_GROUP_GAP = 60, 30, 30
_LONGEST = 1.5
"""A sheet's longer side is at most so many times its shorter one."""
_TOO_LONG, _OTHER_WORDS = 10.0, 0.03
"""What a sheet that is longer than that, and words of another size, weigh against white left."""
_SHARES = tuple(step / 25 for step in range(8, 18))
"""Shares of the width that the first of two sections side by side may take."""
_THRIFTS = (0.0, 0.3, 1.0)
"""How much low sections are preferred, by turns."""

_Words = Sequence[Sequence[ShownStamp]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Contents:
    """What is to be shown."""

    title: str
    note: str
    formats: Sequence[FormatSection]
    words_title: str
    words: _Words


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
    groups = [group for group in words if group]
    contents = _Contents(
        title=title, note=note, formats=formats, words_title=words_title, words=groups
    )
    drafts = itertools.chain.from_iterable(
        _sheets(contents, columns) for columns in range(1, len(_WIDTHS) + 1)
    )
    _, width, sheet = min(drafts, key=lambda one: one[0])
    return OverviewSetting(
        size=(width, sheet.height + _MARGIN),
        cards=tuple(sheet.cards),
        rules=tuple(sheet.rules),
        prints=tuple(sheet.prints),
        lines=tuple(sheet.lines),
    )


def _sheets(contents: _Contents, columns: int) -> Iterator[tuple[float, int, Draft]]:
    """The sheets with so many columns of sections: how much is wrong with each, width and draft.

    They differ by how low their sections are and how large their words.
    """
    if columns > max(1, len(contents.formats)):
        return
    width = _WIDTHS[columns - 1]
    for thrift in _THRIFTS:
        rows = list(
            _rows_of_sections(contents.formats, columns, width=width - 2 * _MARGIN, thrift=thrift)
        )
        for word_columns in _WORD_COLUMNS if contents.words else (_USUAL_WORD_COLUMNS,):
            sheet = _titled_sheet(contents, columns, width)
            _add_sections(sheet, rows, contents, width=width, word_columns=word_columns)
            beside = _free_place(rows[-1], rows, width) is not None if rows else False
            size = (width, sheet.height + _MARGIN)
            length = max(size) / min(size)
            wrong = 1.0 - sheet.filled_px / (size[0] * size[1])
            wrong += _TOO_LONG * max(length - _LONGEST, 0.0)
            wrong += _OTHER_WORDS * abs(
                word_columns - _USUAL_WORD_COLUMNS * (1 if beside else columns)
            )
            yield wrong, width, sheet


def _titled_sheet(contents: _Contents, columns: int, width: int) -> Draft:
    """A sheet with the title, a note opposite and a rule under both."""
    sheet, height = Draft(), _TITLE_HEIGHTS[columns - 1]
    room = width - 2 * _MARGIN
    sheet.add_text(
        contents.title, at=(_MARGIN, _MARGIN), height=height, tone=Tone.STRONG, room=0.75 * room
    )
    sheet.add_text(
        contents.note,
        at=(width - _MARGIN, _MARGIN + height - HEADING_HEIGHT),
        height=HEADING_HEIGHT,
        tone=Tone.ACCENT,
        room=0.22 * room,
        align=Align.RIGHT,
    )
    rule = _MARGIN + height + _UNDER_TITLE
    sheet.rules.append((_MARGIN, width - _MARGIN, rule))
    sheet.height = rule
    return sheet


_Row = list[tuple[int, Draft]]
"""Sections side by side, each with the x at which it begins."""


def _rows_of_sections(
    formats: Sequence[FormatSection], columns: int, *, width: int, thrift: float
) -> Iterator[_Row]:
    """The sections in rows of so many; those of a row are equally high where that can be."""
    usual = (width - (columns - 1) * _SECTION_GAP) // columns
    for first in range(0, len(formats), columns):
        row = formats[first : first + columns]
        if len(row) == columns == 2:
            yield _row_of_two(row[0], row[1], width - _SECTION_GAP, thrift)
            continue
        drafts = (section_draft(one, usual, thrift=thrift) for one in row)
        yield [(index * (usual + _SECTION_GAP), one) for index, one in enumerate(drafts)]


def _row_of_two(one: FormatSection, other: FormatSection, width: int, thrift: float) -> _Row:
    """Two sections that share `width`, as wide as leaves the least white between them."""

    def row(share: float) -> _Row:
        left = round(share * width)
        first = section_draft(one, left, thrift=thrift)
        second = section_draft(other, width - left, thrift=thrift)
        return [(0, first), (left + _SECTION_GAP, second)]

    def filled(row: _Row) -> float:
        return sum(part.filled_px for _, part in row) / max(part.height for _, part in row)

    return max(map(row, _SHARES), key=filled)


def _add_sections(
    sheet: Draft, rows: Sequence[_Row], contents: _Contents, *, width: int, word_columns: int
) -> None:
    """Add the rows of sections, and the words beside the last one or below."""
    room = width - 2 * _MARGIN
    y = sheet.height + _UNDER_RULE
    words = contents.words
    for row in rows:
        for x, part in row:
            sheet.put(part, x=_MARGIN + x, y=y)
        free = _free_place(row, rows, room)
        if words and row is rows[-1] and free is not None:
            part = _words_draft(contents, room - free, word_columns)
            sheet.put(part, x=_MARGIN + free, y=y)
            words = ()
        y = sheet.height + _SECTION_GAP
    if words:
        sheet.put(_words_draft(contents, room, word_columns), x=_MARGIN, y=y)


def _free_place(row: _Row, rows: Sequence[_Row], room: int) -> int | None:
    """Where in a last row that isn't full its white begins, or None."""
    if len(row) == len(rows[0]):
        return None
    n_columns = len(rows[0])
    usual = (room - (n_columns - 1) * _SECTION_GAP) // n_columns
    return len(row) * (usual + _SECTION_GAP)


def _words_draft(contents: _Contents, width: int, columns: int) -> Draft:
    """Groups of words under a heading, all at the scale of the first if they fit."""
    draft, groups = Draft(), contents.words
    draft.add_text(
        contents.words_title, at=(0, 0), height=HEADING_HEIGHT, tone=Tone.ACCENT, room=width
    )
    y = HEADING_HEIGHT + HEADING_GAP + 16
    cell = max(1, (width - (columns - 1) * _WORD_GAP) // columns)
    scale = min(1.0, cell / max(item.canvas[0] for item in groups[0]))
    for group in groups:
        fits = width / max(item.canvas[0] for item in group)
        y += _add_word_rows(draft, group, min(scale, fits), y=y, width=width) + _WORD_GROUP_GAP
    draft.height = y - _WORD_GROUP_GAP
    draft.filled_px = sum(one.size[0] * one.size[1] for one in draft.prints)
    return draft


def _add_word_rows(
    draft: Draft, items: Sequence[ShownStamp], scale: float, *, y: int, width: int
) -> int:
    """Add words at `scale` in level rows of equal columns, as many as fit; gives their height."""
    sizes = scaled_sizes(items, scale)
    fitting = (width + _WORD_GAP) // (max(size[0] for size in sizes) + _WORD_GAP)
    most = max(1, min(fitting, len(items)))
    rows = -(-len(items) // most)
    columns = -(-len(items) // rows)  # as many in the last row as in the others, nearly
    height = max(size[1] for size in sizes)
    for index, (item, size) in enumerate(zip(items, sizes, strict=True)):
        row, column = divmod(index, columns)
        x = round((column + 0.5) * width / columns - size[0] / 2)
        top = y + row * (height + _WORD_ROW_GAP) + height - size[1]
        draft.add_whole(item, at=(x, top), size=size)
    return rows * (height + _WORD_ROW_GAP) - _WORD_ROW_GAP
