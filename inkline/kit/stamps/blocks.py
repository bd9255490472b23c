"""The blocks of a format, one a cell, whole or with the numerals cut out.

They are filled, drawn around, or lines under the numerals.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from inkline.calendar.months import DAYS_PER_WEEK
from inkline.geometry.boxes import Box, inset_box
from inkline.kit.recipe.choices import BlockEdge, BlockFill, BlockForm, Blocks, Header, Shows
from inkline.kit.recipe.model import FormatRecipe
from inkline.kit.stamps.cells import LONGEST, numerals_of
from inkline.kit.stamps.content import BlockContent, Content, SharedContent
from inkline.kit.stamps.dates import date_parts
from inkline.kit.stamps.grids import content_of_take, numbers_of_rows, takes_of
from inkline.kit.stamps.names import StampName, Subject
from inkline.kit.stamps.outlines import OutlineContent, UnderlineContent
from inkline.kit.stamps.place import Place
from inkline.kit.stamps.plan import Cut, Part

_UNDERLINE_GAP = 0.16
"""White between a numeral's foot and the line under it, as a share of the numeral's height. Chosen
by eye."""
_ROOM_SHARE = 0.6
"""Of the white between an underline's end and the next rule, the share that it may run into. Chosen
by eye."""
_Boxes = tuple[tuple[str, Box], ...]


def block_parts(place: Place) -> Iterator[Part]:
    """Blocks for each number of rows, those over the weekdays, and those with dates cut out."""
    shape = place.shape
    if shape.blocks is Blocks.NONE:
        return
    crisp = shape.block_edge is BlockEdge.CRISP
    days = [
        (
            StampName(folder=shape.name, subject=Subject.BLOCKS, rows=n_rows),
            _day_blocks(place, n_rows),
        )
        for n_rows in numbers_of_rows(shape)
    ]
    wanted = days if shape.blocks is not Blocks.CUT else []
    for name, content in (*wanted, *_header_blocks(place)):
        for take in _block_takes(shape):
            drawn = content_of_take(content, name, take)
            yield Part(name=replace(name, take=take), kind="blocks", content=drawn, crisp=crisp)
    if shape.blocks is not Blocks.PLAIN:
        for name, content in days:
            yield from _cut_blocks(place, name, content)


def _block_takes(shape: FormatRecipe) -> tuple[str, ...]:
    """What the takes of a format's blocks are called in names; exact edges have one take.

    They are the same each time.
    """
    return ("",) if shape.block_edge is BlockEdge.CRISP else takes_of(shape)


def _cut_blocks(place: Place, name: StampName, blocks: Content) -> Iterator[Part]:
    """The blocks of the first take with each of the sets of dates cut out that have room in them.

    Blocks and numerals are drawn as on their own stamps, and so lie in register with all others.
    """
    shape = place.shape
    crisp = shape.block_edge is BlockEdge.CRISP
    whole = SharedContent(content=blocks, stamp=name.text)
    for part in date_parts(place):
        cut_name = _cut_name(name, part.name, numbers=shape.weeks)
        if cut_name is not None:
            numerals = SharedContent(content=part.content, stamp=part.name.text)
            cut = Cut(content=numerals, raggedness=part.raggedness)
            yield Part(name=cut_name, kind="blocks", content=whole, crisp=crisp, cut=cut)


def _cut_name(blocks: StampName, dates: StampName, *, numbers: tuple[int, ...]) -> StampName | None:
    """The name of the blocks that a set of dates is cut out of; `None` if they don't go together.

    They do if the dates are whole, and the blocks have room. Dates that end where the month does
    have no more rows than they need, of the `numbers` of rows that there are.
    """
    if dates.subject is Subject.STRIP_DATES:
        return replace(blocks, subject=Subject.STRIP_CUT_BLOCKS, days=dates.days)
    if dates.shared or dates.split:
        return None
    assert dates.column is not None  # noqa: S101 - the dates of a month have one
    assert blocks.rows is not None  # noqa: S101 - and its blocks have these
    places = dates.column - 1 + (dates.days or LONGEST)
    enough = [n for n in numbers if places <= n * DAYS_PER_WEEK]
    if blocks.rows not in (enough[:1] if dates.days else enough):
        return None
    return replace(blocks, subject=Subject.CUT_BLOCKS, column=dates.column, days=dates.days)


def _day_blocks(place: Place, n_rows: int | None) -> Content:
    """One block a cell, named by its row and column in reading order."""
    grid = place.layout.grid(n_rows)
    places = [(row, column) for row in range(grid.n_rows) for column in range(grid.n_columns)]
    cells = tuple((f"r{row + 1}c{column + 1}", grid.cell(row, column)) for row, column in places)
    return _blocks(place, cells, foot=_numerals_foot(place))


def _header_blocks(place: Place) -> Iterator[tuple[StampName, Content]]:
    """One block a header cell, numbered in reading order, with their stamp's name.

    There are none where the format has no header, leaves all of them out, or has lines for blocks.
    Words are wider than high, so that what is a circle around a numeral would cut through them:
    over the weekdays it is a box.
    """
    shape = place.shape
    if shape.header is Header.WITHOUT or shape.block_form is BlockForm.UNDERLINE:
        return
    boxed = replace(place, shape=replace(shape, block_form=BlockForm.BOX))
    content = _blocks(
        boxed,
        tuple((f"c{n}", cell) for n, cell in enumerate(place.layout.header_cells, start=1)),
        foot=None,
    )
    if content.labels:
        yield StampName(folder=shape.name, subject=Subject.HEADER_BLOCKS), content


def _blocks(place: Place, cells: _Boxes, *, foot: float | None) -> Content:
    """The blocks of `cells` in the format's form, without those that it leaves out.

    Args:
        place: the format.
        cells: each with its name.
        foot: how far below a cell's upper edge the numerals' foot lies; `None` for cells without
            numerals.
    """
    shape, layout = place.shape, place.layout
    kept = tuple((label, cell) for label, cell in cells if label not in shape.block_omit)
    if shape.block_form is BlockForm.UNDERLINE:
        inner = tuple((label, inset_box(cell, layout.inset)) for label, cell in kept)
        return _underlines(place, inner, None if foot is None else foot - layout.inset)
    made = [(label, *block_of_cell(place, cell)) for label, cell in kept]
    kept, radius = (
        tuple((label, box) for label, box, _ in made),
        min((radius for _, _, radius in made), default=0.0),
    )
    if shape.block_fill is BlockFill.FILLED:
        return BlockContent(boxes=kept, radius=radius)
    return OutlineContent(
        boxes=kept, radius=radius, line_px=layout.block_line, number=place.recipe.number
    )


def block_of_cell(place: Place, cell: Box) -> tuple[Box, float]:
    """The box and the corners' radius of the box or circle that stands in `cell` as its block."""
    box, shape = inset_box(cell, place.layout.inset), place.shape
    is_circle = shape.block_form is BlockForm.CIRCLE
    box = _square(box) if is_circle else box
    roundest = 0.5 * min(box[2] - box[0], box[3] - box[1])
    return box, roundest if is_circle else min(place.layout.corner, roundest)


def _square(box: Box) -> Box:
    """The largest square in the middle of `box`."""
    x, y = 0.5 * (box[0] + box[2]), 0.5 * (box[1] + box[3])
    half = 0.5 * min(box[2] - box[0], box[3] - box[1])
    return (x - half, y - half, x + half, y + half)


def _underlines(place: Place, boxes: _Boxes, foot: float | None) -> UnderlineContent:
    """A line under the numerals, or at the foot of the box where these are none or leave no place.

    Args:
        place: the format.
        boxes: label and box of each block.
        foot: how far below a box's upper edge the upper edge of the line would lie.
    """
    layout, line = place.layout, place.layout.block_line
    lines = []
    for label, (left, top, right, bottom) in boxes:
        lowest = bottom - line / 2.0
        lines.append(
            (label, left, right, lowest if foot is None else min(top + foot + line / 2.0, lowest))
        )
    room = _ROOM_SHARE * max(layout.inset - max(layout.rule, layout.heavy) / 2.0, 0.0)
    return UnderlineContent(
        lines=tuple(lines), line_px=line, room_px=room, number=place.recipe.number
    )


def _numerals_foot(place: Place) -> float | None:
    """How far below a cell's upper edge lines under numerals begin; `None` without either."""
    shape, layout = place.shape, replace(place.layout, shifts={})
    place = replace(place, layout=layout)
    if shape.block_form is not BlockForm.UNDERLINE or shape.shows in {Shows.WEEK, Shows.DAY}:
        return None
    numerals = numerals_of(place)
    cell = (0.0, 0.0, layout.cell_width, layout.cell_height)
    feet = (numerals.text_in_cell(digit, cell, layout).ink[3] for digit in "0123456789")
    return max(feet) + _UNDERLINE_GAP * numerals.size.height_px
