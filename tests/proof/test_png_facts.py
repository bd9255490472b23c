"""What a PNG file says of itself, against the arithmetic of its resolution."""

import io
import struct
import zlib

import numpy as np
import pytest
from PIL import Image

from inkline.proof.png_facts import grey_from_png, png_facts


def test_png_facts_of_300_ppi():
    """300 ppi are 11811 px a metre (PNG specification's pHYs; 300 / 0.0254 = 11811.02)."""

    def chunk(kind, data):
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    head = chunk(b"IHDR", struct.pack(">IIBBBBB", 7, 5, 8, 0, 0, 0, 0))
    data = (
        b"\x89PNG\r\n\x1a\n"
        + head
        + chunk(b"pHYs", struct.pack(">IIB", 11_811, 11_811, 1))
        + chunk(b"IEND", b"")
    )
    facts = png_facts(data)
    assert facts.size == (7, 5)
    assert (facts.bits, facts.colour_type) == (8, 0)
    assert facts.px_per_metre == (11_811, 11_811)
    assert facts.chunks == ("IHDR", "pHYs", "IEND")
    with pytest.raises(ValueError, match="from its IHDR to its IEND"):
        png_facts(data[:-12])
    with pytest.raises(ValueError, match="begin with its signature"):
        png_facts(data[1:])


def test_a_picture_over_the_usual_limit_of_size_is_read_without_a_word(recwarn):
    """Pillow warns beyond 89 million px and refuses twice as many, unless told otherwise."""
    side = 13_500
    buffer = io.BytesIO()
    Image.new("L", (side, side)).save(buffer, format="png", compress_level=1)
    assert png_facts(buffer.getvalue()).size == (side, side)
    assert grey_from_png(buffer.getvalue()).shape == (side, side)
    assert not recwarn.list


@pytest.mark.parametrize("mode", ["LA", "RGBA", "P"])
def test_see_through_pictures_are_read_as_they_look_on_black(mode):
    ink = np.tile(np.arange(0, 256, 5, dtype=np.uint8), (4, 1))
    alpha = Image.fromarray(ink)
    white = Image.new("L", alpha.size, 255)
    buffer = io.BytesIO()
    if mode == "P":  # its value 0 is white, and see-through
        palette = Image.fromarray((ink > 127).astype(np.uint8))
        palette.putpalette([255, 255, 255] * 2)
        palette.save(buffer, format="png", transparency=0)
        assert (grey_from_png(buffer.getvalue()) == 255 * (ink > 127)).all()
        return
    bands = [white] * (len(mode) - 1)
    Image.merge(mode, (*bands, alpha)).save(buffer, format="png")
    assert (grey_from_png(buffer.getvalue()) == ink).all()
