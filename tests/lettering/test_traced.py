"""Outlines whose strokes are known.

Simple ones by hand, and public-domain stroke letters widened by an independent library.

The stroke letters are those that A. V. Hershey drew at the US National Bureau of Standards, as the
package hershey-fonts brings them; GEOS, through shapely, widens them to outlines and measures
distances.
"""

import numpy as np
import pytest
import shapely
from HersheyFonts import HersheyFonts
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiLineString, Point, Polygon

from inkline.lettering.face import Glyph
from inkline.lettering.traced import USUAL_STROKES, traced_glyph, traced_strokes

DIGITS = "0123456789"
LETTERS = DIGITS + "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
WIDTH, HEIGHT = 24.0, 8 * 24.0


def contours_of(shape):
    """The contours of a shapely area as we hold them: open ends, outer ones anticlockwise."""
    pieces = [shape] if shape.geom_type == "Polygon" else list(shape.geoms)
    rings = [
        ring
        for one in map(shapely.geometry.polygon.orient, pieces)
        for ring in (one.exterior, *one.interiors)
    ]
    return [np.array(ring.coords)[:-1] for ring in rings]


def widened(*lines, width=1.0, **style):
    return contours_of(
        MultiLineString([LineString(line) for line in lines]).buffer(0.5 * width, **style)
    )


def line_of(stroke):
    points = np.concatenate((stroke.points, stroke.points[:1])) if stroke.closed else stroke.points
    return LineString(points)


def test_a_level_bar_is_one_stroke_to_the_right_that_ends_half_its_width_before_the_ink():
    (stroke,) = traced_strokes([np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 1.0], [0.0, 1.0]])])
    assert stroke.points[0] == pytest.approx([0.5, 0.5], abs=0.02)
    assert stroke.points[-1] == pytest.approx([9.5, 0.5], abs=0.02)
    assert np.ptp(stroke.points[:, 1]) < 0.01
    assert stroke.widths_em == pytest.approx(np.ones(len(stroke.points)), abs=0.01)


def test_an_upright_bar_is_drawn_downwards():
    (stroke,) = traced_strokes([np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 10.0], [0.0, 10.0]])])
    assert stroke.points[0, 1] == pytest.approx(9.5, abs=0.02)
    assert stroke.points[-1, 1] == pytest.approx(0.5, abs=0.02)


def test_a_wedge_keeps_its_widths():
    (stroke,) = traced_strokes([np.array([[0.0, -0.5], [20.0, -1.0], [20.0, 1.0], [0.0, 0.5]])])
    x, widths = stroke.points[:, 0], stroke.widths_em
    inner = (x > 2) & (x < 18)
    slope = 0.025
    assert widths[inner] == pytest.approx(
        (1.0 + 2 * slope * x[inner]) / np.hypot(1, slope), abs=0.01
    )


def test_a_corner_is_a_point_where_the_middles_of_both_arms_meet():
    (stroke,) = traced_strokes(
        [np.array([[0.0, 0.0], [8.0, 0.0], [8.0, 1.0], [1.0, 1.0], [1.0, 10.0], [0.0, 10.0]])]
    )
    nearest = np.hypot(*(stroke.points - 0.5).T).min()
    assert nearest < 0.02
    assert stroke.points[0] == pytest.approx([0.5, 9.5], abs=0.02)
    assert stroke.points[-1] == pytest.approx([7.5, 0.5], abs=0.02)


def test_crossing_bars_are_two_straight_strokes():
    strokes = traced_strokes(widened([(-6, 0), (6, 0)], [(0, -6), (0, 6)], cap_style="flat"))
    assert len(strokes) == 2
    across = next(one for one in strokes if np.ptp(one.points[:, 0]) > 1)
    upright = next(one for one in strokes if np.ptp(one.points[:, 1]) > 1)
    assert np.abs(across.points[:, 1]).max() < 0.01
    assert np.abs(upright.points[:, 0]).max() < 0.01


def test_a_stroke_that_touches_another_ends_at_its_middle_and_leaves_it_straight():
    strokes = traced_strokes(widened([(-6, 0), (6, 0)], [(0, 0), (0, -9)], cap_style="flat"))
    bar, stem = strokes
    assert np.abs(bar.points[:, 1]).max() < 0.01
    assert stem.points[0] == pytest.approx([0.0, 0.0], abs=0.01)
    assert stem.points[-1] == pytest.approx([0.0, -8.5], abs=0.02)


def test_a_ring_is_a_closed_stroke_against_the_clock_from_its_top():
    (stroke,) = traced_strokes(
        contours_of(Point(0, 0).buffer(5.5, quad_segs=64) - Point(0, 0).buffer(4.5, quad_segs=64))
    )
    assert stroke.closed
    assert np.hypot(*stroke.points.T) == pytest.approx(np.full(len(stroke.points), 5.0), abs=0.01)
    assert stroke.points[0, 1] > 4.5
    assert stroke.points[3, 0] < stroke.points[0, 0]


@pytest.mark.parametrize(
    "ink", [Point(3, 4).buffer(0.6), shapely.box(2.5, 3.5, 3.5, 4.5)], ids=["round", "square"]
)
def test_ink_as_wide_as_long_is_a_press_of_the_pen_with_as_much_ink(ink):
    (stroke,) = traced_strokes(contours_of(ink))
    assert np.array_equal(stroke.points[0], stroke.points[1])
    assert stroke.points[0] == pytest.approx([3.0, 4.0], abs=0.01)
    assert np.pi * (0.5 * stroke.widths_em[0]) ** 2 == pytest.approx(ink.area, rel=0.1)


def test_a_dot_beside_a_stem_is_drawn_after_it():
    stem, dot = traced_strokes(widened([(0, 0), (0, 7)]) + contours_of(Point(0, 10).buffer(0.6)))
    assert len(stem.points) > 2
    assert dot.points[0] == pytest.approx([0.0, 10.0], abs=0.02)


def test_a_glyph_without_ink_stays_as_it_is():
    space = Glyph(name="space", advance_em=0.3)
    assert traced_glyph(space) is space


def test_a_traced_glyph_has_strokes_instead_of_contours():
    contours = tuple(0.1 * contour for contour in widened([(0, 0), (0, 7)]))
    traced = traced_glyph(Glyph(name="l", advance_em=0.3, contours=contours))
    assert (traced.name, traced.advance_em, traced.contours) == ("l", 0.3, ())
    assert len(traced.strokes) == 1


@settings(max_examples=10, deadline=None)
@given(scale=st.floats(0.001, 1000), x=st.floats(-5, 5), y=st.floats(-5, 5))
def test_tracing_follows_the_outline_wherever_it_lies_and_however_large_it_is(scale, x, y):
    contours = widened([(0, 0), (3, 8), (6, 0)], [(1, 3), (5, 3)])
    plain = traced_strokes(contours)
    moved = traced_strokes([scale * (contour + np.array([x, y])) for contour in contours])
    assert len(moved) == len(plain)
    for one, other in zip(plain, moved, strict=True):
        gap = shapely.hausdorff_distance(
            line_of(one), LineString(other.points / scale - np.array([x, y]))
        )
        assert gap < 1e-3


class Traced:
    """A stroke letter widened to `WIDTH`, traced, and compared with what it was widened from."""

    def __init__(self, character, lines):
        size = HEIGHT / np.ptp(np.concatenate(lines)[:, 1])
        self.character = character
        self.truth = MultiLineString([LineString(size * line) for line in lines])
        self.strokes = traced_strokes(contours_of(self.truth.buffer(0.5 * WIDTH, quad_segs=32)))
        self.lines = [line_of(stroke) for stroke in self.strokes]

    def strayed(self):
        """How far points every px along the traced strokes lie from the true ones."""
        points = [
            one.interpolate(at) for one in self.lines for at in np.arange(0.0, one.length, 1.0)
        ]
        return shapely.distance(points, self.truth)

    def missed(self):
        """How far points every px along the true strokes lie from the traced ones."""
        points = [
            one.interpolate(at)
            for one in self.truth.geoms
            for at in np.arange(0.0, one.length, 1.0)
        ]
        return shapely.distance(points, shapely.union_all(self.lines))


@pytest.fixture(scope="module")
def stroke_letters():
    letters = HersheyFonts()
    letters.load_default_font("futural")
    lines = {
        one: [np.array(run, float) * (1, -1) for run in letters.strokes_for_text(one)]
        for one in LETTERS
    }
    return {one: Traced(one, runs) for one, runs in lines.items()}


def test_widened_stroke_letters_come_back(stroke_letters):
    for distances in (Traced.strayed, Traced.missed):
        strayed = np.concatenate([distances(one) for one in stroke_letters.values()])
        assert np.median(strayed) < 0.05
        assert np.quantile(strayed, 0.95) < WIDTH / 5


def test_each_stroke_letter_comes_back(stroke_letters):
    for letter in stroke_letters.values():
        assert np.median(letter.strayed()) < 0.2, letter.character
        assert np.quantile(letter.strayed(), 0.95) < WIDTH / 5, letter.character


def test_no_traced_stroke_has_a_spur_of_half_its_width(stroke_letters):
    for letter in stroke_letters.values():
        assert letter.strayed().max() < 0.5 * WIDTH, letter.character
        assert min(one.length for one in letter.lines) > WIDTH, letter.character


def test_widths_of_widened_strokes_are_the_pens(stroke_letters):
    widths = np.concatenate(
        [stroke.widths_em for one in stroke_letters.values() for stroke in one.strokes]
    )
    assert widths == pytest.approx(np.full(len(widths), WIDTH), rel=0.1)
    assert np.median(widths) == pytest.approx(WIDTH, rel=0.002)


def test_stroke_letters_have_as_many_strokes_as_a_hand_draws(stroke_letters):
    right = [one for one in DIGITS if len(stroke_letters[one].strokes) == USUAL_STROKES[one]]
    assert len(right) >= 9
    for character, letter in stroke_letters.items():
        assert len(letter.strokes) <= USUAL_STROKES[character] + 1, character


def test_the_table_of_strokes_knows_every_figure_and_letter():
    known = {
        chr(code) for first, last in ("09", "AZ", "az") for code in range(ord(first), ord(last) + 1)
    }
    assert set(USUAL_STROKES) == known


def starts_and_ends(letter):
    return [(stroke.points[0], stroke.points[-1]) for stroke in letter.strokes]


def test_uprights_go_down_before_level_strokes_go_to_the_right(stroke_letters):
    left, right, bar = starts_and_ends(stroke_letters["H"])
    assert left[0][1] > left[1][1]
    assert right[0][1] > right[1][1]
    assert left[0][0] < right[0][0]
    assert bar[0][0] < bar[1][0]


def test_the_pen_lifts_at_the_top_of_a_and_goes_on_at_the_foot_of_v(stroke_letters):
    assert len(stroke_letters["V"].strokes) == 1
    first, second, bar = starts_and_ends(stroke_letters["A"])
    assert first[0] == pytest.approx(second[0], abs=1.0)
    assert first[1][0] < second[1][0]
    assert bar[0][0] < bar[1][0]


def test_bowls_start_from_the_top_of_their_stem(stroke_letters):
    for character in "DP":
        stem, bowl = starts_and_ends(stroke_letters[character])
        assert stem[0][1] > stem[1][1]
        assert bowl[0] == pytest.approx(stem[0], abs=1.0)
        assert bowl[1][1] < bowl[0][1]


def test_a_figure_of_eight_is_one_stroke_that_crosses_itself(stroke_letters):
    (stroke,) = stroke_letters["8"].strokes
    assert stroke.closed
    assert not line_of(stroke).is_simple


def test_the_strokes_of_an_outline_lie_within_it(stroke_letters):
    for letter in stroke_letters.values():
        ink = letter.truth.buffer(0.5 * WIDTH)
        assert isinstance(ink, Polygon)
        assert all(ink.covers(one) for one in letter.lines), letter.character
