"""The small cut: numerals drawn a second way for use at a tenth of their size.

Printers used to cut small sizes heavier, wider and more open than large ones, because thin strokes
break and small counters fill up (common practice of the trade, no source). Here stems are 30 %
heavier at the same height, everything is a little wider, and the counters of 4, 6, 8 and 9 are kept
as open as a stem is wide: by the face's open form where it has one, and by more width, of all
numerals where several of these need it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from inkline.geometry.arrays import Points
from inkline.lettering.counters import counters, disc_within, offset_contours
from inkline.lettering.face import Face, Glyph
from inkline.lettering.profiles import inked_runs
from inkline.lettering.swap import outlined_glyph
from inkline.lettering.wrapped import WrappedFace

HEAVIER = 1.3
"""How many times heavier stems are.
Chosen by eye at an eighth of the size, where the usual stem is less than 2 px."""
WIDER = 1.08
"""How many times wider all numerals are at least. Chosen by eye."""
_WIDEST = 1.2
"""The most that all are widened for the sake of the counters of two of them, as in narrow faces."""
_ALONE = 0.1
"""How much wider than all a single numeral may be made to keep its own counters open.
More would stand out among the others."""
_OPEN_STEMS = 1.0
"""The least that must fit into a counter, a disc of so many stems."""
_WIDTH_STEP = 0.02
_ARMS = 0.55
"""Where the arms of an open 4 stand side by side, as a share of the height."""
_KEPT_OPEN = "4689"
_OPEN_FORM = ".open"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SmallCut(WrappedFace):
    """A face in its small cut, for figures. It is a `Face`.

    Its heights are those of the face, since heavier stems grow inwards.

    Attributes:
        face: the face that it is cut from.
        stem_em: width of its own stems, already heavier: for a family that of the pen, for a font
            that of its outlines.
        wider: how many times wider all numerals are.
    """

    stem_em: float
    wider: float = WIDER
    _cut: dict[str, Glyph] = field(default_factory=dict, repr=False)

    @property
    def nominal_stem_em(self) -> float:
        """The face's for a family, by which pens are reckoned; its own heavier stem for a font."""
        return self.face.nominal_stem_em if self.is_drawn_with_pen else self.stem_em

    def alternates(self, character: str) -> tuple[Glyph, ...]:  # noqa: ARG002
        """None: at this size each numeral has one form."""
        return ()

    def drawn_glyph(self, character: str, glyph: Glyph) -> Glyph:
        """A glyph of the face in the small cut, made once."""
        if glyph.name not in self._cut:
            self._cut[glyph.name] = (
                self._open_glyph(character, glyph)
                if character in _KEPT_OPEN
                else self._glyph_in_cut(glyph, self.wider)
            )
        return self._cut[glyph.name]

    def _open_glyph(self, character: str, glyph: Glyph) -> Glyph:
        """The glyph as wide as its counters need to stay open.

        In its open form where the face has one.
        """
        need = self.width_needed(character, glyph)
        return self._glyph_in_cut(
            self._open_form(character, glyph), min(max(need, self.wider), self.wider + _ALONE)
        )

    def width_needed(self, character: str, glyph: Glyph) -> float:
        """How many times wider a numeral must be for its counters to stay open.

        At least `WIDER`, and no more than is ever given.
        """
        form, low, high = self._open_form(character, glyph), WIDER, _WIDEST + _ALONE
        if self._is_open(self._glyph_in_cut(form, low)):
            return low
        if not self._is_open(self._glyph_in_cut(form, high)):
            return high
        while high - low > _WIDTH_STEP:
            middle = 0.5 * (low + high)
            low, high = (
                (low, middle) if self._is_open(self._glyph_in_cut(form, middle)) else (middle, high)
            )
        return high

    def _open_form(self, character: str, glyph: Glyph) -> Glyph:
        forms = (one for one in self.face.alternates(character) if one.name.endswith(_OPEN_FORM))
        return next(forms, glyph)

    def _is_open(self, glyph: Glyph) -> bool:
        """Whether a disc of a stem fits into each counter.

        And as much between strokes that stand side by side at half the height.
        """
        contours, least = (
            outlined_glyph(
                glyph, width_em=self.stem_em, stem_em=self.face.nominal_stem_em
            ).contours,
            _OPEN_STEMS * self.stem_em,
        )
        if any(disc_within(hole) < least for hole in counters(contours)):
            return False
        runs = inked_runs(contours, height=_ARMS * self.face.digit_height_em)
        return bool(np.all(runs[1:, 0] - runs[:-1, 1] >= least))

    def _glyph_in_cut(self, glyph: Glyph, wider: float) -> Glyph:
        """The glyph `wider` times as wide, and as heavy as the small cut is."""
        sideways = np.array([wider, 1.0])
        # The wider pen stands on the baseline as well.
        foot = (0.0, 0.5 * (self.stem_em - self.face.nominal_stem_em))

        def joint(x: float, y: float) -> tuple[float, float]:
            return x * wider, y + foot[1]

        strokes = tuple(
            replace(stroke, points=stroke.points * sideways + foot) for stroke in glyph.strokes
        )
        contours = (
            self._heavier_contours(tuple(contour * sideways for contour in glyph.contours), wider)
            if glyph.contours
            else ()
        )
        return replace(
            glyph,
            advance_em=glyph.advance_em * wider,
            strokes=strokes,
            contours=contours,
            entries=tuple(joint(*entry) for entry in glyph.entries),
            exit=glyph.exit and joint(*glyph.exit),
        )

    def _heavier_contours(self, contours: tuple[Points, ...], wider: float) -> tuple[Points, ...]:
        """Contours grown until upright stems are as heavy as all others; no higher.

        Width alone has made these heavier already.
        """
        grown = 0.5 * max(self.stem_em - self.face.nominal_stem_em * wider, 0.0)
        height = self.face.digit_height_em
        upright = np.array([1.0, (height - 2.0 * grown) / height])
        return offset_contours([contour * upright + (0.0, grown) for contour in contours], grown)


def small_cut(face: Face, *, pen_em: float) -> SmallCut:
    """`face` in its small cut.

    Args:
        face: a font or a stroke family.
        pen_em: width of the pen with which the small cut is drawn, in em, > 0; of no effect on a
            font, whose own stems grow heavier.
    """
    cut = SmallCut(
        face=face, stem_em=pen_em if face.is_drawn_with_pen else HEAVIER * face.nominal_stem_em
    )
    needs = sorted(
        cut.width_needed(digit, face.glyph(digit)) for digit in _KEPT_OPEN if face.has(digit)
    )
    return replace(cut, wider=min(needs[1], _WIDEST)) if len(needs) > 1 else cut
