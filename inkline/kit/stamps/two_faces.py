"""The letters of a kit whose numerals come from elsewhere than its words."""

from __future__ import annotations

from dataclasses import dataclass

from inkline.lettering.face import Face, Glyph
from inkline.lettering.wrapped import WrappedFace


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TwoFaces(WrappedFace):
    """The face of a kit's words, which knows that of its numerals. It is a `Face`: the words'.

    Attributes:
        numerals: the face of the numerals in cells.
    """

    numerals: Face

    def drawn_glyph(self, character: str, glyph: Glyph) -> Glyph:  # noqa: ARG002
        """The words' own glyph."""
        return glyph


def numerals_face(face: Face) -> Face:
    """The face of the numerals of a kit whose letters are `face`."""
    return face.numerals if isinstance(face, TwoFaces) else face


def words_face(face: Face) -> Face:
    """The face of the words of a kit whose letters are `face`."""
    return face.face if isinstance(face, TwoFaces) else face
