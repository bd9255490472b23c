"""PDF files against PDFium, an independent reader: pixels, places of characters, and words."""

import re

import numpy as np
import pypdfium2
import pytest

from font_files import font_about
from inkline.geometry.fitting import fitted_outlines
from inkline.output.font_file import DrawnLetter, font_bytes
from inkline.output.pdf import (
    Figure,
    PdfPage,
    PlacedFigure,
    Rectangle,
    SpokenText,
    Text,
    pdf_bytes,
)
from inkline.output.pdf_paths import path_operators
from inkline.raster.coverage import coverage_from_contours

SIZE = (200.0, 120.0)
TURNS = np.linspace(0.0, 2.0 * np.pi, 400, endpoint=False)
DISC = np.stack((60.0 + 40.0 * np.cos(TURNS), 60.0 + 40.0 * np.sin(TURNS)), axis=1)
HOLE = np.stack((60.0 + 15.0 * np.cos(-TURNS), 60.0 + 15.0 * np.sin(-TURNS)), axis=1)
WEDGE = np.array([[120.0, 20.0], [180.0, 50.0], [130.0, 100.0]])


def box(width, height, *, left=0.0):
    return np.array([[left, 0.0], [left + width, 0.0], [left + width, height], [left, height]])


@pytest.fixture(scope="module")
def font():
    """A font of boxes: an A 0.6 em wide, an é 0.4 em wide, each with its own sides."""
    letters = [
        DrawnLetter(character="A", drawings=((box(0.5, 0.7, left=0.05),),), sides_em=(0.0, 0.6)),
        DrawnLetter(character="é", drawings=((box(0.3, 0.5, left=0.05),),), sides_em=(0.0, 0.4)),
    ]
    about = font_about("Boxes", sample="")
    return font_bytes(letters, kerning={}, space_em=0.25, about=about)


def written(*items, fonts=None, size=SIZE, title="T", pages=1):
    page = PdfPage(size=size, items=items, title="Page")
    return pdf_bytes([page] * pages, fonts=fonts or {}, title=title, language="en")


def pixels(data, *, scale=1.0):
    """The first page as grey, 0 white to 255 black."""
    page = pypdfium2.PdfDocument(data)[0]
    return 255 - np.asarray(
        page.render(scale=scale, grayscale=True, no_smoothtext=False).to_pil().convert("L")
    )


def words(data):
    return pypdfium2.PdfDocument(data)[0].get_textpage().get_text_range()


def test_figures_are_where_they_should_be():
    figure = Figure(outlines=fitted_outlines([DISC, HOLE, WEDGE], tolerance=0.02))
    got = pixels(
        written(PlacedFigure(figure=figure, at=(0.0, 0.0), scale=1.0, colour="#000000"))
    ).astype(float)
    exact = 255.0 * coverage_from_contours([DISC, HOLE, WEDGE], canvas=(200, 120)).dense_coverage()
    # PDFium lights edges by 8 x 8 samples and more coarsely in y, so single pixels differ by some
    # sixteenths; the whole hardly does.
    assert abs(got.sum() / exact.sum() - 1.0) < 0.005
    assert np.abs(got - exact).mean() < 0.4
    assert np.abs(got - exact).max() < 40


def test_a_figure_is_held_once_and_placed_at_its_scale():
    figure = Figure(outlines=fitted_outlines([WEDGE], tolerance=0.02))
    places = [
        PlacedFigure(figure=figure, at=(x, 10.0), scale=0.25, colour="#c04020")
        for x in (0.0, 60.0, 120.0)
    ]
    data = written(*places)
    assert data.count(b"/Subtype /Form") == 1
    rows, columns = np.nonzero(pixels(data, scale=4.0))
    assert (rows.min(), rows.max()) == (4 * 10 + 20, 4 * 10 + 99)
    assert (columns.min(), columns.max()) == (120, 4 * 120 + 179)
    page = pypdfium2.PdfDocument(data)[0].render(scale=4.0).to_pil().convert("RGB")
    assert page.getpixel((145, 40 + 55)) == (0xC0, 0x40, 0x20)


def test_rectangles_cover_their_box():
    got = pixels(written(Rectangle(box=(20.0, 30.0, 50.0, 40.0), colour="#000000")))
    expected = np.zeros((120, 200), np.uint8)
    expected[30:40, 20:50] = 255
    assert np.array_equal(got, expected)


def test_characters_stand_where_they_are_asked_to(font):
    text = Text(
        font="boxes",
        characters=(("A", 0.0), (" ", 0.6), ("é", 1.0), ("A", 1.33)),
        at=(20.0, 80.0),
        size=40.0,
        colour="#000000",
    )
    data = written(text, fonts={"boxes": font})
    assert words(data) == "A éA"
    page = pypdfium2.PdfDocument(data)[0].get_textpage()
    starts, widths = (0.0, 1.0, 1.33), (0.5, 0.3, 0.5)
    for index, start, width in zip((0, 2, 3), starts, widths, strict=True):
        left, _, right, _ = page.get_charbox(index)
        x = 20.0 + 40.0 * (start + 0.05)
        assert (left, right) == pytest.approx((x, x + 40.0 * width), abs=0.05)
    dark = pixels(data, scale=10.0) > 127
    assert (np.flatnonzero(dark.any(axis=1))[[0, -1]]).tolist() == [520, 799]
    assert np.flatnonzero(dark.any(axis=0))[[0, -1]] == pytest.approx((220, 951), abs=1)
    assert dark.sum() / 100 == pytest.approx(40.0**2 * (0.5 * 0.7 * 2 + 0.3 * 0.5), rel=0.01)


def test_words_that_are_not_seen_are_found():
    spoken = SpokenText(
        pieces=tuple((letter, 8.0) for letter in "Juni"), at=(20.0, 60.0), size=20.0
    )
    data = written(spoken)
    assert words(data) == "Juni"
    assert not pixels(data, scale=3.0).any()
    page = pypdfium2.PdfDocument(data)[0].get_textpage()
    assert page.count_rects() == 1
    left, bottom, right, top = page.get_rect(0)
    assert (left, right) == pytest.approx((20.0, 52.0), abs=0.1)
    assert (120.0 - bottom, 120.0 - top) == pytest.approx((60.0, 46.0), abs=0.3)


def test_letters_from_the_right_are_read_in_their_order():
    # "مارس", March in Arabic: its first letter stands rightmost.
    spoken = SpokenText(
        pieces=tuple((letter, 8.0) for letter in reversed("مارس")), at=(20.0, 60.0), size=20.0
    )
    assert words(written(spoken)) == "مارس"


def test_pages_have_their_size_contents_and_title():
    document = pypdfium2.PdfDocument(written(size=(595.276, 841.89), title="Größe – 尺寸", pages=3))
    assert len(document) == 3
    assert document[0].get_size() == pytest.approx((595.276, 841.89), abs=1e-3)
    assert document.get_metadata_dict()["Title"] == "Größe – 尺寸"
    assert [entry.get_title() for entry in document.get_toc()] == ["Page"] * 3
    assert [entry.get_dest().get_index() for entry in document.get_toc()] == [0, 1, 2]


def test_pages_without_a_title_are_not_among_the_contents():
    data = pdf_bytes([PdfPage(size=SIZE, items=())], fonts={}, title="T", language="en")
    assert list(pypdfium2.PdfDocument(data).get_toc()) == []


def test_equal_pages_give_equal_bytes_without_dates(font):
    item = Text(
        font="boxes", characters=(("A", 0.0),), at=(20.0, 80.0), size=40.0, colour="#000000"
    )
    first, second = (written(item, fonts={"boxes": font}) for _ in range(2))
    assert first == second
    assert not re.search(rb"/CreationDate|/ModDate|/Producer", first)


def test_the_table_of_objects_is_true(font):
    # ISO 32000-1, 7.5.4: each line gives the place of an object in bytes; the trailer says how many
    # there are and where the table is.
    data = written(
        Rectangle(box=(0.0, 0.0, 1.0, 1.0), colour="#000000"), fonts={"boxes": font}, pages=2
    )
    start = int(re.search(rb"startxref\n(\d+)\n%%EOF\n$", data)[1])
    table = data[start:]
    n_objects = int(re.match(rb"xref\n0 (\d+)\n", table)[1])
    places = re.findall(rb"(\d{10}) 00000 n \n", table)
    assert len(places) == n_objects - 1
    for index, place in enumerate(places, start=1):
        assert data[int(place) :].startswith(b"%d 0 obj\n" % index)


def test_an_empty_figure_draws_nothing():
    assert path_operators(()) == ""
    assert not pixels(
        written(PlacedFigure(figure=Figure(outlines=()), at=(0, 0), scale=1.0, colour="#000000"))
    ).any()


def test_a_file_without_pages_is_refused():
    with pytest.raises(ValueError, match="needs at least one page"):
        pdf_bytes([], fonts={}, title="T", language="en")


def test_a_font_that_is_not_there_is_refused(font):
    text = Text(font="other", characters=(("A", 0.0),), at=(0.0, 0.0), size=1.0, colour="#000000")
    with pytest.raises(ValueError, match="asks for the font 'other', and there are boxes"):
        written(text, fonts={"boxes": font})
    with pytest.raises(ValueError, match="asks for the font 'other', and there are none"):
        written(text)


def test_a_character_that_the_font_lacks_is_refused(font):
    text = Text(font="boxes", characters=(("B", 0.0),), at=(0.0, 0.0), size=1.0, colour="#000000")
    with pytest.raises(KeyError, match="B"):
        written(text, fonts={"boxes": font})
