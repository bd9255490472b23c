"""Our own pictures read back quickly, against Pillow; all others are left to that."""

import io

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from PIL import Image

from inkline.artwork.picture.plain_png import grey_from_plain_png
from inkline.output.look import FileLook, Ground
from inkline.output.png import colour_png_bytes, png_bytes, png_bytes_in_look

MOST = 10_000
GREY = np.random.default_rng(5).integers(0, 256, (20, 30), dtype=np.uint8)


def by_pillow(**options):
    file = io.BytesIO()
    Image.fromarray(GREY).save(file, "PNG", **options)
    return file.getvalue()


@settings(max_examples=60, deadline=None)
@given(arrays(np.uint8, st.tuples(st.integers(1, 40), st.integers(1, 40))))
def test_what_we_write_is_read_as_pillow_reads_it(grey):
    data = png_bytes(grey, ppi=300)
    got = grey_from_plain_png(data, most_px=MOST)
    assert got is not None
    assert np.array_equal(got, np.asarray(Image.open(io.BytesIO(data))))


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"a text",
        by_pillow(),  # its rows are predicted
        by_pillow(transparency=0),
        colour_png_bytes(np.repeat(GREY[:, :, None], 3, axis=2), ppi=300),
        png_bytes_in_look(GREY, FileLook(ground=Ground.CLEAR), ppi=300),
    ],
)
def test_what_is_written_in_any_other_way_is_left_alone(data):
    assert grey_from_plain_png(data, most_px=MOST) is None


def test_what_is_larger_than_wanted_is_left_alone():
    data = png_bytes(GREY, ppi=300)
    assert grey_from_plain_png(data, most_px=GREY.size) is not None
    assert grey_from_plain_png(data, most_px=GREY.size - 1) is None


def test_what_is_damaged_is_left_alone():
    data = png_bytes(GREY, ppi=300)
    for at in range(len(data)):
        changed = data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :]
        assert grey_from_plain_png(changed, most_px=MOST) is None
        assert grey_from_plain_png(data[:at], most_px=MOST) is None
