"""The cover: the kit's name, large, and one of its months."""

from __future__ import annotations

from inkline.pages.lines import Align
from inkline.shop.board import Board
from inkline.shop.contents import ShopKit
from inkline.shop.months import MonthPicture

_TITLE = 0.17
"""Of the height of all at most, for the title's lines together."""
_SIDE = 0.36
"""Of the width, for the title beside a month."""


def cover(shop: ShopKit, size: tuple[int, int]) -> bytes:
    """The cover as a PNG file."""
    month = MonthPicture(shop=shop)
    colours = month.colourway(shop.palette.deep)
    board = Board(shop=shop, size=size, ground=colours.ground)
    x0, y0, x1, y1 = board.inner
    if board.is_wide:
        side = x0 + _SIDE * (x1 - x0)
        place = month.fitted((side, y0, x1, y1))
        place = (x1 - (place[2] - place[0]), place[1], x1, place[3])
        room = (x0, y0, place[0] - board.margin, y1)
        board.title(shop.title, box=room, colour=colours.rule, most=0.5 * (y1 - y0))
        feet = [(x0, Align.LEFT, _counts(shop)), (x0, Align.LEFT, _years(shop))]
        for index, (x, align, text) in enumerate(feet[::-1]):
            board.letter(
                text,
                x=x,
                baseline=y1 - index * 1.9 * board.text,
                height=board.text,
                colour=colours.word,
                align=align,
            )
    else:
        end = board.title(shop.title, box=board.inner, colour=colours.rule, most=_TITLE * size[1])
        foot = y1 - board.text - 0.8 * board.margin
        place = month.fitted((x0, end + 0.8 * board.margin, x1, foot), level=0.5)
        for x, align, text in ((x0, Align.LEFT, _counts(shop)), (x1, Align.RIGHT, _years(shop))):
            board.letter(
                text, x=x, baseline=y1, height=board.text, colour=colours.word, align=align
            )
    month.print(board, place, colours)
    return board.png()


def _counts(shop: ShopKit) -> str:
    return shop.phrases.count("shop.stamps", len(shop.kit.stamps))


def _years(shop: ShopKit) -> str:
    """The years that there are stamps of, such as 2027-2031."""
    years = shop.years
    if not years:
        return ""
    return f"{years[0]}\N{EN DASH}{years[-1]}" if len(years) > 1 else str(years[0])
