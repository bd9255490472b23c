"""Single glyphs swapped: a form of the same face, another family's glyph, a glyph file."""

import shutil
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

from faces import MEASURES
from inkline.errors import Action, Remedy
from inkline.lettering.errors import FamilyError, MissingGlyphError
from inkline.lettering.face import Figures
from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.lettering.licence import origin_of
from inkline.lettering.line import ink_bounds, set_line
from inkline.lettering.loose import LARGEST_BYTES
from inkline.lettering.optical import set_numeral
from inkline.lettering.swap import outlined_glyph, swapped_face
from inkline.lettering.writing import TracedFont

HERE = Path()
GLIF = """<?xml version="1.0" encoding="UTF-8"?>
<glyph name="nine" format="2"><advance width="500"/><outline><contour>
<point x="100" y="650" type="{kind}"/>
<point x="400" y="650" type="line"/>
<point x="250" y="50" type="line"/>
</contour></outline></glyph>
"""


def open_nine(folder):
    (folder / "my-nine.glif").write_text(GLIF.format(kind="move"))
    return folder


def shape(glyph):
    return unary_union([Polygon(contour) for contour in glyph.contours])


def test_a_form_of_the_same_family_takes_the_place(scullery):
    face = swapped_face(scullery, {"4": "four.open"}, folder=HERE)
    assert face.glyph("4").name == "four.open"
    assert [item.glyph.name for item in set_line(face, "1424").glyphs] == [
        "one",
        "four.open",
        "two",
        "four.open",
    ]
    assert face.alternates("4") == ()  # a person chose it
    assert face.alternates("1") == scullery.alternates("1")


def test_everything_else_is_as_the_face_has_it(scullery):
    face = swapped_face(scullery, {"4": "four.open"}, folder=HERE)
    for name in MEASURES:
        assert getattr(face, name) == getattr(scullery, name)
    assert face.has("Q")
    assert not face.has("漢")
    assert face.glyph("Q") is scullery.glyph("Q")
    with pytest.raises(MissingGlyphError, match="漢"):
        face.placed_glyphs("4漢", figures=Figures.LINING)
    assert swapped_face(scullery, {}, folder=HERE) is scullery
    assert origin_of(face) == origin_of(scullery)


def test_another_family_s_glyph_stands_as_high_with_the_face_s_own_pen(scullery):
    face = swapped_face(scullery, {"7": "stairwell:seven"}, folder=HERE)
    stem = scullery.nominal_stem_em
    _, top, _, foot = ink_bounds(set_line(face, "7"), size_px=1.0, width_px=stem)
    assert (-top, foot) == pytest.approx((scullery.digit_height_em, 0.0), abs=0.002)
    assert face.glyph("7").advance_em == pytest.approx(
        scullery.glyph("7").advance_em
    )  # digits keep one width
    x0, _, x1, _ = ink_bounds(set_line(face, "7"), size_px=1.0, width_px=stem)
    assert x0 > 0.0
    assert x1 < face.glyph("7").advance_em


def test_a_family_of_one_s_own_lends_by_its_place(tmp_path, scullery):
    shutil.copytree(family_path("stairwell"), tmp_path / "mine.ufo")
    face = swapped_face(scullery, {"A": "mine.ufo:A"}, folder=tmp_path)
    assert face.glyph("A").name == "Stairwell:A"
    file = swapped_face(scullery, {"A": "mine.ufo/glyphs/A_.glif"}, folder=tmp_path)
    assert np.array_equal(file.glyph("A").strokes[0].points, face.glyph("A").strokes[0].points)


def test_a_glyph_file_by_itself_is_in_the_units_of_the_family(tmp_path, scullery):
    face = swapped_face(scullery, {"9": "my-nine.glif"}, folder=open_nine(tmp_path))
    (stroke,) = face.glyph("9").strokes
    aside = 0.5 * (scullery.glyph("9").advance_em - 0.5)
    assert stroke.points == pytest.approx(
        np.array([[0.1 + aside, 0.65], [0.4 + aside, 0.65], [0.25 + aside, 0.05]])
    )
    assert not stroke.closed


def test_in_a_font_strokes_become_what_a_pen_of_its_stem_leaves(tmp_path, fonts):
    """Against GEOS: the outline is the buffer of the centreline by half the font's stem."""
    font = fonts["roboto"]
    (open_nine(tmp_path) / "my-nine.glif").write_text(
        GLIF.format(kind="move").replace("650", "1300")
    )
    glyph = swapped_face(font, {"9": "my-nine.glif"}, folder=tmp_path).glyph("9")
    aside = 0.5 * (font.glyph("9").advance_em - 500 / 2048)
    line = LineString(np.array([[100, 1300], [400, 1300], [250, 50]]) / 2048 + (aside, 0.0))
    expected = line.buffer(0.5 * font.nominal_stem_em, quad_segs=64)
    assert glyph.strokes == ()
    assert shape(glyph).symmetric_difference(expected).area < 0.002 * expected.area


def test_in_a_font_a_closed_glyph_file_is_an_outline(tmp_path, fonts):
    (tmp_path / "my-nine.glif").write_text(GLIF.format(kind="line"))
    glyph = swapped_face(fonts["roboto"], {"9": "my-nine.glif"}, folder=tmp_path).glyph("9")
    assert shape(glyph).area == pytest.approx(0.5 * 300 * 600 / 2048**2, rel=1e-5)


def test_a_font_takes_another_family_s_figure_among_its_own(fonts):
    font = fonts["roboto"]
    face = swapped_face(font, {"9": "scullery:nine"}, folder=HERE)
    line = set_numeral(face, "19")
    assert [item.glyph.name for item in line.glyphs] == ["one", "Scullery:nine"]
    _, top, _, foot = ink_bounds(
        set_line(face, "9"), size_px=1.0, width_px=9.0
    )  # the pen of no effect on outlines
    assert -top == pytest.approx(font.digit_height_em, rel=0.03)
    assert foot == pytest.approx(0.0, abs=0.01)


def test_a_font_s_own_glyph_by_its_name(fonts):
    assert swapped_face(fonts["roboto"], {"9": "six"}, folder=HERE).glyph("9").name == "six"


def test_outlines_of_contours_are_themselves(fonts):
    glyph = fonts["roboto"].glyph("8")
    assert outlined_glyph(glyph, width_em=0.1) is glyph


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        (
            "nine.crooked",
            r"Scullery has no glyph called 'nine.crooked'; other forms that it has: .*four\.open",
        ),
        ("nobody:nine", "there is no stroke family 'nobody'; there is .*errand, .*scullery"),
        ("stairwell:nine.crooked", "Stairwell has no glyph called 'nine.crooked'"),
        ("gone.ufo:nine", "there is no folder .*gone.ufo"),
        ("gone.glif", "a glyph must be a GLIF file, and .*gone.glif is none"),
    ],
)
def test_what_is_not_there_is_said(scullery, tmp_path, said, sentence):
    with pytest.raises(FamilyError, match=sentence):
        swapped_face(scullery, {"9": said}, folder=tmp_path)


def test_only_what_a_face_has_can_be_swapped(scullery):
    with pytest.raises(FamilyError, match="Scullery has no glyph for '漢' that could be swapped"):
        swapped_face(scullery, {"漢": "nine"}, folder=HERE)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "cannot be read as a glyph: "),
        ("<glyph", "cannot be read as a glyph: "),
        ('<glyph name="x" format="2"/>', "has no contours, so there is nothing to draw"),
        (
            '<glyph name="x" format="2"><outline><component base="six"/></outline></glyph>',
            "is put together from other glyphs, which a file by itself does not hold",
        ),
        (" " * (LARGEST_BYTES + 1), "a glyph must be a GLIF file"),
    ],
)
def test_broken_glyph_files_are_refused(scullery, tmp_path, text, sentence):
    (tmp_path / "x.glif").write_text(text)
    with pytest.raises(FamilyError, match=sentence):
        swapped_face(scullery, {"9": "x.glif"}, folder=tmp_path)


@pytest.mark.parametrize(
    "contents", ["", "<plist/>", "<plist><array/></plist>", "<plist><dict/></plist>"]
)
def test_a_file_in_a_broken_ufo_is_one_by_itself(scullery, tmp_path, contents):
    folder = tmp_path / "a.ufo" / "glyphs"
    folder.mkdir(parents=True)
    (folder / "contents.plist").write_text(contents)
    open_nine(folder)
    assert (
        swapped_face(scullery, {"9": "a.ufo/glyphs/my-nine.glif"}, folder=tmp_path).glyph("9").name
        == "my-nine.glif"
    )


def test_a_folder_of_outlines_is_no_family(tmp_path, write_family):
    def ring(pen):
        pen.beginPath()
        for point in ((0, 0), (0, 700), (400, 700), (400, 0)):
            pen.addPoint(point, "line")
        pen.endPath()

    glyphs = {f"letter{c}": (500, c, ring) for c in "ABCDEFGH"}
    with pytest.raises(
        FamilyError, match=r"must hold strokes, .* but 8 of 8 glyphs have only closed contours"
    ) as caught:
        open_family(write_family(tmp_path / "outlines.ufo", glyphs))
    assert str(caught.value).endswith("; a font file exported from it can be inked")
    assert caught.value.remedies == (Remedy(action=Action.GIVE_AS_FONT),)


def test_a_traced_font_takes_strokes_as_they_are_and_its_own_glyphs_traced(tmp_path, fonts):
    traced = TracedFont(font=fonts["roboto"])
    open_nine(tmp_path)
    face = swapped_face(
        traced, {"9": "six", "4": "scullery:four", "7": "my-nine.glif"}, folder=tmp_path
    )
    assert face.is_drawn_with_pen
    assert all(face.glyph(digit).strokes and not face.glyph(digit).contours for digit in "947")
    assert [one.points.tolist() for one in face.glyph("9").strokes] == [
        one.points.tolist() for one in traced.glyph("6").strokes
    ]
    with pytest.raises(FamilyError, match="Roboto has no glyph called 'no'"):
        swapped_face(traced, {"9": "no"}, folder=tmp_path)
    assert replace(origin_of(face), way="contour") == origin_of(fonts["roboto"])
    assert (origin_of(face).name, origin_of(face).way) == ("Roboto", "stroke")


@pytest.mark.parametrize("number", ["1e300", "12345678", "nan"])
def test_a_glyph_file_with_a_number_that_no_font_has_is_refused(tmp_path, scullery, number):
    (tmp_path / "my-nine.glif").write_text(GLIF.format(kind="move").replace("650", number))
    with pytest.raises(FamilyError, match=r"my-nine\.glif cannot be read as a glyph: its numbers"):
        swapped_face(scullery, {"9": "my-nine.glif"}, folder=tmp_path)
