"""Other forms of figures and letters in the places of the usual ones."""

import numpy as np
import pytest

from inkline.lettering.errors import TextError
from inkline.lettering.face import Figures
from inkline.lettering.family import open_family
from inkline.lettering.line import MOST_LETTERS, set_line
from inkline.lettering.optical import set_numeral


@pytest.fixture
def family(tmp_path, write_family, line):
    glyphs = {
        "one": (300, "1", line((150, 655), (150, 45))),
        "one.flag": (300, "", line((80, 600), (150, 655), (150, 45))),
        "one.wide": (400, "", line((200, 655), (200, 45))),
        "seven": (500, "7", line((50, 655), (400, 655), (200, 45))),
        "seven.named": (500, "&", line((50, 655), (400, 655))),
        "sevenish.x": (500, "", line((50, 655), (400, 655))),
        "space": (250, " ", None),
    }
    return open_family(
        write_family(tmp_path / "forms.ufo", glyphs, kerning={("one", "seven"): -40.0})
    )


def test_other_forms_are_the_unmapped_glyphs_called_like_the_character_s_own(family):
    assert [glyph.name for glyph in family.alternates("1")] == ["one.flag", "one.wide"]
    assert (
        family.alternates("7") == ()
    )  # one that a character has is that character's, and sevenish is no seven
    assert family.alternates("x") == ()


def test_a_font_offers_none_by_chance(fonts):
    assert fonts["roboto"].alternates("1") == ()


def test_a_glyph_is_found_by_its_name(family, fonts):
    assert family.glyph_named("one.flag") is family.alternates("1")[0]
    assert family.glyph_named("two") is None
    assert fonts["roboto"].glyph_named("seven").name == "seven"
    assert fonts["roboto"].glyph_named("no such glyph") is None


def test_a_form_keeps_the_kerning_and_pushes_what_follows_by_its_width(family):
    plain = set_line(family, "17")
    wide = set_line(family, "17", forms={0: family.glyph_named("one.wide")})
    assert [item.glyph.name for item in wide.glyphs] == ["one.wide", "seven"]
    assert plain.glyphs[1].x_em == pytest.approx(0.26)
    assert wide.glyphs[1].x_em == pytest.approx(0.36)
    assert wide.advance_em == pytest.approx(plain.advance_em + 0.1)


def test_a_form_stands_for_its_own_letter_only(family):
    line = set_line(family, "11", forms={1: family.glyph_named("one.flag")})
    assert [item.glyph.name for item in line.glyphs] == ["one", "one.flag"]


def test_a_form_stands_for_all_glyphs_of_its_letter(fonts, family):
    font = fonts["source-ttf"]
    # There is no joined letter, so the font sets a mark of its own.
    text = "x\N{COMBINING RING ABOVE}y"
    plain = set_line(font, text)
    clusters = [item.letter for item in plain.glyphs]
    assert len(plain.glyphs) == 3
    form = family.glyph_named("one.wide")
    line = set_line(font, text, forms=dict.fromkeys(clusters[:2], form))
    names = [item.glyph.name for item in line.glyphs]
    assert names.count("one.wide") == len(set(clusters[:2]))
    assert names[-1] == "y"


def test_digits_of_other_forms_are_spaced_evenly_too(scullery):
    forms = dict.fromkeys((0, 1), scullery.glyph_named("one.plain"))
    even, own = set_numeral(scullery, "11", forms=forms), set_line(scullery, "11", forms=forms)
    assert even.glyphs[1].x_em < own.glyphs[1].x_em - 0.01  # bare stems on tabular widths gape


def test_lines_of_absurd_length_are_refused(scullery):
    with pytest.raises(
        TextError,
        match=r"must have at most 500 letters, and the one that begins 'aaaa.*' has 10000",
    ):
        set_line(scullery, "a" * 10_000)
    assert len(set_line(scullery, "a" * MOST_LETTERS).glyphs) == MOST_LETTERS


@pytest.mark.parametrize("control", ["\a", "\0", "\n", "\t", "\x7f", "\x85", "\ud800"])
def test_control_characters_are_refused(scullery, fonts, control):
    for face in (scullery, fonts["roboto"]):
        with pytest.raises(
            TextError, match=r"must have no control characters, and '1.*7' has \(U\+"
        ) as caught:
            set_line(face, f"1{control}7")
        assert caught.value.text == f"1{control}7"


def test_forms_leave_an_unformed_line_as_it_is(scullery):
    plain, formed = set_line(scullery, "1234"), set_line(scullery, "1234", forms={})
    assert np.array_equal([g.x_em for g in plain.glyphs], [g.x_em for g in formed.glyphs])
    assert (
        scullery.placed_glyphs("12", figures=Figures.LINING)[1]
        == set_line(scullery, "12").advance_em
    )
