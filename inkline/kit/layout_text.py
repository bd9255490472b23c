"""Letters at their exact places: weekdays over columns, words on canvases of their own; numerals are in `layout_numerals`."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache, partial

from inkline.calendar.grid import Box
from inkline.drawing import Mark, Role
from inkline.kit.layout import FormatLayout
from inkline.kit.layout_forms import Chosen
from inkline.kit.recipe_model import FormatRecipe
from inkline.kit.schema_key import FIT
from inkline.lettering.face import Face, Figures
from inkline.lettering.line import SetLine, ink_bounds, marks_from_line, set_line
from inkline.lettering.optical import set_numeral

WORD_SPACING_EM = 0.04
"""Extra white between capitals in words; capitals set as tight as text look crowded. Chosen by eye."""
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
        drawings: for letters that have one drawing throughout the kit, by their index in the text, that drawing's full name.
        drawn_as: the full name of its drawing, if it is one that another stamp has as well, such as `tall/dates-3/17`; else "".
    """

    label: str
    line: SetLine
    size: TypeSize
    baseline: tuple[float, float]
    cell: Box
    drawings: Mapping[int, str] = field(default_factory=dict)
    drawn_as: str = ""

    @property
    def ink(self) -> Box:
        """Exact bounds of the undrawn ink in px."""
        x0, y0, x1, y1 = line_ink(self.line, self.size)
        x, y = self.baseline
        return (x0 + x, y0 + y, x1 + x, y1 + y)

    def marks(self, stamp: str, role: Role) -> tuple[Mark, ...]:
        """Its exact marks."""
        name = self.drawn_as or (f"{stamp}/{self.label}" if self.label else stamp)
        if not self.drawings:
            return self._marks(self.line, name, role)
        own = self._letters(item.letter for item in self.line.glyphs if item.letter not in self.drawings)
        marks = self._marks(own, name, role)
        for letter, drawing in self.drawings.items():
            marks += self._marks(self._letters((letter,)), drawing, role)
        return marks

    def _letters(self, letters: Iterable[int]) -> SetLine:
        """The line with only some of its letters."""
        wanted = set(letters)
        return replace(self.line, glyphs=tuple(item for item in self.line.glyphs if item.letter in wanted))

    def _marks(self, line: SetLine, name: str, role: Role) -> tuple[Mark, ...]:
        size = self.size
        return marks_from_line(
            line, name=name, role=role, baseline=self.baseline, size_px=size.em_px, width_px=size.pen_px
        )


def line_ink(line: SetLine, size: TypeSize) -> Box:
    """Bounds of a line's undrawn ink in px about the start of its baseline."""
    return ink_bounds(line, size_px=size.em_px, width_px=size.pen_px)


def weekday_size(
    shape: FormatRecipe, layout: FormatLayout, face: Face, names: tuple[str, ...], set_word: Callable[[str], SetLine]
) -> TypeSize:
    """Size of the weekdays' letters: as asked, or as large as the widest name fits its column with room at both sides."""
    unit = size_from_height(face, height_px=1.0, stem=shape.weekday_stem, design_em=face.cap_height_em)
    if shape.weekday != FIT:
        return unit.scaled(float(shape.weekday) * layout.header_height)
    widest = max(ink_width(set_word(name), unit) for name in names)
    return unit.scaled(min(FIT_WIDTH * layout.cell_width / widest, FIT_HEIGHT * layout.header_height))


def placed_weekdays(
    size: TypeSize, layout: FormatLayout, lines: Sequence[tuple[str, SetLine]]
) -> tuple[PlacedText, ...]:
    """The seven weekdays over their columns: ink centred from left to right, capitals centred from top to bottom.

    Args:
        size: how large.
        layout: the format's measures.
        lines: label of each column from the left, and what is set over it.
    """
    placed = []
    for (label, line), cell in zip(lines, layout.header_cells, strict=True):
        x0, _, x1, _ = line_ink(line, size)
        baseline = ((cell[0] + cell[2] - x0 - x1) / 2.0, (cell[1] + cell[3] + size.height_px) / 2.0)
        placed.append(PlacedText(label=label, line=line, size=size, baseline=baseline, cell=cell))
    return tuple(placed)


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
    face: Face, figures: Figures, size: TypeSize, margin_px: float, words: tuple[Word, ...], setter: LineSetter
) -> tuple[WordSheet, ...]:
    """Canvases for a set of words: all of one height with one baseline, each as wide as its word.

    Canvases are whole px, and what that adds is white on both sides alike.
    """
    lines = [setter(face, word.text, figures, word.forms) for word in words]
    inks = [line_ink(line, size) for line in lines]
    top, bottom = min(ink[1] for ink in inks), max(ink[3] for ink in inks)
    height = math.ceil(bottom - top + 2.0 * margin_px)
    y = (height - top - bottom) / 2.0
    sheets = []
    for word, line, (x0, _, x1, _) in zip(words, lines, inks, strict=True):
        width = math.ceil(x1 - x0 + 2.0 * margin_px)
        text = PlacedText(
            label="",
            line=line,
            size=size,
            baseline=((width - x0 - x1) / 2.0, y),
            cell=(0.0, 0.0, float(width), float(height)),
            drawings=dict(word.drawings),
        )
        sheets.append(WordSheet(canvas=(width, height), text=text))
    return tuple(sheets)


def word_line(face: Face, text: str, figures: Figures, forms: Chosen = (), *, spacing: float = 0.0) -> SetLine:
    """A word as words are set here: capitals with a little air, and `spacing` em more between all letters."""
    air = WORD_SPACING_EM if text.isupper() else 0.0
    return set_line(face, text, figures=figures, spacing_em=air + spacing, forms=dict(forms))


def figure_line(face: Face, text: str, figures: Figures, forms: Chosen = ()) -> SetLine:
    """A digit or a year, with even white between its digits."""
    return set_numeral(face, text, figures=figures, forms=dict(forms))


LineSetter = Callable[[Face, str, Figures, Chosen], SetLine]
"""How a word is set: `word_line`, `figure_line` or what `spaced_words` gives."""


@lru_cache(maxsize=16)
def spaced_words(spacing: float) -> LineSetter:
    """`word_line` with this spacing, always the same function for the same spacing, so that what was set with it is found again."""
    return partial(word_line, spacing=spacing)


def ink_width(line: SetLine, size: TypeSize) -> float:
    """Width of a line's undrawn ink in px."""
    x0, _, x1, _ = line_ink(line, size)
    return x1 - x0
