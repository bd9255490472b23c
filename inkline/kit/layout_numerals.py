"""Numerals at their exact places in cells.

They are placed by the white that the eye compares and not by their boxes; `lettering.optical` states the formula.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from inkline.calendar.grid import Box
from inkline.kit.layout import MOST_WEEKS, FormatLayout
from inkline.kit.layout_forms import Chosen, chosen_forms, one_drawings
from inkline.kit.layout_text import PlacedText, TypeSize, size_from_em, size_from_height
from inkline.kit.recipe_model import FormatRecipe, Recipe
from inkline.kit.recipe_values import NUMERALS
from inkline.kit.schema_words import Level, Side
from inkline.lettering.face import Face, Figures
from inkline.lettering.line import SetLine, set_line
from inkline.lettering.optical import optical_bottom, optical_left, optical_right, optical_top, set_numeral
from inkline.lettering.small_cut import HEAVIER, small_cut
from inkline.units import Length

COUNTED_DEPTH = 1 / 12
"""How deep white beside a numeral counts, as a share of its height; see `lettering.optical`. Chosen by eye: open numerals then hang out by
that at most, and round ones by two thirds of it."""
EVEN_DEPTH = 1 / 5
"""How deep it counts where the white is to be even. The mean white of 1, 7, 8, 11, 24 and 31 is then the same within 0.5 % of their height."""


def numeral_size(recipe: Recipe, shape: FormatRecipe, layout: FormatLayout, face: Face) -> TypeSize:
    """Size of a format's numerals: a share is their height in cell widths, a length is the em; in the small cut with a heavier pen."""
    design, stem = face.digit_height_em, shape.stem / HEAVIER if shape.is_small else shape.stem
    if isinstance(shape.numeral, Length):
        return size_from_em(face, em_px=recipe.px(shape.numeral), stem=stem, design_em=design)
    return size_from_height(face, height_px=shape.numeral * layout.cell_width, stem=stem, design_em=design)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Numeral:
    """A numeral, set, and where its sides lie to the eye, in px from the start of its baseline."""

    line: SetLine
    left: float
    right: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NumeralSet:
    """The numerals of a format.

    Attributes:
        face: their letters, already in the small cut if that is what the format asks for.
        figures: which figures a font should use.
        size: how large.
        depth: how deep the white beside them counts, as a share of their height.
    """

    face: Face
    figures: Figures
    size: TypeSize
    depth: float = COUNTED_DEPTH

    def placed(
        self,
        text: str,
        cell: Box,
        layout: FormatLayout,
        *,
        forms: Chosen = (),
        drawings: tuple[tuple[int, str], ...] = (),
    ) -> PlacedText:
        """The numeral in its place in `cell`, the same mean white beside rules' or blocks' edges whatever its shape."""
        numeral = _numeral(self, text, forms)
        top, bottom = _levels(self)
        side, level = layout.place
        right, down = layout.shifts.get(text, (0.0, 0.0))
        x = {
            Side.LEFT: cell[0] + layout.white - numeral.left,
            Side.CENTRE: 0.5 * (cell[0] + cell[2] - numeral.left - numeral.right),
            Side.RIGHT: cell[2] - layout.white - numeral.right,
        }[side]
        y = {
            Level.TOP: cell[1] + layout.white - top,
            Level.MIDDLE: 0.5 * (cell[1] + cell[3] - top - bottom),
            Level.BOTTOM: cell[3] - layout.white - bottom,
        }[level]
        return PlacedText(
            label=text,
            line=numeral.line,
            size=self.size,
            baseline=(x + right, y + down),
            cell=cell,
            drawings=dict(drawings),
        )


@lru_cache(maxsize=32)
def _small_face(face: Face, pen_em: float) -> Face:
    """The small cut of a face, remembered, for all seven sets of dates use it."""
    return small_cut(face, pen_em=pen_em)


def numerals_of(recipe: Recipe, shape: FormatRecipe, layout: FormatLayout, face: Face) -> NumeralSet:
    """The numerals of the format `shape`."""
    size = numeral_size(recipe, shape, layout, face)
    cut = _small_face(face, size.pen_px / size.em_px) if shape.is_small else face
    depth = COUNTED_DEPTH + shape.evenness * (EVEN_DEPTH - COUNTED_DEPTH)
    return NumeralSet(face=cut, figures=recipe.figures, size=size, depth=depth)


def placed_dates(
    recipe: Recipe, shape: FormatRecipe, layout: FormatLayout, face: Face, offset: int
) -> tuple[PlacedText, ...]:
    """The numerals 1 to 31 with the first `offset` columns in."""
    numerals = numerals_of(recipe, shape, layout, face)
    grid = layout.grid(MOST_WEEKS)
    return tuple(
        numerals.placed(
            text,
            grid.day_cell(int(text), offset=offset),
            layout,
            forms=chosen_forms(recipe, numerals.face, text, f"{layout.name}/dates-{offset + 1}/{text}"),
            drawings=one_drawings(recipe, text),
        )
        for text in NUMERALS
    )


@lru_cache(maxsize=2048)
def _numeral(numerals: NumeralSet, text: str, forms: Chosen) -> Numeral:
    size = numerals.size
    line = set_numeral(
        numerals.face, text, width_em=size.pen_px / size.em_px, figures=numerals.figures, forms=dict(forms)
    )
    depth = numerals.depth * size.height_px
    left = optical_left(line, size_px=size.em_px, width_px=size.pen_px, depth_px=depth)
    right = optical_right(line, size_px=size.em_px, width_px=size.pen_px, depth_px=depth)
    return Numeral(line=line, left=left, right=right)


@lru_cache(maxsize=32)
def _levels(numerals: NumeralSet) -> tuple[float, float]:
    """Where the top and the bottom of all numerals lie to the eye, from the baseline: the same for all, so that a row keeps one baseline."""
    size, depth = numerals.size, COUNTED_DEPTH * numerals.size.height_px
    all_digits = set_line(numerals.face, "0123456789", figures=numerals.figures)
    top = optical_top(all_digits, size_px=size.em_px, width_px=size.pen_px, depth_px=depth)
    return top, optical_bottom(all_digits, size_px=size.em_px, width_px=size.pen_px, depth_px=depth)
