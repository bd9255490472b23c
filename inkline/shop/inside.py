"""What is inside: a tile for each kind of stamp, with some of them and how many there are."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from inkline.delivery.stamps import FolderStamp
from inkline.geometry.arrays import Grey
from inkline.kit.stamps.names import Subject
from inkline.shop.board import Board, Box, inked_box, resized
from inkline.shop.contents import ShopKit
from inkline.shop.palette import colourway_on

_KINDS = (
    ("grids", (Subject.GRID,)),
    ("blocks", (Subject.BLOCKS, Subject.HEADER_BLOCKS)),
    ("cut_blocks", (Subject.CUT_BLOCKS, Subject.STRIP_CUT_BLOCKS)),
    ("dates", (Subject.DATES, Subject.STRIP_DATES)),
    ("small_months", (Subject.SMALL_MONTH,)),
    ("weekdays", (Subject.WEEKDAYS, Subject.STRIP_WEEKDAYS)),
    ("weeks", (Subject.WEEKS,)),
    ("marks", (Subject.MARKS, Subject.STRIP_MARKS)),
    ("months", (Subject.MONTH,)),
    ("years", (Subject.YEAR, Subject.YEARS)),
    ("digits", (Subject.DIGIT,)),
    ("captions", (Subject.CAPTION,)),
)
"""Kinds of stamps by their keys among the phrases, and what they show."""
_ROWS_OF = {"digits": 5, "months": 1, "years": 1, "captions": 1, "weekdays": 1}
"""How many stand side by side of what a tile shows several of."""
_MOST_SHOWN = {"digits": 10, "months": 4, "years": 4, "captions": 3, "weekdays": 2}
_LONGEST = 7.0
"""Rows that are longer for their height run off their tile."""
_GAP = 0.014
"""Between tiles, as a share of the root of the picture's area."""
_INSET = 0.12
"""White within a tile, as a share of its shorter side."""


@dataclass(frozen=True, kw_only=True)
class Kind:
    """Stamps of one kind.

    Attributes:
        key: of what they are called, among the phrases.
        stamps: all of them.
    """

    key: str
    stamps: tuple[FolderStamp, ...]


def kinds_of(shop: ShopKit) -> tuple[Kind, ...]:
    """The kinds of stamps that a kit has, in order."""
    found = (
        Kind(key=key, stamps=tuple(shop.kit.stamps[name] for name in shop.of(*subjects)))
        for key, subjects in _KINDS
    )
    return tuple(kind for kind in found if kind.stamps)


def inside(shop: ShopKit, size: tuple[int, int]) -> bytes:
    """A title and the tiles as a PNG file."""
    board = Board(shop=shop, size=size, ground=shop.palette.paper)
    kinds = kinds_of(shop)
    gap = _GAP * math.sqrt(size[0] * size[1])
    places = _places(board, len(kinds) + 1, gap)
    _print_title(board, places[0])
    columns = len({place[0] for place in places})
    grounds = (shop.palette.deep, shop.palette.tint, shop.palette.accent)
    for kind, place in zip(kinds, places[1:], strict=True):
        row, column = _row_and_column(place, places)
        ground = grounds[(column + row * (1 if columns % 3 else 2)) % 3]
        board.fill(place, ground)
        _print_kind(board, kind, place, ground)
    return board.png()


def _row_and_column(place: Box, places: Sequence[Box]) -> tuple[int, int]:
    columns = sorted({round(one[0]) for one in places})
    rows = sorted({round(one[1]) for one in places})
    return rows.index(round(place[1])), columns.index(round(place[0]))


def _places(board: Board, count: int, gap: float) -> list[Box]:
    """Places of the title, which may be several tiles wide, and of the tiles, row by row."""
    x0, y0, x1, y1 = _field(board)
    drafts = []
    for columns in range(2, 7):
        rows = math.ceil(count / columns)
        width = (x1 - x0 - (columns - 1) * gap) / columns
        height = (y1 - y0 - (rows - 1) * gap) / rows
        span = columns * rows - count + 1
        if span < columns:
            drafts.append((abs(math.log(width / height)), columns, width, height, span))
    _, columns, width, height, span = min(drafts)
    places = []
    for index in range(span - 1, span - 1 + count):
        row, column = divmod(index, columns)
        left, top = x0 + column * (width + gap), y0 + row * (height + gap)
        places.append((left, top, left + width, top + height))
    places[0] = (x0, y0, places[0][2], places[0][3])
    return places


def _field(board: Board) -> Box:
    (width, height), room = board.size, 0.6 * board.margin
    return room, room, width - room, height - room


def _print_title(board: Board, place: Box) -> None:
    """The title, and how many stamps there are."""
    shop, (x0, y0, x1, y1) = board.shop, place
    colours = colourway_on(shop.palette, shop.palette.paper, dates_on_blocks=False)
    white = 0.35 * _INSET * min(x1 - x0, y1 - y0)
    box = (x0, y0 + white, x1 - white, y1)
    most = 0.5 * (y1 - y0)
    end = board.title(shop.phrases.say("shop.inside"), box=box, colour=colours.rule, most=most)
    count = shop.phrases.count("shop.stamps", len(shop.kit.stamps))
    base = min(y1 - 1.5 * board.text, end + 3.2 * board.text)
    board.letter(
        count, x=x0, baseline=base, height=1.15 * board.text, colour=colours.word, room=x1 - x0
    )


def _print_kind(board: Board, kind: Kind, place: Box, ground: str) -> None:
    """Some stamps of a kind on a tile, and how many there are."""
    x0, y0, x1, y1 = place
    white = _INSET * min(x1 - x0, y1 - y0)
    colours = colourway_on(board.shop.palette, ground, dates_on_blocks=False)
    base = y1 - 0.8 * white
    board.letter(
        board.shop.phrases.count(f"kinds.{kind.key}", len(kind.stamps)),
        x=x0 + white,
        baseline=base,
        height=board.text,
        colour=colours.rule,
        room=x1 - x0 - 2.0 * white,
    )
    box = (x0 + white, y0 + white, x1 - white, base - 2.3 * board.text)
    for grey, at in _shown(kind, box):
        is_block = kind.key in {"blocks", "cut_blocks"}
        palette = board.shop.palette
        pale = palette.tint if ground != palette.tint else palette.accent
        board.print(grey, at=at, colour=pale if is_block else colours.rule, within=place)


def _shown(kind: Kind, box: Box) -> Iterator[tuple[Grey, tuple[float, float]]]:
    """Pictures of a kind and where they stand: one of calendars, several of words."""
    most = _MOST_SHOWN.get(kind.key, 1)
    stamps = kind.stamps[:most] if kind.key != "weekdays" else _of_each_start(kind.stamps)[:most]
    if most == 1:
        stamps = (_fullest(kind.stamps),)
    pictures = [
        _trimmed(_beginning(stamp) if kind.key == "weeks" else stamp.picture) for stamp in stamps
    ]
    across = _ROWS_OF.get(kind.key, 1)
    rows = math.ceil(len(pictures) / across)
    x0, y0, x1, y1 = box
    width, height = (x1 - x0) / across, (y1 - y0) / rows
    widest = max(one.shape[1] for one in pictures)
    highest = max(one.shape[0] for one in pictures)
    fill = 0.62 if len(pictures) > 1 else 1.0
    spread = 0.72 if across > 1 else max(1.0, widest / (_LONGEST * highest))
    scale = min(spread * width / widest, fill * height / highest)
    step = min(height, 2.1 * scale * highest) if rows > 1 else height
    top = y0 + 0.5 * ((y1 - y0) - rows * step)
    for index, picture in enumerate(pictures):
        row, column = divmod(index, across)
        size = (max(1, round(scale * picture.shape[1])), max(1, round(scale * picture.shape[0])))
        left = x0 + (column + 0.5) * width - 0.5 * size[0] if across > 1 else x0
        if len(pictures) == 1:
            left = x0
        yield resized(picture, size), (left, top + (row + 0.5) * step - 0.5 * size[1])


def _of_each_start(stamps: Sequence[FolderStamp]) -> tuple[FolderStamp, ...]:
    """Of stamps with one last part in their names the first."""
    found: dict[str, FolderStamp] = {}
    for stamp in stamps:
        found.setdefault(stamp.name.rpartition("/")[2], stamp)
    return tuple(found.values())


def _fullest(stamps: Sequence[FolderStamp]) -> FolderStamp:
    """One that shows well what its like are: of grids one with a row for weekdays."""
    first = sorted(stamps, key=lambda one: not one.name.endswith("-head"))
    return next(filter(_is_high, first), stamps[0])


def _is_high(stamp: FolderStamp) -> bool:
    """Whether it shows more than one row."""
    boxes = stamp.entry.layout.get("boxes", ())
    return not boxes or len({round(box["y0"]) for box in boxes}) > 1


def _beginning(stamp: FolderStamp) -> Grey:
    """A stamp's picture down to its third numeral."""
    feet = sorted(glyph["ink"][3] for glyph in stamp.entry.layout.get("glyphs", ()))
    picture = stamp.picture
    return picture[: round(feet[2] * 1.01)] if len(feet) > 2 else picture


def _trimmed(grey: Grey) -> Grey:
    x0, y0, x1, y1 = inked_box(grey)
    return np.ascontiguousarray(grey[y0:y1, x0:x1])
