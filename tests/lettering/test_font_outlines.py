"""Outlines of fonts against FreeType's pictures and against fontTools' own curves.

The curves are evaluated densely.
"""

import string

import freetype
import numpy as np
import pytest
import shapely
from fontTools.fontBuilder import FontBuilder
from fontTools.misc.bezierTools import cubicPointAtT, quadraticPointAtT
from fontTools.misc.psCharStrings import T2CharString
from fontTools.pens.basePen import decomposeQuadraticSegment
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

from inkline.geometry.polygon import bounds, total_area
from inkline.lettering.face import FLATTENING_EM
from inkline.lettering.font import open_font
from inkline.raster.coverage import grey_from_contours

EM_PX = 312.5
CHARACTERS = string.digits + string.ascii_uppercase
FACES = ["source-ttf", "source-otf", "roboto"]


def freetype_picture(face, character):
    """FreeType's 256-level picture at 312.5 px an em, and its left and top about the origin.

    It is made without hinting.
    """
    face.set_char_size(round(EM_PX * 64), 0, 72, 72)
    face.load_char(
        character,
        freetype.FT_LOAD_NO_HINTING | freetype.FT_LOAD_NO_BITMAP | freetype.FT_LOAD_RENDER,
    )
    bitmap = face.glyph.bitmap
    rows = np.array(bitmap.buffer, dtype=np.uint8).reshape(bitmap.rows, bitmap.pitch)[
        :, : bitmap.width
    ]
    return rows, face.glyph.bitmap_left, face.glyph.bitmap_top


def our_picture(contours, left, top, shape):
    page = [contour * (EM_PX, -EM_PX) + (-left, top) for contour in contours]
    return grey_from_contours(page, canvas=(shape[1], shape[0]))


def difference(font, face, character):
    wanted, left, top = freetype_picture(face, character)
    got = our_picture(font.glyph(character).contours, left, top, wanted.shape)
    return np.abs(got.astype(int) - wanted.astype(int))


@pytest.mark.parametrize("name", FACES)
def test_digits_and_capitals_look_as_freetype_draws_them(fonts, font_files, name):
    """Mean under 0.6 of 255 over the glyph's bitmap box.

    FreeType flattens coarsely and rounds to 1/64 px.
    """
    face = freetype.Face(str(font_files[name]))
    means = {character: difference(fonts[name], face, character).mean() for character in CHARACTERS}
    assert {character: mean for character, mean in means.items() if mean >= 0.6} == {}


def straight_characters(path):
    """Digits and capitals of a TrueType font without any off-curve point."""
    with TTFont(path) as font:
        cmap, table = font.getBestCmap(), font["glyf"]
        glyphs = {character: table[cmap[ord(character)]] for character in CHARACTERS}
        return [
            c
            for c, glyph in glyphs.items()
            if all(flag & 1 for flag in glyph.getCoordinates(table)[2])
        ]


@pytest.mark.parametrize(
    ("name", "at_least"), [("source-ttf", "EFHIKLTZ"), ("roboto", "147AEFHIKLMNTVWXYZ")]
)
def test_straight_truetype_glyphs_agree_on_every_pixel(fonts, font_files, name, at_least):
    """Source Sans has curves in its 1, 4, 7 and A, so its other straight capitals stand for it."""
    straight = straight_characters(font_files[name])
    assert set(at_least) <= set(straight)
    face = freetype.Face(str(font_files[name]))
    worst = {
        character: int(difference(fonts[name], face, character).max()) for character in straight
    }
    assert {character: most for character, most in worst.items() if most >= 4} == {}


def dense_rings(path, character, n=160):
    """The glyph's contours in em, from fontTools' recording.

    Every curve is evaluated at n even parameters.
    """
    font = TTFont(path)
    glyph_set, name = font.getGlyphSet(), font.getBestCmap()[ord(character)]
    pen = DecomposingRecordingPen(glyph_set)
    glyph_set[name].draw(pen)
    rings, ring = [], []
    for operator, points in pen.value:
        if operator == "moveTo":
            ring = [points[0]]
        elif operator == "lineTo":
            ring.append(points[0])
        elif operator == "curveTo":
            start = ring[-1]
            ring += [cubicPointAtT(start, *points, t) for t in np.linspace(0, 1, n)[1:]]
        elif operator == "qCurveTo":
            for control, end in decomposeQuadraticSegment(points):
                start = ring[-1]
                ring += [
                    quadraticPointAtT(start, control, end, t) for t in np.linspace(0, 1, n)[1:]
                ]
        else:
            rings.append(shapely.Polygon(np.array(ring) / font["head"].unitsPerEm))
    font.close()
    return rings


def shape_of(rings):
    """Rings that don't overlap but nest, as an area: each odd level is a hole."""
    area = shapely.Polygon()
    for ring in sorted(rings, key=lambda ring: -ring.area):
        area = area.symmetric_difference(ring)
    return area


@pytest.mark.parametrize("name", FACES)
def test_curves_keep_to_a_finely_flattened_reference(fonts, font_files, name):
    for character in string.digits + "ABCGOQRS":
        wanted = shape_of(dense_rings(font_files[name], character))
        contours = fonts[name].glyph(character).contours
        got = shape_of([shapely.Polygon(contour) for contour in contours])
        distance = shapely.hausdorff_distance(got.boundary, wanted.boundary)
        off = got.symmetric_difference(wanted).area
        # The reference's own chords stand off by at most (1/159)^2 / 8 of a second derivative of
        # some 5 em: 2.5e-5.
        assert distance < FLATTENING_EM + 2.5e-5, character
        assert off < FLATTENING_EM * wanted.length, character
        assert total_area(contours) == pytest.approx(wanted.area, abs=FLATTENING_EM * wanted.length)


@pytest.mark.parametrize("name", [*FACES, "roboto-bold"])
def test_contours_are_simple_apart_and_positive_outside(fonts, name):
    for character in CHARACTERS + "&@%gß":
        polygons = [shapely.Polygon(contour) for contour in fonts[name].glyph(character).contours]
        assert all(polygon.is_valid for polygon in polygons), character
        for contour in fonts[name].glyph(character).contours:
            level = sum(shapely.Point(contour[0]).within(polygon) for polygon in polygons)
            assert (total_area([contour]) > 0) == (level % 2 == 0), character


def test_overlapping_contours_are_united_whichever_way_they_run(tmp_path, build_font, box):
    """Two boxes that overlap.

    TrueType fills by the non-zero rule, so their union is 40 000 + 40 000 - 10 000 square units.
    """

    def same(pen):
        box(pen, 0, 0, 200, 200)
        box(pen, 100, 100, 300, 300)

    def reversed_too(pen):
        box(pen, 0, 0, 200, 200, clockwise=False)
        box(pen, 100, 100, 300, 300, clockwise=False)

    path = build_font(tmp_path / "o.ttf", {"A": same, "B": reversed_too}, {"A": "A", "B": "B"})
    for character in "AB":
        contours = open_font(path).glyph(character).contours
        assert len(contours) == 1
        assert total_area(contours) == pytest.approx(0.07, abs=1e-8)


def test_composites_with_turned_and_scaled_parts_match_freetype(tmp_path, build_font):
    def bowl(pen):
        pen.moveTo((0, 0))
        pen.qCurveTo((0, 300), (300, 300), (300, 0))
        pen.closePath()

    def both(pen):
        pen.addComponent("bowl", (1, 0, 0, 1, 40, 0))
        pen.addComponent("bowl", (-0.5, 0, 0, -1.5, 500, 600))

    path = build_font(tmp_path / "c.ttf", {"bowl": bowl, "both": both}, {"u": "bowl", "A": "both"})
    got = difference(open_font(path), freetype.Face(str(path)), "A")
    assert got.mean() < 0.6
    x0, y0, x1, y1 = bounds(open_font(path).glyph("A").contours)
    np.testing.assert_allclose([x0, y0, x1, y1], [0.04, 0, 0.5, 0.6], atol=1e-8)


def test_variable_font_stands_at_its_default(tmp_path, build_font, box):
    """A weight axis whose default is 400.

    Other weights would widen the box from 200 to 300 units.
    """

    def vary(builder):
        from fontTools.ttLib.tables.TupleVariation import TupleVariation  # noqa: PLC0415 (only here)

        builder.setupFvar([("wght", 100, 400, 900, "Weight")], [])
        wider = [(0, 0), (0, 0), (100, 0), (100, 0), (0, 0), (100, 0), (0, 0), (0, 0)]
        builder.setupGvar({"A": [TupleVariation({"wght": (0, 1, 1)}, wider)]})

    path = build_font(
        tmp_path / "v.ttf", {"A": lambda pen: box(pen, 50, 0, 250, 700)}, {"A": "A"}, finish=vary
    )
    font = open_font(path)
    np.testing.assert_allclose(bounds(font.glyph("A").contours), [0.05, 0, 0.25, 0.7], atol=1e-8)
    assert font.glyph("A").advance_em == 0.6
    assert difference(font, freetype.Face(str(path)), "A").max() <= 1


@pytest.mark.parametrize("flavour", ["woff", "woff2"])
@pytest.mark.parametrize("name", ["source-ttf", "source-otf"])
def test_packed_fonts_equal_plain_ones(tmp_path, fonts, font_files, name, flavour):
    packed = TTFont(font_files[name])
    packed.flavor = flavour
    packed.save(tmp_path / "packed")
    packed.close()
    font, plain = open_font(tmp_path / "packed"), fonts[name]
    assert font.name == plain.name
    assert font.nominal_stem_em == plain.nominal_stem_em
    for character in "08AQ&":
        assert font.glyph(character).advance_em == plain.glyph(character).advance_em
        for got, wanted in zip(
            font.glyph(character).contours, plain.glyph(character).contours, strict=True
        ):
            np.testing.assert_array_equal(got, wanted)


def test_cubic_variable_font_stands_at_its_default(tmp_path):
    """CFF2 outlines on a weight axis whose heavier end would move the right side by 100 units.

    Source: blend operator of CFF2.
    """
    wide, back = [200, 100, 1, "blend", "hlineto"], [-200, -100, 1, "blend", "hlineto"]
    bow = [50, 0, "rmoveto", *wide, 100, 200, 0, 300, -100, 200, "rrcurveto", *back]
    builder = FontBuilder(1000, isTTF=False)
    builder.setupGlyphOrder([".notdef", "D"])
    builder.setupCharacterMap({ord("D"): "D"})
    builder.setupNameTable({"familyName": "Built", "styleName": "Regular"})
    builder.setupFvar([("wght", 100, 400, 900, "Weight")], [])
    programs = {".notdef": T2CharString(program=[]), "D": T2CharString(program=bow)}
    builder.setupCFF2(programs, regions=[{"wght": (0, 1, 1)}])
    builder.setupHorizontalMetrics({".notdef": (600, 0), "D": (600, 50)})
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupOS2()
    builder.setupPost()
    builder.save(tmp_path / "d.otf")
    font = open_font(tmp_path / "d.otf")
    # Widest at the middle of a cubic from 250 over 350 and 350 to 250: 250 + 0.75 x 100.
    assert bounds(font.glyph("D").contours) == pytest.approx((0.05, 0, 0.325, 0.7), abs=1e-5)
    assert difference(font, freetype.Face(str(tmp_path / "d.otf")), "D").mean() < 0.6
