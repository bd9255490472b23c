"""A face around another, which draws some or all of its glyphs its own way.

It sets text as that one does, its kerning included.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass

from inkline.drawing import Play
from inkline.lettering.face import Face, Figures, Glyph, PlacedGlyph
from inkline.lettering.forms import with_changes


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WrappedFace(ABC):
    """A face that draws another's characters in its own way. It is a `Face`.

    Whatever it doesn't say itself is the other's.

    Attributes:
        face: what it is wrapped around.
    """

    face: Face

    @abstractmethod
    def drawn_glyph(self, character: str, glyph: Glyph) -> Glyph:
        """What is drawn for `character` in place of the face's own `glyph`.

        That glyph may be a form of it; the very same comes back where it is left alone.
        """

    @property
    def name(self) -> str:
        """The name of the face, from which most of what is seen comes."""
        return self.face.name

    @property
    def cap_height_em(self) -> float:
        """As of the face."""
        return self.face.cap_height_em

    @property
    def digit_height_em(self) -> float:
        """As of the face, even where the 7 itself is drawn otherwise.

        All others keep their size.
        """
        return self.face.digit_height_em

    @property
    def nominal_stem_em(self) -> float:
        """As of the face."""
        return self.face.nominal_stem_em

    @property
    def own_stem_em(self) -> float | None:
        """As of the face."""
        return self.face.own_stem_em

    @property
    def is_drawn_with_pen(self) -> bool:
        """As of the face."""
        return self.face.is_drawn_with_pen

    @property
    def lift_em(self) -> float:
        """As of the face."""
        return self.face.lift_em

    def play_of(self, character: str) -> Play | None:
        """As of the face."""
        return self.face.play_of(character)

    def has(self, character: str) -> bool:
        """Whether it has a glyph for one character: where the face has."""
        return self.face.has(character)

    def glyph(self, character: str) -> Glyph:
        """The glyph of one character as it is drawn here.

        Raises:
            MissingGlyphError: the face has none.
        """
        return self.drawn_glyph(character, self.face.glyph(character))

    def alternates(self, character: str) -> tuple[Glyph, ...]:
        """Other forms of one character: the face's."""
        return self.face.alternates(character)

    def placed_glyphs(
        self, text: str, *, figures: Figures
    ) -> tuple[tuple[PlacedGlyph, ...], float]:
        """The text's glyphs along a baseline from x = 0, and the whole advance in em.

        Kerned as the face kerns its own.

        Raises:
            MissingGlyphError: names every character that it cannot draw.
        """
        placed, advance = self.face.placed_glyphs(text, figures=figures)
        return with_changes(
            placed, advance, lambda item: self.drawn_glyph(text[item.letter], item.glyph)
        )
