"""Letters that join: their forms by place, and the line between them."""

import re

import numpy as np
import pytest

from inkline.drawing import Role
from inkline.lettering.errors import FamilyError
from inkline.lettering.face import Figures
from inkline.lettering.family import open_family
from inkline.lettering.line import ink_bounds, marks_from_line, set_line


def at(name, x, y):
    return {"name": name, "x": x, "y": y}


@pytest.fixture
def joined(tmp_path, line, write_family):
    """u runs on (its stroke begins at its entry), o is run into, t has a bar, x joins nothing."""
    hook = line((40, 100), (100, 400), (100, 50), (160, 50))
    glyphs = {
        "u": (200, "u", hook),
        "u.fina": (200, "", line((40, 100), (100, 400), (100, 50), (190, 90))),
        "u.init": (200, "", line((60, 300), (100, 400), (100, 50), (160, 50))),
        "o": (200, "o", line((60, 400), (60, 50), (140, 50), (160, 380))),
        "acutecomb": (0, "\u0301", line((-50, 500), (0, 560))),
        "uacute": (
            200,
            "\u00fa",
            lambda pen: [
                pen.addComponent("u", (1, 0, 0, 1, 0, 0)),
                pen.addComponent("acutecomb", (1, 0, 0, 1, 120, 0)),
            ],
        ),
        "u.round": (220, "", hook),
        "x": (200, "x", line((60, 400), (140, 50))),
        "space": (250, " ", None),
    }
    anchors = {
        "u": [at("entry", 40, 100), at("exit", 160, 50)],
        "u.fina": [at("entry", 40, 100)],
        "u.init": [at("exit", 160, 50)],
        "o": [at("entry", 60, 250), at("entry", 62, 390), at("exit", 160, 380)],
    }
    libs = {"u": {"inkline.widths": [[0.3, 1, 1, 0.3]]}}
    return open_family(write_family(tmp_path / "joined.ufo", glyphs, anchors=anchors, libs=libs))


def names_in(family, text):
    return [item.glyph.name for item in family.placed_glyphs(text, figures=Figures.LINING)[0]]


def strokes_in(family, text):
    line = set_line(family, text)
    return [
        stroke.points + np.array([item.x_em, item.y_em])
        for item in line.glyphs
        for stroke in item.glyph.strokes
    ]


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("uuu", ["u.init", "u", "u.fina"]),
        ("u", ["u.fina"]),  # alone, and without a form for that
        ("uxu", ["u.fina", "x", "u.fina"]),
        ("uu uu", ["u.init", "u.fina", "space", "u.init", "u.fina"]),
        ("\u00fau\u00fa", ["uacute.init", "u", "uacute.fina"]),  # composed letters as their bases
        ("ox", ["o", "x"]),
    ],
)
def test_forms_stand_by_their_place(joined, text, names):
    assert names_in(joined, text) == names


def test_forms_by_place_are_no_other_forms(joined):
    assert [glyph.name for glyph in joined.alternates("u")] == ["u.round"]


def test_a_word_is_one_stroke_where_strokes_meet(joined):
    """Three u: the stroke of the first holds all; it starts and ends where they do."""
    (stroke,) = strokes_in(joined, "uuu")
    assert stroke[0] == pytest.approx([0.06, 0.3])
    assert stroke[-1] == pytest.approx([0.59, 0.09])
    line = set_line(joined, "uuu")
    (mark,) = marks_from_line(
        line, name="w", role=Role.WORD, baseline=(0, 0), size_px=1000, width_px=90
    )
    assert (mark.name, mark.group) == ("w/1", "w")
    assert ink_bounds(line, size_px=1000, width_px=90) == pytest.approx((15, -445, 635, -5))


def test_the_line_leaves_and_arrives_in_the_directions_of_the_strokes(joined):
    (stroke,) = strokes_in(joined, "uu")
    leaving, coming = [0.16, 0.05], [0.24, 0.1]
    first, last = (
        int(np.flatnonzero(np.abs(stroke - place).max(axis=1) < 1e-9)[0])
        for place in (leaving, coming)
    )
    curve = stroke[first : last + 1]
    steps = np.diff(curve, axis=0)
    angles = np.degrees(np.arctan2(steps[:, 1], steps[:, 0]))
    assert angles[0] == pytest.approx(0.0, abs=2.0)
    assert angles[-1] == pytest.approx(np.degrees(np.arctan2(300, 60)), abs=2.0)
    assert (np.diff(angles) > -1e-6).all()  # one bend, without a wave


def test_a_line_into_ink_ends_at_the_entry_as_an_arc_does(joined):
    line_of_u, bowl = strokes_in(joined, "uo")
    assert line_of_u[-1] == pytest.approx([0.26, 0.25])
    assert bowl[0] == pytest.approx([0.26, 0.4])
    chord = np.degrees(np.arctan2(0.2, 0.1))
    arrives = np.degrees(np.arctan2(*(line_of_u[-1] - line_of_u[-2])[::-1]))
    assert arrives == pytest.approx(2 * chord, abs=3.0)


def test_of_several_entries_the_nearest_in_height_is_taken(joined):
    """u leaves at 50 and o at 380: into an o the first goes low, the second high."""
    assert strokes_in(joined, "uo")[0][-1] == pytest.approx([0.26, 0.25])
    assert strokes_in(joined, "oo")[0][-1] == pytest.approx([0.262, 0.39])


def test_widths_run_on_through_the_line(joined):
    line = set_line(joined, "ouu")
    widths = [stroke.widths_em for item in line.glyphs for stroke in item.glyph.strokes]
    (whole,) = widths  # o has the stem throughout, u its own, and they are one stroke
    assert whole[0] == pytest.approx(0.09)
    assert whole.min() == pytest.approx(0.027)
    assert np.abs(np.diff(whole)).max() < 0.02


def test_joined_letters_are_one_letter_and_never_spaced(joined):
    plain, spaced = set_line(joined, "uux"), set_line(joined, "uux", spacing_em=0.1)
    assert [item.letter for item in plain.glyphs] == [0, 0, 2]
    assert [item.x_em for item in spaced.glyphs] == pytest.approx([0, 0.2, 0.5])
    assert plain.advance_em == pytest.approx(0.6)
    assert spaced.advance_em == pytest.approx(0.7)


def test_the_bare_exit_of_a_last_letter_stays_as_it_is(joined):
    (stroke,) = strokes_in(joined, "ox")[:1]
    assert stroke[-1] == pytest.approx([0.16, 0.38])


def test_an_exit_where_no_stroke_ends(tmp_path, line, write_family):
    folder = write_family(
        tmp_path / "bad.ufo",
        {"u": (200, "u", line((0, 0), (100, 0)))},
        anchors={"u": [at("exit", 90, 20)]},
    )
    sentence = "u.glif must have its anchor 'exit' where one of its strokes ends, not at (90, 20)"
    with pytest.raises(FamilyError, match=re.escape(sentence)):
        open_family(folder)
