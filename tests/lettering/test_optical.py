"""Placing by white, against FreeType's pictures and shapely's distances.

It is also held to the laws that the formula must keep.
"""

from itertools import pairwise

import freetype
import numpy as np
import pytest
import shapely
import shapely.affinity
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.drawing import Role, Stroke
from inkline.lettering.face import Figures
from inkline.lettering.line import ink_bounds, marks_from_line, set_line
from inkline.lettering.optical import (
    EVEN,
    DigitSpacing,
    _even_edge,
    optical_bottom,
    optical_left,
    optical_right,
    optical_top,
    set_numeral,
)
from inkline.lettering.writing import TracedFont

SIZE_PX, WIDTH_PX = 400.0, 36.0
SIZE = {"size_px": SIZE_PX, "width_px": WIDTH_PX}
FACES = ["scullery", "source-otf", "roboto", "roboto-bold"]
modest = settings(max_examples=60, deadline=None)
spans = st.lists(st.floats(-100, 100), min_size=1, max_size=40)


@pytest.fixture(params=FACES)
def face(request, scullery, fonts):
    return scullery if request.param == "scullery" else fonts[request.param]


def ink_of(line, *, width_px=WIDTH_PX):
    """The line's ink on the page, as one area for each letter."""
    letters = {}
    for mark in marks_from_line(
        line, name="n", role=Role.NUMERAL, baseline=(0, 0), size_px=SIZE_PX, width_px=width_px
    ):
        if isinstance(mark, Stroke):
            area = shapely.LineString(mark.points).buffer(width_px / 2, quad_segs=32)
        else:
            area = shapely.Polygon()
            for ring in mark.contours:
                area = area.symmetric_difference(shapely.Polygon(ring))
        letters[mark.group] = shapely.union_all([area, letters.get(mark.group, shapely.Polygon())])
    return list(letters.values())


def white(area, guide_x, *, cap, n=400):
    """Mean white between a vertical line and an area, capped, by shapely's cuts at n heights."""
    x0, y0, x1, y1 = area.bounds
    heights = y0 + (y1 - y0) * (np.arange(n) + 0.5) / n
    cuts = shapely.intersection(
        shapely.linestrings([[[x0 - 9, y], [x1 + 9, y]] for y in heights]), area
    )
    left = shapely.bounds(cuts)[:, 0]
    return np.minimum(np.where(np.isnan(left), np.inf, left) - guide_x, cap).mean()


@pytest.mark.parametrize("text", ["1", "4", "7", "0", "10", "27", "31"])
def test_every_numeral_leaves_the_asked_mean_white(face, text):
    """A guide at x - gap sees the gap as its mean white, capped at gap + depth.

    This is the law that the formula states.
    """
    line = set_numeral(face, text, width_em=WIDTH_PX / SIZE_PX)
    gap, depth = 45.0, 60.0
    area = shapely.union_all(ink_of(line))
    x = optical_left(line, **SIZE, depth_px=depth)
    assert x <= area.bounds[0] + depth + 0.01
    if x < area.bounds[0] + depth - 0.01:
        assert white(area, x - gap, cap=gap + depth) == pytest.approx(gap, abs=0.3)


@pytest.mark.parametrize("character", list("0123456789"))
def test_white_as_counted_in_freetypes_picture(fonts, font_files, character):
    """Left ends of the ink counted row by row in FreeType's picture at 400 px an em.

    A pixel's coverage places its edge.
    """
    face = freetype.Face(str(font_files["roboto"]))
    face.set_char_size(round(SIZE_PX * 64), 0, 72, 72)
    face.load_char(character, freetype.FT_LOAD_NO_HINTING | freetype.FT_LOAD_RENDER)
    bitmap = face.glyph.bitmap
    rows = (
        np.array(bitmap.buffer, dtype=float).reshape(bitmap.rows, bitmap.pitch)[:, : bitmap.width]
        / 255
    )
    first = (rows >= 0.5).argmax(axis=1)
    inked = rows.max(axis=1) >= 0.5
    left = (face.glyph.bitmap_left + first + 0.5)[inked]
    depth = 35.0
    x = optical_left(set_line(fonts["roboto"], character), **SIZE, depth_px=depth)
    if x < left.min() + depth - 1:
        assert np.minimum(left - x, depth).mean() == pytest.approx(0, abs=0.6)
    else:
        assert x == pytest.approx(left.min() + depth, abs=1)


@pytest.mark.parametrize("text", ["4", "17"])
def test_top_is_left_of_the_turned_page(scullery, text):
    line = set_line(scullery, text)
    area = shapely.union_all(ink_of(line))
    turned = shapely.transform(area, lambda points: points[:, ::-1])
    y = optical_top(line, **SIZE, depth_px=40)
    assert y <= turned.bounds[0] + 40.01
    if y < turned.bounds[0] + 39.9:
        assert white(turned, y, cap=40) == pytest.approx(0, abs=0.3)


def test_a_flat_side_stands_at_its_edge(tiny_family):
    """An upright stem: its round ends apart, the optical edge is the stem's own left edge."""
    from inkline.lettering.family import open_family  # noqa: PLC0415 (only here)

    line = set_line(open_family(tiny_family), "1")
    x = optical_left(line, size_px=1000, width_px=2, depth_px=50)
    assert x == pytest.approx(149, abs=0.02)


def cut_stem(tmp_path, write_family, line, angle):
    """An upright stem 90 wide about x = 150, cut by a nib of this angle, as a set line."""
    from inkline.lettering.family import open_family  # noqa: PLC0415 (only here)

    lib = {"inkline.nominalStem": 90, "inkline.nib": {"angle": angle, "thin": 0.5}}
    glyphs = {"one": (300, "1", line((150, 655), (150, 45)))}
    return set_line(open_family(write_family(tmp_path / "cut.ufo", glyphs, lib=lib)), "1")


def test_a_level_cut_is_no_round_end(tmp_path, write_family, line):
    """A rectangle: all its sides lie at its edges, however deep white counts."""
    rectangle = cut_stem(tmp_path, write_family, line, 0)
    for depth in (5, 60, 400):
        sides = [
            side(rectangle, size_px=1000, width_px=90, depth_px=depth)
            for side in (optical_left, optical_right, optical_top, optical_bottom)
        ]
        assert sides == pytest.approx([105, 195, -700, 0], abs=0.01)


def test_a_slanting_cut_has_its_top_in_the_middle_of_its_slope(tmp_path, write_family, line):
    """The mean of a straight slope is half way along it; and the far corner is the outermost."""
    leaning = cut_stem(tmp_path, write_family, line, 25)
    _, highest, _, _ = ink_bounds(leaning, size_px=1000, width_px=90)
    rise = 90 * np.tan(np.radians(25))
    top = optical_top(leaning, size_px=1000, width_px=90, depth_px=200)
    assert top == pytest.approx(highest + 0.5 * rise, abs=0.05)


def test_a_stroke_shorter_than_it_is_wide_is_its_two_cuts(tmp_path, write_family, line):
    from inkline.lettering.family import open_family  # noqa: PLC0415 (only here)

    lib = {"inkline.nominalStem": 90, "inkline.nib": {"angle": 0, "thin": 0.5}}
    glyphs = {"one": (300, "1", line((150, 100), (150, 70)))}
    dot = set_line(open_family(write_family(tmp_path / "dot.ufo", glyphs, lib=lib)), "1")
    left = optical_left(dot, size_px=1000, width_px=90, depth_px=60)
    assert left == pytest.approx(105, abs=0.01)


def test_size_scales_the_place(face):
    line = set_line(face, "4")
    once = optical_left(line, size_px=100, width_px=9, depth_px=12)
    assert optical_left(line, size_px=300, width_px=27, depth_px=36) == pytest.approx(
        3 * once, abs=1e-6
    )
    once = optical_top(line, size_px=100, width_px=9, depth_px=12)
    assert optical_top(line, size_px=300, width_px=27, depth_px=36) == pytest.approx(
        3 * once, abs=1e-6
    )


def test_a_thin_flag_comes_no_nearer_than_the_depth(fonts):
    line = set_line(fonts["roboto-bold"], "7")
    x0, *_ = ink_bounds(line, **SIZE)
    assert optical_left(line, **SIZE, depth_px=5) - x0 == pytest.approx(5, abs=0.01)


@modest
@given(spans, st.floats(0.1, 50), st.integers(0, 3))
def test_edge_solves_its_equation(values, depth, n_open):
    reach = np.array(values + [np.inf] * n_open)
    x = _even_edge(reach, depth)
    assert np.minimum(reach - x, depth).mean() == pytest.approx(0, abs=1e-9)


@modest
@given(spans, st.floats(0.1, 50), st.floats(-30, 30))
def test_edge_moves_with_its_ink(values, depth, step):
    reach = np.array(values)
    assert _even_edge(reach + step, depth) == pytest.approx(
        _even_edge(reach, depth) + step, abs=1e-9
    )


@pytest.mark.parametrize("depth", [0.0, -1.0, float("nan")])
def test_depth_must_be_positive(scullery, depth):
    line = set_line(scullery, "4")
    for place in (optical_left, optical_top):
        with pytest.raises(
            ValueError, match=r"the depth of white that counts must be above 0, not"
        ):
            place(line, **SIZE, depth_px=depth)


def gap_between(line, **options):
    first, second = ink_of(line, **options)
    return shapely.distance(first, second)


def test_no_digits_touch_and_none_stray(face):
    """Inks keep a stem apart, or as far as the face itself sets its nearest half.

    Source of the stem: ISO 3098, at least one stroke width.
    """
    stem = face.nominal_stem_em * SIZE_PX
    pairs = [a + b for a in "0123456789" for b in "0123456789"]
    own = {pair: gap_between(set_line(face, pair), width_px=stem) for pair in pairs}
    floor = min(stem, float(np.median(list(own.values()))))
    limit = EVEN.limit * face.digit_height_em
    for pair in pairs:
        line, plain = set_numeral(face, pair), set_line(face, pair)
        move = line.glyphs[1].x_em - plain.glyphs[1].x_em
        assert abs(move) <= limit + 1e-9
        assert line.advance_em - plain.advance_em == pytest.approx(move)
        if move < limit - 1e-9:
            assert gap_between(line, width_px=stem) > 0.9 * floor, pair


def test_white_within_numerals_is_more_even_than_the_faces_own(face):
    """The spread of the mean white between digits falls by a quarter at least.

    The digits are those of 10 to 31, measured by shapely.
    """
    stem = face.nominal_stem_em * SIZE_PX

    def spread(lines):
        whites = []
        for line in lines:
            first, second = ink_of(line, width_px=stem)
            mirrored = shapely.transform(first.buffer(stem / 2), lambda points: points * (-1, 1))
            heights = (
                np.linspace(-0.98 * face.digit_height_em, -0.02 * face.digit_height_em, 80)
                * SIZE_PX
            )
            reach = [left_ends(area, heights) for area in (mirrored, second.buffer(stem / 2))]
            whites.append(
                np.minimum(reach[0] + reach[1], 0.25 * face.digit_height_em * SIZE_PX).mean()
            )
        return np.std(whites)

    texts = [str(date) for date in range(10, 32)]
    even = spread([set_numeral(face, text) for text in texts])
    assert even < 0.75 * spread([set_line(face, text) for text in texts])


def left_ends(area, heights):
    cuts = shapely.intersection(
        shapely.linestrings([[[-2000, y], [2000, y]] for y in heights]), area
    )
    left = shapely.bounds(cuts)[:, 0]
    return np.where(np.isnan(left), np.inf, left)


def test_eleven_does_not_gape(face):
    assert gap_between(set_numeral(face, "11")) < gap_between(set_line(face, "11"))


def test_no_evenness_leaves_the_faces_places(face):
    own = set_numeral(face, "11", spacing=DigitSpacing(evenness=0, limit=0))
    for a, b in zip(own.glyphs, set_line(face, "11").glyphs, strict=True):
        assert a.x_em == b.x_em


def test_moves_add_up_along_a_year(face):
    steps = {
        pair: np.diff([item.x_em for item in set_numeral(face, pair).glyphs])[0]
        for pair in ("20", "02", "21")
    }
    year = np.diff([item.x_em for item in set_numeral(face, "2021").glyphs])
    np.testing.assert_allclose(year, [steps["20"], steps["02"], steps["21"]], atol=1e-9)


def test_other_characters_keep_the_faces_distance(fonts):
    font = fonts["roboto"]
    line, plain = set_numeral(font, "A-B"), set_line(font, "A-B")
    assert [item.x_em for item in line.glyphs] == [item.x_em for item in plain.glyphs]


def test_a_wider_pen_asks_for_more_room(scullery):
    thin, wide = (set_numeral(scullery, "11", width_em=width) for width in (0.04, 0.12))
    assert wide.glyphs[1].x_em > thin.glyphs[1].x_em


def test_a_pen_makes_no_difference_to_a_font(fonts):
    plain, penned = (
        set_numeral(fonts["roboto"], "14"),
        set_numeral(fonts["roboto"], "14", width_em=0.2),
    )
    assert [item.x_em for item in plain.glyphs] == [item.x_em for item in penned.glyphs]


def test_a_font_of_one_digit(tmp_path, build_font, box):
    from inkline.lettering.font import open_font  # noqa: PLC0415 (only here)

    draws = {
        "one": lambda pen: box(pen, 200, 0, 280, 700),
        "A": lambda pen: box(pen, 0, 0, 300, 700),
    }
    font = open_font(build_font(tmp_path / "1.ttf", draws, {"1": "one", "A": "A"}))
    for figures in Figures:
        first, second = set_numeral(font, "11", figures=figures).glyphs
        assert second.x_em == pytest.approx(
            first.x_em + 0.6 - EVEN.limit * font.digit_height_em, abs=0.3
        )
    letters = open_font(build_font(tmp_path / "2.ttf", {"A": draws["A"]}, {"A": "A"}))
    assert len(set_numeral(letters, "AA").glyphs) == 2


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"evenness": 1.5}, "the evenness of a numeral's white must be 0 to 1, not 1.5"),
        ({"depth": 0.0}, "the depth of white that counts must be above 0, not 0.0"),
        ({"limit": -0.1}, "the limit of a digit's move must be at least 0, not -0.1"),
    ],
)
def test_spacing_is_checked(options, message):
    with pytest.raises(ValueError, match=message):
        DigitSpacing(**options)


def test_dates_stand_in_order(face):
    for date in range(1, 32):
        line = set_numeral(face, str(date))
        assert all(a.x_em < b.x_em for a, b in pairwise(line.glyphs))


@pytest.mark.parametrize("text", ["1", "4", "7", "0", "10", "27", "31"])
def test_the_right_side_is_the_left_one_of_the_mirror_image(face, text):
    """By shapely: a guide at the right side sees, looking left, the same law as one at the left."""
    line = set_numeral(face, text, width_em=WIDTH_PX / SIZE_PX)
    gap, depth = 45.0, 60.0
    x = optical_right(line, **SIZE, depth_px=depth)
    area = shapely.affinity.scale(shapely.union_all(ink_of(line)), xfact=-1.0, origin=(0, 0))
    assert -x <= area.bounds[0] + depth + 0.01
    if -x < area.bounds[0] + depth - 0.01:
        assert white(area, -x - gap, cap=gap + depth) == pytest.approx(gap, abs=0.35)


@pytest.mark.parametrize("text", ["3", "0123456789"])
def test_the_foot_is_the_top_of_the_image_turned_over(face, text):
    line = set_line(face, text)
    gap, depth = 45.0, 60.0
    y = optical_bottom(line, **SIZE, depth_px=depth)
    # (x, y) -> (-y, x): the foot becomes the left side
    turned = shapely.affinity.affine_transform(shapely.union_all(ink_of(line)), [0, -1, 1, 0, 0, 0])
    assert white(turned, -y - gap, cap=gap + depth) == pytest.approx(gap, abs=0.6)
    assert -depth < y < 10.0


def test_symmetrical_ink_has_symmetrical_sides(face):
    line = set_line(face, "0")
    x0, y0, x1, y1 = ink_bounds(line, **SIZE)
    left, right = (side(line, **SIZE, depth_px=30.0) for side in (optical_left, optical_right))
    top, bottom = (side(line, **SIZE, depth_px=30.0) for side in (optical_top, optical_bottom))
    assert left + right == pytest.approx(x0 + x1, abs=6.0)
    assert top + bottom == pytest.approx(y0 + y1, abs=6.0)
    assert x0 < left < right < x1


@pytest.mark.parametrize("side", [optical_left, optical_right, optical_top, optical_bottom])
def test_every_side_needs_ink_and_depth(scullery, side):
    with pytest.raises(ValueError, match="the line ' ' has no ink and so no bounds"):
        side(set_line(scullery, " "), **SIZE, depth_px=10.0)
    with pytest.raises(
        ValueError, match=r"the depth of white that counts must be above 0, not 0\.0"
    ):
        side(set_line(scullery, "1"), **SIZE, depth_px=0.0)


@pytest.mark.parametrize("text", ["1", "4", "7", "8", "24"])
def test_a_traced_numeral_is_placed_as_its_outline_is(fonts, text):
    font = fonts["source-ttf"]
    traced = TracedFont(font=font)
    width = font.nominal_stem_em * SIZE_PX
    for side in (optical_left, optical_right, optical_top, optical_bottom):
        places = [
            side(set_numeral(face, text), size_px=SIZE_PX, width_px=width, depth_px=30.0)
            for face in (font, traced)
        ]
        assert places[0] == pytest.approx(
            places[1], abs=6.0
        )  # 1.5 % of an em; round ends are shorter than square ones
