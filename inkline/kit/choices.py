"""Other drawings of one thing on a stamp, side by side on a sheet, to choose one of them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from inkline.drawing import Drawing, box_of_mark
from inkline.errors import InputError
from inkline.geometry.arrays import Grey
from inkline.geometry.boxes import box_around
from inkline.ink.engine import draw
from inkline.kit.pieces import StampPiece
from inkline.kit.product import Kit, KitOrder
from inkline.kit.recipe.model import Recipe
from inkline.output.png import colour_png_bytes
from inkline.pages.faces import usual_family
from inkline.pages.letters import PLAIN, print_line
from inkline.pages.lines import Align, TextLine, Tone
from inkline.pages.page import Page, fitted_size, part_on_page, shrink_picture
from inkline.pages.palette import INK, PAPER
from inkline.raster.compose import render
from inkline.source.faults import did_you_mean

_MOST_CHOICES = 24
"""More on one sheet could not be told apart."""
_LARGEST_PX = 420
"""Width and height of one drawing on the sheet at most."""
_MARGIN_PX, _LABEL_PX, _LABEL_ROW_PX = 48, 26, 64
_IN_A_ROW = 6
_LONG = 4
"""What is so many times wider than high has a row of its own."""
_PPI = 96.0
_AROUND = 0.12
"""What is shown about the thing, as a share of its larger side."""
_AROUND_SHARES = (0.012, 0.03)
"""The least and the most of it as shares of the sheet: as far as a hand strays or runs over."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """Drawings of one thing.

    Attributes:
        name: of the thing, such as `tall/dates-3/17`.
        now: how often the recipe has it drawn again.
        counts: how often each of the drawings was, in the order of the sheet.
        png: the sheet, a PNG file.
    """

    name: str
    now: int
    counts: tuple[int, ...]
    png: bytes


def choices_of(recipe: Recipe, name: str, *, show: int, first: int = 0) -> Choices:
    """A sheet of `show` drawings of what is called `name`, each with its count below.

    Args:
        recipe: of a kit.
        name: of a numeral, a word, a rule or a block on a stamp.
        show: how many, 1 to 24.
        first: the count of the first of them; 0 is what is drawn where nothing is said.

    Raises:
        InputError: nothing is called so, or too many are asked for; the recipe can't be used.
    """
    if not 1 <= show <= _MOST_CHOICES:
        raise InputError(f"from 1 to {_MOST_CHOICES} drawings can be shown, not {show}")
    kit = KitOrder(recipe=recipe).open_and_check()
    piece, alone = _found(kit, name)
    counts = tuple(range(first, first + show))
    pictures = [_picture(piece, alone, {name: count}) for count in counts]
    now = recipe.again.get(name, 0)
    return Choices(name=name, now=now, counts=counts, png=_sheet(pictures, counts, now))


def _found(kit: Kit, name: str) -> tuple[StampPiece, Drawing]:
    """The stamp that holds what is called `name`, and its drawing with nothing else on it."""
    stamps = [one for one in kit.pieces.values() if isinstance(one, StampPiece)]
    stamp = name.rpartition("/")[0]
    for piece in sorted(stamps, key=lambda one: one.name != stamp):
        drawing = piece.plan.drawing()
        kept = tuple(_marks_called(drawing, name))
        if kept:
            layers = tuple(
                replace(layer, marks=tuple(mark for mark in layer.marks if mark.name in kept))
                for layer in drawing.layers
            )
            return piece, replace(drawing, layers=layers)
        if piece.name == stamp:
            names = sorted({mark.group for mark in drawing.marks})
            raise InputError(f'nothing on {stamp} is called "{name}"{did_you_mean(name, names)}')
    names = [piece.name for piece in stamps]
    raise InputError(f'nothing in this kit is called "{name}"{did_you_mean(stamp or name, names)}')


def _marks_called(drawing: Drawing, name: str) -> Iterator[str]:
    for mark in drawing.marks:
        if mark.group == name or mark.group.startswith((f"{name}.", f"{name}/")):
            yield mark.name


def _picture(piece: StampPiece, alone: Drawing, again: dict[str, int]) -> Grey:
    """One drawing, as large on its sheet as the stamp has it, cut out."""
    x0, y0, x1, y1 = _box_of(alone)
    grey = render(draw(alone, piece.style, piece.kit.recipe.number, again=again))
    return grey[max(y0, 0) : y1, max(x0, 0) : x1]


def _box_of(alone: Drawing) -> tuple[int, int, int, int]:
    x0, y0, x1, y1 = box_around([box_of_mark(mark) for mark in alone.marks])
    least, most = (share * alone.sheet_px for share in _AROUND_SHARES)
    around = min(max(_AROUND * max(x1 - x0, y1 - y0), least), most)
    return (
        math.floor(x0 - around),
        math.floor(y0 - around),
        math.ceil(x1 + around),
        math.ceil(y1 + around),
    )


def _sheet(pictures: list[Grey], counts: tuple[int, ...], now: int) -> bytes:
    height, width = pictures[0].shape
    is_long = width > _LONG * height
    within = (_LONG * _LARGEST_PX if is_long else _LARGEST_PX, _LARGEST_PX)
    size = fitted_size((width, height), within=within)
    columns = 1 if is_long else min(_IN_A_ROW, len(pictures))
    n_rows = -(-len(pictures) // columns)
    step = size[0] + _MARGIN_PX, size[1] + _LABEL_ROW_PX
    page = Page((_MARGIN_PX + columns * step[0], _MARGIN_PX + n_rows * step[1]), colour=PAPER)
    face = usual_family()
    for index, (picture, count) in enumerate(zip(pictures, counts, strict=True)):
        row, column = divmod(index, columns)
        x, y = _MARGIN_PX + column * step[0], _MARGIN_PX + row * step[1]
        part, at = part_on_page(shrink_picture(picture, size=size), at=(x, y), size=page.size)
        page.ink(part, at=at, colour=INK)
        line = TextLine(
            text=str(count),
            x=x + 0.5 * size[0],
            baseline=y + size[1] + _LABEL_ROW_PX - _LABEL_PX,
            height=_LABEL_PX,
            align=Align.CENTRE,
            tone=Tone.ACCENT if count == now else Tone.SOFT,
            room=float(step[0]),
        )
        print_line(page, line, face=face, style=PLAIN, number=0, name=f"choices/{count}")
    return colour_png_bytes(page.srgb(), ppi=_PPI)
