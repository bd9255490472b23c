"""Signs that clot and horns that are knobs must be told, and the shipped ones not.

Faulty drawings are made here: lines at measured distances, or a shipped glyph bent.
"""

import re
import shutil

import pytest

from inkline.lettering.families import family_names, family_path
from inkline.lettering.family import open_family
from inkline.lettering.faults.accents import LEAST_HOOK, LEAST_HORN, hook_opening, horn_reach
from inkline.lettering.faults.sentences import fault_sentences
from inkline.lettering.faults.signs import (
    LEAST_ARMS,
    asterisk_opening,
    fused_signs,
)
from inkline.lettering.faults.spread import pen_of_small_words

STEM = 90
_POINT = re.compile(r'x="(-?\d+)" y="(-?\d+)"')


@pytest.fixture
def family(tmp_path, write_family, line):
    """A family of glyphs made of lines, with a pen of 90: name -> (width, characters, strokes)."""

    def make(glyphs):
        def drawing(strokes):
            return lambda pen: [line(*stroke)(pen) for stroke in strokes]

        written = {name: (w, text, drawing(strokes)) for name, (w, text, strokes) in glyphs.items()}
        folder = tmp_path / f"mine-{len(list(tmp_path.iterdir()))}.ufo"
        return open_family(write_family(folder, written))

    return make


@pytest.fixture
def bent(tmp_path):
    """A shipped family with the points of one glyph moved by a function."""

    def bend(name, file, move):
        folder = tmp_path / f"{name}.ufo"
        shutil.copytree(family_path(name), folder)
        glif = folder / "glyphs" / file
        glif.write_text(
            _POINT.sub(
                lambda found: 'x="{:.0f}" y="{:.0f}"'.format(*move(*map(int, found.groups()))),
                glif.read_text(),
            )
        )
        return open_family(folder)

    return bend


@pytest.mark.parametrize("name", family_names())
def test_shipped_signs_and_horns_are_open(name):
    family = open_family(family_path(name))
    pen = pen_of_small_words(family)
    assert list(fused_signs(family, pen)) == []
    assert asterisk_opening(family, pen) >= LEAST_ARMS
    assert hook_opening(family, pen) >= LEAST_HOOK
    assert set(horn_reach(family, pen)) == set("ƠơƯư")
    assert min(horn_reach(family, pen).values()) >= LEAST_HORN


@pytest.mark.parametrize(("white", "is_fused"), [(30, True), (44, False)])
def test_two_quotes_want_white_between_them(family, white, is_fused):
    """36 units are 0.4 pens of 90; a cell of the grid that measures is 6."""
    right = 100 + STEM + white
    strokes = [((100, 660), (100, 540)), ((right, 660), (right, 540))]
    assert list(fused_signs(family({"quotedbl": (400, '"', strokes)}), 1.0)) == (
        ['"'] if is_fused else []
    )


def test_strokes_that_are_meant_to_cross_are_not_fused(family):
    plus = [((50, 350), (450, 350)), ((250, 550), (250, 150))]
    assert list(fused_signs(family({"plus": (500, "+", plus)}), 1.0)) == []


def test_letters_are_no_signs(family):
    letter = [((100, 660), (100, 45)), ((200, 660), (200, 45))]
    assert list(fused_signs(family({"l": (300, "l", letter)}), 1.0)) == []


@pytest.mark.parametrize(("reach", "white"), [(100, 51.4), (90, 37.3)])
def test_arms_of_an_asterisk_are_measured_at_their_ends(family, reach, white):
    """Four ends on the corners of a square lie the root of two apart; the pen is 90."""
    arms = [((-reach, 0), (reach, 0)), ((0, -reach), (0, reach))]
    arms = [tuple((x + 300, y + 500) for x, y in arm) for arm in arms]
    one = family({"asterisk": (600, "*", arms)})
    assert asterisk_opening(one, 1.0) == pytest.approx(white / STEM, abs=0.01)
    told = [text for text in fault_sentences(one) if text.startswith("The arms of the asterisk")]
    assert bool(told) == (white / STEM < LEAST_ARMS)


@pytest.mark.parametrize(("away", "is_knob"), [(120, True), (150, False)])
def test_a_horn_reaches_away_from_its_letter(family, away, is_knob):
    """Its tip lies a pen and 30 or 60 units from the stem: 0.33 or 0.67 pens of white."""
    stem = ((100, 655), (100, 45))
    glyphs = {"U": (300, "U", [stem]), "Uhorn": (300, "Ư", [stem, ((100, 640), (100 + away, 640))])}
    one = family(glyphs)
    assert horn_reach(one, 1.0)["Ư"] == pytest.approx((away - STEM) / STEM, abs=0.01)
    told = [text for text in fault_sentences(one) if text.startswith("Horns that are a knob")]
    assert bool(told) == is_knob


def test_rays_pushed_into_the_sun_are_told(bent):
    """Rays of Scullery's sun, all that lies farther from its middle, moved inwards by 50 units."""

    def inwards(x, y):
        away = ((x - 408) ** 2 + (y - 330) ** 2) ** 0.5
        share = 1.0 - 50.0 / away if away > 200.0 else 1.0
        return 408 + share * (x - 408), 330 + share * (y - 330)

    assert list(fused_signs(bent("scullery", "sun.glif", inwards), 1.0)) == ["☀"]


def test_a_horn_drawn_short_is_told(bent):
    def shorter(x, y):
        return -244 + 0.6 * (x + 244), 0.6 * y

    family = bent("scullery", "horncomb.glif", shorter)
    assert min(horn_reach(family, pen_of_small_words(family)).values()) < LEAST_HORN
