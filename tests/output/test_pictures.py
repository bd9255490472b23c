"""Reading back what another program may have saved."""

import struct
import zlib

import numpy as np
import pytest
from PIL import Image

from inkline.errors import InputError
from inkline.output.pictures import has_dark_ground, picture_size, read_grey
from inkline.output.png import png_bytes

GREY = np.random.default_rng(3).integers(0, 256, (20, 30), dtype=np.uint8)


def test_our_own_pictures_come_back_to_the_value(tmp_path):
    (tmp_path / "a.png").write_bytes(png_bytes(GREY, ppi=300))
    assert np.array_equal(read_grey(tmp_path / "a.png"), GREY)


def test_colours_are_taken_as_their_lightness(tmp_path):
    Image.fromarray(np.repeat(GREY[:, :, None], 3, axis=2)).save(tmp_path / "a.png")
    assert np.abs(read_grey(tmp_path / "a.png").astype(int) - GREY).max() <= 1


def test_see_through_parts_are_without_ink(tmp_path):
    white = np.full((20, 30, 4), 255, np.uint8)
    white[:, :, 3] = GREY
    Image.fromarray(white).save(tmp_path / "a.png")
    assert np.abs(read_grey(tmp_path / "a.png").astype(int) - GREY).max() <= 1


def test_a_see_through_colour_of_a_palette_is_without_ink(tmp_path):
    picture = Image.new("P", (4, 4), 0)
    picture.putpalette([255, 255, 255, 255, 255, 255])
    picture.putpixel((1, 2), 1)
    picture.save(tmp_path / "a.png", transparency=0)
    assert np.argwhere(read_grey(tmp_path / "a.png") == 255).tolist() == [[2, 1]]


def test_sixteen_bits_are_taken_as_their_upper_eight(tmp_path):
    Image.fromarray(GREY.astype(np.uint16) * 257).save(tmp_path / "a.png")
    assert np.array_equal(read_grey(tmp_path / "a.png"), GREY)


def test_one_bit_is_full_ink_or_none(tmp_path):
    Image.fromarray(GREY > 100).save(tmp_path / "a.png")
    assert set(np.unique(read_grey(tmp_path / "a.png"))) == {0, 255}


def test_size_is_no_reason_to_refuse_a_kits_picture(tmp_path, monkeypatch):
    (tmp_path / "a.png").write_bytes(png_bytes(GREY, ppi=300))
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 100)
    assert np.array_equal(read_grey(tmp_path / "a.png"), GREY)
    assert Image.MAX_IMAGE_PIXELS == 100


@pytest.mark.parametrize("data", [b"", b"a text", png_bytes(GREY, ppi=300)[:120]])
def test_what_is_no_picture_is_told(tmp_path, data):
    (tmp_path / "a.png").write_bytes(data)
    with pytest.raises(InputError, match=r"a\.png cannot be read as a picture"):
        read_grey(tmp_path / "a.png")
    with pytest.raises(InputError, match="cannot be read as a picture"):
        read_grey(tmp_path / "none.png")


def head_of_png(width, height):
    """A PNG file that says this size and holds next to nothing (PNG, ISO/IEC 15948)."""
    chunks = ((b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)), (b"IEND", b""))
    parts = (
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        for kind, data in (chunks[0], (b"IDAT", zlib.compress(b"\0")), chunks[1])
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


@pytest.mark.parametrize("size", [(2**31 - 1, 2**31 - 1), (30_000, 30_000)])
def test_more_px_than_any_canvas_has_are_not_read(tmp_path, size):
    (tmp_path / "a.png").write_bytes(head_of_png(*size))
    with pytest.raises(InputError, match=f"{size[0]} x {size[1]} px are more than are read"):
        read_grey(tmp_path / "a.png")


def test_what_is_far_larger_than_its_canvas_is_not_read(tmp_path):
    (tmp_path / "a.png").write_bytes(head_of_png(12_000, 12_000))
    with pytest.raises(InputError, match="12000 x 12000 px are more than are read"):
        read_grey(tmp_path / "a.png", canvas=(300, 300))


def test_of_a_picture_of_another_size_only_the_head_is_looked_at(tmp_path):
    path = tmp_path / "a.png"
    path.write_bytes(head_of_png(18_000, 18_000))
    assert picture_size(path, canvas=(300, 300)) == (18_000, 18_000)
    path.write_bytes(head_of_png(300, 300))
    with pytest.raises(InputError, match="cannot be read as a picture"):
        picture_size(path, canvas=(300, 300))


def test_only_png_files_are_pictures_of_ours(tmp_path):
    Image.fromarray(GREY).save(tmp_path / "a.png", format="GIF")
    with pytest.raises(InputError, match="it is no PNG file"):
        read_grey(tmp_path / "a.png")


def test_a_dark_rim_is_a_stamps_ground():
    assert has_dark_ground(np.zeros((9, 9), np.uint8))
    assert not has_dark_ground(np.full((9, 9), 255, np.uint8))
