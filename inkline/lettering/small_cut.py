"""The small cut: numerals drawn a second way for use at a tenth of their size.

Printers used to cut small sizes heavier, wider and more open than large ones, because thin strokes break and small counters fill up
(common practice of the trade, no source). Here stems are 30 % heavier at the same height, everything is a little wider, and
the counters of 4, 6, 8 and 9 are kept as open as a stem is wide: by the face's open form where it has one, else by more width.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from inkline.lettering.counters import counters, disc_within, offset_contours
from inkline.lettering.face import Face, Figures, Glyph, PlacedGlyph
from inkline.lettering.forms import with_changes
from inkline.lettering.swap import outlined

Points = NDArray[np.float64]

HEAVIER = 1.3
"""How many times heavier stems are. Chosen by eye at an eighth of the size, where the usual stem is less than 2 px."""
WIDER = 1.08
"""How many times wider all numerals are. Chosen by eye."""
_WIDEST = 1.3
"""No numeral is made wider than this to keep its counters open, or it would stand out among the others."""
_OPEN_STEMS = 1.0
"""The least that must fit into a counter, a disc of so many stems."""
_WIDTH_STEP = 0.02
_KEPT_OPEN = "4689"
_OPEN_FORM = ".open"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SmallCut:
    """A face in its small cut, for figures. It is a `Face`.

    Attributes:
        face: the face that it is cut from.
        stem_em: width of its own stems, already heavier: for a family that of the pen, for a font that of its outlines.
    """

    face: Face
    stem_em: float
    _cut: dict[str, Glyph] = field(default_factory=dict, repr=False)

    @property
    def name(self) -> str:
        """The name of the face."""
        return self.face.name

    @property
    def cap_height_em(self) -> float:
        """As of the face."""
        return self.face.cap_height_em

    @property
    def digit_height_em(self) -> float:
        """As of the face: heavier stems grow inwards."""
        return self.face.digit_height_em

    @property
    def nominal_stem_em(self) -> float:
        """The face's for a family, by which pens are reckoned; its own heavier stem for a font."""
        return self.face.nominal_stem_em if self.is_drawn_with_pen else self.stem_em

    @property
    def is_drawn_with_pen(self) -> bool:
        """As of the face."""
        return self.face.is_drawn_with_pen

    def has(self, character: str) -> bool:
        """Whether it has a glyph for one character."""
        return self.face.has(character)

    def glyph(self, character: str) -> Glyph:
        """The glyph of one character in the small cut.

        Raises:
            MissingGlyphError: the face has none.
        """
        return self._small(character, self.face.glyph(character))

    def alternates(self, character: str) -> tuple[Glyph, ...]:  # noqa: ARG002
        """None: at this size each numeral has one form."""
        return ()

    def placed(self, text: str, *, figures: Figures) -> tuple[tuple[PlacedGlyph, ...], float]:
        """The text's glyphs along a baseline from x = 0, kerned as in the face, and the advance of the whole in em.

        Raises:
            MissingGlyphError: names every character that it cannot draw.
        """
        placed, advance = self.face.placed(text, figures=figures)
        return with_changes(placed, advance, lambda item: self._small(text[item.letter], item.glyph))

    def _small(self, character: str, glyph: Glyph) -> Glyph:
        if glyph.name not in self._cut:
            self._cut[glyph.name] = (
                self._kept_open(character, glyph) if character in _KEPT_OPEN else self._made(glyph, WIDER)
            )
        return self._cut[glyph.name]

    def _kept_open(self, character: str, glyph: Glyph) -> Glyph:
        """The glyph as wide as its counters need to stay open."""
        open_form = next((one for one in self.face.alternates(character) if one.name.endswith(_OPEN_FORM)), None)
        if open_form is not None:
            return self._made(open_form, WIDER)
        for wider in np.arange(WIDER, _WIDEST, _WIDTH_STEP):
            made = self._made(glyph, float(wider))
            holes = counters(outlined(made, width_em=self.stem_em).contours)
            if all(disc_within(hole) >= _OPEN_STEMS * self.stem_em for hole in holes):
                return made
        return self._made(glyph, _WIDEST)

    def _made(self, glyph: Glyph, wider: float) -> Glyph:
        """The glyph `wider` times as wide, and as heavy as the small cut is."""
        sideways = np.array([wider, 1.0])
        foot = (0.0, 0.5 * (self.stem_em - self.face.nominal_stem_em))  # so that the wider pen stands on the baseline
        strokes = tuple(replace(stroke, points=stroke.points * sideways + foot) for stroke in glyph.strokes)
        contours = (
            self._heavier(tuple(contour * sideways for contour in glyph.contours), wider) if glyph.contours else ()
        )
        return replace(glyph, advance_em=glyph.advance_em * wider, strokes=strokes, contours=contours)

    def _heavier(self, contours: tuple[Points, ...], wider: float) -> tuple[Points, ...]:
        """Contours grown until upright stems, which width alone has made heavier already, are as heavy as all others; no higher."""
        grown = 0.5 * max(self.stem_em - self.face.nominal_stem_em * wider, 0.0)
        height = self.face.digit_height_em
        upright = np.array([1.0, (height - 2.0 * grown) / height])
        return offset_contours([contour * upright + (0.0, grown) for contour in contours], grown)


def small_cut(face: Face, *, pen_em: float) -> SmallCut:
    """`face` in its small cut.

    Args:
        face: a font or a stroke family.
        pen_em: width of the pen with which the small cut is drawn, in em, > 0; of no effect on a font, whose own stems grow heavier.
    """
    return SmallCut(face=face, stem_em=pen_em if face.is_drawn_with_pen else HEAVIER * face.nominal_stem_em)
