"""PNG files against Pillow's reader and the numbers of the PNG standard."""

import io
import struct
import zlib
from unittest import mock

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from PIL import Image

from inkline.output import png
from inkline.output.png import colour_png_bytes, png_bytes


def chunks(data):
    """Names and contents of a picture's chunks.

    Length, name, data and checksum are walked as ISO/IEC 15948 clause 5 sets them out.
    """
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    found, at = [], 8
    while at < len(data):
        length, name = struct.unpack(">I4s", data[at : at + 8])
        body = data[at + 8 : at + 8 + length]
        assert struct.unpack(">I", data[at + 8 + length : at + 12 + length])[0] == zlib.crc32(
            name + body
        )
        found.append((name, body))
        at += 12 + length
    return found


@settings(max_examples=40, deadline=None)
@given(width=st.integers(1, 40), height=st.integers(1, 40), seed=st.integers(0, 2**32 - 1))
def test_pillow_reads_back_the_same_grey_pixels(width, height, seed):
    grey = np.random.default_rng(seed).integers(0, 256, (height, width), dtype=np.uint8)
    with Image.open(io.BytesIO(png_bytes(grey, ppi=300))) as picture:
        assert picture.mode == "L"
        assert np.array_equal(np.asarray(picture), grey)


def test_pillow_reads_back_the_same_colours():
    colours = np.random.default_rng(5).integers(0, 256, (17, 31, 3), dtype=np.uint8)
    with Image.open(io.BytesIO(colour_png_bytes(colours, ppi=150))) as picture:
        assert picture.mode == "RGB"
        assert np.array_equal(np.asarray(picture), colours)


@pytest.mark.parametrize(("ppi", "per_metre"), [(300, 11811), (72, 2835), (600, 23622)])
def test_resolution_in_pixels_per_metre(ppi, per_metre):
    # 600 -> 23622: G. Roelofs, "PNG: The Definitive Guide", chapter 11; the others computed with 1
    # in = 25.4 mm.
    data = png_bytes(np.zeros((2, 2), np.uint8), ppi=ppi)
    assert dict(chunks(data))[b"pHYs"] == struct.pack(">IIB", per_metre, per_metre, 1)


def test_a_stamp_has_these_chunks_and_no_others():
    # Any gamma, chromaticity or profile chunk would let a reader bend coverage.
    names = [name for name, _ in chunks(png_bytes(np.zeros((3, 5), np.uint8), ppi=300))]
    assert names == [b"IHDR", b"pHYs", b"IDAT", b"IEND"]


def test_a_sheet_says_that_it_is_srgb():
    names = [name for name, _ in chunks(colour_png_bytes(np.zeros((3, 5, 3), np.uint8), ppi=300))]
    assert names == [b"IHDR", b"sRGB", b"pHYs", b"IDAT", b"IEND"]


def test_views_give_the_bytes_of_copies():
    grey = np.random.default_rng(6).integers(0, 256, (64, 64), dtype=np.uint8)
    assert png_bytes(grey[::2, 5:40], ppi=300) == png_bytes(grey[::2, 5:40].copy(), ppi=300)


@pytest.mark.parametrize(
    "wrong",
    [
        np.zeros((2, 2)),
        np.zeros((2, 2, 3), np.uint8),
        np.zeros((0, 4), np.uint8),
        np.zeros(4, np.uint8),
    ],
)
def test_other_arrays_are_refused_as_grey(wrong):
    with pytest.raises(ValueError, match=r"a grey picture must be uint8 \(height, width\), not"):
        png_bytes(wrong, ppi=300)


@pytest.mark.parametrize(
    "wrong", [np.zeros((2, 2), np.uint8), np.zeros((2, 2, 4), np.uint8), np.zeros((2, 2, 3))]
)
def test_other_arrays_are_refused_as_colours(wrong):
    with pytest.raises(
        ValueError, match=r"a colour picture must be uint8 \(height, width, 3\), not"
    ):
        colour_png_bytes(wrong, ppi=300)


def spotted(width, height, seed):
    """Runs of black and white with some greys between, as inked pictures have."""
    generator = np.random.default_rng(seed)
    runs = generator.choice([0, 255, 0, 255, 0, 77, 200], (height, width // 7 + 1))
    return np.repeat(runs, 7, axis=1)[:, :width].astype(np.uint8)


@given(st.integers(1, 700), st.integers(1, 90), st.integers(0, 2**32 - 1))
@example(2500, 400, 1)
def test_the_quick_packer_and_zlib_give_the_same_bytes(width, height, seed):
    assert png._RUNS is not zlib
    for grey in (spotted(width, height, seed), np.zeros((height, width), np.uint8)):
        quick = png_bytes(grey, ppi=300)
        with mock.patch.object(png, "_RUNS", zlib):
            assert png_bytes(grey, ppi=300) == quick
