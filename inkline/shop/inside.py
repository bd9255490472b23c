"""What is inside: a tile for each kind of stamp, with some of them and how many there are."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from inkline.delivery.stamps import FolderStamp
from inkline.geometry.arrays import Grey
from inkline.kit.stamps.names import Subject
from inkline.shop.board import LEADING, Board, Box, inked_box, resized
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
_ROWS_OF = {"digits": 5, "months": 1, "years": 1, "captions": 1}
"""How many stand side by side of what a tile shows several of."""
_MOST_SHOWN = {"digits": 10, "months": 4, "years": 4, "captions": 3}
_ROWS_FOR_LENGTH = 0.5
"""Square of the rows into which something long is broken, by its length for its height: they fill
a tile then."""
_HAIR = 1e-6
_BETWEEN_WORDS = 0.6
"""White at which it may be broken, at least, in heights."""
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
    captions = [shop.phrases.count(f"kinds.{kind.key}", len(kind.stamps)) for kind in kinds]
    height = board.caption_height(captions, room=_room(places[1]))
    grounds = (shop.palette.deep, shop.palette.tint, shop.palette.accent)
    for kind, caption, place in zip(kinds, captions, places[1:], strict=True):
        row, column = _row_and_column(place, places)
        ground = grounds[(column + row * (1 if columns % 3 else 2)) % 3]
        board.fill(place, ground)
        room = _print_caption(board, caption, place, ground, height=height)
        _print_kind(board, kind, room, ground)
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
    box = (x0, y0 + white, x1 - 3.0 * white, y1)
    most = 0.5 * (y1 - y0)
    end = board.title(shop.phrases.say("shop.inside"), box=box, colour=colours.rule, most=most)
    count = shop.phrases.count("shop.stamps", len(shop.kit.stamps))
    base = min(y1 - 1.5 * board.text, end + 3.2 * board.text)
    board.letter(
        count, x=x0, baseline=base, height=1.15 * board.text, colour=colours.word, room=x1 - x0
    )


def _white(place: Box) -> float:
    """White within a tile."""
    return _INSET * min(place[2] - place[0], place[3] - place[1])


def _room(place: Box) -> float:
    """How wide what stands on a tile may be."""
    return place[2] - place[0] - 2.0 * _white(place)


def _print_caption(board: Board, text: str, place: Box, ground: str, *, height: float) -> Box:
    """Letter what a tile shows at its foot; where that has room itself."""
    (x0, y0, x1, y1), white = place, _white(place)
    colours = colourway_on(board.shop.palette, ground, dates_on_blocks=False)
    lines = board.caption_lines(text, height=height, room=_room(place) * (1.0 + _HAIR))
    base = y1 - 0.8 * white
    for index, line in enumerate(reversed(lines)):
        board.letter(
            line,
            x=x0 + white,
            baseline=base - index * LEADING * height,
            height=height,
            colour=colours.rule,
            room=_room(place),
        )
    foot = base - (len(lines) - 1) * LEADING * height - 2.7 * board.text
    return x0 + white, y0 + white, x1 - white, foot


def _print_kind(board: Board, kind: Kind, box: Box, ground: str) -> None:
    """Some stamps of a kind in a box."""
    palette = board.shop.palette
    colour = colourway_on(palette, ground, dates_on_blocks=False).rule
    if kind.key in {"blocks", "cut_blocks"}:
        colour = palette.tint if ground != palette.tint else palette.accent
    for grey, at in _shown(kind, box):
        board.print(grey, at=at, colour=colour)


def _shown(kind: Kind, box: Box) -> Iterator[tuple[Grey, tuple[float, float]]]:
    """Pictures of a kind and where they stand: one of calendars, several of words."""
    most = _MOST_SHOWN.get(kind.key, 1)
    stamps = kind.stamps[:most] if most > 1 else (_fullest(kind.stamps),)
    pictures = [
        row
        for stamp in stamps
        for row in rows_of(_trimmed(_beginning(stamp) if kind.key == "weeks" else stamp.picture))
    ]
    across = _ROWS_OF.get(kind.key, 1)
    rows = math.ceil(len(pictures) / across)
    x0, y0, x1, y1 = box
    width, height = (x1 - x0) / across, (y1 - y0) / rows
    widest = max(one.shape[1] for one in pictures)
    highest = max(one.shape[0] for one in pictures)
    fill = 0.62 if len(pictures) > 1 else 1.0
    spread = 0.72 if across > 1 else 1.0
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


def rows_of(grey: Grey) -> list[Grey]:
    """A picture, or where it is very long for its height parts of it, broken between words."""
    height, width = grey.shape
    count = int(math.sqrt(_ROWS_FOR_LENGTH * width / height))
    inked = np.flatnonzero(grey.any(axis=0))
    wide = np.flatnonzero(np.diff(inked) > _BETWEEN_WORDS * height)
    starts = [0, *(int(inked[one + 1]) for one in wide)]
    if count < 2 or len(starts) < 2 * count:
        return [grey]
    firsts = [starts[math.ceil(index * len(starts) / count)] for index in range(count)]
    ends = [*firsts[1:], width]
    return [grey[:, start:end] for start, end in zip(firsts, ends, strict=True)]


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
