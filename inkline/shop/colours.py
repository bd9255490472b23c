"""One month in three colourways."""

from __future__ import annotations

from collections.abc import Iterator

from inkline.geometry.arrays import Grey
from inkline.shop.board import Board, Box, resized
from inkline.shop.contents import ShopKit
from inkline.shop.months import MonthPicture
from inkline.shop.palette import colourway_on, grounds_of

_AROUND = 0.1
"""White around a month, as a share of its field's shorter side."""
_BLOCK, _APART = 0.16, 0.05
"""Side of a block that shows a colour, and white between two, as shares of their room."""


def colours(shop: ShopKit, size: tuple[int, int]) -> bytes:
    """The month on three grounds, side by side on what is wide, else around a title."""
    board = Board(shop=shop, size=size, ground=shop.palette.tint)
    month = MonthPicture(shop=shop)
    title, fields, most = _wide_fields(board) if board.is_wide else _four_fields(board)
    ink = colourway_on(shop.palette, shop.palette.tint, dates_on_blocks=False).rule
    board.title(shop.phrases.say("shop.colours"), box=title, colour=ink, most=most)
    for field, ground in zip(fields, grounds_of(shop.palette), strict=True):
        board.fill(field, ground)
        white = _AROUND * min(field[2] - field[0], field[3] - field[1])
        inner = (field[0] + white, field[1] + white, field[2] - white, field[3] - white)
        month.print(board, month.fitted(inner), month.colourway(ground))
    _print_blocks(board, title)
    return board.png()


def _wide_fields(board: Board) -> tuple[Box, list[Box], float]:
    """The title's place over three fields, and how high it may be."""
    width, height = board.size
    top = 0.19 * height
    fields = [
        (index * width / 3, top, (index + 1) * width / 3, float(height)) for index in range(3)
    ]
    return (
        (board.margin, 0.069 * height, width - board.margin, 0.121 * height),
        fields,
        0.052 * height,
    )


def _four_fields(board: Board) -> tuple[Box, list[Box], float]:
    """The title's place in the first of four fields, the other three, and how high it may be."""
    width, height = board.size
    across, down = width / 2, height / 2
    fields = [
        (across, 0.0, float(width), down),
        (0.0, down, across, float(height)),
        (across, down, float(width), float(height)),
    ]
    room = 0.7 * board.margin
    return (room, room, across - room, down - room), fields, 0.5 * down


def _print_blocks(board: Board, box: Box) -> None:
    """Print one of the kit's blocks in each colour of the palette at the foot of a box."""
    shapes = list(_blocks(board.shop))
    if not shapes:
        return
    x0, _, x1, y1 = box
    colours = board.shop.palette.colours
    colours = tuple(one for one in colours if one != board.ground)
    room = (x1 - x0) if not board.is_wide else 0.5 * (x1 - x0)
    side = _BLOCK * room if not board.is_wide else box[3] - box[1]
    step = side * (1.0 + _APART / _BLOCK)
    start = x1 - len(colours) * step + step - side if board.is_wide else x0
    for index, colour in enumerate(colours):
        shape = shapes[index % len(shapes)]
        height = side * shape.shape[0] / shape.shape[1]
        picture = resized(shape, (round(side), round(height)))
        board.print(picture, at=(start + index * step, y1 - height), colour=colour)


def _blocks(shop: ShopKit) -> Iterator[Grey]:
    """Single blocks, cut from the month's."""
    for stamp in shop.month.layers:
        if str(stamp.entry.facts["kind"]) != "blocks":
            continue
        picture = stamp.picture
        for box in list(stamp.entry.layout.get("boxes", ()))[8:]:
            room = 0.05 * (box["x1"] - box["x0"])
            x0, y0, x1, y1 = (
                round(side)
                for side in (
                    box["x0"] - room,
                    box["y0"] - room,
                    box["x1"] + room,
                    box["y1"] + room,
                )
            )
            yield picture[max(y0, 0) : y1, max(x0, 0) : x1]
        return
