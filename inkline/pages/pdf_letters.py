"""Lettering and figures for pages of a PDF: our own families as text in a font, other faces as outlines with their words laid over.

Only letters that come with inkline are put into a file as a font. A font or a family of the user's
own is drawn as outlines there, since its licence may forbid to pass the font itself on. The licence
text decides; where it leaves a doubt, so should a professional.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from inkline.drawing import Drawing, Layer, Mark, Role
from inkline.geometry.fitting import fitted_outlines
from inkline.ink.engine import draw
from inkline.ink.inked import united_contours
from inkline.ink.style import EXACT, Style
from inkline.lettering.face import Face
from inkline.lettering.families import family_names, family_path
from inkline.lettering.family import StrokeFamily, open_family
from inkline.lettering.line import SetLine, ink_bounds, marks_from_line, set_line
from inkline.output.font_file import DrawnLetter, FontAbout, font_bytes
from inkline.output.pdf import Figure, PdfItem, Placed, Spoken, Text
from inkline.pages.lines import Align

USUAL_FAMILY = "scullery"
"""Letters everything that inkline itself says, where the kit's own family can't."""
FIGURE_PX = 400.0
"""Height of capitals at which writing is drawn as a figure, in its own px; fine enough for a page's
whole width."""
TOLERANCE_PX = 0.4
"""How far a figure's curves may stray, in px of its own drawing: 0.02 mm and less on the page."""
_STEM = 8.5
"""Height of letters over the width of their strokes."""
_SPACING_EM = 0.03
_SHEET_HEIGHTS = 17.0
"""How many letter heights the sheet of drawn writing is wide, so that a hand shows in it as it does
in a stamp's words."""
_EM_PX = 1000.0
_SPACE_EM = 0.3
_TEXT = "text"
_LEFTWARDS = frozenset({"R", "AL"})
"""Directions of letters written from right to left, by Unicode's bidirectional classes (UAX 9)."""
_LEAST_WIDTH = 0.1
"""Of a letter in points, or a reader passes over it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A line to be lettered.

    Attributes:
        text: what it says.
        at: x as `align` means it, and the baseline, in points.
        height: of the capitals, in points.
        colour: as `#rrggbb`.
        align: which point of the line x gives.
        room: the line is set smaller if it were wider than this, in points.
    """

    text: str
    at: tuple[float, float]
    height: float
    colour: str
    align: Align = Align.LEFT
    room: float = float("inf")


class PageLetters:
    """Sets words in the first of its faces that has all their letters, and keeps count of those that its font must hold."""

    def __init__(self, family: str, face: Face) -> None:
        """The kit's family, `USUAL_FAMILY`, and then the kit's own `face`, whatever it is."""
        names = [name for name in dict.fromkeys((family, USUAL_FAMILY)) if name in family_names()]
        self._families: dict[str, StrokeFamily] = {name: family_named(name) for name in names}
        self._face = face
        self._used: dict[str, set[str]] = {name: set() for name in names}

    def width(self, words: Words) -> float:
        """How wide the ink of `words` is in points."""
        _, line = self._line(words.text)
        return 0.0 if line is None else _spread(line, _fitted(words, line))[1]

    def reach(self, text: str, *, height: float) -> float:
        """How far a line of text reaches along its baseline in points, the white at its ends included; quicker than `width`."""
        _, line = self._line(text)
        return 0.0 if line is None else line.advance_em * height / line.face.cap_height_em

    def items(self, words: Words) -> tuple[PdfItem, ...]:
        """The words on the page, without what no face has."""
        name, line = self._line(words.text)
        if line is None:
            return ()
        height = _fitted(words, line)
        left, width = _spread(line, height)
        at = (_start(words, width) - left, words.at[1])
        size = height / line.face.cap_height_em
        if not name:
            figure = _writing(line, EXACT, 0)
            return (
                Placed(figure=figure, at=at, scale=height / FIGURE_PX, colour=words.colour),
                _spoken(line, at, size),
            )
        self._used[name].update(line.text)
        characters = tuple((line.text[item.letter], item.x_em) for item in line.glyphs)
        return (Text(font=name, characters=characters, at=at, size=size, colour=words.colour),)

    def drawn(self, words: Words, *, style: Style, number: int) -> tuple[PdfItem, ...]:
        """The words on the page as writing in `style`, as outlines in any face."""
        _, line = self._line(words.text)
        if line is None:
            return ()
        height = _fitted(words, line)
        left, width = _spread(line, height)
        at = (_start(words, width) - left, words.at[1])
        figure, size = _writing(line, style, number), height / line.face.cap_height_em
        return (
            Placed(figure=figure, at=at, scale=height / FIGURE_PX, colour=words.colour),
            _spoken(line, at, size),
        )

    def fonts(self) -> dict[str, bytes]:
        """The font files of what was set so far, by the keys that the texts name."""
        return {
            name: _font(self._families[name], "".join(sorted(used)))
            for name, used in self._used.items()
            if used
        }

    def _line(self, text: str) -> tuple[str, SetLine | None]:
        """The text set, and the name of the family it is set in, "" for the kit's face; None where nothing can be shown."""
        for name, family in self._families.items():
            if _has_all(family, text):
                return name, _set(family, text) if text.strip() else None
        shown = "".join(letter for letter in text if letter == " " or self._face.has(letter))
        return "", _set(self._face, shown) if shown.strip() else None


def figure_of(drawing: Drawing, *, style: Style = EXACT, number: int = 0) -> Figure:
    """A drawing as a figure in px of its canvas, in `style`, without the tooth of the paper."""
    contours = united_contours(draw(drawing, style, number))
    return Figure(outlines=fitted_outlines(contours, tolerance=TOLERANCE_PX))


def first_with(text: str, faces: Sequence[Face]) -> Face | None:
    """The first of `faces` that has every letter of `text`."""
    return next((face for face in faces if _has_all(face, text)), None)


def _has_all(face: Face, text: str) -> bool:
    return all(letter == " " or face.has(letter) for letter in text)


@lru_cache(maxsize=8)
def family_named(name: str) -> StrokeFamily:
    """A family that comes with inkline, opened once.

    Raises:
        FamilyError: there is none of that name.
    """
    return open_family(family_path(name))


def usual_family() -> StrokeFamily:
    """The family of everything that inkline itself says."""
    return family_named(USUAL_FAMILY)


@lru_cache(maxsize=4096)
def _set(face: Face, text: str) -> SetLine:
    return set_line(face, text, spacing_em=_SPACING_EM)


def _spread(line: SetLine, height: float) -> tuple[float, float]:
    """Where the ink of a line begins, and how wide it is, at this height of capitals."""
    start, width = _unit_spread(line)
    return start * height, width * height


@lru_cache(maxsize=4096)
def _unit_spread(line: SetLine) -> tuple[float, float]:
    """The same at a height of 1; everything grows with it."""
    x0, _, x1, _ = ink_bounds(line, size_px=1.0 / line.face.cap_height_em, width_px=1.0 / _STEM)
    return x0, x1 - x0


def _fitted(words: Words, line: SetLine) -> float:
    """The height of capitals at which the line fits its room."""
    return words.height * min(1.0, words.room / _spread(line, words.height)[1])


def _start(words: Words, width: float) -> float:
    """Where the ink of a line so wide begins."""
    return words.at[0] - {Align.LEFT: 0.0, Align.CENTRE: 0.5, Align.RIGHT: 1.0}[words.align] * width


def _spoken(line: SetLine, at: tuple[float, float], size: float) -> Spoken:
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
        for piece in _apart(line.text[letter : ends[letter]], (after - before) * size)
    )
    return Spoken(pieces=pieces, at=(at[0] + places[0] * size, at[1]), size=size)


def _apart(text: str, width: float) -> Iterator[tuple[str, float]]:
    """The letters of what is written as one, from left to right, each with its share of the width."""
    leftwards = unicodedata.bidirectional(text[0]) in _LEFTWARDS
    for letter in reversed(text) if leftwards else text:
        yield letter, max(width / len(text), _LEAST_WIDTH)


@lru_cache(maxsize=512)
def _writing(line: SetLine, style: Style, number: int) -> Figure:
    """A line as a figure, from the start of its baseline, capitals `FIGURE_PX` high."""
    marks = marks_from_line(
        line,
        name=f"guide/{line.text}",
        role=Role.WORD,
        baseline=(0.0, 0.0),
        size_px=FIGURE_PX / line.face.cap_height_em,
        width_px=FIGURE_PX / _STEM,
    )
    return figure_of(
        _drawing(marks, sheet_px=_SHEET_HEIGHTS * FIGURE_PX), style=style, number=number
    )


def _drawing(marks: tuple[Mark, ...], *, sheet_px: float) -> Drawing:
    return Drawing(
        name="guide", canvas=(1, 1), sheet_px=sheet_px, layers=(Layer(name=_TEXT, marks=marks),)
    )


@lru_cache(maxsize=8)
def _font(family: StrokeFamily, characters: str) -> bytes:
    """An OpenType font of these letters of a family, each drawn exactly."""
    letters = [_letter(family, character) for character in characters if character != " "]
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


def _letter(family: StrokeFamily, character: str) -> DrawnLetter:
    width = _EM_PX * family.cap_height_em / _STEM
    line = set_line(family, character)
    marks = marks_from_line(
        line, name=character, role=Role.WORD, baseline=(0.0, 0.0), size_px=_EM_PX, width_px=width
    )
    contours = united_contours(draw(_drawing(marks, sheet_px=_EM_PX), EXACT, 0))
    upright = tuple(contour[::-1] * (1.0 / _EM_PX, -1.0 / _EM_PX) for contour in contours)
    return DrawnLetter(character=character, drawings=(upright,), sides_em=(0.0, line.advance_em))
