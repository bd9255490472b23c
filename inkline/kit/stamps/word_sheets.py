"""Words set alone, each on a canvas of its own, all of one height or all of one width."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from inkline.geometry.boxes import Box, Interval
from inkline.kit.stamps.pieces import PlacedText
from inkline.lettering.face import Face, Figures
from inkline.lettering.forms import Chosen
from inkline.lettering.line import SetLine
from inkline.lettering.setting import LineSetter, TypeSize, ink_width, line_ink

MOST_GROWN = 2.0
"""A word that is to fill a width grows to at most so many times the height of words, and stands in
the middle if that leaves it narrower. Chosen by eye: MAY would else stand three times as high as
SEPTEMBER and shout; now short names are as high as each other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """A word to be set.

    Attributes:
        text: what it says.
        forms: other forms of some of its letters.
        drawings: letters that have one drawing throughout the kit, with that drawing's full name.
    """

    text: str
    forms: Chosen = ()
    drawings: tuple[tuple[int, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WordSheet:
    """One word on its own canvas."""

    canvas: tuple[int, int]
    text: PlacedText


@lru_cache(maxsize=64)
def word_sheets(
    face: Face,
    figures: Figures,
    size: TypeSize,
    margin_px: float,
    words: tuple[Word, ...],
    setter: LineSetter,
    room: Interval,
) -> tuple[WordSheet, ...]:
    """Canvases for a set of words: all of one height with one baseline, each as wide as its word.

    Canvases are whole px, and what that adds is white on both sides alike. A set that needs more
    room than it is given has as much more above as below, so that sets of one room share their
    baseline where the middles of their canvases stand at one height.

    Args:
        face: the letters.
        figures: which figures a font should use.
        size: how large.
        margin_px: white around the ink.
        words: what is set.
        setter: how it is set.
        room: from where to where below the baseline a canvas has room for ink at least, in px.
    """
    lines = [setter(face, word.text, figures, word.forms) for word in words]
    inks = [line_ink(line, size) for line in lines]
    lacking = max(0.0, *(max(room[0] - ink[1], ink[3] - room[1]) for ink in inks))
    top, bottom = room[0] - lacking, room[1] + lacking
    return tuple(
        _sheet(word, line, size, (ink[0], top, ink[2], bottom), margin_px, ink[2] - ink[0])
        for word, line, ink in zip(words, lines, inks, strict=True)
    )


@lru_cache(maxsize=64)
def sheets_of_one_width(
    face: Face,
    figures: Figures,
    size: TypeSize,
    margin_px: float,
    words: tuple[Word, ...],
    setter: LineSetter,
    width_px: float,
) -> tuple[WordSheet, ...]:
    """Canvases of one width, each word as large as fills it, each as high as its word needs.

    The pen grows with the letters, so that a large word is the small one enlarged. None stands
    higher than `MOST_GROWN` times `size`.

    Args:
        face: the letters.
        figures: which figures a font should use.
        size: how large words are that needn't fill anything.
        margin_px: white around the ink.
        words: what is set.
        setter: how it is set.
        width_px: width of the ink that fills a canvas, > 0.
    """
    sheets = []
    for word in words:
        line = setter(face, word.text, figures, word.forms)
        grown = size.times(min(width_px / ink_width(line, size), MOST_GROWN))
        sheets.append(_sheet(word, line, grown, line_ink(line, grown), margin_px, width_px))
    return tuple(sheets)


def _sheet(
    word: Word, line: SetLine, size: TypeSize, bounds: Box, margin_px: float, width_px: float
) -> WordSheet:
    """A word in the middle of a canvas with room for ink as wide as said and high as `bounds`."""
    x0, top, x1, bottom = bounds
    width, height = math.ceil(width_px + 2.0 * margin_px), math.ceil(bottom - top + 2.0 * margin_px)
    text = PlacedText(
        label="",
        line=line,
        size=size,
        baseline=((width - x0 - x1) / 2.0, (height - top - bottom) / 2.0),
        cell=(0.0, 0.0, float(width), float(height)),
        drawings=dict(word.drawings),
    )
    return WordSheet(canvas=(width, height), text=text)
