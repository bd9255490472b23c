"""Variable fonts at places on their axes, against FreeType's own instances."""

from pathlib import Path

import freetype
import pylopdf_fonts_he
import pytest

from inkline.geometry.polygon import signed_area
from inkline.lettering.errors import FontError
from inkline.lettering.font import open_font
from inkline.lettering.line import set_line

FILE = Path(pylopdf_fonts_he.__file__).parent / "NotoSansHebrew-Variable.ttf"
"""Noto Sans Hebrew (SIL OFL 1.1), with the axes wght 100 to 900 and wdth 62.5 to 100."""


def freetype_ink(character, places):
    """Ink of a character in em squared, and its advance in em.

    They are given at places on the font's axes in order.
    """
    face = freetype.Face(str(FILE))
    face.set_var_design_coords(places)
    face.set_char_size(400 * 64, 0, 72, 72)
    face.load_char(character, freetype.FT_LOAD_NO_HINTING | freetype.FT_LOAD_RENDER)
    return sum(
        face.glyph.bitmap.buffer
    ) / 255.0 / 400.0**2, face.glyph.linearHoriAdvance / 65536 / 400.0


@pytest.mark.parametrize("weight", [100, 400, 650, 900])
def test_a_weight_is_freetype_s_instance(weight):
    font = open_font(FILE, axes={"wght": weight})
    order = [axis.axisTag for axis in font._file["fvar"].axes]
    defaults = {axis.axisTag: axis.defaultValue for axis in font._file["fvar"].axes}
    for character in "שאמ":
        ink, advance = freetype_ink(
            character, [weight if tag == "wght" else defaults[tag] for tag in order]
        )
        own = sum(signed_area(contour) for contour in font.glyph(character).contours)
        assert own == pytest.approx(ink, rel=0.01)
        assert set_line(font, character).advance_em == pytest.approx(advance, abs=0.002)
        assert font.glyph(character).advance_em == pytest.approx(advance, abs=0.002)


def test_heavier_places_have_heavier_letters():
    thin, bold = (open_font(FILE, axes={"wght": weight}).glyph("ש") for weight in (100, 900))
    areas = [sum(signed_area(contour) for contour in glyph.contours) for glyph in (thin, bold)]
    assert areas[1] > 2.0 * areas[0]


def test_the_name_says_where_on_its_axes_a_font_is():
    assert open_font(FILE, axes={"wght": 650}).name == f"{open_font(FILE).name} (wght 650)"


def test_what_an_axis_does_not_reach_is_refused_with_what_it_does():
    with pytest.raises(FontError, match=r"has no wght of 1000; it has .*wght from 100 to 900"):
        open_font(FILE, axes={"wght": 1000})
    with pytest.raises(FontError, match=r"has no axis 'slnt'; it has .*wght from 100 to 900"):
        open_font(FILE, axes={"slnt": 3})


def test_a_font_that_does_not_vary_has_no_axes(font_files):
    with pytest.raises(FontError, match="is no variable font, so it has no axis wght"):
        open_font(font_files["roboto"], axes={"wght": 650})
