"""Numerals set for drawing: each at its exact place on the canvas that its folder shares."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from inkline.drawing import Drawing, Layer, Mark, Role
from inkline.errors import Action, InputError, Remedy
from inkline.ink.bound import reach_mm
from inkline.ink.style import Style
from inkline.lettering.face import Face
from inkline.lettering.line import SetLine, marks_from_line, set_line
from inkline.lettering.optical import set_numeral
from inkline.lettering.setting import TypeSize, line_ink, size_from_height
from inkline.numerals.texts import NumeralGroup, file_stems

_SHEET_HEIGHTS = 13.4
"""How many numeral heights the sheet is wide on which a style was drawn: as many as on a kit's
standard format, so that a set shows the same hand at any size."""
_MARGIN = 0.16
"""White around the ink, at least, as a share of the numerals' height; chosen by eye."""
_LARGEST_SIDE = 20_000


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class NumeralPlan:
    """One picture of a set.

    Attributes:
        name: full name, such as `numerals/17`.
        text: what is drawn.
        stem: path of its files from the set's folder, without the ending.
        line: the text as set.
        size: how large.
        canvas: width and height in px.
        baseline: where its baseline starts, in px.
    """

    name: str
    text: str
    stem: str
    line: SetLine
    size: TypeSize
    canvas: tuple[int, int]
    baseline: tuple[float, float]

    @property
    def ink(self) -> tuple[float, float, float, float]:
        """Exact bounds of the undrawn ink in px."""
        x0, y0, x1, y1 = line_ink(self.line, self.size)
        x, y = self.baseline
        return x0 + x, y0 + y, x1 + x, y1 + y

    def drawing(self) -> Drawing:
        """Its exact drawing."""
        marks = numeral_marks(self.line, self.size, name=self.name, baseline=self.baseline)
        return numeral_drawing(self.name, marks, self.size, canvas=self.canvas)


def numeral_marks(
    line: SetLine, size: TypeSize, *, name: str, baseline: tuple[float, float]
) -> tuple[Mark, ...]:
    """The exact marks of a numeral or text."""
    return marks_from_line(
        line,
        name=name,
        role=Role.NUMERAL,
        baseline=baseline,
        size_px=size.em_px,
        width_px=size.pen_px,
    )


def numeral_drawing(
    name: str, marks: tuple[Mark, ...], size: TypeSize, *, canvas: tuple[int, int]
) -> Drawing:
    """The drawing of one numeral, on the sheet that fits its size."""
    sheet = _SHEET_HEIGHTS * size.height_px
    return Drawing(
        name=name, canvas=canvas, sheet_px=sheet, layers=(Layer(name="numeral", marks=marks),)
    )


def _set_size(face: Face, style: Style, *, height_px: float) -> TypeSize:
    """The size at which the face's flat figures stand `height_px` high.

    They are written with the pen that the face was designed for, a family's as heavy as the style
    suggests.
    """
    stem = face.digit_height_em / face.nominal_stem_em
    if face.own_stem_em is None:
        stem /= style.weights.stem
    return size_from_height(face, height_px=height_px, stem=stem, design_em=face.digit_height_em)


def plans_of_texts(
    face: Face, groups: Sequence[NumeralGroup], style: Style, *, height_px: float
) -> tuple[NumeralPlan, ...]:
    """Every picture of a set: one canvas a folder, one height and one baseline for all.

    A folder's canvas is as wide as its widest text needs, and every text's ink stands in its
    middle, so that one picture may take another's place.

    Raises:
        MissingGlyphError: names every character that the face lacks.
        InputError: a text without ink, or a canvas too large.
    """
    size = _set_size(face, style, height_px=height_px)
    set_line(
        face, "".join(text for group in groups for text in group.texts)
    )  # names all that is missing at once
    lines = {text: _line_of(face, text, size) for group in groups for text in group.texts}
    inks = {text: line_ink(line, size) for text, line in lines.items()}
    margin = math.ceil(_room(style, size))
    baseline = margin + math.ceil(-min(ink[1] for ink in inks.values()))
    height = baseline + math.ceil(max(0.0, *(ink[3] for ink in inks.values()))) + margin
    plans: list[NumeralPlan] = []
    for group in groups:
        width = math.ceil(max(inks[text][2] - inks[text][0] for text in group.texts)) + 2 * margin
        if max(width, height) > _LARGEST_SIDE:
            raise InputError(
                f"a picture of {group.folder} would be {width} x {height} px, and no side may be "
                f"longer than {_LARGEST_SIDE} px",
                remedies=(Remedy(action=Action.SMALLER_HEIGHT),),
            )
        for text, stem in zip(group.texts, file_stems(group.texts), strict=True):
            x0, _, x1, _ = inks[text]
            plans.append(
                NumeralPlan(
                    name=f"{group.folder}/{text}",
                    text=text,
                    stem=f"{group.folder}/{stem}",
                    line=lines[text],
                    size=size,
                    canvas=(width, height),
                    baseline=((width - x0 - x1) / 2.0, float(baseline)),
                )
            )
    return tuple(plans)


def _line_of(face: Face, text: str, size: TypeSize) -> SetLine:
    """A text with even white between its digits.

    Raises:
        InputError: nothing of it would show.
    """
    line = set_numeral(face, text, width_em=size.pen_px / size.em_px)
    if not any(item.glyph.has_ink for item in line.glyphs):
        raise InputError(f"{text!r} has nothing to draw")
    return line


def _room(style: Style, size: TypeSize) -> float:
    """How far ink may lie from its exact place, at least the usual margin, in px."""
    px_per_mm = _SHEET_HEIGHTS * size.height_px / style.drawn_at
    width_mm = size.pen_px / px_per_mm
    beyond = reach_mm(style, Role.NUMERAL, width_mm=width_mm) - 0.5 * width_mm
    return max(_MARGIN * size.height_px, beyond * px_per_mm)
