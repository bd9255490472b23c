"""Lines of text and figures for pages of a PDF: our own families as text, other faces as outlines.

Over outlines the words are laid as text that is not shown, so that a reader finds and reads them.

Only letters that come with inkline are put into a file as a font. A font or a family of the user's
own is drawn as outlines there, since its licence may forbid to pass the font itself on. The licence
text decides; where it leaves a doubt, so should a professional.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import chain, pairwise

from inkline.drawing import Drawing, Layer, Mark, Role
from inkline.geometry.arrays import Points
from inkline.geometry.fitting import fitted_outlines
from inkline.ink.engine import draw
from inkline.ink.inked import InkedDrawing, InkedMark, united_contours
from inkline.ink.master import Master
from inkline.ink.style import EXACT, Style
from inkline.lettering.face import Face
from inkline.lettering.families import family_names
from inkline.lettering.family import StrokeFamily
from inkline.lettering.line import SetLine, marks_from_line, set_line
from inkline.output.font_file import DrawnLetter, FontAbout, font_bytes
from inkline.output.pdf import Figure, PdfItem, PlacedFigure, SpokenText, Text
from inkline.pages.faces import USUAL_FAMILY, has_all_letters, open_own_family
from inkline.pages.letters import SHEET_HEIGHTS, STEM, bounds_of_letters, marks_of_letters
from inkline.pages.lines import TextLine
from inkline.pages.palette import colour_of_tone

_FIGURE_PX = 400.0
"""Height of capitals at which writing is drawn as a figure, in its own px; fine enough for a page's
whole width."""
_TOLERANCE_PX = 0.4
"""How far a figure's curves may stray, in px of its own drawing: 0.02 mm and less on the page."""
_SPACING_EM = 0.03
_EM_PX = 1000.0
_SPACE_EM = 0.3
_TEXT = "text"
_LEFTWARDS = frozenset({"R", "AL"})
"""Directions of letters written from right to left, by Unicode's bidirectional classes (UAX 9)."""
_LEAST_WIDTH = 0.1
"""Of a letter in points, or a reader passes over it."""


class PageLetters:
    """Letters the pages of one PDF, each line in the first of its faces that has all its letters.

    It keeps count of the letters that the PDF's fonts must hold.
    """

    def __init__(self, family: str, face: Face) -> None:
        """The kit's family, `USUAL_FAMILY`, and then the kit's own `face`, whatever it is."""
        names = [name for name in dict.fromkeys((family, USUAL_FAMILY)) if name in family_names()]
        self._families: dict[str, StrokeFamily] = {name: open_own_family(name) for name in names}
        self._face = face
        self._used: dict[str, set[str]] = {name: set() for name in names}

    def width(self, line: TextLine) -> float:
        """How wide the ink of `line` is in points."""
        _, letters = self._letters(line.text)
        return 0.0 if letters is None else _span(letters, _fitted_height(line, letters))[1]

    def reach(self, text: str, *, height: float) -> float:
        """How far a line of text reaches along its baseline in points, white at its ends included.

        Quicker than `width`.
        """
        _, letters = self._letters(text)
        return 0.0 if letters is None else letters.advance_em * height / letters.face.cap_height_em

    def plain_items(self, line: TextLine) -> tuple[PdfItem, ...]:
        """`line` on the page in plain letters, without what no face has."""
        name, letters = self._letters(line.text)
        if letters is None:
            return ()
        if not name:
            return _outline_items(line, letters, _figure_of_letters(letters, EXACT, 0))
        height, at = _size_and_start(line, letters)
        self._used[name].update(letters.text)
        characters = tuple((letters.text[item.letter], item.x_em) for item in letters.glyphs)
        size, colour = height / letters.face.cap_height_em, colour_of_tone(line.tone)
        return (Text(font=name, characters=characters, at=at, size=size, colour=colour),)

    def inked_items(self, line: TextLine, *, style: Style, number: int) -> tuple[PdfItem, ...]:
        """`line` on the page as writing in `style`, as outlines in any face."""
        _, letters = self._letters(line.text)
        if letters is None:
            return ()
        return _outline_items(line, letters, _figure_of_letters(letters, style, number))

    def fonts(self) -> dict[str, bytes]:
        """The font files of what was set so far, by the keys that the texts name."""
        return {
            name: _font(self._families[name], "".join(sorted(used)))
            for name, used in self._used.items()
            if used
        }

    def _letters(self, text: str) -> tuple[str, SetLine | None]:
        """The family that `text` is set in, "" for the kit's face, and the text as set.

        The text is None where nothing can be shown.
        """
        for name, family in self._families.items():
            if has_all_letters(family, text):
                return name, _set_text(family, text) if text.strip() else None
        shown = "".join(letter for letter in text if letter == " " or self._face.has(letter))
        return "", _set_text(self._face, shown) if shown.strip() else None


def figure_of(
    drawing: Drawing,
    *,
    style: Style = EXACT,
    number: int = 0,
    again: Mapping[str, int] | None = None,
    kept: Mapping[str, Master] | None = None,
    tolerance_px: float = _TOLERANCE_PX,
) -> Figure:
    """A drawing as a figure in px of its canvas, in `style`, without the tooth of the paper.

    What is cut out of it is left out of its outlines too. What has its master among those `kept`,
    by their keys, is not drawn.
    """
    inked = draw(drawing, style, number, again=again, kept=kept)
    contours = united_contours(inked)
    if inked.cut is not None:
        holes = united_contours(inked.cut)
        contours = (*contours, *(hole[::-1] for hole in holes))
    return Figure(outlines=fitted_outlines(contours, tolerance=tolerance_px))


@lru_cache(maxsize=4096)
def _set_text(face: Face, text: str) -> SetLine:
    return set_line(face, text, spacing_em=_SPACING_EM)


def _span(letters: SetLine, height: float) -> tuple[float, float]:
    """Where the ink of a line begins, and how wide it is, at this height of capitals."""
    start, width = _unit_span(letters)
    return start * height, width * height


@lru_cache(maxsize=4096)
def _unit_span(letters: SetLine) -> tuple[float, float]:
    """The same at a height of 1; everything grows with it."""
    x0, _, x1, _ = bounds_of_letters(letters, height=1.0)
    return x0, x1 - x0


def _fitted_height(line: TextLine, letters: SetLine) -> float:
    """The height of capitals at which the line fits its room."""
    return line.height * min(1.0, line.room / _span(letters, line.height)[1])


def _size_and_start(line: TextLine, letters: SetLine) -> tuple[float, tuple[float, float]]:
    """The height of a line's capitals, and where its baseline starts, in points."""
    height = _fitted_height(line, letters)
    left, width = _span(letters, height)
    return height, (line.x - line.align.share * width - left, line.baseline)


def _outline_items(line: TextLine, letters: SetLine, figure: Figure) -> tuple[PdfItem, ...]:
    """A line drawn as `figure`, and over it what it says."""
    height, at = _size_and_start(line, letters)
    return (
        PlacedFigure(
            figure=figure, at=at, scale=height / _FIGURE_PX, colour=colour_of_tone(line.tone)
        ),
        _spoken_text(letters, at, height / letters.face.cap_height_em),
    )


def _spoken_text(line: SetLine, at: tuple[float, float], size: float) -> SpokenText:
    """What a line says, letter by letter from left to right, as it stands on the page."""
    starts: dict[int, float] = {}
    for item in line.glyphs:
        starts[item.letter] = min(item.x_em, starts.get(item.letter, item.x_em))
    ends = dict(pairwise([*sorted(starts), len(line.text)]))
    letters = sorted(starts, key=lambda letter: starts[letter])
    places = [starts[letter] for letter in letters] + [max(line.advance_em, starts[letters[-1]])]
    pieces = tuple(
        piece
        for letter, (before, after) in zip(letters, pairwise(places), strict=True)
        for piece in _split_letters(line.text[letter : ends[letter]], (after - before) * size)
    )
    return SpokenText(pieces=pieces, at=(at[0] + places[0] * size, at[1]), size=size)


def _split_letters(text: str, width: float) -> Iterator[tuple[str, float]]:
    """The letters of what is written as one, left to right, each with its share of the width."""
    leftwards = unicodedata.bidirectional(text[0]) in _LEFTWARDS
    for letter in reversed(text) if leftwards else text:
        yield letter, max(width / len(text), _LEAST_WIDTH)


@lru_cache(maxsize=512)
def _figure_of_letters(line: SetLine, style: Style, number: int) -> Figure:
    """A line as a figure, from the start of its baseline, capitals `_FIGURE_PX` high."""
    marks = marks_of_letters(
        line, name=f"guide/{line.text}", baseline=(0.0, 0.0), height=_FIGURE_PX
    )
    drawing = _drawing_of_marks(marks, sheet_px=SHEET_HEIGHTS * _FIGURE_PX)
    return figure_of(drawing, style=style, number=number)


def _drawing_of_marks(marks: tuple[Mark, ...], *, sheet_px: float) -> Drawing:
    return Drawing(
        name="guide", canvas=(1, 1), sheet_px=sheet_px, layers=(Layer(name=_TEXT, marks=marks),)
    )


@lru_cache(maxsize=8)
def _font(family: StrokeFamily, characters: str) -> bytes:
    """An OpenType font of these letters of a family, each drawn exactly."""
    letters = _drawn_letters(family, characters.replace(" ", ""))
    space = family.glyph(" ").advance_em if family.has(" ") else _SPACE_EM
    about = FontAbout(
        family=f"Inkline {family.name}",
        version=1.0,
        copyright="",
        description="",
        licence=family.licence,
        licence_address="",
        fs_type=0,
        sample="",
    )
    return font_bytes(letters, kerning={}, space_em=space, about=about)


def _drawn_letters(family: StrokeFamily, characters: str) -> list[DrawnLetter]:
    """Each of these letters drawn exactly; all in one drawing, which takes a third of the time."""
    width = _EM_PX * family.cap_height_em / STEM
    lines = {character: set_line(family, character) for character in characters}
    marks = {
        character: marks_from_line(
            line,
            name=character,
            role=Role.WORD,
            baseline=(0.0, 0.0),
            size_px=_EM_PX,
            width_px=width,
        )
        for character, line in lines.items()
    }
    inked = draw(_drawing_of_marks(tuple(chain(*marks.values())), sheet_px=_EM_PX), EXACT, 0)
    drawn = {mark.name: mark for mark in inked.marks}
    return [
        DrawnLetter(
            character=character,
            drawings=(
                _upright(
                    [drawn[mark.name] for mark in marks[character] if mark.name in drawn], inked
                ),
            ),
            sides_em=(0.0, line.advance_em),
        )
        for character, line in lines.items()
    ]


def _upright(marks: Sequence[InkedMark], inked: InkedDrawing) -> tuple[Points, ...]:
    """The outlines of some marks of a drawing as a font has them: of an em, y up."""
    contours = united_contours(replace(inked, marks=tuple(marks)))
    return tuple(contour[::-1] * (1.0 / _EM_PX, -1.0 / _EM_PX) for contour in contours)
