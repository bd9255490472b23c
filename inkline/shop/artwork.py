"""A month on a picture that the kit's owner brings, where the picture is calmest."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from inkline.geometry.arrays import Grey
from inkline.output.ground import filling_values, opaque_values
from inkline.output.painting import read_painting
from inkline.pages.contrast import contrast_ratio, relative_luminance
from inkline.shop.board import Board, Box
from inkline.shop.contents import ShopKit
from inkline.shop.months import MonthPicture
from inkline.shop.palette import Colourway

_USUAL_ACROSS = {"wide": 0.44, "other": 0.66}
"""How much of the width a month takes; chosen by eye."""
_MOST_DOWN = 0.84
_VEIL = 0.3
"""How opaque blocks are, which are there to let dates stand out; chosen by eye."""
_STEPS = 9
"""Places across and down that are tried for a month."""
_SEARCH_PX = 240
"""The longer side of the small picture on which the calmest place is looked for."""
_OFF_MIDDLE = 0.15
"""How much worse the farthest place from the picture's middle counts, since months in corners look
lost."""
_HARD = 10.0
"""The percentile of contrast that decides on an ink: a few bright spots are allowed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """Where a month is to lie on a picture.

    Attributes:
        on: the picture.
        at: where its middle lies, in shares of width and height; the calmest place if None.
        across: how much of the width it takes; as much as looks well if None.
    """

    on: Path
    at: tuple[float, float] | None = None
    across: float | None = None


def on_artwork(shop: ShopKit, size: tuple[int, int], wish: Wish) -> bytes:
    """The month on the picture, which fills all of `size`, as a PNG file.

    Raises:
        InputError: the picture can't be read or used.
    """
    board = Board(shop=shop, size=size, ground=shop.palette.paper)
    values = filling_values(opaque_values(read_painting(wish.on)), size)
    board.page.paste(values, at=(0, 0))
    month = MonthPicture(shop=shop)
    place = _place(board, month, wish, values)
    colours = _colours(shop, values, place)
    _Veiled(shop=shop).print(board, place, colours)
    return board.png()


class _Veiled(MonthPicture):
    """A month whose blocks let what they lie on through."""

    def scaled(self, name: str, scale: float) -> Grey:
        """A layer's coverage, less of blocks."""
        grey = super().scaled(name, scale)
        if str(self.shop.kit.stamps[name].entry.facts["kind"]) != "blocks":
            return grey
        return np.asarray(np.rint(grey * np.float32(_VEIL)), np.uint8)


def _place(board: Board, month: MonthPicture, wish: Wish, values: NDArray[np.uint8]) -> Box:
    """Where the month lies: where it is wished, or where the picture is calmest."""
    width, height = board.size
    usual = _USUAL_ACROSS["wide" if board.is_wide else "other"]
    across = (wish.across or usual) * width
    if wish.across is None:
        across = min(across, _MOST_DOWN * height / month.shape)
    down = across * month.shape
    if wish.at is not None:
        left, top = wish.at[0] * width - 0.5 * across, wish.at[1] * height - 0.5 * down
    else:
        left, top = _calmest(values, (across, down), board.margin)
    return left, top, left + across, top + down


def _calmest(
    values: NDArray[np.uint8], size: tuple[float, float], margin: float
) -> tuple[float, float]:
    """Where the upper left corner of a box lies under which a picture changes least."""
    height, width = values.shape[:2]
    scale = min(1.0, _SEARCH_PX / max(width, height))
    small = Image.fromarray(values).resize(
        (max(2, round(width * scale)), max(2, round(height * scale))), Image.Resampling.BOX
    )
    light = np.sqrt(relative_luminance(np.asarray(small)))
    down, across = np.gradient(light)
    sums = np.pad(np.hypot(down, across).cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))
    best, corner = np.inf, (margin, margin)
    for y in np.linspace(margin, max(height - margin - size[1], margin), _STEPS):
        for x in np.linspace(margin, max(width - margin - size[0], margin), _STEPS):
            x0, y0 = round(x * scale), round(y * scale)
            x1, y1 = round((x + size[0]) * scale), round((y + size[1]) * scale)
            x1, y1 = min(x1, sums.shape[1] - 1), min(y1, sums.shape[0] - 1)
            rough = sums[y1, x1] - sums[y0, x1] - sums[y1, x0] + sums[y0, x0]
            off = np.hypot((x + 0.5 * size[0]) / width - 0.5, (y + 0.5 * size[1]) / height - 0.5)
            rough *= 1.0 + _OFF_MIDDLE * off
            if rough < best:
                best, corner = rough, (float(x), float(y))
    return corner


def _colours(shop: ShopKit, values: NDArray[np.uint8], place: Box) -> Colourway:
    """The ink that stands out most from what is beneath, and a veil of the opposite for blocks."""
    x0, y0, x1, y1 = (max(0, round(side)) for side in place)
    below = values[y0:y1, x0:x1].reshape(-1, 3)[:: max(1, (x1 - x0) * (y1 - y0) // 20_000)]
    palette = shop.palette

    def stands_out(colour: str) -> float:
        one = np.frombuffer(bytes.fromhex(colour[1:]), np.uint8)
        return float(np.percentile(contrast_ratio(one[None, :], below), _HARD))

    ink = max((palette.paper, palette.ink), key=stands_out)
    veil = palette.ink if ink == palette.paper else palette.paper
    return Colourway(ground=veil, rule=ink, block=veil, date=ink, word=ink, rest=ink)
