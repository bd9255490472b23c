"""Fonts written with a pen are faces like any other.

It is also tested which fonts are written when nobody says.
"""

from importlib.resources import files
from pathlib import Path

import font_lato
import font_roboto
import numpy as np
import pytest
import shapely
from shapely.geometry import Point

from inkline.drawing import Cap, Role, Shape, Stroke
from inkline.lettering.errors import MissingGlyphError
from inkline.lettering.face import Figures, GlyphStroke
from inkline.lettering.font import open_font
from inkline.lettering.line import ink_bounds, marks_from_line, set_line
from inkline.lettering.writing import (
    PenFitness,
    TracedFont,
    Way,
    _swept_contours,
    face_in_way,
    pen_fitness_of,
    written_contours,
)

PLAYFAIR = Path(str(files("fontpkg_playfair_display"))) / "files" / "PlayfairDisplay[wght].ttf"
BLACK = Path(font_roboto.font_files["RobotoBlack"])


@pytest.fixture(scope="module")
def roboto(fonts):
    return TracedFont(font=fonts["roboto"])


def marks_of(face, text, *, width_px, size_px=300.0):
    line = set_line(face, text)
    return marks_from_line(
        line,
        name="a/1",
        role=Role.NUMERAL,
        baseline=(40.0, 400.0),
        size_px=size_px,
        width_px=width_px,
    )


@pytest.mark.parametrize("name", ["source-ttf", "source-otf", "roboto"])
def test_text_weights_are_written(fonts, name):
    assert isinstance(face_in_way(fonts[name]), TracedFont)


def test_a_third_text_face_is_written():
    assert isinstance(face_in_way(open_font(font_lato.font_files["Lato"])), TracedFont)


def test_heavy_faces_keep_their_contours(fonts):
    for font in (fonts["roboto-bold"], open_font(BLACK)):
        assert face_in_way(font) is font
        (reason,) = pen_fitness_of(TracedFont(font=font)).against_strokes
        assert "stems" in reason


def test_a_serif_face_of_high_contrast_keeps_its_contours():
    font = open_font(PLAYFAIR)
    assert face_in_way(font) is font
    reasons = " ".join(pen_fitness_of(TracedFont(font=font)).against_strokes)
    assert "broad strokes are 4." in reasons


def test_a_font_keeps_its_contours_where_strokes_would_lose_a_part_of_what_is_drawn(fonts):
    medium = open_font(font_roboto.font_files["RobotoMedium"])
    assert isinstance(face_in_way(medium, texts=["Monday", "12"]), TracedFont)
    assert face_in_way(medium, texts=["March"]) is medium  # its r would come apart
    (reason,) = pen_fitness_of(TracedFont(font=medium), ["March"]).against_strokes
    assert reason == "strokes would lose a part of r"
    assert isinstance(face_in_way(fonts["roboto"], texts=["March"]), TracedFont)
    assert face_in_way(fonts["roboto"], texts=["żółty"]) is fonts["roboto"]


def test_whoever_asks_for_a_way_gets_it(fonts):
    black = open_font(BLACK)
    assert isinstance(face_in_way(black, way=Way.STROKE), TracedFont)
    assert face_in_way(fonts["roboto"], way=Way.CONTOUR) is fonts["roboto"]
    assert [str(way) for way in Way] == ["auto", "stroke", "contour"]


def test_a_font_without_figures_and_letters_keeps_its_contours(tmp_path, build_font, box):
    font = open_font(
        build_font(
            tmp_path / "star.ttf", {"star": lambda pen: box(pen, 0, 0, 500, 500)}, {"*": "star"}
        )
    )
    assert pen_fitness_of(TracedFont(font=font)) is None
    assert face_in_way(font) is font


def test_reasons_against_strokes_name_what_was_measured_and_what_is_allowed():
    fine = {"stem": 0.13, "contrast": 1.2, "covered": 0.98, "added": 0.003, "unusual": 0.0}
    assert PenFitness(**fine).against_strokes == ()
    bad = {
        "stem": (0.25, "0.25 of its height wide"),
        "contrast": (3.0, "3.0 times its thin ones"),
        "covered": (0.8, "cover 80% of its ink"),
        "added": (0.07, "add 7% to its ink"),
        "unusual": (0.5, "50% of its letters"),
    }
    for name, (value, words) in bad.items():
        (reason,) = PenFitness(**(fine | {name: value})).against_strokes
        assert words in reason


def test_what_is_measured_is_what_geos_measures(roboto):
    """Cover and addition by unions of our own, against areas of GEOS for the figure 4.

    Ours are reckoned by inclusion and exclusion.
    """
    glyph, outline = roboto.glyph("4"), roboto.font.glyph("4")
    ours = shapely.union_all([shapely.Polygon(one) for one in written_contours(glyph)[:1]])
    hole = shapely.Polygon(written_contours(glyph)[1])
    ink = shapely.Polygon(outline.contours[0]) - shapely.Polygon(outline.contours[1])
    strokes = [
        shapely.union_all([Point(a).buffer(w / 2), Point(b).buffer(v / 2)]).convex_hull
        for stroke in glyph.strokes
        for a, b, w, v in zip(
            stroke.points, stroke.points[1:], stroke.widths_em, stroke.widths_em[1:], strict=False
        )
    ]
    drawn = shapely.union_all(strokes)
    assert (ours - hole).symmetric_difference(drawn).area < 0.002 * ink.area


def test_a_traced_font_is_a_face_with_the_measures_of_its_font(roboto):
    font = roboto.font
    assert roboto.is_drawn_with_pen
    assert (roboto.name, roboto.cap_height_em, roboto.digit_height_em, roboto.nominal_stem_em) == (
        font.name,
        font.cap_height_em,
        font.digit_height_em,
        font.nominal_stem_em,
    )
    assert roboto.has("7")
    assert not roboto.has("\u2603")
    assert roboto.alternates("1") == ()


def test_glyphs_are_traced_once(roboto):
    assert roboto.glyph("5") is roboto.glyph("5")
    (item,), _ = roboto.placed_glyphs("5", figures=Figures.LINING)
    assert item.glyph is roboto.glyph("5")


def test_a_traced_font_says_what_it_lacks(roboto):
    with pytest.raises(MissingGlyphError, match="SNOWMAN"):
        set_line(roboto, "1\u2603")


def test_letters_stand_where_the_font_sets_them(roboto):
    ours, theirs = set_line(roboto, "AVAST 17"), set_line(roboto.font, "AVAST 17")
    assert ours.advance_em == theirs.advance_em
    assert [item.x_em for item in ours.glyphs] == [item.x_em for item in theirs.glyphs]


def test_marks_are_round_ended_strokes_with_the_widths_of_the_outline(roboto):
    size, pen = 300.0, 300.0 * roboto.nominal_stem_em
    marks = marks_of(roboto, "17", width_px=pen, size_px=size)
    assert all(
        isinstance(mark, Stroke) and mark.cap is Cap.ROUND and mark.width_px == pen
        for mark in marks
    )
    first = set_line(roboto, "17").glyphs[0].glyph.strokes[0]
    assert marks[0].width_px * marks[0].profile == pytest.approx(size * first.widths_em)
    assert marks_of(roboto.font, "17", width_px=pen)[0].__class__ is Shape


def test_a_wider_pen_widens_all_widths_alike(roboto):
    thin, broad = (marks_of(roboto, "4", width_px=width)[0] for width in (20.0, 30.0))
    assert np.array_equal(thin.profile, broad.profile)
    assert (thin.width_px, broad.width_px) == (20.0, 30.0)


def test_a_dot_is_a_press_with_the_width_of_the_dot(roboto):
    pen = 300.0 * roboto.nominal_stem_em
    stem, dot = marks_of(roboto, "i", width_px=pen)
    assert stem.profile is not None
    assert dot.profile is None
    assert np.array_equal(dot.points[0], dot.points[1])
    assert dot.width_px > 1.05 * pen


def test_ink_bounds_follow_the_widths(roboto):
    """Against GEOS: the box about discs at all points of all strokes."""
    size, pen = 300.0, 25.0
    box = ink_bounds(set_line(roboto, "R2&"), size_px=size, width_px=pen)
    discs = [
        Point(point - (40.0, 400.0)).buffer(0.5 * mark.width_px * share, quad_segs=64)
        for mark in marks_of(roboto, "R2&", width_px=pen, size_px=size)
        for point, share in zip(mark.points, mark.profile, strict=True)
    ]
    assert box == pytest.approx(shapely.union_all(discs).bounds, abs=0.01)


def test_the_pen_of_the_fonts_stem_nearly_fills_the_outline(roboto):
    """Bounds of the written 0, which has no ends to be rounded, against those of its contours."""
    size = 300.0
    boxes = [
        ink_bounds(set_line(face, "0"), size_px=size, width_px=size * roboto.nominal_stem_em)
        for face in (roboto, roboto.font)
    ]
    assert boxes[0] == pytest.approx(boxes[1], abs=0.6)


def test_only_strokes_with_widths_of_their_own_are_swept_without_a_pen():
    with pytest.raises(ValueError, match="a stroke needs widths of its own"):
        list(_swept_contours(GlyphStroke(points=np.zeros((2, 2)))))
