"""A close-up: part of a month at the size at which it was drawn, pixel for pixel."""

from __future__ import annotations

from collections.abc import Sequence

from inkline.pages.lines import Align
from inkline.shop.board import Board
from inkline.shop.contents import ShopKit
from inkline.shop.months import MonthPicture

_BAND = 0.1
"""Of the height, for what is said under the picture."""
_CORNER = 0.028
"""Of the canvas that is shown beyond the month's corner."""


def close(shop: ShopKit, size: tuple[int, int]) -> bytes:
    """The month's lower right part, at 100 %, over a band that says so."""
    month = MonthPicture(shop=shop)
    colours = month.colourway(shop.palette.paper)
    board = Board(shop=shop, size=size, ground=colours.ground)
    width, height = size
    band = round(height * (1.0 - _BAND))
    x0, y0, x1, y1 = month.box
    canvas = shop.month.layers[0].canvas
    room = round(_CORNER * canvas[0])
    across, down = _rules(shop)
    at = (_start((x0, x1), width, room, across), _start((y0, y1), band, room, down))
    for stamp in shop.month.layers:
        board.print(stamp.picture, at=at, colour=month.colour_of(stamp.name, colours))
    board.fill((0.0, band, width, height), shop.palette.accent)
    ground = month.colourway(shop.palette.accent)
    base = band + 0.5 * (height - band + board.text)
    board.letter(
        shop.phrases.say("shop.close"),
        x=board.margin,
        baseline=base,
        height=board.text,
        colour=ground.rule,
    )
    board.letter(
        shop.phrases.say("shop.close_size", width=canvas[0], height=canvas[1]),
        x=width - board.margin,
        baseline=base,
        height=board.text,
        colour=ground.rule,
        align=Align.RIGHT,
    )
    return board.png()


def _rules(shop: ShopKit) -> tuple[list[float], list[float]]:
    """Where rules of the month stand across and down, in px of its canvas."""
    across, down = list[float](), list[float]()
    for stamp in shop.month.layers:
        for line in stamp.entry.layout.get("lines", ()):
            (left, top), (right, bottom) = line["from"], line["to"]
            if abs(right - left) < abs(bottom - top):
                across.append(0.5 * (left + right))
            else:
                down.append(0.5 * (top + bottom))
    return sorted(across), sorted(down)


def _start(ends: tuple[int, int], room: int, white: int, rules: Sequence[float]) -> int:
    """Where the canvas begins, so that its low end is seen and the picture ends beyond a rule.

    What is small stands in the middle.
    """
    low, high = ends
    if high - low + 2 * white <= room:
        return round(0.5 * (room - low - high))
    last = max((rule for rule in rules if rule + 1.4 * white <= room + low), default=None)
    return white - low if last is None else round(room - 0.4 * white - last)
