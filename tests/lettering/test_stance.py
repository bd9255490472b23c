"""Letters that don't stand in line: how far, which, and that the same word stands alike."""

import numpy as np
import pytest

from inkline.lettering.errors import FamilyError
from inkline.lettering.face import Figures
from inkline.lettering.family import open_family
from inkline.lettering.line import set_line

STEM = ((100, 655), (100, 45))
"""An l: its lean, foot and advance are read off its two ends."""
STANCE = {"lean": 2.0, "lift": 12, "width": 0.05}


@pytest.fixture
def family(tmp_path, write_family, line):
    """A family of an l, an o and a 1, with a stance or without."""

    def write(stance=STANCE, name="stands"):
        glyphs = {
            "l": (200, "l", line(*STEM)),
            "o": (400, "o", line((60, 250), (340, 250))),
            "one": (400, "1", line(*STEM)),
        }
        lib = {"inkline.nominalStem": 90} | ({} if stance is None else {"inkline.stance": stance})
        return open_family(write_family(tmp_path / f"{name}.ufo", glyphs, lib=lib))

    return write


def stems(face, text):
    """Foot, tangent of the lean, and advance of every l, in font units."""
    placed, _ = face.placed_glyphs(text, figures=Figures.LINING)
    found = []
    for item in placed:
        (top, foot) = item.glyph.strokes[0].points * face.units_per_em
        lean = (top[0] - foot[0]) / (top[1] - foot[1])
        found.append((foot[1] - 45.0, lean, item.glyph.advance_em * face.units_per_em))
    return np.array(found)


def test_letters_of_a_word_stand_within_the_bounds_and_use_them(family):
    lift, lean, advance = stems(family(), "l" * 200).T
    for values, most in ((lift, 12.0), (lean, np.tan(np.radians(2.0))), (advance - 200.0, 10.0)):
        assert np.abs(values).max() == pytest.approx(most, rel=0.06)
        assert np.abs(values).max() <= most * (1.0 + 1e-9)
        assert abs(values.mean()) < 0.02 * most


def test_letters_alike_stand_differently_and_the_same_word_alike(family):
    face = family()
    once = stems(face, "lll")
    assert len({tuple(row) for row in once.round(6)}) == 3
    assert np.array_equal(once, stems(face, "lll"))
    assert not np.allclose(once[:2], stems(face, "ll"))


def test_figures_and_a_letter_by_itself_keep_to_the_line(family):
    face = family()
    for text in ("111", "l", "l1", "1"):
        placed, _ = face.placed_glyphs(text, figures=Figures.LINING)
        assert [item.glyph for item in placed] == [face.glyph(character) for character in text]
    placed, _ = face.placed_glyphs("l1l", figures=Figures.LINING)
    assert placed[1].glyph is face.glyph("1")


def test_what_follows_moves_on_by_what_a_letter_is_wider(family):
    placed, advance = family().placed_glyphs("lol1", figures=Figures.LINING)
    ends = [item.x_em + item.glyph.advance_em for item in placed]
    assert [item.x_em for item in placed[1:]] == pytest.approx(ends[:-1])
    assert advance == pytest.approx(ends[-1])


def test_a_family_that_says_nothing_stands_in_line(family):
    face = family(None)
    placed, advance = face.placed_glyphs("lol", figures=Figures.LINING)
    assert [item.glyph for item in placed] == [face.glyph(c) for c in "lol"]
    assert advance == pytest.approx(0.8)
    assert set_line(face, "lol").advance_em == pytest.approx(0.8)


@pytest.mark.parametrize(
    ("stance", "sentence"),
    [
        (3, "must give inkline.stance as a table of lean, lift, width, not 3"),
        ({"rise": 3}, "as a table of lean, lift, width, not {'rise': 3}"),
        ({"lean": -1}, "must give lean in inkline.stance as a number between 0 and 10, not -1"),
        ({"lift": 101}, "must give lift in inkline.stance as a number between 0 and 100, not 101"),
        ({"width": True}, "must give width in .* a number between 0 and 0.2, not True"),
    ],
)
def test_what_is_no_stance_is_refused(family, stance, sentence):
    with pytest.raises(FamilyError, match=sentence):
        family(stance)
