"""How numbers, names and texts are written in PDF files."""

import pypdfium2
import pytest

from inkline.output.pdf import (
    PdfPage,
    SpokenText,
    pdf_bytes,
)
from inkline.output.pdf_fonts import unicode_map
from inkline.output.pdf_paths import name_of, number_text

SIZE = (200.0, 120.0)


def written(*items, fonts=None, size=SIZE, title="T", pages=1):
    page = PdfPage(size=size, items=items, title="Page")
    return pdf_bytes([page] * pages, fonts=fonts or {}, title=title, language="en")


def words(data):
    return pypdfium2.PdfDocument(data)[0].get_textpage().get_text_range()


def test_more_characters_than_one_section_of_a_map_holds():
    letters = [chr(0x100 + index) for index in range(230)]
    spoken = SpokenText(pieces=tuple((letter, 0.5) for letter in letters), at=(5.0, 60.0), size=1.0)
    assert words(written(spoken)) == "".join(letters)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"),
        (-0.0001, "0"),
        (1.5, "1.5"),
        (1e-7, "0"),
        (1e6, "1000000"),
        (-12.3456, "-12.346"),
        (10.0, "10"),
    ],
)
def test_numbers_are_short_and_have_no_exponent(value, text):
    # ISO 32000-1, 7.3.3: a real number is digits with an optional sign and point, never with an
    # exponent.
    assert number_text(value) == text


def test_names_and_texts():
    assert name_of("errand") == "errand"
    assert name_of("/ (") == "F"
    assert b"1 beginbfchar\n<0001> <0041>\nendbfchar" in unicode_map([(1, "A")], digits=4)
