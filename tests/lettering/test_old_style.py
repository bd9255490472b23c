"""Old-style figures of families and fonts."""

import shutil

import numpy as np
import pytest

from inkline.lettering.errors import FamilyError
from inkline.lettering.face import Figures
from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.lettering.font import open_font
from inkline.lettering.forms import DIGITS
from inkline.lettering.line import ink_bounds, set_line
from inkline.lettering.old_style import FigureStyle, in_figure_style

HIGH_AS_SMALL, RISING, HANGING = "012", "68", "34579"
"""Old-style figures by where they stand (common practice, no source)."""


def boxes(face):
    return {
        digit: ink_bounds(
            set_line(face, digit, figures=Figures.LINING),
            size_px=1.0,
            width_px=face.nominal_stem_em,
        )
        for digit in DIGITS
    }


def stand_as_old_style(face, *, middle, line):
    """Whether figures rise above the height `middle` and hang below the depth `line` as usual."""
    for digit, (_, top, _, foot) in boxes(face).items():
        assert (-top > middle) == (digit in RISING), digit
        assert (foot > line) == (digit in HANGING), digit


def test_a_family_draws_its_figures_old_style():
    family = open_family(family_path("mantelpiece"))
    stand_as_old_style(in_figure_style(family, FigureStyle.OLD_STYLE), middle=0.6, line=0.1)
    lining = np.array(list(boxes(in_figure_style(family, FigureStyle.LINING)).values()))
    assert np.ptp(lining[:, 1]) < 0.05
    assert np.ptp(lining[:, 3]) < 0.05


def test_a_family_has_two_further_forms_of_each_old_style_figure():
    old = in_figure_style(open_family(family_path("mantelpiece")), FigureStyle.OLD_STYLE)
    for digit in DIGITS:
        plain, forms = old.glyph(digit), old.alternates(digit)
        assert len(forms) == 2, digit
        heights = [
            max(stroke.points[:, 1].max() for stroke in glyph.strokes) for glyph in (plain, *forms)
        ]
        assert np.ptp(heights) < 0.06, digit


def test_a_font_that_has_them_gives_its_own(font_files):
    font = open_font(font_files["source-ttf"])
    stand_as_old_style(in_figure_style(font, FigureStyle.OLD_STYLE), middle=0.62, line=0.04)


def test_measures_stay_those_of_lining_figures():
    family = open_family(family_path("mantelpiece"))
    old = in_figure_style(family, FigureStyle.OLD_STYLE)
    assert (old.digit_height_em, old.cap_height_em) == (
        family.digit_height_em,
        family.cap_height_em,
    )


def test_other_forms_are_those_of_the_figures_that_stand_there():
    family = open_family(family_path("mantelpiece"))
    old = in_figure_style(family, FigureStyle.OLD_STYLE)
    assert not any(".old" in one.name for digit in DIGITS for one in family.alternates(digit))
    named = [one.name for digit in DIGITS for one in old.alternates(digit)]
    assert named
    assert all(".old." in name for name in named)


@pytest.mark.parametrize("drop", [False, True])
def test_who_has_none_says_so(tmp_path, drop):
    folder = tmp_path / "mine.ufo"
    shutil.copytree(family_path("mantelpiece" if drop else "scullery"), folder)
    if drop:
        contents = folder / "glyphs" / "contents.plist"
        lines = contents.read_text().splitlines(keepends=True)
        at = next(index for index, line in enumerate(lines) if "<key>three.old</key>" in line)
        contents.write_text("".join(lines[:at] + lines[at + 2 :]))
    with pytest.raises(FamilyError, match="has no old-style figures"):
        in_figure_style(open_family(folder), FigureStyle.OLD_STYLE)


def test_a_font_without_them_says_so(tmp_path, build_font, box):
    draws = {f"d{digit}": lambda pen: box(pen, 50, 0, 450, 700) for digit in DIGITS}
    path = build_font(tmp_path / "built.ttf", draws, {digit: f"d{digit}" for digit in DIGITS})
    with pytest.raises(FamilyError, match="Built has no old-style figures"):
        in_figure_style(open_font(path), FigureStyle.OLD_STYLE)
