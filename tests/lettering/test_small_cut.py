"""The small cut: heavier, wider, open, and no higher.

Measured with shapely, which it doesn't use.
"""

import numpy as np
import pytest
import shapely
from shapely.geometry import Polygon
from shapely.ops import polylabel, unary_union

from faces import MEASURES
from inkline.geometry.polygon import bounds, signed_area
from inkline.lettering.counters import counters, disc_within, offset_contours
from inkline.lettering.face import Figures
from inkline.lettering.families import family_names, family_path
from inkline.lettering.family import open_family
from inkline.lettering.line import set_line
from inkline.lettering.optical import set_numeral
from inkline.lettering.small_cut import HEAVIER, WIDER, small_cut
from inkline.lettering.swap import outlined_glyph

SQUARE = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])


def pen_of(face, stems_high=7.0):
    """Width in em of a pen of which so many make the height of a figure that it writes itself."""
    return (face.digit_height_em - face.nominal_stem_em) / (stems_high - 1.0)


def ink(glyph, width):
    contours = outlined_glyph(glyph, width_em=width).contours
    holes = unary_union([Polygon(c) for c in contours if signed_area(c) < 0])
    return unary_union([Polygon(c) for c in contours if signed_area(c) > 0]).difference(holes)


def stem_at(glyph, height):
    """Width of the ink of an upright at one height."""
    cut = ink(glyph, 0.0).intersection(shapely.LineString([(-1, height), (2, height)]))
    return cut.length


@pytest.fixture(params=[*family_names()])
def family(request):
    return open_family(family_path(request.param))


def test_counters_of_4_6_8_and_9_hold_a_disc_of_one_stem(family):
    pen = pen_of(family, 7.0 / HEAVIER)
    cut = small_cut(family, pen_em=pen)
    for digit in "4689":
        stem = family.nominal_stem_em
        contours = outlined_glyph(cut.glyph(digit), width_em=pen, stem_em=stem).contours
        for contour in counters(contours):
            polygon = Polygon(contour)
            centre = polylabel(polygon, tolerance=1e-4)
            disc = 2.0 * polygon.exterior.distance(centre)
            wide = cut.glyph(digit).advance_em / family.glyph(digit).advance_em
            assert disc > 0.98 * pen or wide > cut.wider + 0.09, (digit, disc / pen)


def test_numerals_stand_on_the_baseline_and_reach_as_high_as_before(family):
    pen = pen_of(family, 7.0 / HEAVIER)
    cut = small_cut(family, pen_em=pen)
    high = family.digit_height_em - family.nominal_stem_em + pen
    for digit in "147":
        stem = family.nominal_stem_em
        glyph = outlined_glyph(cut.glyph(digit), width_em=pen, stem_em=stem)
        _, foot, _, top = bounds(glyph.contours)
        assert foot == pytest.approx(0.0, abs=0.02)
        assert top == pytest.approx(high, abs=0.02)


def test_a_font_s_stems_are_30_per_cent_heavier_at_the_same_height(fonts):
    font = fonts["source-ttf"]
    cut = small_cut(font, pen_em=1.0)
    half = 0.5 * font.digit_height_em
    assert stem_at(cut.glyph("1"), half) == pytest.approx(
        HEAVIER * stem_at(font.glyph("1"), half), rel=0.03
    )
    for digit in "1234567890":
        before, after = bounds(font.glyph(digit).contours), bounds(cut.glyph(digit).contours)
        assert (after[1], after[3]) == pytest.approx((before[1], before[3]), abs=0.003)
        assert after[2] - after[0] > 1.05 * (before[2] - before[0])
    assert cut.nominal_stem_em == pytest.approx(HEAVIER * font.nominal_stem_em)


def test_everything_is_a_little_wider(scullery):
    cut = small_cut(scullery, pen_em=pen_of(scullery, 7.0 / HEAVIER))
    assert cut.glyph("1").advance_em == pytest.approx(WIDER * scullery.glyph("1").advance_em)
    placed, advance = cut.placed_glyphs("12", figures=Figures.LINING)
    plain, before = scullery.placed_glyphs("12", figures=Figures.LINING)
    assert advance == pytest.approx(
        before + (WIDER - 1.0) * sum(item.glyph.advance_em for item in plain)
    )
    assert placed[1].x_em > plain[1].x_em


def test_letters_join_as_before():
    script = open_family(family_path("clothesline"))
    cut = small_cut(script, pen_em=pen_of(script, 7.0 / HEAVIER))
    for face in (script, cut):
        assert {item.letter for item in set_line(face, "minus").glyphs} == {0}


def test_the_open_four_stands_for_the_closed_one(scullery):
    cut = small_cut(scullery, pen_em=pen_of(scullery, 7.0 / HEAVIER))
    assert cut.glyph("4").name == "four.open"
    assert cut.alternates("4") == ()
    assert [item.glyph.name for item in set_numeral(cut, "14").glyphs] == ["one", "four.open"]


def test_a_closed_four_grows_wider_until_it_is_open(tmp_path, write_family, line):
    stem = line((330, 655), (330, 45))

    def draw(pen):
        for part in (line((330, 655), (60, 200), (420, 200)), stem):
            part(pen)

    family = open_family(
        write_family(tmp_path / "f.ufo", {"four": (480, "4", draw), "seven": (480, "7", stem)})
    )
    cut = small_cut(family, pen_em=0.11)
    assert cut.glyph("7").advance_em == pytest.approx(WIDER * 0.48)
    assert cut.glyph("4").advance_em > 1.15 * 0.48


def test_what_it_does_not_change_is_the_face_s(scullery):
    cut = small_cut(scullery, pen_em=0.12)
    for name in MEASURES:
        assert getattr(cut, name) == getattr(scullery, name)
    assert cut.has("1")
    assert not cut.has("漢")
    assert set_line(cut, "1").face is cut


def test_offsets_against_geos():
    ring = offset_contours([SQUARE * 3.0, (SQUARE + 1.0)[::-1]], 0.2)
    expected = Polygon(SQUARE * 3.0, [SQUARE + 1.0]).buffer(0.2, quad_segs=64)
    assert sum(signed_area(contour) for contour in ring) == pytest.approx(expected.area, rel=1e-4)
    assert offset_contours([SQUARE], -0.51) == ()


def test_discs_within():
    assert disc_within(SQUARE) == pytest.approx(1.0, abs=0.003)
    assert disc_within(SQUARE * (3.0, 0.5)) == pytest.approx(0.5, abs=0.003)
    triangle = np.array([[0.0, 0.0], [3.0, 0.0], [0.0, 4.0]])
    assert disc_within(triangle) == pytest.approx(
        2.0, abs=0.005
    )  # a 3-4-5 triangle's incircle has radius 1
    assert disc_within(SQUARE * (1e-5, 1.0)) == 0.0


def test_counters_are_holes_wound_as_outlines():
    assert counters([SQUARE]) == ()
    (hole,) = counters([SQUARE * 3.0, (SQUARE + 1.0)[::-1]])
    assert signed_area(hole) == pytest.approx(1.0)
