"""Pictures of ink on a clear ground, read back by Pillow."""

import io

import numpy as np
import pytest
from PIL import Image

from inkline.errors import InputError
from inkline.output.clear_png import clear_png_bytes, read_clear

GREY = np.arange(12, dtype=np.uint8).reshape(3, 4) * 20


def test_pillow_reads_black_that_is_as_opaque_as_its_coverage():
    with Image.open(io.BytesIO(clear_png_bytes(GREY, ppi=300.0))) as picture:
        assert picture.mode == "LA"
        ink, alpha = (np.asarray(band) for band in picture.split())
        assert picture.info["dpi"] == pytest.approx((300.0, 300.0), abs=0.01)
    assert not ink.any()
    assert np.array_equal(alpha, GREY)


def test_coverage_is_read_back_as_it_was_written(tmp_path):
    path = tmp_path / "clear.png"
    path.write_bytes(clear_png_bytes(GREY, ppi=300.0))
    assert np.array_equal(read_clear(path), GREY)


def test_a_picture_without_clear_parts_is_read_by_how_dark_it_is(tmp_path):
    path = tmp_path / "opaque.png"
    Image.fromarray(GREY).save(path)
    assert np.array_equal(read_clear(path), 255 - GREY)


@pytest.mark.parametrize(
    "wrong",
    [np.zeros((3, 4, 3), np.uint8), np.zeros((3, 4)), np.zeros((0, 4), np.uint8)],
    ids=["colours", "floats", "nothing"],
)
def test_other_arrays_are_refused(wrong):
    with pytest.raises(ValueError, match=r"a grey picture must be uint8 \(height, width\), not"):
        clear_png_bytes(wrong, ppi=300.0)


def test_what_is_no_picture_is_refused(tmp_path):
    path = tmp_path / "clear.png"
    path.write_bytes(b"nothing")
    with pytest.raises(InputError, match=r"clear\.png cannot be read as a picture"):
        read_clear(path)
