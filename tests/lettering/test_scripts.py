"""Right-to-left scripts and those whose letters join, against HarfBuzz and FreeType.

The fonts are free and come from the package registry.

Noto Sans Arabic and Noto Sans Hebrew (SIL OFL 1.1); weekday names from CLDR.
"""

from importlib.resources import files
from pathlib import Path

import freetype
import numpy as np
import pylopdf_fonts_he
import pytest
import uharfbuzz
from babel.dates import get_day_names
from shapely.geometry import Polygon
from shapely.ops import unary_union

from inkline.drawing import Role, Shape
from inkline.geometry.polygon import signed_area
from inkline.lettering.font import open_font
from inkline.lettering.line import ink_bounds, marks_from_line, set_line
from inkline.lettering.scripts import is_joined, joined_runs

ARABIC_FILE = next(
    path
    for path in (Path(str(files("fontpkg_noto_sans_arabic"))) / "files").iterdir()
    if path.suffix == ".ttf"
)
HEBREW_FILE = Path(pylopdf_fonts_he.__file__).parent / "NotoSansHebrew-Variable.ttf"
ARABIC_DAYS = tuple(get_day_names("wide", locale="ar").values())
HEBREW_DAYS = tuple(get_day_names("wide", locale="he").values())


@pytest.fixture(scope="module")
def arabic():
    return open_font(ARABIC_FILE)


@pytest.fixture(scope="module")
def hebrew():
    return open_font(HEBREW_FILE)


def marks_of(font, text, **options):
    line = set_line(font, text, **options)
    return marks_from_line(
        line, name="w", role=Role.WORD, baseline=(0.0, 0.0), size_px=300.0, width_px=10.0
    )


def shape_of(marks):
    """The marks' ink as a shape of shapely's, holes and all."""
    outers = [Polygon(c) for mark in marks for c in mark.contours if signed_area(c) > 0]
    holes = [Polygon(c) for mark in marks for c in mark.contours if signed_area(c) < 0]
    return unary_union(outers).difference(unary_union(holes))


def harfbuzz(path, text):
    """Glyph ids and places in em as HarfBuzz has them from left to right.

    HarfBuzz is told the direction and script in so many words.
    """
    face = uharfbuzz.Face(uharfbuzz.Blob.from_file_path(str(path)))
    font = uharfbuzz.Font(face)
    buffer = uharfbuzz.Buffer()
    buffer.add_str(text)
    buffer.direction = "rtl"
    buffer.script = "Arab" if is_joined(text[0]) else "Hebr"
    uharfbuzz.shape(font, buffer, {"liga": False, "clig": False})
    x, places = 0, []
    for info, position in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        places.append(
            (info.codepoint, (x + position.x_offset) / face.upem, position.y_offset / face.upem)
        )
        x += position.x_advance
    return places, x / face.upem


@pytest.mark.parametrize(("file", "days"), [(ARABIC_FILE, ARABIC_DAYS), (HEBREW_FILE, HEBREW_DAYS)])
def test_weekdays_are_set_from_right_to_left_as_harfbuzz_sets_them(file, days):
    font = open_font(file)
    for day in days:
        line = set_line(font, day)
        places, advance = harfbuzz(file, day)
        assert [glyph.glyph.name for glyph in line.glyphs] == [
            font._glyph_order[number] for number, _, _ in places
        ]
        assert [glyph.x_em for glyph in line.glyphs] == pytest.approx(
            [x for _, x, _ in places], abs=1e-9
        )
        assert [glyph.y_em for glyph in line.glyphs] == pytest.approx(
            [y for _, _, y in places], abs=1e-9
        )
        assert line.advance_em == pytest.approx(advance, abs=1e-9)
        first = max(line.glyphs, key=lambda item: item.x_em)
        assert first.letter == 0  # the first letter stands at the right


def test_arabic_letters_take_their_joined_forms(arabic):
    word = [
        item.glyph.name.rpartition(".")[2]
        for item in set_line(arabic, "ببب").glyphs
        if "." in item.glyph.name
    ]
    assert word == [
        "fina",
        "medi",
        "init",
    ]  # from the left, the end of the word, its middle and its beginning


def test_a_joined_word_is_one_mark_whose_letters_touch(arabic):
    for day in ARABIC_DAYS:
        marks = marks_of(arabic, day)
        assert len(marks) == 1
        (mark,) = marks
        assert isinstance(mark, Shape)
        assert mark.group == "w"
    # all four letters of the word for Saturday but alef and lam join in one body: s, b, t
    (mark,) = marks_of(arabic, "سبت")
    bodies = sorted(
        (abs(signed_area(c)) for c in mark.contours if signed_area(c) > 0), reverse=True
    )
    assert bodies[0] > 5.0 * bodies[1]  # one body; the rest are dots


def test_joined_contours_are_simple_and_apart(arabic):
    for day in ARABIC_DAYS:
        (mark,) = marks_of(arabic, day)
        outers = [Polygon(contour) for contour in mark.contours if signed_area(contour) > 0]
        assert all(outer.is_valid for outer in outers)
        assert unary_union(outers).area == pytest.approx(
            sum(outer.area for outer in outers), rel=1e-6
        )


def test_hebrew_letters_are_marks_of_their_own(hebrew):
    assert len(marks_of(hebrew, "שבת")) == 3
    assert [mark.group for mark in marks_of(hebrew, "שבת")] == ["w.1", "w.2", "w.3"]


def test_letter_spacing_never_tears_joined_letters(arabic, hebrew):
    assert (
        set_line(arabic, "السبت", spacing_em=0.3).advance_em == set_line(arabic, "السبت").advance_em
    )
    assert set_line(hebrew, "שבת", spacing_em=0.3).advance_em == pytest.approx(
        set_line(hebrew, "שבת").advance_em + 0.6
    )


def test_words_of_joined_letters_are_spaced_as_wholes(arabic):
    text = "يوم السبت"
    wide, plain = set_line(arabic, text, spacing_em=0.2), set_line(arabic, text)
    assert wide.advance_em == pytest.approx(plain.advance_em + 0.4)  # word, space, word


def test_arabic_ink_equals_freetype_s(arabic):
    """Area of the united word against that of its glyphs, less what joins overlap.

    FreeType's raster gives it glyph by glyph.
    """
    face = freetype.Face(str(ARABIC_FILE))
    face.set_char_size(300 * 64, 0, 72, 72)
    for item in set_line(arabic, "سبت").glyphs:
        if not item.glyph.contours:
            continue
        face.load_glyph(
            arabic._glyph_order.index(item.glyph.name),
            freetype.FT_LOAD_NO_HINTING | freetype.FT_LOAD_RENDER,
        )
        inked = np.array(face.glyph.bitmap.buffer, dtype=float).sum() / 255.0
        own = sum(signed_area(contour) for contour in item.glyph.contours) * 300.0**2
        assert own == pytest.approx(inked, rel=0.01)


def test_the_ink_stands_within_its_bounds(arabic):
    line = set_line(arabic, ARABIC_DAYS[0])
    x0, y0, x1, y1 = ink_bounds(line, size_px=300.0, width_px=10.0)
    shape = shape_of(marks_of(arabic, ARABIC_DAYS[0]))
    assert shape.bounds == pytest.approx((x0, y0, x1, y1), abs=0.01)


def test_runs_of_joined_letters():
    assert joined_runs("17 May") == (0, 1, 2, 3, 4, 5)
    assert joined_runs("يوم السبت") == (0, 0, 0, 3, 4, 4, 4, 4, 4)
    assert joined_runs("بَب") == (0, 0, 0)  # a vowel mark belongs to its word
    assert joined_runs("a\N{COMBINING ACUTE ACCENT}") == (0, 1)
    assert joined_runs("") == ()
    assert is_joined("ب")
    assert not is_joined("٣")  # an Arabic figure joins with nothing
    assert not is_joined("ש")
