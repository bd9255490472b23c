"""Fonts in a PDF file: which can be embedded."""

from pathlib import Path

import font_roboto
import pytest

from inkline.output.pdf_fonts import embedded_font


def test_a_font_of_quadratic_outlines_is_refused():
    data = Path(font_roboto.font_files["Roboto"]).read_bytes()
    with pytest.raises(ValueError, match="outlines in a CFF table"):
        embedded_font(data)
