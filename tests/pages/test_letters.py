"""Lines of text on a page: where they stand, how large they are, and what of them is left."""

from dataclasses import replace

import numpy as np
import pytest

from faces import shipped_family
from inkline.drawing import Drawing, Layer
from inkline.ink.engine import draw
from inkline.lettering.line import set_line
from inkline.pages.letters import (
    PLAIN,
    bounds_of_letters,
    centreline_width,
    line_marks,
    line_picture,
    print_line,
)
from inkline.pages.lines import Align, TextLine, Tone
from inkline.pages.page import Page, part_on_page
from inkline.pages.palette import ACCENT
from inkline.raster.compose import render


def test_letters_keep_to_their_room_and_place(scullery):
    for align, left in ((Align.LEFT, 500.0), (Align.RIGHT, 400.0), (Align.CENTRE, 450.0)):
        line = TextLine(
            text="MARCH 2027", x=500.0, baseline=300.0, height=60.0, room=100.0, align=align
        )
        letters = line_picture(line, face=scullery, style=PLAIN, number=1, name="t")
        rows, columns = (np.flatnonzero((letters.grey > 127).any(axis=axis)) for axis in (1, 0))
        assert letters.at[0] + columns[0] == pytest.approx(left, abs=1.5)
        assert columns[-1] + 1 - columns[0] == pytest.approx(100.0, abs=2.0)
        assert letters.at[1] + rows[-1] + 1 == pytest.approx(300.0, abs=1.5)


def test_letters_that_the_family_lacks_are_left_out(scullery):
    line = TextLine(text="⇢ ☃", x=0.0, baseline=0.0, height=20.0, room=100.0)
    assert line_picture(line, face=scullery, style=PLAIN, number=1, name="t") is None
    assert (
        line_picture(replace(line, text="⇢A"), face=scullery, style=PLAIN, number=1, name="t")
        is not None
    )


@pytest.mark.parametrize("align", list(Align))
def test_marks_stand_where_the_picture_of_the_line_does(scullery, align):
    # Drawn by themselves on a sheet, the marks have their ink where the picture of the line has it.
    line = TextLine(text="MAY 7", x=100.0, baseline=50.0, height=30.0, room=90.0, align=align)
    marks = line_marks(line, face=scullery, name="t", spacing_em=0.035)
    drawing = Drawing(
        name="t", canvas=(200, 80), sheet_px=510.0, layers=(Layer(name="text", marks=marks),)
    )
    sheet = render(draw(drawing, PLAIN, 1)).astype(float)
    alone = line_picture(line, face=scullery, style=PLAIN, number=1, name="t")
    part, (x, y) = part_on_page(alone.grey, at=alone.at, size=(200, 80))
    other = np.zeros_like(sheet)
    other[y : y + part.shape[0], x : x + part.shape[1]] = part
    assert sheet.sum() == pytest.approx(other.sum(), rel=0.002)
    for axis in (0, 1):
        places = np.arange(sheet.shape[1 - axis])
        middles = [(grey.sum(axis=axis) @ places) / grey.sum() for grey in (sheet, other)]
        assert middles[0] == pytest.approx(middles[1], abs=0.51)  # pictures stand on whole px
    assert line_marks(replace(line, text="☃"), face=scullery, name="t", spacing_em=0.0) == ()


def test_a_line_is_printed_in_the_colour_of_its_tone_and_cut_at_the_page(scullery):
    page = Page((40, 40), colour="#ffffff")
    line = TextLine(text="MARCH", x=0.0, baseline=30.0, height=20.0, tone=Tone.ACCENT)
    print_line(page, line, face=scullery, style=PLAIN, number=1, name="t")
    accent = [int(ACCENT[at : at + 2], 16) for at in (1, 3, 5)]
    assert (page.srgb() == accent).all(axis=2).sum() > 20
    before = page.srgb()
    print_line(page, replace(line, text="☃"), face=scullery, style=PLAIN, number=1, name="t")
    assert np.array_equal(page.srgb(), before)


def test_a_line_is_as_wide_between_its_outer_strokes_as_its_ink_less_a_stroke():
    # "HH" of a pen of one width ends in upright strokes on both sides, a height / STEM wide.
    face = shipped_family("porchlight")
    letters = set_line(face, "HH", spacing_em=0.035)
    x0, _, x1, _ = bounds_of_letters(letters, height=85.0)
    assert centreline_width("HH", face=face, height=85.0) == pytest.approx(x1 - x0 - 10.0)
