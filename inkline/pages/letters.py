"""Lines of text on a page, lettered in our own families: set to their place, as marks, as pictures.

Every sheet letters its lines here: all share one weight of letters and one way to fit a line into
its room.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from inkline.drawing import Drawing, Layer, Mark, Role
from inkline.geometry.arrays import Grey
from inkline.ink.engine import draw
from inkline.ink.style import EXACT, Style
from inkline.lettering.face import Face
from inkline.lettering.line import SetLine, ink_bounds, marks_from_line, set_line
from inkline.pages.lines import TextLine
from inkline.pages.page import Page, part_on_page
from inkline.pages.palette import colour_of_tone
from inkline.raster.compose import render

STEM = 8.5
"""Height of a page's letters over the width of their strokes."""
SHEET_HEIGHTS = 17.0
"""How many letter heights the sheet is wide on which a line is drawn, so that a hand shows in it as
it does in a stamp's words."""
PLAIN = EXACT
"""The style of letters without a hand in them: at a caption's size none would show."""
_SPACING_EM = 0.035
_AROUND = 0.6
"""Room around the letters for ink that strays, as a share of their height."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LinePicture:
    """A line of text as a picture, and where it goes.

    Attributes:
        grey: its coverage, 255 full ink.
        at: x and y of its upper left corner on the sheet; parts of it may lie off the sheet.
    """

    grey: NDArray[np.uint8]
    at: tuple[int, int]


def print_line(
    page: Page, line: TextLine, *, face: Face, style: Style, number: int, name: str
) -> None:
    """Print `line` on `page` in the colour of its tone; what would lie off the page is left out.

    Args:
        page: is printed on.
        line: what to letter, and where on the page.
        face: the letters.
        style: its ink; `PLAIN` for plain letters.
        number: the drawing number.
        name: what the line is called among its drawing's marks.
    """
    picture = line_picture(line, face=face, style=style, number=number, name=name)
    if picture is not None:
        part, at = part_on_page(picture.grey, at=picture.at, size=page.size)
        page.ink(part, at=at, colour=colour_of_tone(line.tone))


def line_picture(
    line: TextLine, *, face: Face, style: Style, number: int, name: str
) -> LinePicture | None:
    """The picture of `line`, without what the face lacks; None if nothing is left.

    The arguments are those of `print_line`.
    """
    text = "".join(letter for letter in line.text if face.has(letter))
    if not text.strip():
        return None
    height = _fitted_height(line, set_line(face, text, spacing_em=_SPACING_EM))
    name = "sampler/line" if style is PLAIN else name
    grey, (x0, x1, top) = _picture(text, height, face, style, number, name)
    left = line.x - ((1.0 - line.align.share) * x0 + line.align.share * x1)
    return LinePicture(grey=grey, at=(round(left), round(line.baseline) - top))


def line_marks(line: TextLine, *, face: Face, name: str, spacing_em: float) -> tuple[Mark, ...]:
    """The marks of `line` at its place on the page, without what the face lacks.

    Args:
        line: what to letter, and where on the page.
        face: the letters.
        name: what the line is called among its drawing's marks.
        spacing_em: white between its letters beside their own.
    """
    text = "".join(letter for letter in line.text if face.has(letter))
    letters = set_line(face, text, spacing_em=spacing_em)
    if not any(item.glyph.has_ink for item in letters.glyphs):
        return ()
    height = _fitted_height(line, letters)
    x0, _, x1, _ = bounds_of_letters(letters, height=height)
    shift = (1.0 - line.align.share) * x0 + line.align.share * x1
    return marks_of_letters(
        letters, name=name, baseline=(line.x - shift, line.baseline), height=height
    )


def _fitted_height(line: TextLine, letters: SetLine) -> float:
    """The height of capitals at which `letters`, the line as set, fits the line's room."""
    x0, _, x1, _ = bounds_of_letters(letters, height=line.height)
    return line.height * min(1.0, line.room / (x1 - x0))


def bounds_of_letters(letters: SetLine, *, height: float) -> tuple[float, float, float, float]:
    """Where the ink of a line lies about the start of its baseline: left, top, right, bottom.

    Args:
        letters: the line as set, not all white.
        height: of its capitals.

    Raises:
        ValueError: the line has no ink.
    """
    return ink_bounds(letters, size_px=height / letters.face.cap_height_em, width_px=height / STEM)


def marks_of_letters(
    letters: SetLine, *, name: str, baseline: tuple[float, float], height: float
) -> tuple[Mark, ...]:
    """The marks of a line that begins at `baseline`, with capitals of `height`."""
    return marks_from_line(
        letters,
        name=name,
        role=Role.WORD,
        baseline=baseline,
        size_px=height / letters.face.cap_height_em,
        width_px=height / STEM,
    )


def centreline_width(text: str, *, face: Face, height: float) -> float:
    """How wide a plain line is from the middle of its first stroke to that of its last.

    Args:
        text: all of it in the face, and not all white.
        face: the letters.
        height: of the capitals.
    """
    letters = set_line(face, text, spacing_em=_SPACING_EM)
    x0, _, x1, _ = ink_bounds(letters, size_px=height / face.cap_height_em, width_px=0.0)
    return x1 - x0


@lru_cache(maxsize=1024)
def _picture(
    text: str, height: float, face: Face, style: Style, number: int, name: str
) -> tuple[Grey, tuple[float, float, int]]:
    """The text as grey, where in that its ink begins and ends, and the row of its baseline.

    Kept, since captions repeat.
    """
    letters = set_line(face, text, spacing_em=_SPACING_EM)
    x0, y0, x1, y1 = bounds_of_letters(letters, height=height)
    around = _AROUND * height
    left, top = math.floor(x0 - around), math.floor(y0 - around)
    marks = marks_of_letters(letters, name=name, baseline=(-left, -top), height=height)
    canvas = math.ceil(x1 + around) - left, math.ceil(y1 + around) - top
    layers = (Layer(name="text", marks=marks),)
    drawing = Drawing(name=name, canvas=canvas, sheet_px=SHEET_HEIGHTS * height, layers=layers)
    grey = render(draw(drawing, style, number))
    grey.setflags(write=False)
    return grey, (x0 - left, x1 - left, -top)
