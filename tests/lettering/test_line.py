"""Lines of text.

Spacing, exact bounds and marks, against shapely's buffers and FreeType's boxes.
"""

import freetype
import numpy as np
import pytest
import shapely

from inkline.drawing import Cap, Role, Shape, Stroke
from inkline.geometry.polygon import bounds, total_area
from inkline.lettering.family import open_family
from inkline.lettering.line import ink_bounds, marks_from_line, set_line

SIZE = {"size_px": 312.5, "width_px": 31.0}


def marks_of(face, text, *, baseline=(100.0, 400.0), name="tall/dates-3/17"):
    return marks_from_line(
        set_line(face, text), name=name, role=Role.NUMERAL, baseline=baseline, **SIZE
    )


def test_strokes_of_a_numeral_are_named_through_and_grouped_by_letter(scullery):
    marks = marks_of(scullery, "17")
    assert [mark.name for mark in marks] == [f"tall/dates-3/17/{i + 1}" for i in range(len(marks))]
    assert sorted({mark.group for mark in marks}) == ["tall/dates-3/17.1", "tall/dates-3/17.2"]
    assert all(isinstance(mark, Stroke) for mark in marks)
    assert {mark.cap for mark in marks} == {Cap.ROUND}
    assert {mark.width_px for mark in marks} == {31.0}
    assert {mark.role for mark in marks} == {Role.NUMERAL}


def test_one_letter_moves_under_the_plain_name(scullery, fonts):
    for face in (scullery, fonts["roboto"]):
        assert {mark.group for mark in marks_of(face, "7", name="a/7")} == {"a/7"}
        assert {mark.group for mark in marks_of(face, " 7 ", name="a/7")} == {"a/7"}


def test_fonts_give_one_shape_a_letter(fonts):
    marks = marks_of(fonts["roboto"], "10")
    assert all(isinstance(mark, Shape) for mark in marks)
    assert [(mark.name, mark.group) for mark in marks] == [
        ("tall/dates-3/17/1", "tall/dates-3/17.1"),
        ("tall/dates-3/17/2", "tall/dates-3/17.2"),
    ]
    assert len(marks[1].contours) == 2
    assert total_area(marks[1].contours) > 0
    assert total_area(marks[1].contours[:1]) * total_area(marks[1].contours[1:]) < 0


def test_points_are_turned_over_and_placed(tiny_family):
    (stroke,) = marks_from_line(
        set_line(open_family(tiny_family), "1"),
        name="n",
        role=Role.WORD,
        baseline=(10, 500),
        size_px=100,
        width_px=9,
    )
    np.testing.assert_allclose(stroke.points, [[25, 434.5], [25, 495.5]])
    assert stroke.origin == (10, 500)


def test_origins_are_the_letters_baseline_points(scullery, fonts):
    for face in (scullery, fonts["source-otf"]):
        line = set_line(face, "AV")
        marks = marks_from_line(
            line, name="n", role=Role.WORD, baseline=(10, 500), size_px=100, width_px=9
        )
        wanted = [(10 + 100 * item.x_em, 500) for item in line.glyphs]
        np.testing.assert_allclose(sorted({mark.origin for mark in marks}), wanted)


@pytest.mark.parametrize("face_name", ["scullery", "roboto"])
def test_moving_the_baseline_moves_everything_alike(scullery, fonts, face_name):
    face = scullery if face_name == "scullery" else fonts[face_name]
    first, second = (marks_of(face, "28", baseline=place) for place in [(0.0, 0.0), (31.25, -7.5)])
    for a, b in zip(first, second, strict=True):
        for p, q in zip(outlines(a), outlines(b), strict=True):
            np.testing.assert_allclose(q - p, np.broadcast_to([31.25, -7.5], p.shape), atol=1e-9)
        np.testing.assert_allclose(np.subtract(b.origin, a.origin), [31.25, -7.5])


def outlines(mark):
    return [mark.points] if isinstance(mark, Stroke) else list(mark.contours)


def test_bounds_of_strokes_are_those_of_shapelys_buffers(scullery):
    for text in ("17", "8", "€2+", "&"):
        marks = marks_of(scullery, text, baseline=(0.0, 0.0))
        paths = [
            shapely.LineString([*mark.points, mark.points[0]] if mark.closed else mark.points)
            for mark in marks
        ]
        wanted = shapely.union_all([path.buffer(15.5, quad_segs=64) for path in paths]).bounds
        np.testing.assert_allclose(ink_bounds(set_line(scullery, text), **SIZE), wanted, atol=1e-3)


def test_bounds_of_outlines_are_freetypes(fonts, font_files):
    """FreeType's outline box, in 1/64 px without hinting.

    For curves it is the control box, so glyphs whose extremes are straight are compared.
    """
    face = freetype.Face(str(font_files["roboto"]))
    face.set_char_size(round(312.5 * 64), 0, 72, 72)
    for character in "0147AEHQ":
        face.load_char(character, freetype.FT_LOAD_NO_HINTING | freetype.FT_LOAD_NO_BITMAP)
        box = face.glyph.outline.get_bbox()
        wanted = np.array([box.xMin, -box.yMax, box.xMax, -box.yMin]) / 64
        np.testing.assert_allclose(
            ink_bounds(set_line(fonts["roboto"], character), **SIZE), wanted, atol=1.01 / 64
        )


def test_bounds_of_marks_and_of_line_agree(fonts):
    line = set_line(fonts["source-otf"], "MÄRZ")
    marks = marks_from_line(line, name="n", role=Role.WORD, baseline=(0, 0), **SIZE)
    page = bounds([contour for mark in marks for contour in mark.contours])
    np.testing.assert_allclose(ink_bounds(line, **SIZE), page, atol=1e-9)


def test_spacing_goes_between_letters_only(scullery, fonts):
    for face in (scullery, fonts["roboto"]):
        plain, wide = set_line(face, "MAY"), set_line(face, "MAY", spacing_em=0.1)
        steps = [b.x_em - a.x_em for a, b in zip(plain.glyphs, wide.glyphs, strict=True)]
        np.testing.assert_allclose(steps, [0, 0.1, 0.2])
        assert wide.advance_em == pytest.approx(plain.advance_em + 0.2)


def test_an_accent_of_its_own_joins_its_letter(fonts):
    """Unicode normal form C: A and a combining diaeresis are the letter Ä."""
    line = set_line(fonts["roboto"], "MA\u0308R")
    assert line.text == "MÄR"
    assert (
        len(
            {
                mark.group
                for mark in marks_from_line(line, name="n", role=Role.WORD, baseline=(0, 0), **SIZE)
            }
        )
        == 3
    )


def test_an_empty_line(scullery, fonts):
    for face in (scullery, fonts["roboto"]):
        for text in ("", " "):
            line = set_line(face, text)
            assert marks_from_line(line, name="n", role=Role.WORD, baseline=(0, 0), **SIZE) == ()
            with pytest.raises(ValueError, match=r"the line '.*' has no ink and so no bounds"):
                ink_bounds(line, **SIZE)
