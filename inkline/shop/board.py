"""A picture of a shop while it is set: a ground, fields of colour, stamps and drawn letters."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from inkline.calendar.names import LetterCase, text_in_case
from inkline.delivery.stamps import FolderStamp
from inkline.geometry.arrays import Grey
from inkline.lettering.face import Face
from inkline.output.png import colour_png_bytes
from inkline.pages.faces import has_all_letters, usual_family
from inkline.pages.letters import PLAIN, line_picture
from inkline.pages.lines import Align, TextLine
from inkline.pages.page import Page, part_on_page, shrink_picture
from inkline.shop.contents import ShopKit

Box = tuple[float, float, float, float]
"""Left, top, right and bottom in px."""
_PPI = 144.0
"""That a shop's pictures name: they are for screens."""
_MARGIN = 0.085
"""White around all, as a share of the shorter side; chosen by eye."""
LEADING = 1.62
"""From baseline to baseline, in heights of capitals."""
_PROBE = 100.0
_BROKEN_UP = 2.0
"""Letters lower than so many small ones lie on smooth paper; chosen by eye."""
_MOST_LINES = 3
_WORTH_A_LINE = 1.3
"""How much larger letters must be for a title to have one more line; chosen by eye."""
_SHORT_LINE = 4
"""A line of fewer letters looks lost in a title."""
_INKED = 24


@dataclass(eq=False, kw_only=True)
class Board:
    """One picture while it is set.

    Attributes:
        shop: the kit that it is of.
        size: width and height in px.
        ground: its colour.
        page: it, as light.
    """

    shop: ShopKit
    size: tuple[int, int]
    ground: str
    page: Page = field(init=False)

    def __post_init__(self) -> None:
        self.page = Page(self.size, colour=self.ground)

    @property
    def is_wide(self) -> bool:
        """Whether it is much wider than high."""
        return self.size[0] > 1.2 * self.size[1]

    @property
    def margin(self) -> float:
        """White around everything."""
        return _MARGIN * min(self.size)

    @property
    def text(self) -> float:
        """Height of capitals of small letters."""
        return 0.0205 * math.sqrt(self.size[0] * self.size[1])

    @property
    def inner(self) -> Box:
        """What lies within the margins."""
        (width, height), room = self.size, self.margin
        return room, room, width - room, height - room

    def fill(self, box: Box, colour: str) -> None:
        """Fill a field."""
        x0, y0, x1, y1 = (round(side) for side in box)
        x0, y0 = max(x0, 0), max(y0, 0)
        width, height = min(x1, self.size[0]) - x0, min(y1, self.size[1]) - y0
        self.page.ink(np.full((height, width), 255, np.uint8), at=(x0, y0), colour=colour)

    def print(self, grey: Grey, *, at: tuple[float, float], colour: str) -> None:
        """Print coverage with its upper left corner at a place; none beyond the picture."""
        part, place = part_on_page(grey, at=(round(at[0]), round(at[1])), size=self.size)
        if part.size:
            self.page.ink(part, at=place, colour=colour)

    def letter(
        self,
        text: str,
        *,
        x: float,
        baseline: float,
        height: float,
        colour: str,
        room: float = math.inf,
        align: Align = Align.LEFT,
    ) -> float:
        """Letter a line in the kit's own letters and ink; where that ends below.

        Small letters are drawn on smooth paper: broken up they couldn't be read.
        """
        face, style = self._face(text), self.shop.style
        if height < _BROKEN_UP * self.text:
            style = replace(style, paper=PLAIN.paper)
        line = TextLine(
            text=self.cased(text), x=x, baseline=baseline, height=height, room=room, align=align
        )
        picture = line_picture(
            line, face=face, style=style, number=self.shop.number, name=f"shop/{text}"
        )
        if picture is None:
            return baseline
        self.print(picture.grey, at=picture.at, colour=colour)
        return max(baseline, float(picture.at[1] + inked_box(picture.grey)[3]))

    def cased(self, text: str) -> str:
        """A text in capitals if the kit's words are."""
        case = LetterCase.CAPITALS if self.shop.in_capitals else LetterCase.AS_WRITTEN
        return text_in_case(text, locale=self.shop.spelling, case=case)

    def _face(self, text: str) -> Face:
        """The kit's letters, or the usual family where those lack one of a text's."""
        own = has_all_letters(self.shop.face, self.cased(text))
        return self.shop.face if own else usual_family()

    def width_of(self, text: str, height: float) -> float:
        """How wide a line is at this height of capitals, about."""
        line = TextLine(text=self.cased(text), x=0.0, baseline=0.0, height=_PROBE)
        picture = line_picture(line, face=self._face(text), style=PLAIN, number=0, name="shop")
        if picture is None:
            return 0.0
        columns = np.flatnonzero(picture.grey.any(axis=0))
        return float(columns[-1] - columns[0]) / _PROBE * height

    def title_lines(self, text: str, *, room: float, most: float) -> tuple[list[str], float]:
        """A title on so many lines that its letters are largest, and the height of its capitals.

        Args:
            text: the title.
            room: how wide it may be.
            most: how high all lines may be together.
        """
        words = text.split()
        best: tuple[list[str], float] = ([text], 0.0)
        for count in range(1, min(_MOST_LINES, len(words)) + 1):
            lines = _balanced(words, count)
            width = max(self.width_of(line, 1.0) for line in lines)
            height = min(room / width, most / (1.0 + (count - 1) * LEADING))
            if height > _WORTH_A_LINE * best[1]:
                best = (lines, height)
        return best

    def caption_lines(self, text: str, *, height: float, room: float) -> list[str]:
        """A text on one line, or on two where its letters at this height need that."""
        words = text.split()
        fits = self.width_of(text, height) <= room
        return [text] if fits or len(words) < 2 else _balanced(words, 2, short=1)

    def caption_height(self, texts: Sequence[str], *, room: float) -> float:
        """The height of capitals at which each of some texts has room on two lines at most."""
        lines = [
            line for text in texts for line in self.caption_lines(text, height=self.text, room=room)
        ]
        return min(self.text, *(room / self.width_of(line, 1.0) for line in lines))

    def title(
        self,
        text: str,
        *,
        box: Box,
        colour: str,
        most: float,
        align: Align = Align.LEFT,
    ) -> float:
        """Letter a title at the top of a box, as large as fits; where it ends below."""
        x0, y0, x1, _ = box
        lines, height = self.title_lines(text, room=x1 - x0, most=most)
        x = x0 + align.share * (x1 - x0)
        end = y0
        for index, line in enumerate(lines):
            baseline = y0 + height * (1.0 + index * LEADING)
            end = self.letter(
                line, x=x, baseline=baseline, height=height, colour=colour, align=align
            )
        return end

    def png(self) -> bytes:
        """The picture as a PNG file."""
        return colour_png_bytes(self.page.srgb(), ppi=_PPI)


def _balanced(words: Sequence[str], count: int, *, short: int = _SHORT_LINE) -> list[str]:
    """Words on `count` lines, the longest as short as can be, none of less than `short` letters."""
    if count == 1:
        return [" ".join(words)]
    drafts = (
        [" ".join(words[:cut]), *_balanced(words[cut:], count - 1, short=short)]
        for cut in range(1, len(words) - count + 2)
    )

    def ugliness(lines: list[str]) -> tuple[bool, int]:
        return any(len(line) < short for line in lines), max(map(len, lines))

    return min(drafts, key=ugliness)


def grey_at(stamp: FolderStamp, scale: float) -> Grey:
    """A stamp's coverage at a size: shrunk from its picture, or drawn larger from its masters."""
    if scale > 1.0:
        return replace(stamp, scale=stamp.scale * scale, fitted={}).picture
    width, height = (max(1, round(side * scale)) for side in stamp.canvas)
    return shrink_picture(stamp.picture, size=(width, height))


def resized(grey: Grey, size: tuple[int, int]) -> Grey:
    """Coverage at another size."""
    shrinks = size[0] <= grey.shape[1] and size[1] <= grey.shape[0]
    if shrinks:
        return shrink_picture(grey, size=size)
    return np.asarray(Image.fromarray(grey).resize(size, Image.Resampling.BICUBIC))


def inked_box(grey: NDArray[np.uint8]) -> tuple[int, int, int, int]:
    """Where a picture has ink: left, top, right and bottom; all of it if there is none."""
    rows = np.flatnonzero((grey > _INKED).any(axis=1))
    columns = np.flatnonzero((grey > _INKED).any(axis=0))
    if not rows.size:
        return 0, 0, grey.shape[1], grey.shape[0]
    return int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1
