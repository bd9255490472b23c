"""Font files against the OpenType sanitiser, HarfBuzz (shaping) and FreeType (drawing)."""

import io
from dataclasses import replace
from itertools import pairwise

import freetype
import numpy as np
import ots
import pytest
from fontTools.ttLib import TTFont

from faces import scullery
from font_files import shaped
from inkline.drawing import Drawing, Layer, Role
from inkline.errors import InputError
from inkline.geometry.polygon import bounds
from inkline.ink.engine import draw
from inkline.ink.inked import united_contours
from inkline.lettering.line import marks_from_line, set_line
from inkline.output.font_file import (
    UNITS_PER_EM,
    DrawnForm,
    DrawnLetter,
    FontAbout,
    font_bytes,
    glyph_name,
)
from inkline.output.font_file_features import form_key
from inkline.raster.coverage import grey_from_contours
from inkline.styles.files import load_style, style_path

ABOUT = FontAbout(
    family="Pier Figures",
    version=1.0,
    copyright="Drawn for a test",
    description="Three drawings of each letter",
    licence="As you like",
    licence_address="",
    fs_type=0,
    sample="11",
)
KERNING = {
    ("1", "1"): -0.05,
    ("1", "7"): 0.031,
    ("7", "4"): -0.02,
    ("0", "s"): 0.01,
    ("0", "0"): 0.0,
    ("x", "1"): 0.3,
}
EM_PX = 450.0


def drawn_contours(character, number):
    """A drawing of a character in em, y up."""
    face = scullery()
    marks = marks_from_line(
        set_line(face, character),
        name=character,
        role=Role.NUMERAL,
        baseline=(0.0, 0.0),
        size_px=EM_PX,
        width_px=40.0,
    )
    drawing = Drawing(
        name=character, canvas=(1, 1), sheet_px=4000.0, layers=(Layer(name="n", marks=marks),)
    )
    inked = draw(drawing, load_style(style_path("round-pen", where="")), number)
    return tuple(contour[::-1] * (1, -1) / EM_PX for contour in united_contours(inked))


@pytest.fixture(scope="module")
def letters():
    made = []
    for character in "0123456789sé":
        tabular = (-0.02, 0.56) if character.isdigit() else None
        drawings = tuple(drawn_contours(character, number) for number in (1, 2, 3))
        made.append(
            DrawnLetter(
                character=character, drawings=drawings, sides_em=(0.03, 0.5), tabular_em=tabular
            )
        )
    return made


@pytest.fixture(scope="module")
def data(letters):
    return font_bytes(letters, kerning=KERNING, space_em=0.25, about=ABOUT)


@pytest.fixture(scope="module")
def font(data):
    return TTFont(io.BytesIO(data))


def test_the_sanitiser_takes_it(data, tmp_path):
    file = tmp_path / "font.otf"
    file.write_bytes(data)
    result = ots.sanitize(str(file), str(tmp_path / "out.otf"), capture_output=True, check=True)
    assert b"sanitized successfully" in result.stdout
    assert result.stderr == b""
    file.write_bytes(data[: len(data) // 2])
    assert ots.sanitize(str(file), str(tmp_path / "out.otf"), capture_output=True).returncode != 0


def test_the_same_letters_give_the_same_bytes(letters, data):
    assert font_bytes(letters, kerning=KERNING, space_em=0.25, about=ABOUT) == data


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("1", ["one"]),
        ("11", ["one", "one.2"]),
        ("1111", ["one", "one.2", "one.3", "one"]),
        ("21s", ["two", "one.2", "s.3"]),
        ("1 1 1", ["one", "space", "one.2", "space", "one.3"]),
        ("é1", ["eacute", "one.2"]),
    ],
)
def test_drawings_take_turns(data, text, names):
    assert shaped(data, text)[0] == names


def test_turns_can_be_switched_off_and_a_drawing_chosen(data):
    assert shaped(data, "111", calt=0)[0] == ["one"] * 3
    assert shaped(data, "111", calt=0, salt=1)[0] == ["one.2"] * 3
    assert shaped(data, "7", calt=0, salt=2)[0] == ["seven.3"]


def test_other_forms_come_after_the_drawings_and_are_spaced_by_themselves(letters):
    form = DrawnForm(contours=letters[4].drawings[0], sides_em=(0.0, 0.6), tabular_em=(-0.02, 0.56))
    with_form = [replace(one, forms=(form,)) if one.character == "1" else one for one in letters]
    kerning = KERNING | {(form_key("1", 0), form_key("1", 0)): 0.02, ("7", form_key("1", 0)): 0.04}
    data = font_bytes(with_form, kerning=kerning, space_em=0.25, about=ABOUT)
    own, wide = round(0.5 * UNITS_PER_EM) - round(0.03 * UNITS_PER_EM), round(0.6 * UNITS_PER_EM)
    assert shaped(data, "1", salt=3)[0] == ["one.form1"]
    assert shaped(data, "7", salt=3)[0] == ["seven"]
    assert shaped(data, "711", calt=0, salt=3) == (
        ["seven", "one.form1", "one.form1"],
        [own + 80, wide + 40, wide],
    )
    assert shaped(data, "1", salt=3, tnum=1) == (["one.form1.tab"], [round(0.58 * UNITS_PER_EM)])
    assert "one.form1" not in shaped(data, "1" * 200, rand=0xFFFF)[0]


def test_chance_never_puts_equal_drawings_side_by_side(data):
    """HarfBuzz applies `rand` by itself; asked for with the largest value it picks by chance."""
    names, _ = shaped(data, "1" * 200, rand=0xFFFF)
    assert set(names) == {"one", "one.2", "one.3"}
    assert all(one != other for one, other in pairwise(names))
    fixed, _ = shaped(data, "1" * 200, rand=0)
    assert fixed != names


def test_figures_are_kerned_and_every_drawing_alike(data):
    own = round(0.5 * UNITS_PER_EM) - round(0.03 * UNITS_PER_EM)
    assert shaped(data, "11")[1] == [own - 100, own]
    assert shaped(data, "111", kern=0)[1] == [own] * 3
    assert shaped(data, "1111")[1] == [own - 100] * 3 + [own]
    assert shaped(data, "174")[1] == [own + 62, own - 40, own]
    assert shaped(data, "00s")[1] == [own, own + 20, own]


def test_tabular_figures_have_one_width_and_no_kerning(data):
    names, advances = shaped(data, "1174", tnum=1)
    assert names == ["one.tab", "one.2.tab", "seven.3.tab", "four.tab"]
    assert advances == [round(0.58 * UNITS_PER_EM)] * 4
    assert shaped(data, "1s", tnum=1)[0] == ["one.tab", "s.2"]
    assert shaped(data, "1174", tnum=1, pnum=1) == shaped(data, "1174")


def test_names_metrics_and_dates(font):
    said = {key: font["name"].getDebugName(key) for key in (0, 1, 2, 4, 6, 10, 13, 14, 19)}
    assert said == {
        0: "Drawn for a test",
        1: "Pier Figures",
        2: "Regular",
        4: "Pier Figures",
        6: "PierFigures-Regular",
        10: "Three drawings of each letter",
        13: "As you like",
        14: None,
        19: "11",
    }
    head, hhea, os2 = font["head"], font["hhea"], font["OS/2"]
    assert head.created == head.modified == 3_786_912_000
    assert (hhea.ascent, hhea.descent, hhea.lineGap) == (
        os2.sTypoAscender,
        os2.sTypoDescender,
        os2.sTypoLineGap,
    )
    assert (os2.usWinAscent, os2.usWinDescent) == (hhea.ascent, -hhea.descent)
    assert hhea.ascent >= head.yMax
    assert hhea.descent <= head.yMin
    assert 1.0 <= (hhea.ascent - hhea.descent + hhea.lineGap) / UNITS_PER_EM <= 1.4
    assert os2.fsType == 0
    assert os2.fsSelection & (1 << 7)
    assert sorted(chr(code) for code in font.getBestCmap()) == sorted("0123456789sé \xa0")


def test_side_bearings_are_those_of_the_outlines(font):
    glyphs = font.getGlyphSet()
    for name in ("one", "eight.2", "four.3.tab", "eacute"):
        box = font["CFF "].cff.topDictIndex[0].CharStrings[name].calcBounds(glyphs)
        assert font["hmtx"][name][1] == pytest.approx(box[0], abs=3)


@pytest.mark.parametrize("px", [200, 286])
@pytest.mark.parametrize(
    ("name", "character", "place"), [("one", "1", 0), ("eight.3", "8", 2), ("four.2", "4", 1)]
)
def test_freetype_draws_it_as_our_raster_does(data, letters, px, name, character, place):
    letter = next(letter for letter in letters if letter.character == character)
    face = freetype.Face(io.BytesIO(data))
    face.set_pixel_sizes(px, px)
    face.load_glyph(
        face.get_name_index(name.encode()), freetype.FT_LOAD_NO_HINTING | freetype.FT_LOAD_RENDER
    )
    bitmap = face.glyph.bitmap
    got = np.array(bitmap.buffer, dtype=int).reshape(bitmap.rows, bitmap.pitch)[:, : bitmap.width]
    corner = np.array([-face.glyph.bitmap_left, face.glyph.bitmap_top])
    shift = np.array([round(-0.03 * UNITS_PER_EM) / UNITS_PER_EM, 0.0])
    contours = [((c + shift) * px * (1, -1) + corner)[::-1] for c in letter.drawings[place]]
    x0, y0, x1, y1 = bounds(contours)
    assert min(x0, y0) > -1
    assert x1 < bitmap.width + 1
    assert y1 < bitmap.rows + 1
    canvas = bitmap.width + 4, bitmap.rows + 4
    expected = grey_from_contours([c + 2.0 for c in contours], canvas=canvas).astype(int)[
        2:-2, 2:-2
    ]
    difference = np.abs(got - expected)
    assert expected.max() == 255
    assert difference.mean() < 2.0
    assert np.percentile(difference, 99) < 64


@pytest.mark.parametrize(
    ("character", "name"),
    [
        ("0", "zero"),
        ("A", "A"),
        ("é", "eacute"),
        ("ǭ", "uni01ED"),
        ("🜁", "u1F701"),
        ("–", "endash"),
    ],
)
def test_glyphs_are_called_as_others_call_them(character, name):
    assert glyph_name(character) == name


def test_letters_need_drawings_of_one_number(letters):
    short = DrawnLetter(character="x", drawings=letters[0].drawings[:2], sides_em=(0.0, 0.5))
    for wrong in (
        [*letters, short],
        [],
        [DrawnLetter(character="x", drawings=(), sides_em=(0.0, 0.5))],
    ):
        with pytest.raises(
            ValueError, match="every letter needs the same number of drawings, at least one"
        ):
            font_bytes(wrong, kerning={}, space_em=0.25, about=ABOUT)


def test_letters_far_larger_than_their_em_are_refused(letters):
    huge = tuple(contour * 40 for contour in letters[0].drawings[0])
    letter = DrawnLetter(character="x", drawings=(huge,), sides_em=(0.0, 0.5))
    with pytest.raises(
        InputError, match="a font file's letters reach 15 em at most from their origin, not"
    ):
        font_bytes([letter], kerning={}, space_em=0.25, about=ABOUT)


def test_one_drawing_has_nothing_to_turn_to(letters):
    alone = [
        DrawnLetter(character=one.character, drawings=one.drawings[:1], sides_em=(0.0, 0.5))
        for one in letters
    ]
    data = font_bytes(alone, kerning={}, space_em=0.25, about=ABOUT)
    assert shaped(data, "11s")[0] == ["one", "one", "s"]
    assert "GPOS" not in TTFont(io.BytesIO(data))
