"""What a file of the user's holds: paths with their paint, runs of text, and what is lacking.

All coordinates are px of the picture to be made: x to the right, y down, curves flattened to within
`TOLERANCE_PX`. Nothing here knows how it is inked.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from inkline.geometry.arrays import Points

TOLERANCE_PX = 0.02
"""The farthest that a flattened curve lies from the true one."""


class LineCap(StrEnum):
    """How a line ends, in the words of SVG 2, 13.5.3."""

    BUTT = "butt"
    ROUND = "round"
    SQUARE = "square"


class LineJoin(StrEnum):
    """How a line turns a corner, in the words of SVG 2, 13.5.4."""

    MITER = "miter"
    ROUND = "round"
    BEVEL = "bevel"


class FillRule(StrEnum):
    """What lies within a path, in the words of SVG 2, 13.4.2."""

    NONZERO = "nonzero"
    EVENODD = "evenodd"


@dataclass(frozen=True, slots=True, kw_only=True)
class Paint:
    """One colour.

    Attributes:
        red, green, blue: sRGB, 0 to 1.
        opacity: 0 to 1, groups' opacities included.
    """

    red: float
    green: float
    blue: float
    opacity: float = 1.0

    @property
    def hex(self) -> str:
        """`#rrggbb`."""
        parts = (self.red, self.green, self.blue)
        return "#" + "".join(f"{round(255 * part):02x}" for part in parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pen:
    """What a line is drawn with.

    Attributes:
        width: px, > 0.
        cap, join: how it ends and turns.
        miter_limit: from which on pointed joins are cut off, >= 1.
        dashes: lengths of strokes and gaps in turn, px; none for a line without gaps.
        dash_offset: how far into the pattern the line begins, px.
    """

    width: float
    cap: LineCap = LineCap.BUTT
    join: LineJoin = LineJoin.MITER
    miter_limit: float = 4.0
    dashes: tuple[float, ...] = ()
    dash_offset: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Subpath:
    """One run of a path.

    Attributes:
        points: `(n, 2)`, n >= 1; a closed one does not repeat its first point.
        closed: whether its end is joined to its start.
    """

    points: Points
    closed: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ArtPath:
    """One shape of a file.

    Attributes:
        name: its id, "" if it has none.
        layer: the name of the topmost group that it lies in, "" if none.
        line: of the file, where it stands.
        subpaths: its outline.
        fill: what it is filled with, or None.
        fill_rule: what counts as within.
        stroke: what its outline is drawn with, or None.
        pen: with what pen; None without a stroke.
        clip: simple contours that bound it, `None` where nothing does.
        is_seen: whether it was seen in a picture, so that thin parts of it may be lines.
        is_letter: whether it is letters, of which no bar is a line.
    """

    name: str
    layer: str
    line: int
    subpaths: tuple[Subpath, ...]
    fill: Paint | None = None
    fill_rule: FillRule = FillRule.NONZERO
    stroke: Paint | None = None
    pen: Pen | None = None
    clip: tuple[Points, ...] | None = None
    is_seen: bool = False
    is_letter: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TextRun:
    """Characters to be set in one go.

    Attributes:
        name, layer, line: as of a path.
        text: what is set.
        at: start (or middle, or end) of its baseline, px.
        size: of the letters, px to an em.
        turn: of the line of writing, in radians, clockwise as the page has y down.
        anchor: which part of the line lies at `at`, those that follow it included: "start",
            "middle" or "end".
        follows: whether it goes on where the run before it ends, rather than at `at`.
        fill: what it is filled with.
        clip: as of a path.
        shift: px along the line of writing and below it, where it follows another or stands on a
            path.
        letter_turn: of its letters on that line, each about its start, in radians.
        length: px that its letters are spaced to fill, `None` for as long as they are.
        is_stretched: whether its letters are stretched to that length, and not spaced.
        path: a line that they stand on, `(n, 2)`, in place of a straight one at `at`; or `None`.
        path_from: px along it at which they start (or have their middle, or end).
        letter_space, word_space: px of white after each letter, and after each blank besides.
        line_heights: of lines that are drawn along all of it, px above its baseline.
    """

    name: str
    layer: str
    line: int
    text: str
    at: tuple[float, float]
    size: float
    anchor: str
    fill: Paint
    turn: float = 0.0
    follows: bool = False
    clip: tuple[Points, ...] | None = None
    shift: tuple[float, float] = (0.0, 0.0)
    letter_turn: float = 0.0
    length: float | None = None
    is_stretched: bool = False
    path: Points | None = None
    path_from: float = 0.0
    letter_space: float = 0.0
    word_space: float = 0.0
    line_heights: tuple[float, ...] = ()


ArtItem = ArtPath | TextRun
"""Anything that a file shows."""


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Lack:
    """Something in a file that is left out, or taken as its nearest plain thing.

    Attributes:
        line: of the file, 0 if it stands nowhere.
        what: the element or property, such as `<image>`.
        sentence: what becomes of it.
        has_plain: whether it is left out, and could be drawn as its nearest plain thing.
    """

    line: int
    what: str
    sentence: str
    has_plain: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Artwork:
    """A file, read.

    Attributes:
        title: what it calls itself, "" if nothing.
        canvas: width and height in px.
        px_per_mm: px of the picture to a mm of the user's own size; it is that of paper only where
            `is_true_size`.
        is_true_size: whether the file states its size in a unit of length.
        items: what it shows, the hindmost first.
        lacks: what is left out, by line.
    """

    title: str
    canvas: tuple[int, int]
    px_per_mm: float
    is_true_size: bool
    items: tuple[ArtItem, ...]
    lacks: tuple[Lack, ...]
