"""Widths that a glyph carries: read with bounds, followed between nodes, kept in the drawing."""

import re

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from inkline.drawing import Role
from inkline.lettering.errors import FamilyError
from inkline.lettering.family import open_family
from inkline.lettering.line import ink_bounds, marks_from_line, set_line
from inkline.lettering.review import Review
from inkline.lettering.swap import outlined_glyph, swapped_face

KEY = "inkline.widths"


def with_widths(folder, write_family, draw, widths, **more):
    glyphs = {"one": (300, "1", draw), "space": (250, " ", None)}
    return write_family(folder, glyphs, libs={"one": {KEY: widths}}, **more)


def ring(pen):
    """A closed ring of two cubic curves."""
    pen.beginPath()
    pen.addPoint((100, 0), "curve")
    for point in [(100, 133), (300, 133)]:
        pen.addPoint(point)
    pen.addPoint((300, 0), "curve")
    for point in [(300, -133), (100, -133)]:
        pen.addPoint(point)
    pen.endPath()


def quadratic(pen):
    pen.beginPath()
    pen.addPoint((0, 0), "move")
    pen.addPoint((50, 100))
    pen.addPoint((100, 0), "qcurve")
    pen.endPath()


def test_widths_stand_at_the_nodes_and_follow_a_monotone_cubic_between(
    tmp_path, line, write_family
):
    """Against SciPy's interpolator, by the arc lengths of a line with a corner."""
    draw = line((100, 600), (100, 200), (200, 200), (200, 0))
    family = open_family(
        with_widths(tmp_path / "w.ufo", write_family, draw, [[0.4, 1.3, 0.5, 0.5]])
    )
    (stroke,) = family.glyph("1").strokes
    at = np.concatenate(([0], np.cumsum(np.hypot(*np.diff(stroke.points, axis=0).T))))
    expected = 0.09 * PchipInterpolator([0, 0.4, 0.5, 0.7], [0.4, 1.3, 0.5, 0.5])(at)
    assert stroke.widths_em == pytest.approx(expected)
    assert stroke.widths_em.max() == pytest.approx(0.09 * 1.3)  # it never swells beyond its nodes
    assert np.diff(at).max() < 0.0121
    np.testing.assert_allclose(stroke.points[[0, -1]], [[0.1, 0.6], [0.2, 0.0]])


def test_a_ring_comes_round_to_the_width_of_its_start(tmp_path, write_family):
    (stroke,) = (
        open_family(with_widths(tmp_path / "w.ufo", write_family, ring, [[0.5, 1.5]]))
        .glyph("1")
        .strokes
    )
    assert stroke.closed
    assert stroke.widths_em[0] == pytest.approx(0.045)
    assert stroke.widths_em[-1] == pytest.approx(0.045, rel=0.03)
    assert stroke.widths_em.max() == pytest.approx(0.135, rel=1e-3)


def test_a_press_is_as_wide_as_it_says(tmp_path, line, write_family):
    folder = with_widths(tmp_path / "w.ufo", write_family, line((100, 45)), [[1.3]])
    set_one = set_line(open_family(folder), "1")
    (mark,) = marks_from_line(
        set_one, name="n", role=Role.NUMERAL, baseline=(0, 0), size_px=100, width_px=9
    )
    assert (mark.width_px, mark.profile) == (pytest.approx(11.7), None)


def test_marks_and_bounds_swell_with_the_glyph(tmp_path, line, write_family):
    folder = with_widths(
        tmp_path / "w.ufo", write_family, line((100, 600), (100, 100)), [[0.5, 1.5]]
    )
    set_one = set_line(open_family(folder), "1")
    (mark,) = marks_from_line(
        set_one, name="n", role=Role.NUMERAL, baseline=(0, 0), size_px=1000, width_px=80
    )
    assert mark.width_px == 80
    assert mark.profile[[0, -1]] == pytest.approx([0.5, 1.5])
    assert ink_bounds(set_one, size_px=1000, width_px=80) == pytest.approx((40, -620, 160, -40))


def test_components_bring_their_widths(tmp_path, line, write_family):
    def composed(pen):
        pen.addComponent("one", (1, 0, 0, 1, 50, 0))
        line((0, 0), (100, 0))(pen)

    glyphs = {
        "one": (300, "1", line((100, 600), (100, 100))),
        "two": (300, "2", composed),
        "three": (300, "3", lambda pen: pen.addComponent("two", (1, 0, 0, 1, 0, 0))),
    }
    libs = {"one": {KEY: [[0.5, 1.5]]}, "two": {KEY: [[2, 2]]}}
    family = open_family(write_family(tmp_path / "w.ufo", glyphs, libs=libs))
    upright, level = family.glyph("3").strokes
    assert upright.points[0] == pytest.approx([0.15, 0.6])
    assert upright.widths_em[[0, -1]] == pytest.approx([0.045, 0.135])
    assert level.widths_em == pytest.approx(0.18)


@pytest.mark.parametrize(
    ("widths", "sentence"),
    [
        ("thick", "must give inkline.widths as one list of numbers for each of its 1 strokes, not"),
        ([[1, 1], [1, 1]], "for each of its 1 strokes, not 2 lists"),
        ([[1, 1, 1]], "stroke 1: inkline.widths must have a number for each of its 2 nodes, not 3"),
        ([7], "stroke 1: inkline.widths must have a number for each of its 2 nodes, not 7"),
        ([[1, 0]], "inkline.widths must be between 0.1 and 3 stems, not 0"),
        ([[1, 3.5]], "inkline.widths must be between 0.1 and 3 stems, not 3.5"),
        ([[1, True]], "inkline.widths must be between 0.1 and 3 stems, not True"),
        ([[1, "wide"]], "inkline.widths must be between 0.1 and 3 stems, not 'wide'"),
    ],
)
def test_widths_that_do_not_fit_are_named(tmp_path, line, write_family, widths, sentence):
    folder = with_widths(tmp_path / "w.ufo", write_family, line((100, 600), (100, 100)), widths)
    with pytest.raises(FamilyError, match=re.escape(sentence)) as caught:
        open_family(folder)
    assert "one.glif" in str(caught.value)


def test_quadratic_curves_carry_no_widths(tmp_path, write_family):
    folder = with_widths(tmp_path / "w.ufo", write_family, quadratic, [[1, 1]])
    with pytest.raises(FamilyError, match="must be of lines and cubic curves"):
        open_family(folder)


def test_another_face_takes_the_widths_along_in_its_own_stems(tmp_path, line, write_family):
    draw = line((100, 655), (100, 45))
    with_widths(tmp_path / "w.ufo", write_family, draw, [[0.5, 1.5]])
    own = open_family(
        write_family(
            tmp_path / "mine.ufo", {"one": (300, "1", draw)}, lib={"inkline.nominalStem": 60}
        )
    )
    face = swapped_face(own, {"1": "w.ufo:one"}, folder=tmp_path)
    (stroke,) = face.glyph("1").strokes
    assert stroke.widths_em[[0, -1]] == pytest.approx([0.03, 0.09])
    (outline,) = outlined_glyph(face.glyph("1"), width_em=0.06, stem_em=0.06).contours
    (even,) = outlined_glyph(face.glyph("1"), width_em=0.06).contours
    assert np.ptp(outline[:, 0]) == pytest.approx(0.09, abs=1e-3)
    assert np.ptp(even[:, 0]) == pytest.approx(0.06, abs=1e-3)


def test_the_review_judges_ink_as_the_glyph_swells(tmp_path, write_family):
    """A ring from 100 to 300 reaches half its own width beyond that."""
    open_ring = open_family(with_widths(tmp_path / "a.ufo", write_family, ring, [[1, 1]], lib=None))
    full = open_family(with_widths(tmp_path / "b.ufo", write_family, ring, [[2.5, 2.5]]))
    measures = Review(full).measures("1")
    assert (measures.left, measures.right) == pytest.approx((-12.5, 412.5), abs=0.5)
    assert Review(open_ring).measures("1").left == pytest.approx(55, abs=0.5)
