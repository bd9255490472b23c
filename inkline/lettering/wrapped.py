"""A face around another: it sets text as that one does, its kerning included, and draws some or all of its glyphs its own way."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass

from inkline.lettering.face import Face, Figures, Glyph, PlacedGlyph
from inkline.lettering.forms import with_changes


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WrappedFace(ABC):
    """A face that draws another's characters in its own way; whatever it doesn't say itself is the other's. It is a `Face`.

    Attributes:
        face: what it is wrapped around.
    """

    face: Face

    @abstractmethod
    def drawn(self, character: str, glyph: Glyph) -> Glyph:
        """What is drawn for `character` in place of the face's own `glyph`, which may be a form of it; that very glyph to leave it."""

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
        """As of the face, even where the 7 itself is drawn otherwise: all others keep their size."""
        return self.face.digit_height_em

    @property
    def nominal_stem_em(self) -> float:
        """As of the face."""
        return self.face.nominal_stem_em

    @property
    def is_drawn_with_pen(self) -> bool:
        """As of the face."""
        return self.face.is_drawn_with_pen

    def has(self, character: str) -> bool:
        """Whether it has a glyph for one character: where the face has."""
        return self.face.has(character)

    def glyph(self, character: str) -> Glyph:
        """The glyph of one character as it is drawn here.

        Raises:
            MissingGlyphError: the face has none.
        """
        return self.drawn(character, self.face.glyph(character))

    def alternates(self, character: str) -> tuple[Glyph, ...]:
        """Other forms of one character: the face's."""
        return self.face.alternates(character)

    def placed(self, text: str, *, figures: Figures) -> tuple[tuple[PlacedGlyph, ...], float]:
        """The text's glyphs along a baseline from x = 0, kerned as the face kerns its own, and the advance of the whole in em.

        Raises:
            MissingGlyphError: names every character that it cannot draw.
        """
        placed, advance = self.face.placed(text, figures=figures)
        return with_changes(placed, advance, lambda item: self.drawn(text[item.letter], item.glyph))
