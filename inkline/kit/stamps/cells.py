"""Numerals at their exact places in cells.

They are placed by the white that the eye compares and not by their boxes; `lettering.optical`
states the formula.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from inkline.calendar.numbering import in_digits
from inkline.geometry.boxes import Box
from inkline.kit.recipe.choices import DatesAs, Drawings, Level, Shows, Side
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.forms import chosen_forms, one_drawings
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.names import StampName, Subject, part_name
from inkline.kit.stamps.pieces import PlacedText
from inkline.kit.stamps.place import Place
from inkline.lettering.face import Face, Figures
from inkline.lettering.forms import DIGITS, Chosen
from inkline.lettering.line import SetLine, ink_bounds, set_line
from inkline.lettering.optical import (
    optical_bottom,
    optical_left,
    optical_right,
    optical_top,
    set_numeral,
)
from inkline.lettering.setting import TypeSize, size_from_em, size_from_height, stems_high
from inkline.lettering.small_cut import HEAVIER, small_cut
from inkline.units import Length

COUNTED_DEPTH = 1 / 12
"""How deep white beside a numeral counts, as a share of its height; see `lettering.optical`. Chosen
by eye: open numerals then hang out by that at most, and round ones by two thirds of it."""
_EVEN_DEPTH = 1 / 5
"""How deep it counts where the white is to be even. The mean white of 1, 7, 8, 11, 24 and 31 is
then the same within 0.5 % of their height."""
LONGEST = 31
"""Days of the longest month."""
_LESSENED = 0.7
"""The pen of smaller numerals among larger ones narrows by this power of their size: less than they
do, or they would look printed smaller instead of written smaller. Chosen by eye."""


def numeral_size(place: Place) -> TypeSize:
    """Size of a format's numerals; in the small cut with a heavier pen.

    A share is their height in cell widths, a length is the em.
    """
    recipe, shape, face = place.recipe, place.shape, place.numerals_face
    design = _digit_height(face, recipe)
    is_asked = "stem" in shape.stems_asked
    stem = stems_high(face, shape.stem, is_asked=is_asked, design_em=design)
    stem = stem / HEAVIER if shape.is_small else stem
    if isinstance(shape.numeral, Length):
        return size_from_em(face, em_px=recipe.px(shape.numeral), stem=stem, design_em=design)
    height = shape.numeral * place.layout.cell_width
    return size_from_height(face, height_px=height, stem=stem, design_em=design)


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
        digits: the ten digits that they are written in, zero first.
        least_digits: shorter numbers are written with zeros before them.
    """

    face: Face
    figures: Figures
    size: TypeSize
    depth: float = COUNTED_DEPTH
    digits: str = DIGITS
    least_digits: int = 1

    def text_of(self, number: str) -> str:
        """How a number, given in the digits 0 to 9, is written."""
        return in_digits(number.zfill(self.least_digits), self.digits)

    def forms(self, recipe: Recipe, number: str, name: str) -> Chosen:
        """The digits of a number that another form is drawn for; `name` is its full name."""
        if recipe.drawings is Drawings.ONE:
            return ()
        return chosen_forms(recipe, self.face, self.text_of(number), name)

    def drawings(self, recipe: Recipe, number: str) -> tuple[tuple[int, str], ...]:
        """The digits of a number that have one drawing throughout the kit.

        That goes by their names in 0 to 9.
        """
        return one_drawings(recipe, number.zfill(self.least_digits))

    def numeral(self, number: str, forms: Chosen = ()) -> Numeral:
        """A number, set."""
        return _numeral(self, self.text_of(number), forms)

    @property
    def levels(self) -> tuple[float, float]:
        """Where the top and the foot of all numerals lie to the eye, in px below the baseline."""
        return _levels(self)

    def baseline_in(self, cell: Box, layout: FormatLayout) -> float:
        """The height of the baseline on which all numerals of a row of cells stand."""
        (top, bottom), (_, level) = self.levels, layout.place
        return {
            Level.TOP: cell[1] + layout.white - top,
            Level.MIDDLE: 0.5 * (cell[1] + cell[3] - top - bottom),
            Level.BOTTOM: cell[3] - layout.white - bottom,
        }[level]

    def text_in_cell(
        self,
        number: str,
        cell: Box,
        layout: FormatLayout,
        *,
        forms: Chosen = (),
        drawings: tuple[tuple[int, str], ...] = (),
        drawn_as: str = "",
    ) -> PlacedText:
        """The number, given in the digits 0 to 9, in its place in `cell`.

        Whatever its shape, it has the same mean white beside rules' or blocks' edges.
        """
        numeral = self.numeral(number, forms)
        side, _ = layout.place
        right, down = layout.shifts.get(number, (0.0, 0.0))
        x = {
            Side.LEFT: cell[0] + layout.white - numeral.left,
            Side.CENTRE: 0.5 * (cell[0] + cell[2] - numeral.left - numeral.right),
            Side.RIGHT: cell[2] - layout.white - numeral.right,
        }[side]
        return PlacedText(
            label=number,
            line=numeral.line,
            size=self.size,
            baseline=(x + right, self.baseline_in(cell, layout) + down),
            cell=cell,
            drawings=dict(drawings),
            drawn_as=drawn_as,
        )


@lru_cache(maxsize=32)
def _small_face(face: Face, pen_em: float) -> Face:
    """The small cut of a face, remembered, for all seven sets of dates use it."""
    return small_cut(face, pen_em=pen_em)


def numerals_of(place: Place) -> NumeralSet:
    """The numerals of the dates of a format."""
    numerals = _numerals_at(place, numeral_size(place))
    padded = place.shape.dates_as is DatesAs.PADDED
    return replace(numerals, least_digits=2) if padded else numerals


def smaller_numerals_of(place: Place, share: float) -> NumeralSet:
    """The numerals of the dates of a format at `share` of their height, by the same hand."""
    usual, face = numerals_of(place), place.numerals_face
    height, pen = usual.size.height_px * share, usual.size.pen_px * share**_LESSENED
    size = size_from_height(
        face, height_px=height, stem=height / pen, design_em=_digit_height(face, place.recipe)
    )
    return replace(_numerals_at(place, size), least_digits=usual.least_digits)


def _numerals_at(place: Place, size: TypeSize) -> NumeralSet:
    """Numerals of the size `size` among those of a format, unpadded."""
    recipe, shape, face = place.recipe, place.shape, place.numerals_face
    cut = _small_face(face, size.pen_px / size.em_px) if shape.is_small else face
    depth = COUNTED_DEPTH + shape.evenness * (_EVEN_DEPTH - COUNTED_DEPTH)
    return NumeralSet(
        face=cut, figures=recipe.figures, size=size, depth=depth, digits=recipe.digits
    )


def dates_name(shape: FormatRecipe, offset: int) -> StampName:
    """The name of the stamp whose drawings all share that show the same days in the same cells."""
    if shape.shows is Shows.STRIP:
        return StampName(folder=shape.name, subject=Subject.STRIP_DATES, days=LONGEST)
    return StampName(folder=shape.name, subject=Subject.DATES, column=offset + 1)


def date_texts(
    place: Place, offset: int, *, days: Iterable[int] = range(1, LONGEST + 1)
) -> tuple[PlacedText, ...]:
    """The numerals of `days` in their cells, with the first of the month `offset` columns in.

    The 17 has the same drawing on every stamp on which it stands in the same cell: that called
    `tall/dates-3/17`, whatever the stamp is called.
    """
    recipe, layout = place.recipe, place.layout
    numerals, grid = numerals_of(place), layout.grid()
    stamp = dates_name(place.shape, offset).text
    texts = []
    for day in days:
        number, name = str(day), part_name(stamp, str(day))
        texts.append(
            numerals.text_in_cell(
                number,
                grid.day_cell(day, offset=offset),
                layout,
                forms=numerals.forms(recipe, number, name),
                drawings=numerals.drawings(recipe, number),
                drawn_as=name,
            )
        )
    return tuple(texts)


@lru_cache(maxsize=2048)
def _numeral(numerals: NumeralSet, text: str, forms: Chosen) -> Numeral:
    size = numerals.size
    line = set_numeral(
        numerals.face,
        text,
        width_em=size.pen_px / size.em_px,
        figures=numerals.figures,
        forms=dict(forms),
    )
    depth = numerals.depth * size.height_px
    left = optical_left(line, size_px=size.em_px, width_px=size.pen_px, depth_px=depth)
    right = optical_right(line, size_px=size.em_px, width_px=size.pen_px, depth_px=depth)
    return Numeral(line=line, left=left, right=right)


@lru_cache(maxsize=32)
def _levels(numerals: NumeralSet) -> tuple[float, float]:
    """Where the top and the bottom of all numerals lie to the eye, from the baseline.

    They are the same for all, so that a row keeps one baseline.
    """
    size, depth = numerals.size, COUNTED_DEPTH * numerals.size.height_px
    all_digits = set_line(numerals.face, numerals.digits, figures=numerals.figures)
    top = optical_top(all_digits, size_px=size.em_px, width_px=size.pen_px, depth_px=depth)
    return top, optical_bottom(all_digits, size_px=size.em_px, width_px=size.pen_px, depth_px=depth)


def _digit_height(face: Face, recipe: Recipe) -> float:
    """Height of the digits in em: of the 7 for the digits 0 to 9, else of the tallest."""
    if recipe.digits == DIGITS:
        return face.digit_height_em
    return _tallest(face, recipe.digits, recipe.figures)


@lru_cache(maxsize=32)
def _tallest(face: Face, digits: str, figures: Figures) -> float:
    return -ink_bounds(
        set_line(face, digits, figures=figures), size_px=1.0, width_px=face.nominal_stem_em
    )[1]
