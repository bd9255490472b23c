"""Reading back what another program may have saved."""

import numpy as np
import pytest
from PIL import Image

from inkline.errors import InputError
from inkline.output.pictures import read_grey
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
