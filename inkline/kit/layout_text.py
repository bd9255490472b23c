"""Letters at their exact places: numerals in cells, weekdays over columns, words on canvases of their own."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from inkline.calendar.grid import Box
from inkline.drawing import Mark, Role
from inkline.kit.layout import MOST_WEEKS, FormatLayout
from inkline.kit.recipe_model import FormatRecipe, Recipe
from inkline.kit.schema import FIT
from inkline.lettering.face import Face, Figures
from inkline.lettering.line import SetLine, ink_bounds, marks_from_line, set_line
from inkline.lettering.optical import optical_left, optical_top, set_numeral
from inkline.units import Length

NUMERALS = tuple(str(day) for day in range(1, 32))
WORD_SPACING_EM = 0.04
"""Extra white between capitals in words; capitals set as tight as text look crowded. Chosen by eye."""
COUNTED_DEPTH = 1 / 12
"""How deep white beside a numeral counts, as a share of its height; see `lettering.optical`. Chosen by eye."""
FIT_WIDTH, FIT_HEIGHT = 0.7, 0.46
"""The largest share of a column's width and of the row's height that fitted weekdays fill. Chosen by eye."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TypeSize:
    """How large letters are drawn.

    Attributes:
        em_px: the em.
        pen_px: width of the pen; of no effect on a font's outlines.
        height_px: height of the ink of what gave the size, a flat capital or figure.
    """

    em_px: float
    pen_px: float
    height_px: float

    def scaled(self, factor: float) -> TypeSize:
        """Everything larger by `factor`."""
        return TypeSize(em_px=self.em_px * factor, pen_px=self.pen_px * factor, height_px=self.height_px * factor)


def size_from_height(face: Face, *, height_px: float, stem: float, design_em: float) -> TypeSize:
    """The size at which ink that is `design_em` high in the design stands `height_px` high.

    A pen of another width than the design's changes the ink's height as well, half a width at either end, and is
    reckoned with here.

    Args:
        face: the letters.
        height_px: wanted height of the ink, > 0.
        stem: pen widths in that height, > 1; of no effect on a font.
        design_em: the face's cap height or digit height.
    """
    pen_px = height_px / stem
    if not face.is_drawn_with_pen:
        return TypeSize(em_px=height_px / design_em, pen_px=pen_px, height_px=height_px)
    skeleton_em = design_em - face.nominal_stem_em
    return TypeSize(em_px=(height_px - pen_px) / skeleton_em, pen_px=pen_px, height_px=height_px)


def size_from_em(face: Face, *, em_px: float, stem: float, design_em: float) -> TypeSize:
    """The size whose em is `em_px`; otherwise as `size_from_height`."""
    unit = size_from_height(face, height_px=1.0, stem=stem, design_em=design_em)
    return unit.scaled(em_px / unit.em_px)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlacedText:
    """A numeral or word at its place.

    Attributes:
        label: the last part of its full name; "" where the stamp's own name is the full name.
        line: what is set.
        size: how large.
        baseline: where its baseline starts, in px.
        cell: the cell it belongs to, in px.
    """

    label: str
    line: SetLine
    size: TypeSize
    baseline: tuple[float, float]
    cell: Box

    @property
    def ink(self) -> Box:
        """Exact bounds of the undrawn ink in px."""
        x0, y0, x1, y1 = line_ink(self.line, self.size)
        x, y = self.baseline
        return (x0 + x, y0 + y, x1 + x, y1 + y)

    def marks(self, stamp: str, role: Role) -> tuple[Mark, ...]:
        """Its exact marks."""
        return marks_from_line(
            self.line,
            name=f"{stamp}/{self.label}" if self.label else stamp,
            role=role,
            baseline=self.baseline,
            size_px=self.size.em_px,
            width_px=self.size.pen_px,
        )


def line_ink(line: SetLine, size: TypeSize) -> Box:
    """Bounds of a line's undrawn ink in px about the start of its baseline."""
    return ink_bounds(line, size_px=size.em_px, width_px=size.pen_px)


def numeral_size(recipe: Recipe, shape: FormatRecipe, layout: FormatLayout, face: Face) -> TypeSize:
    """Size of a format's numerals: a share is their height in cell widths, a length is the em."""
    design = face.digit_height_em
    if isinstance(shape.numeral, Length):
        return size_from_em(face, em_px=recipe.px(shape.numeral), stem=shape.stem, design_em=design)
    height = shape.numeral * layout.cell_width
    return size_from_height(face, height_px=height, stem=shape.stem, design_em=design)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class NumeralSet:
    """The numerals 1 to 31, set once for a format.

    Attributes:
        size: how large.
        lines: what is set, for each numeral.
        lefts: where each numeral's left side lies to the eye, from its baseline's start.
        top: where the top of all of them lies to the eye, from the baseline: one value, so that a row keeps one baseline.
    """

    size: TypeSize
    lines: dict[str, SetLine]
    lefts: dict[str, float]
    top: float

    def placed(self, text: str, cell: Box, layout: FormatLayout) -> PlacedText:
        """The numeral in the upper left of `cell`, the same mean white beside the rules' edges whatever its shape."""
        white = layout.rule / 2.0 + layout.gap
        baseline = (cell[0] + white - self.lefts[text], cell[1] + white - self.top)
        return PlacedText(label=text, line=self.lines[text], size=self.size, baseline=baseline, cell=cell)


@lru_cache(maxsize=32)
def numeral_set(face: Face, figures: Figures, size: TypeSize) -> NumeralSet:
    """The numerals in this face and size; remembered, for all seven sets of dates use it."""
    em, pen, depth = size.em_px, size.pen_px, COUNTED_DEPTH * size.height_px
    lines = {text: set_numeral(face, text, width_em=pen / em, figures=figures) for text in NUMERALS}
    lefts = {text: optical_left(line, size_px=em, width_px=pen, depth_px=depth) for text, line in lines.items()}
    all_digits = set_line(face, "0123456789", figures=figures)
    top = optical_top(all_digits, size_px=em, width_px=pen, depth_px=depth)
    return NumeralSet(size=size, lines=lines, lefts=lefts, top=top)


def placed_dates(
    recipe: Recipe, shape: FormatRecipe, layout: FormatLayout, face: Face, offset: int
) -> tuple[PlacedText, ...]:
    """The numerals 1 to 31 with the first `offset` columns in."""
    numerals = numeral_set(face, recipe.figures, numeral_size(recipe, shape, layout, face))
    grid = layout.grid(MOST_WEEKS)
    cells = (grid.day_cell(int(text), offset=offset) for text in NUMERALS)
    return tuple(numerals.placed(text, cell, layout) for text, cell in zip(NUMERALS, cells, strict=True))


def weekday_size(
    shape: FormatRecipe, layout: FormatLayout, face: Face, names: tuple[str, ...], figures: Figures
) -> TypeSize:
    """Size of the weekdays' letters: as asked, or as large as the widest name fits its column with room at both sides."""
    unit = size_from_height(face, height_px=1.0, stem=shape.weekday_stem, design_em=face.cap_height_em)
    if shape.weekday != FIT:
        return unit.scaled(float(shape.weekday) * layout.header_height)
    widest = max(ink_width(line, unit) for line in (word_line(face, name, figures) for name in names))
    return unit.scaled(min(FIT_WIDTH * layout.cell_width / widest, FIT_HEIGHT * layout.header_height))


def placed_weekdays(
    size: TypeSize, layout: FormatLayout, face: Face, figures: Figures, named: tuple[tuple[str, str], ...]
) -> tuple[PlacedText, ...]:
    """The seven weekdays over their columns: ink centred from left to right, capitals centred from top to bottom.

    Args:
        size: how large.
        layout: the format's measures.
        face: the letters.
        figures: which figures a font should use, should a name hold any.
        named: label and text of each column from the left.
    """
    placed = []
    for (label, text), cell in zip(named, layout.header_cells, strict=True):
        line = word_line(face, text, figures)
        x0, _, x1, _ = line_ink(line, size)
        baseline = ((cell[0] + cell[2] - x0 - x1) / 2.0, (cell[1] + cell[3] + size.height_px) / 2.0)
        placed.append(PlacedText(label=label, line=line, size=size, baseline=baseline, cell=cell))
    return tuple(placed)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WordSheet:
    """One word on its own canvas."""

    canvas: tuple[int, int]
    text: PlacedText


@lru_cache(maxsize=64)
def word_sheets(
    face: Face, figures: Figures, size: TypeSize, margin_px: float, texts: tuple[str, ...], setter: LineSetter
) -> tuple[WordSheet, ...]:
    """Canvases for a set of words: all of one height with one baseline, each as wide as its word.

    Canvases are whole px, and what that adds is white on both sides alike.
    """
    lines = [setter(face, text, figures) for text in texts]
    inks = [line_ink(line, size) for line in lines]
    top, bottom = min(ink[1] for ink in inks), max(ink[3] for ink in inks)
    height = math.ceil(bottom - top + 2.0 * margin_px)
    y = (height - top - bottom) / 2.0
    sheets = []
    for line, (x0, _, x1, _) in zip(lines, inks, strict=True):
        width = math.ceil(x1 - x0 + 2.0 * margin_px)
        text = PlacedText(
            label="",
            line=line,
            size=size,
            baseline=((width - x0 - x1) / 2.0, y),
            cell=(0.0, 0.0, float(width), float(height)),
        )
        sheets.append(WordSheet(canvas=(width, height), text=text))
    return tuple(sheets)


def word_line(face: Face, text: str, figures: Figures) -> SetLine:
    """A word as words are set here: capitals with a little air."""
    return set_line(face, text, figures=figures, spacing_em=WORD_SPACING_EM if text.isupper() else 0.0)


def figure_line(face: Face, text: str, figures: Figures) -> SetLine:
    """A digit or a year, with even white between its digits."""
    return set_numeral(face, text, figures=figures)


LineSetter = Callable[[Face, str, Figures], SetLine]
"""How a word is set: `word_line` or `figure_line`."""


def ink_width(line: SetLine, size: TypeSize) -> float:
    """Width of a line's undrawn ink in px."""
    x0, _, x1, _ = line_ink(line, size)
    return x1 - x0
