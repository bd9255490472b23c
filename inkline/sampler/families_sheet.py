"""A specimen of stroke families: figures, other forms, alphabets and words of each on one sheet."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from inkline.drawing import Drawing, Layer, Role
from inkline.geometry.arrays import Grey
from inkline.ink.engine import draw
from inkline.ink.style import Style
from inkline.lettering.face import PlacedGlyph
from inkline.lettering.family import StrokeFamily
from inkline.lettering.line import SetLine, ink_bounds, marks_from_line, set_line
from inkline.lettering.setting import TypeSize, size_from_height
from inkline.output.png import colour_png_bytes
from inkline.pages.letters import PLAIN, print_line
from inkline.pages.lines import Align, TextLine
from inkline.pages.page import Page, part_on_page
from inkline.pages.palette import ACCENT, INK, PAPER, SOFT
from inkline.progress import Listener, Step, unheard
from inkline.raster.compose import render
from inkline.sampler.families import CAPITALS, FIGURES, SMALL_LETTERS, contents_of_family

_PPI = 300.0
_WIDTH, _MARGIN = 2480, 150
"""An A4 sheet's width at 300 pixels per inch (ISO 216), and the white around it."""
_SHEET_HEIGHTS = 12.0
"""How many letter heights the sheet is wide on which a row was drawn, so that a hand shows in it as
it does in a kit's numerals."""
_AROUND = 0.5
"""Room around a row for accents, tails and ink that strays, as a share of its height."""
_STEM = 8.0
_WORDS = (
    ("January", "May", "Wednesday", "März", "Donnerstag", "août", "décembre"),
    ("junho", "març", "středa", "říjen", "květen", "październik", "środa"),
    ("ağustos", "eylül", "Þriðjudagur", "lørdag", "Thứ Bảy", "Déardaoin", "šeštadienis"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One row of a specimen.

    Attributes:
        line: what is set.
        height: of its capitals or figures.
        gap: the white above it.
        colour: of its ink.
    """

    line: SetLine
    height: float
    gap: float
    colour: str = INK


def specimen_png(
    families: Sequence[StrokeFamily],
    *,
    style: Style,
    number: int,
    captions: StrokeFamily,
    listener: Listener = unheard,
) -> bytes:
    """The sheet as a PNG file. Cost: about 1 s a family.

    Args:
        families: what to show, from the top.
        style: the ink.
        number: the drawing number.
        captions: the family in which plain captions are lettered.
        listener: told of every family drawn.
    """
    bands = []
    for index, family in enumerate(families):
        rows = list(_rows(family))
        pictures = [
            _row_picture(row, style, number, f"specimen/{family.name}-{place}")
            for place, row in enumerate(rows)
        ]
        bands.append((family, rows, pictures))
        listener(Step(name=family.name, done=index + 1, total=len(families)))
    height = (
        2 * _MARGIN + sum(_band_height(rows) for _, rows, _ in bands) + _MARGIN * (len(bands) - 1)
    )
    page, y = Page((_WIDTH, math.ceil(height)), colour=PAPER), float(_MARGIN)
    for family, rows, pictures in bands:
        _print_caption(page, family, captions, y + rows[0].height)
        for row, (grey, left, top) in zip(rows, pictures, strict=True):
            y += row.gap + row.height
            part, at = part_on_page(grey, at=(_MARGIN + left, round(y) + top), size=page.size)
            page.ink(part, at=at, colour=row.colour)
        y += _AROUND * rows[-1].height + _MARGIN
    return colour_png_bytes(page.srgb(), ppi=_PPI)


def _rows(family: StrokeFamily) -> Iterator[_Row]:
    """The rows of a specimen, without those for which the family has no glyph."""
    for text, height, gap, colour in (
        (family.name, 120.0, 0.0, ACCENT),
        (FIGURES, 210.0, 110.0, INK),
    ):
        if line := _line(family, text):
            yield _Row(line=line, height=height, gap=gap, colour=colour)
    if others := _other_forms(family):
        yield _Row(line=others, height=130.0, gap=70.0, colour=SOFT)
    for text, height, gap in (
        (CAPITALS, 96.0, 90.0),
        (SMALL_LETTERS, 96.0, 50.0),
        (". , - – & ' / ( ) # + :", 80.0, 60.0),
    ):
        if line := _line(family, text):
            yield _Row(line=line, height=height, gap=gap)
    for words in _WORDS:
        text = "  ".join(word for word in words if all(family.has(character) for character in word))
        if line := _line(family, text):
            yield _Row(line=line, height=62.0, gap=56.0)


def _line(family: StrokeFamily, text: str) -> SetLine | None:
    """What the family has of a text, capitals with a little air; None if nothing is left."""
    kept = "".join(character for character in text if family.has(character))
    return (
        set_line(family, kept, spacing_em=0.06 if kept in (CAPITALS, SMALL_LETTERS) else 0.0)
        if kept.strip()
        else None
    )


def _other_forms(family: StrokeFamily) -> SetLine | None:
    """All other forms that the family has, in a row."""
    forms = [
        form
        for character in family.characters
        if character.isalnum()
        for form in family.alternates(character)
    ]
    x, placed = 0.0, []
    for index, form in enumerate(forms):
        placed.append(PlacedGlyph(glyph=form, x_em=x, y_em=0.0, letter=index))
        x += form.advance_em + 0.1
    return (
        SetLine(face=family, text=" " * len(forms), glyphs=tuple(placed), advance_em=x)
        if forms
        else None
    )


def _size(row: _Row) -> TypeSize:
    """The size of a row, smaller than it asks for if it would not fit the sheet."""
    face = row.line.face
    size = size_from_height(face, height_px=row.height, stem=_STEM, design_em=face.digit_height_em)
    x0, _, x1, _ = ink_bounds(row.line, size_px=size.em_px, width_px=size.pen_px)
    return size.times(min(1.0, (_WIDTH - 2 * _MARGIN) / (x1 - x0)))


def _row_picture(row: _Row, style: Style, number: int, name: str) -> tuple[Grey, int, int]:
    """A row as grey, where its picture begins left of the margin, and where above its baseline."""
    size = _size(row)
    x0, y0, x1, y1 = ink_bounds(row.line, size_px=size.em_px, width_px=size.pen_px)
    around = math.ceil(_AROUND * size.height_px)
    top = math.ceil(-y0) + around
    baseline = (around - x0, float(top))
    marks = marks_from_line(
        row.line,
        name=name,
        role=Role.NUMERAL,
        baseline=baseline,
        size_px=size.em_px,
        width_px=size.pen_px,
    )
    canvas = (math.ceil(x1 - x0) + 2 * around, top + math.ceil(y1) + around)
    layers = (Layer(name="letters", marks=marks),)
    drawing = Drawing(
        name=name, canvas=canvas, sheet_px=_SHEET_HEIGHTS * size.height_px, layers=layers
    )
    return render(draw(drawing, style, number)), -around, -top


def _band_height(rows: Sequence[_Row]) -> float:
    return sum(row.gap + row.height for row in rows) + _AROUND * rows[-1].height


def _print_caption(
    page: Page, family: StrokeFamily, captions: StrokeFamily, baseline: float
) -> None:
    """Print what the family holds, small, opposite its name."""
    line = TextLine(
        text=contents_of_family(family),
        x=_WIDTH - _MARGIN,
        baseline=baseline,
        height=26.0,
        room=0.5 * _WIDTH,
        align=Align.RIGHT,
    )
    print_line(page, line, face=captions, style=PLAIN, number=0, name="specimen/caption")
