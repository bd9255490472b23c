"""The lettering of a sampler, in our own family: plain for captions, inked in a style for its name."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from inkline.drawing import Drawing, Layer, Role
from inkline.ink.engine import draw
from inkline.ink.style import EXACT, Style
from inkline.lettering.face import Face
from inkline.lettering.line import ink_bounds, marks_from_line, set_line
from inkline.pages.lines import Align, TextLine
from inkline.raster.compose import render

_STEM = 8.5
"""Height of letters over the width of their strokes."""
_SPACING_EM = 0.035
_AROUND = 0.6
"""Room around the letters for ink that strays, as a share of their height."""
_SHEET_HEIGHTS = 17.0
"""How many letter heights the sheet is wide on which a name was drawn, so that a hand shows in it
as it does in a stamp's words."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lettering:
    """A line of text as a picture: grey, 255 full ink, and where its upper left corner lies on the sheet."""

    grey: NDArray[np.uint8]
    at: tuple[int, int]


def lettered(
    line: TextLine, *, face: Face, style: Style, number: int, name: str
) -> Lettering | None:
    """`line` in ink, without what the face lacks; None if nothing is left.

    Args:
        line: what to letter, and where on the sheet.
        face: the letters.
        style: its ink; `PLAIN` for plain letters.
        number: the drawing number.
        name: what the line is called among its drawing's marks.
    """
    text = "".join(letter for letter in line.text if face.has(letter))
    if not text.strip():
        return None
    x0, _, x1, _ = _bounds(text, line.height, face)
    height = line.height * min(1.0, line.room / (x1 - x0))
    grey, (x0, x1, top) = _picture(
        text, height, face, style, number, "sampler/line" if style is PLAIN else name
    )
    shift = {Align.LEFT: x0, Align.CENTRE: 0.5 * (x0 + x1), Align.RIGHT: x1}[line.align]
    return Lettering(grey=grey, at=(round(line.x - shift), round(line.baseline) - top))


@lru_cache(maxsize=1024)
def _picture(
    text: str, height: float, face: Face, style: Style, number: int, name: str
) -> tuple[NDArray[np.uint8], tuple[float, float, int]]:
    """The text as grey, where in that its ink begins and ends and on which row its baseline lies; kept, since captions repeat."""
    x0, y0, x1, y1 = _bounds(text, height, face)
    around = _AROUND * height
    left, top = math.floor(x0 - around), math.floor(y0 - around)
    marks = marks_from_line(
        set_line(face, text, spacing_em=_SPACING_EM),
        name=name,
        role=Role.WORD,
        baseline=(-left, -top),
        size_px=height / face.cap_height_em,
        width_px=height / _STEM,
    )
    canvas = math.ceil(x1 + around) - left, math.ceil(y1 + around) - top
    layers = (Layer(name="text", marks=marks),)
    drawing = Drawing(name=name, canvas=canvas, sheet_px=_SHEET_HEIGHTS * height, layers=layers)
    grey = render(draw(drawing, style, number))
    grey.setflags(write=False)
    return grey, (x0 - left, x1 - left, -top)


def _bounds(text: str, height: float, face: Face) -> tuple[float, float, float, float]:
    letters = set_line(face, text, spacing_em=_SPACING_EM)
    return ink_bounds(letters, size_px=height / face.cap_height_em, width_px=height / _STEM)


PLAIN = EXACT
"""The style of letters without a hand in them: at a caption's size none would show."""
