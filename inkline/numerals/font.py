"""The letters of a set's font: several drawings of each, inked, and how they are spaced."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from inkline.drawing import Drawing
from inkline.errors import InputError
from inkline.geometry.arrays import Points
from inkline.ink.engine import draw
from inkline.ink.inked import united_contours
from inkline.ink.master import Master
from inkline.ink.style import Style
from inkline.lettering.face import Face
from inkline.lettering.forms import DIGITS as DIGIT_CHARACTERS
from inkline.lettering.line import SetLine, set_line
from inkline.lettering.setting import TypeSize
from inkline.numerals.setting import NumeralPlan, numeral_drawing, numeral_marks
from inkline.numerals.spacing import spacing_of
from inkline.numerals.texts import DIGITS, LETTERS
from inkline.output.font_file import DrawnForm, DrawnLetter
from inkline.output.font_file_features import form_key

N_DRAWINGS = 3
"""Drawings of each letter; with two a row of equal figures would go to and fro, and each more makes
the file a third larger."""
_MOST_CHARACTERS = 200
"""Characters in a font at most: spacing looks at every pair of them, 40 000 in a second or two."""
_LEFTWARDS = ("R", "AL", "AN")
"""Directions of letters and figures written from right to left, by Unicode's bidirectional classes
(UAX 9)."""
_SPACE_EM = 0.25
"""Width of the space where the face has none."""
_CANVAS = (1, 1)
"""Letters of a font are outlines and are never put on a canvas."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FontLetters:
    """What a font file is made from.

    Attributes:
        letters: drawn.
        kerning: in em for pairs of characters and forms, by their keys.
        space_em: width of the space.
        masters: what was drawn, for keeping.
    """

    letters: tuple[DrawnLetter, ...]
    kerning: Mapping[tuple[str, str], float]
    space_em: float
    masters: tuple[Master, ...]


def font_characters(plans: Sequence[NumeralPlan], face: Face) -> tuple[str, ...]:
    """The characters of a set that go into a font.

    All ten digits come first if it has any, then the others by their codes.

    Left out are spaces, marks that need a letter, and letters written from right to left, whose
    joining and order a font of drawn letters by themselves can't keep.

    Raises:
        InputError: none are left, or there are more than `_MOST_CHARACTERS`.
    """
    found = dict.fromkeys("".join(plan.line.text for plan in plans))
    digits = (
        [d for d in DIGIT_CHARACTERS if face.has(d)]
        if any(c in DIGIT_CHARACTERS for c in found)
        else []
    )
    shown = (
        c
        for c in found
        if unicodedata.category(c)[0] not in "ZCM"
        and unicodedata.bidirectional(c) not in _LEFTWARDS
    )
    characters = tuple(dict.fromkeys([*digits, *sorted(shown)]))
    if not 1 <= len(characters) <= _MOST_CHARACTERS:
        raise InputError(
            f"a font of a set holds 1 to {_MOST_CHARACTERS} different characters, not "
            f"{len(characters)} (spaces and "
            "letters written from right to left don't count)",
            setting="font name",
        )
    return characters


def drawing_names(character: str) -> tuple[str, ...]:
    """Full names of a character's drawings.

    The first drawing of a digit is the one on the set's own picture of that digit.
    """
    folder = DIGITS if character in DIGIT_CHARACTERS else LETTERS
    return tuple(
        f"{folder}/{character}" + (f"~{count}" if count > 1 else "")
        for count in range(1, N_DRAWINGS + 1)
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LetterDrawings:
    """The exact drawings of one character about its own origin.

    Attributes:
        drawings: as many as a letter has in the font, alike but for their names.
        forms: its other forms, one drawing each.
    """

    drawings: tuple[Drawing, ...]
    forms: tuple[Drawing, ...]

    @property
    def all(self) -> tuple[Drawing, ...]:
        """Drawings, then forms."""
        return self.drawings + self.forms


def letter_drawings(
    characters: Sequence[str], face: Face, size: TypeSize
) -> dict[str, LetterDrawings]:
    """The exact drawings of each character."""

    def drawing(line: SetLine, name: str) -> Drawing:
        return numeral_drawing(
            name, numeral_marks(line, size, name=name, baseline=(0.0, 0.0)), size, canvas=_CANVAS
        )

    made = {}
    for character in characters:
        line, names = set_line(face, character), drawing_names(character)
        forms = [
            (form.name, set_line(face, character, forms={0: form}))
            for form in face.alternates(character)
        ]
        made[character] = LetterDrawings(
            drawings=tuple(drawing(line, name) for name in names),
            forms=tuple(drawing(other, f"{names[0]}~{name}") for name, other in forms),
        )
    return made


def drawn_letters(
    drawings: Mapping[str, LetterDrawings],
    face: Face,
    size: TypeSize,
    style: Style,
    *,
    number: int,
    kept: Mapping[str, Master],
) -> FontLetters:
    """The letters of a font, inked, with the spacing that the set's own numerals have.

    Args:
        drawings: from `letter_drawings`.
        face: the letters.
        size: at which `drawings` are.
        style: the ink.
        number: the drawing number.
        kept: masters by key; a mark whose key is among them is not drawn.
    """
    inked = {
        character: [draw(drawing, style, number, kept=kept) for drawing in own.all]
        for character, own in drawings.items()
    }
    spacing = spacing_of(tuple(drawings), face, size)
    letters = []
    for character, own in inked.items():
        contours = [tuple(_em(contour, size) for contour in united_contours(one)) for one in own]
        n_drawings = len(drawings[character].drawings)
        forms = [
            DrawnForm(
                contours=ink, sides_em=spacing.sides[key], tabular_em=spacing.tabular.get(key)
            )
            for index, ink in enumerate(contours[n_drawings:])
            if (key := form_key(character, index))
        ]
        letter = DrawnLetter(
            character=character,
            drawings=tuple(contours[:n_drawings]),
            sides_em=spacing.sides[character],
            tabular_em=spacing.tabular.get(character),
            forms=tuple(forms),
        )
        letters.append(letter)
    space = set_line(face, " ").advance_em if face.has(" ") else 0.0
    return FontLetters(
        letters=tuple(letters),
        kerning=spacing.kerning,
        space_em=space or _SPACE_EM,
        masters=tuple(master for own in inked.values() for one in own for master in one.masters),
    )


def _em(contour: Points, size: TypeSize) -> Points:
    """A drawn contour in em, y up, outer ones of positive area again."""
    return np.asarray(contour[::-1] * (1.0, -1.0) / size.em_px)
