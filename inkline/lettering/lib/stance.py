"""Letters that don't stand in line: each a little aslant, above or below, and wider or narrower.

A row of type has one slant, one line and one width for a letter wherever it stands; a hand has
none of these. A family says how far its letters may go, and every word gets its own: two letters
alike stand differently in it, and the same word stands alike wherever it is set, so that layouts
that hold it are exact. What drawing numbers change comes on top, with the ink. Figures keep to
their line, and so does a letter by itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

import numpy as np

from inkline.chance import stream
from inkline.geometry.arrays import Floats, Points
from inkline.lettering.face import Glyph, GlyphStroke, PlacedGlyph

_NUMBER = 0
"""The number of the streams: words stand alike under all drawing numbers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stance:
    """How far letters of a word may stand from what the family draws, each the most; >= 0.

    Attributes:
        lean_deg: how many degrees further or less far a letter leans.
        lift_em: how far it stands above or below its line.
        width: how much wider or narrower it is, as a share of its width.
        about_em: the height about which letters lean, so that they keep their places.
    """

    lean_deg: float = 0.0
    lift_em: float = 0.0
    width: float = 0.0
    about_em: float = 0.0

    def stood(
        self, placed: Sequence[PlacedGlyph], text: str, advance_em: float
    ) -> tuple[tuple[PlacedGlyph, ...], float]:
        """The placed glyphs, one for each character, as they stand, and the advance in em.

        Words of one letter, and all that is no letter, stand as they are; those after a letter that
        is wider move on.

        Args:
            placed: along a baseline, one glyph for each character.
            text: the characters.
            advance_em: where a next letter would start.
        """
        at = [index for index, character in enumerate(text) if character.isalpha()]
        if len(at) < 2 or not (self.lean_deg or self.lift_em or self.width):
            return tuple(placed), advance_em
        values = dict(zip(at, self._values(text, len(at)), strict=True))
        stood = [
            replace(item, glyph=self._glyph(item.glyph, values[index])) if index in values else item
            for index, item in enumerate(placed)
        ]
        wider = (
            new.glyph.advance_em - old.glyph.advance_em
            for new, old in zip(stood, placed, strict=True)
        )
        shifts = list(accumulate(wider, initial=0.0))
        return (
            tuple(
                replace(item, x_em=item.x_em + shift) if shift else item
                for item, shift in zip(stood, shifts[:-1], strict=True)
            ),
            advance_em + shifts[-1],
        )

    def _values(self, text: str, count: int) -> Floats:
        """Tangent of the lean, lift and width of each letter of a text, `(count, 3)`.

        Evenly spread between their bounds; the mean is taken out of them, so that a word stands as
        its family does.
        """
        drawn = stream(_NUMBER, text, 0, "stance").uniform(-1.0, 1.0, (count, 3))
        drawn = np.clip(drawn - drawn.mean(axis=0), -1.0, 1.0)
        most = (np.tan(np.radians(self.lean_deg)), self.lift_em, self.width)
        return np.asarray(drawn * most)

    def _glyph(self, glyph: Glyph, values: Floats) -> Glyph:
        lean, lift, width = (float(value) for value in values)

        def place(anchor: tuple[float, float]) -> tuple[float, float]:
            x, y = anchor
            return (1.0 + width) * x + lean * (y - self.about_em), y + lift

        def moved(points: Points) -> Points:
            new = np.empty_like(points)
            new[:, 0] = (1.0 + width) * points[:, 0] + lean * (points[:, 1] - self.about_em)
            new[:, 1] = points[:, 1] + lift
            return new

        # Made by hand: a guide sets some ten thousand letters, and `replace` takes as long again.
        strokes = tuple(
            GlyphStroke(
                points=moved(one.points), closed=one.closed, widths_em=one.widths_em, cuts=one.cuts
            )
            for one in glyph.strokes
        )
        return Glyph(
            name=glyph.name,
            advance_em=(1.0 + width) * glyph.advance_em,
            strokes=strokes,
            contours=glyph.contours,
            entries=tuple(place(anchor) for anchor in glyph.entries),
            exit=glyph.exit and place(glyph.exit),
        )


UPRIGHT = Stance()
"""Letters that stand as they are drawn."""
