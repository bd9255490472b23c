"""A face around another that changes nothing, or one letter, against the face itself."""

from dataclasses import dataclass, replace

import pytest

from faces import MEASURES
from inkline.lettering.errors import MissingGlyphError
from inkline.lettering.face import Figures, Glyph
from inkline.lettering.families import family_names, family_path
from inkline.lettering.family import open_family
from inkline.lettering.wrapped import WrappedFace

FAMILY = open_family(family_path(family_names()[0]))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wider(WrappedFace):
    """A face with letters that are wider by so much."""

    letters: str
    by_em: float = 0.1

    def drawn_glyph(self, character: str, glyph: Glyph) -> Glyph:
        return (
            replace(glyph, advance_em=glyph.advance_em + self.by_em)
            if character in self.letters
            else glyph
        )


def test_what_a_wrapped_face_does_not_say_itself_is_the_others():
    same = Wider(face=FAMILY, letters="")
    for name in MEASURES:
        assert getattr(same, name) == getattr(FAMILY, name)
    text = "Tuesday 14"
    placed, advance = same.placed_glyphs(text, figures=Figures.LINING)
    own, own_advance = FAMILY.placed_glyphs(text, figures=Figures.LINING)
    assert advance == own_advance
    assert all(
        a.glyph is b.glyph and (a.x_em, a.letter) == (b.x_em, b.letter)
        for a, b in zip(placed, own, strict=True)
    )
    assert [same.alternates(digit) for digit in "0123456789"] == [
        FAMILY.alternates(digit) for digit in "0123456789"
    ]
    assert same.has("7")
    assert not same.has("\N{SNOWMAN}")


def test_a_changed_letter_moves_all_that_follows():
    placed, advance = Wider(face=FAMILY, letters="1").placed_glyphs("71 1", figures=Figures.LINING)
    own, own_advance = FAMILY.placed_glyphs("71 1", figures=Figures.LINING)
    assert advance == pytest.approx(own_advance + 0.2, abs=1e-12)
    assert [a.x_em - b.x_em for a, b in zip(placed, own, strict=True)] == pytest.approx(
        [0.1 if item.letter > 1 else 0.0 for item in own], abs=1e-12
    )


def test_a_letter_that_the_face_lacks_is_missing_here_too():
    with pytest.raises(MissingGlyphError, match="\N{SNOWMAN}"):
        Wider(face=FAMILY, letters="1").glyph("\N{SNOWMAN}")


def test_each_is_equal_only_to_itself():
    face = Wider(face=FAMILY, letters="1")
    assert face != Wider(face=FAMILY, letters="1")
    assert len({face, face}) == 1
