"""Words, figures and spans of years as lines, and their sizes.

Numerals in cells and weekdays over columns are set from these.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, partial

from fontTools.unicodedata import script

from inkline.geometry.boxes import Box
from inkline.lettering.face import Face, Figures
from inkline.lettering.forms import Chosen
from inkline.lettering.line import SetLine, ink_bounds, set_line
from inkline.lettering.optical import set_numeral

_WORD_SPACING_EM = 0.04
"""Extra white between capitals in words, in em.
Capitals set as tight as text look crowded. Chosen by eye."""
FIT_WIDTH, FIT_HEIGHT = 0.77, 0.52
"""The largest share of a column's width and of the row's height that fitted weekdays fill.
Chosen by eye."""
FIT_INK = 0.62
"""The largest share of the row's height that words without capitals fill, top to bottom.
From their highest point to their lowest, where a script has no capitals. Chosen by eye: such words
have long strokes above and below, and the eye takes their middle for their size."""
EN_DASH = "\N{EN DASH}"
_HEADLINE = frozenset({"Deva", "Beng", "Guru"})
"""Scripts whose letters hang from a line that runs through a word, by their codes of ISO 15924."""


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

    def times(self, factor: float) -> TypeSize:
        """Everything larger by `factor`."""
        return TypeSize(
            em_px=self.em_px * factor,
            pen_px=self.pen_px * factor,
            height_px=self.height_px * factor,
        )


def size_from_height(face: Face, *, height_px: float, stem: float, design_em: float) -> TypeSize:
    """The size at which ink that is `design_em` high in the design stands `height_px` high.

    A pen of another width than the design's changes the ink's height as well, half a width at
    either end, and is reckoned with here.

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


def stems_high(face: Face, stem: float, *, is_asked: bool, design_em: float) -> float:
    """Pen widths in the height of ink that is `design_em` high in the design.

    `stem`, unless the face has a pen of its own and no other `is_asked` for: a font that is
    traced keeps its weight.
    """
    own = face.own_stem_em
    return stem if own is None or is_asked else design_em / own


def size_from_em(face: Face, *, em_px: float, stem: float, design_em: float) -> TypeSize:
    """The size whose em is `em_px`; otherwise as `size_from_height`."""
    unit = size_from_height(face, height_px=1.0, stem=stem, design_em=design_em)
    return unit.times(em_px / unit.em_px)


def line_ink(line: SetLine, size: TypeSize) -> Box:
    """Bounds of a line's undrawn ink in px about the start of its baseline."""
    return ink_bounds(line, size_px=size.em_px, width_px=size.pen_px)


def word_line(
    face: Face, text: str, figures: Figures, forms: Chosen = (), *, spacing: float = 0.0
) -> SetLine:
    """A word with a little air between capitals, and `spacing` em more between all letters.

    Letters that hang from a headline (Devanagari) stand as the face has them, word by word in one
    piece, or the line would tear.
    """
    if any(script(letter) in _HEADLINE for letter in text):
        return _word_by_word(set_line(face, text, figures=figures, forms=dict(forms)))
    air = _WORD_SPACING_EM if text.isupper() else 0.0
    return set_line(face, text, figures=figures, spacing_em=air + spacing, forms=dict(forms))


def figure_line(face: Face, text: str, figures: Figures, forms: Chosen = ()) -> SetLine:
    """A digit or a year, with even white between its digits.

    The first one is at the left, or at the right in scripts that write numbers so.
    """
    return _as_seen(face, text, figures, forms, range(len(text)))


def span_line(face: Face, text: str, figures: Figures, forms: Chosen = ()) -> SetLine:
    """Two years of as many digits with a dash between, the earlier one at the left.

    A hyphen stands for a dash that the face lacks.
    """
    return figure_line(face, _with_dash(face, text), figures, forms)


def leftward_span_line(face: Face, text: str, figures: Figures, forms: Chosen = ()) -> SetLine:
    """As `span_line` with the earlier year at the right.

    There begin to read whose language is written from the right (UAX #9).
    """
    dash = len(text) // 2
    seen = [*range(dash + 1, len(text)), dash, *range(dash)]
    return _as_seen(face, _with_dash(face, text), figures, forms, seen)


def _with_dash(face: Face, text: str) -> str:
    return text if face.has(EN_DASH) else text.replace(EN_DASH, "-")


def _as_seen(
    face: Face, text: str, figures: Figures, forms: Chosen, order: Sequence[int]
) -> SetLine:
    """`text` with its letters from the left in the `order` of their indices, which they keep."""
    if any(unicodedata.bidirectional(letter) == "R" for letter in text):
        return set_numeral(face, text, figures=figures, forms=dict(forms))
    line = _in_order(face, text, figures, forms, order)
    # A shaper gives the whole Arabic script one direction and lays digits out from the right as
    # well.
    return (
        _in_order(face, text, figures, forms, order[::-1]) if _runs_leftward(line, order) else line
    )


def _in_order(
    face: Face, text: str, figures: Figures, forms: Chosen, order: Sequence[int]
) -> SetLine:
    """`text` set with its letters in another order, each with its own index."""
    places = {index: place for place, index in enumerate(order)}
    moved = {places[index]: form for index, form in forms}
    line = set_numeral(face, "".join(text[index] for index in order), figures=figures, forms=moved)
    return replace(
        line,
        text=text,
        glyphs=tuple(replace(item, letter=order[item.letter]) for item in line.glyphs),
    )


def _runs_leftward(line: SetLine, order: Sequence[int]) -> bool:
    """Whether the letters run from right to left.

    That is, whether the one that should be leftmost lies to the right of the one that should be
    rightmost.
    """
    places = {item.letter: item.x_em for item in line.glyphs}
    return places[order[0]] > places[order[-1]]


def _word_by_word(line: SetLine) -> SetLine:
    """The line with the letters of each word as one letter.

    It is drawn and moved in one piece.
    """
    starts = [0]
    for before, letter in zip(line.text, line.text[1:], strict=False):
        starts.append(len(starts) if before.isspace() or letter.isspace() else starts[-1])
    return replace(
        line, glyphs=tuple(replace(item, letter=starts[item.letter]) for item in line.glyphs)
    )


LineSetter = Callable[[Face, str, Figures, Chosen], SetLine]
"""How a word is set: `word_line`, `figure_line` or what `spaced_words` gives."""


@lru_cache(maxsize=16)
def spaced_words(spacing: float) -> LineSetter:
    """`word_line` with this spacing, always the same function for the same spacing.

    So what was set with it is found again.
    """
    return partial(word_line, spacing=spacing)


def ink_width(line: SetLine, size: TypeSize) -> float:
    """Width of a line's undrawn ink in px."""
    x0, _, x1, _ = line_ink(line, size)
    return x1 - x0
