"""Spacing of a font of a drawn set against the set's own numerals, as HarfBuzz sets them."""

import io
from dataclasses import dataclass
from itertools import product
from pathlib import Path

import font_roboto
import numpy as np
import pytest
import shapely
from fontTools.ttLib import TTFont

from faces import scullery, shipped_family
from font_files import font_about, shaped
from inkline.cli.remedies import error_sentence
from inkline.errors import InputError
from inkline.ink.style import EXACT
from inkline.lettering.font import open_font
from inkline.lettering.line import set_line
from inkline.lettering.optical import set_numeral
from inkline.numerals.font import (
    N_DRAWINGS,
    drawing_names,
    drawn_letters,
    font_characters,
    letter_drawings,
)
from inkline.numerals.setting import plans_of_texts
from inkline.numerals.texts import groups_from_text
from inkline.output.font_file import UNITS_PER_EM, font_bytes
from inkline.press.inputs import ink_keys
from inkline.styles.files import load_style, style_files

ABOUT = font_about("Pier", sample="1")
FACES = {
    "family": scullery,
    "font": lambda: open_font(Path(font_roboto.font_files["Roboto"])),
}


@pytest.fixture(scope="module", params=FACES)
def face(request):
    return FACES[request.param]()


@pytest.fixture(scope="module")
def plans(face):
    return plans_of_texts(face, groups_from_text("1-31,1st-3rd"), EXACT, height_px=60.0)


@pytest.fixture(scope="module")
def letters(face, plans):
    size = plans[0].size
    drawings = letter_drawings(font_characters(plans, face), face, size)
    return drawn_letters(drawings, face, size, EXACT, number=1, kept={})


@pytest.fixture(scope="module")
def data(letters):
    return font_bytes(
        letters.letters, kerning=letters.kerning, space_em=letters.space_em, about=ABOUT
    )


def test_all_digits_and_each_letter_are_there(face, plans):
    assert "".join(font_characters(plans, face)) == "0123456789dnrst"
    letters_only = plans_of_texts(face, groups_from_text("A-C,a b"), EXACT, height_px=60.0)
    assert "".join(font_characters(letters_only, face)) == "ABCab"


@dataclass
class Text:
    text: str


@dataclass
class Plan:
    line: Text


def test_letters_written_leftwards_stay_out_and_some_must_be_left():
    face = FACES["family"]()
    assert font_characters([Plan(Text("a\u05d0 b\u0301"))], face) == ("a", "b")
    for text in ("\u05d0\u0628", "".join(map(chr, range(0x4E00, 0x4E00 + 201)))):
        with pytest.raises(InputError) as caught:
            font_characters([Plan(Text(text))], face)
        assert error_sentence(caught.value).startswith(
            "--otf: a font of a set holds 1 to 200 different characters, not"
        )


def left_em(glyph):
    """The left end of a glyph's ink, in em about its origin, but for half a pen."""
    return min(
        [stroke.points[:, 0].min() for stroke in glyph.strokes]
        + [one[:, 0].min() for one in glyph.contours]
    )


def test_pairs_stand_as_in_the_pictures(face, plans, data):
    """From the left end of one figure's ink to that of the next.

    The font's way and the set's own agree to rounding.
    """
    size = plans[0].size
    strings = TTFont(io.BytesIO(data))["CFF "].cff.topDictIndex[0].CharStrings
    for first, second in product("0123456789", repeat=2):
        a, b = set_numeral(face, first + second, width_em=size.pen_px / size.em_px).glyphs
        expected = b.x_em + left_em(b.glyph) - a.x_em - left_em(a.glyph)
        names, advances = shaped(data, first + second)
        lefts = [strings[name].calcBounds(None)[0] for name in names]
        assert advances[0] + lefts[1] - lefts[0] == pytest.approx(expected * UNITS_PER_EM, abs=4.0)


def test_other_forms_stand_as_in_the_pictures(face, plans, data):
    size = plans[0].size
    strings = TTFont(io.BytesIO(data))["CFF "].cff.topDictIndex[0].CharStrings
    with_forms = [digit for digit in "0123456789" if face.alternates(digit)]
    for first, second in product(with_forms, repeat=2):
        forms = {0: face.alternates(first)[0], 1: face.alternates(second)[0]}
        a, b = set_numeral(
            face, first + second, width_em=size.pen_px / size.em_px, forms=forms
        ).glyphs
        expected = b.x_em + left_em(b.glyph) - a.x_em - left_em(a.glyph)
        names, advances = shaped(data, first + second, calt=0, salt=N_DRAWINGS)
        assert all(name.endswith(".form1") for name in names)
        lefts = [strings[name].calcBounds(None)[0] for name in names]
        assert advances[0] + lefts[1] - lefts[0] == pytest.approx(expected * UNITS_PER_EM, abs=4.0)


def test_letters_keep_their_own_width(face, letters):
    by_character = {letter.character: letter for letter in letters.letters}
    assert by_character["s"].sides_em == (0.0, set_line(face, "s").advance_em)
    assert by_character["s"].tabular_em is None


def test_tabular_figures_all_have_the_faces_width(face, data):
    _, advances = shaped(data, "0123456789", tnum=1)
    widest = max(set_line(face, digit).advance_em for digit in "0123456789")
    assert set(advances) <= {round(widest * UNITS_PER_EM) + d for d in (-1, 0, 1)}
    assert len(set(advances)) == 1


def test_white_left_and_right_of_figures_is_equal_in_the_mean(data):
    font = TTFont(io.BytesIO(data))
    strings = font["CFF "].cff.topDictIndex[0].CharStrings
    names = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
    boxes = np.array([strings[name].calcBounds(None) for name in names])
    advances = np.array([font["hmtx"][name][0] for name in names])
    assert boxes[:, 0].mean() == pytest.approx((advances - boxes[:, 2]).mean(), abs=1.0)


def test_the_first_digits_are_those_of_the_pictures_and_others_differ():
    face, style = FACES["family"](), load_style(style_files()["round-pen"])
    (plan,) = plans_of_texts(face, groups_from_text("7"), style, height_px=60.0)
    drawings = letter_drawings(["7"], face, plan.size)["7"]
    keys = [tuple(ink_keys(drawing, style, number=5)) for drawing in drawings.all]
    forms = len(face.alternates("7"))
    assert forms >= 1
    assert keys[0] == tuple(ink_keys(plan.drawing(), style, number=5))
    assert len(set(keys)) == N_DRAWINGS + forms
    made = drawn_letters({"7": drawings}, face, plan.size, style, number=5, kept={})
    assert [master.key for master in made.masters] == [key for own in keys for key in own]
    shapes = [drawing[0] for drawing in made.letters[0].drawings]
    assert len({shape.tobytes() for shape in shapes}) == N_DRAWINGS
    assert len(made.letters[0].forms) == forms


def test_drawings_have_names_of_their_own():
    assert drawing_names("7") == ("digits/7", "digits/7~2", "digits/7~3")
    assert drawing_names("s")[0] == "letters/s"


def test_a_font_swells_as_the_glyphs_of_its_family_do():
    """Against shapely's discs along the strokes of the 2, whose widths go from 0.5 to 1.24."""
    family = shipped_family("clothesline")
    (plan,) = plans_of_texts(family, groups_from_text("2"), EXACT, height_px=600.0)
    size = plan.size
    drawings = letter_drawings(["2"], family, size)
    (letter,) = drawn_letters(drawings, family, size, EXACT, number=1, kept={}).letters
    drawn = shapely.union_all([shapely.Polygon(contour) for contour in letter.drawings[0]])
    (stroke,) = family.glyph("2").strokes
    pens = size.pen_px / size.em_px / family.nominal_stem_em
    discs = shapely.buffer(
        shapely.points(stroke.points), 0.5 * pens * stroke.widths_em, quad_segs=32
    )
    exact = shapely.union_all(shapely.convex_hull(shapely.union(discs[:-1], discs[1:])))
    assert drawn.symmetric_difference(exact).area < 0.005 * exact.area
    assert stroke.widths_em.max() > 2.2 * stroke.widths_em.min()
