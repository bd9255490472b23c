"""A month on a shop's picture: its stamps over each other, its name and year above them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from inkline.delivery.stamps import FolderStamp
from inkline.geometry.arrays import Grey
from inkline.kit.stamps.names import SplitPart, Subject, name_from_text
from inkline.shop.board import Board, Box, grey_at, inked_box
from inkline.shop.contents import ShopKit
from inkline.shop.palette import Colourway, colourway_on

_NAME = 0.052
"""Height of the name's ink over the month, as a share of the month's width."""
_ABOVE = 0.042
"""White between name and month, likewise."""
_INKED = 127
_WITHIN = 0.97
"""How much of the dates' ink lies within blocks where they are printed on these."""


@dataclass(frozen=True, kw_only=True, eq=False)
class MonthPicture:
    """A month, to be printed at any size.

    Attributes:
        shop: the kit.
    """

    shop: ShopKit

    @cached_property
    def _own(self) -> list[Grey]:
        return [stamp.picture for stamp in self.shop.month.layers]

    @cached_property
    def box(self) -> tuple[int, int, int, int]:
        """Where the layers have ink, in px of their canvas."""
        boxes = [inked_box(grey) for grey in self._own]
        lows, highs = zip(*((box[:2], box[2:]) for box in boxes), strict=True)
        return (
            min(low[0] for low in lows),
            min(low[1] for low in lows),
            max(high[0] for high in highs),
            max(high[1] for high in highs),
        )

    @property
    def _head(self) -> float:
        """Height of name and white above the month, as a share of its width."""
        return _NAME + _ABOVE if self.shop.month.words else 0.0

    @property
    def shape(self) -> float:
        """Height over width, name included."""
        x0, y0, x1, y1 = self.box
        return self._head + (y1 - y0) / (x1 - x0)

    def fitted(self, box: Box, *, level: float = 0.5) -> Box:
        """The largest place for the month in a box; `level` 0 at its top, 1 at its bottom."""
        x0, y0, x1, y1 = box
        width = min(x1 - x0, (y1 - y0) / self.shape)
        left = x0 + 0.5 * (x1 - x0 - width)
        top = y0 + level * (y1 - y0 - width * self.shape)
        return left, top, left + width, top + width * self.shape

    def print(self, board: Board, place: Box, colours: Colourway) -> None:
        """Print the month at a place of its own shape."""
        left, top, right, _ = place
        width = right - left
        x0, y0, x1, _ = self.box
        scale = width / (x1 - x0)
        self._print_words(board, (left, top, right), colours)
        corner = (left - scale * x0, top + self._head * width - scale * y0)
        for stamp in self.shop.month.layers:
            grey = self.scaled(stamp.name, scale)
            board.print(grey, at=corner, colour=self.colour_of(stamp.name, colours))

    def scaled(self, name: str, scale: float) -> Grey:
        """The coverage of a stamp at a size."""
        return _scaled(self.shop, name, scale)

    def colour_of(self, name: str, colours: Colourway) -> str:
        """The colour of a layer."""
        kind = str(self.shop.kit.stamps[name].entry.facts["kind"])
        if kind == "blocks":
            return colours.block
        read = name_from_text(name)
        is_rest = read is not None and read.split in {SplitPart.SATURDAYS, SplitPart.SUNDAYS}
        if kind == "marks" or is_rest:
            return colours.rest
        is_off_blocks = read is not None and (
            read.subject is Subject.WEEKS
            or (read.subject is Subject.WEEKDAYS and not self._has_header_blocks)
        )
        return colours.rule if kind == "grid" or is_off_blocks else colours.date

    @cached_property
    def _has_header_blocks(self) -> bool:
        names = (name_from_text(stamp.name) for stamp in self.shop.month.layers)
        return any(read is not None and read.subject is Subject.HEADER_BLOCKS for read in names)

    @cached_property
    def dates_on_blocks(self) -> bool:
        """Whether nearly all ink of the dates lies within blocks."""
        stamps = dict(zip(self.shop.month.layers, self._own, strict=True))
        inked = [grey > _INKED for one, grey in stamps.items() if _kind(one) == "dates"]
        blocks = [grey > _INKED for one, grey in stamps.items() if _kind(one) == "blocks"]
        if not inked or not blocks:
            return False
        dates, below = np.logical_or.reduce(inked), np.logical_or.reduce(blocks)
        return bool((dates & below).sum() > _WITHIN * dates.sum())

    def colourway(self, ground: str) -> Colourway:
        """What it is printed with on a ground."""
        return colourway_on(self.shop.palette, ground, dates_on_blocks=self.dates_on_blocks)

    def _print_words(
        self, board: Board, sides: tuple[float, float, float], colours: Colourway
    ) -> None:
        """The name flush left, the year flush right, both of one height of letters."""
        left, top, right = sides
        words = [(stamp, inked_box(stamp.picture)) for stamp in self.shop.month.words]
        if not words:
            return
        width = right - left
        scale = min(
            _NAME * width / max(box[3] - box[1] for _, box in words),
            0.9 * width / sum(box[2] - box[0] for _, box in words),
        )
        foot = top + _NAME * width
        for index, (stamp, (x0, _, x1, y1)) in enumerate(words):
            x = left - scale * x0 if index == 0 else right - scale * x1
            grey = self.scaled(stamp.name, scale)
            board.print(grey, at=(x, foot - scale * y1), colour=colours.word)


@lru_cache(maxsize=48)
def _scaled(shop: ShopKit, name: str, scale: float) -> Grey:
    """A stamp of the kit at a size; kept, since three colourways print one."""
    return grey_at(shop.kit.stamps[name], scale)


def _kind(stamp: FolderStamp) -> str:
    return str(stamp.entry.facts["kind"])
