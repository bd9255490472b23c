"""The blocks of a format, one a cell."""

from __future__ import annotations

from collections.abc import Iterator

from inkline.calendar.grid import inset_box
from inkline.calendar.months import DAYS_PER_WEEK
from inkline.kit.catalogue_content import BlockContent
from inkline.kit.catalogue_part import Part, Place
from inkline.kit.layout import FormatLayout


def block_parts(place: Place) -> Iterator[Part]:
    """Blocks for each number of rows, and those over the weekdays."""
    for n_rows in place.shape.weeks:
        yield Part(stem=f"blocks-{n_rows}", kind="blocks", content=_day_blocks(place.layout, n_rows))
    yield Part(stem="blocks-head", kind="blocks", content=_header_blocks(place.layout))


def _day_blocks(layout: FormatLayout, n_rows: int) -> BlockContent:
    grid = layout.grid(n_rows)
    places = [(row, column) for row in range(n_rows) for column in range(DAYS_PER_WEEK)]
    boxes = tuple(
        (f"r{row + 1}c{column + 1}", inset_box(grid.cell(row, column), layout.inset)) for row, column in places
    )
    return BlockContent(boxes=boxes, radius=layout.corner)


def _header_blocks(layout: FormatLayout) -> BlockContent:
    cells = enumerate(layout.header_cells, start=1)
    boxes = tuple((f"c{column}", inset_box(cell, layout.inset)) for column, cell in cells)
    return BlockContent(boxes=boxes, radius=layout.corner)
