"""Pages mixed in linear light, against the numbers of IEC 61966-2-1 and plain means."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.pages.light import (
    light_from_hex,
    linear_from_srgb,
    srgb_bytes_from_light,
    srgb_from_linear,
)
from inkline.pages.page import Page, fitted_size, shrink_picture


@pytest.mark.parametrize(
    ("light", "srgb"), [(0.5, 188), (0.25, 137), (0.75, 225), (0.0, 0), (1.0, 255)]
)
def test_light_written_as_srgb(light, srgb):
    # IEC 61966-2-1, evaluated by hand: encode(0.5) = 0.735357, encode(0.25) = 0.5371, encode(0.75)
    # = 0.8808.
    assert srgb_bytes_from_light(np.full((1, 1), light, np.float32))[0, 0] == srgb


def test_srgb_read_as_light():
    # IEC 61966-2-1, evaluated by hand: decode(128/255) = 0.215861, decode(0.5) = 0.214041.
    assert linear_from_srgb(np.array([128 / 255, 0.5, 0.02])) == pytest.approx(
        [0.215861, 0.214041, 0.02 / 12.92], abs=1e-6
    )


@settings(max_examples=50, deadline=None)
@given(st.floats(0, 1))
def test_encoding_undoes_decoding(value):
    assert srgb_from_linear(linear_from_srgb(np.array([value])))[0] == pytest.approx(
        value, abs=1e-7
    )


def test_the_table_is_at_most_one_off_the_formula():
    light = np.linspace(0, 1, 20001)
    formula = np.round(255 * srgb_from_linear(light))
    assert np.abs(srgb_bytes_from_light(light.astype(np.float32)) - formula).max() <= 1


@pytest.mark.parametrize("wrong", ["f6f1e7", "#f6f1", "#f6f1e7ff"])
def test_other_colours_are_refused(wrong):
    with pytest.raises(ValueError, match="a colour must be written like"):
        light_from_hex(wrong)


def test_half_covered_black_on_white_is_half_the_light():
    # Half the light is sRGB 188; a mix of the sRGB numbers themselves would be 128.
    page = Page((4, 3), colour="#ffffff").ink(
        np.full((2, 2), 128, np.uint8), at=(1, 1), colour="#000000"
    )
    assert (
        page.srgb()[1, 1].tolist() == [187] * 3
    )  # 1 - 128 / 255 of the light, a little under half
    assert page.srgb()[0, 0].tolist() == [255] * 3


def test_full_ink_is_the_inks_own_colour_and_no_ink_the_papers():
    grey = np.array([[255, 0]], np.uint8)
    page = Page((2, 1), colour="#f6f1e7").ink(grey, at=(0, 0), colour="#22303c")
    assert page.srgb()[0].tolist() == [[0x22, 0x30, 0x3C], [0xF6, 0xF1, 0xE7]]


def test_empty_pictures_change_nothing():
    page = Page((5, 5), colour="#f6f1e7")
    before = page.srgb()
    assert np.array_equal(
        page.ink(np.zeros((3, 3), np.uint8), at=(1, 1), colour="#000000").srgb(), before
    )


@pytest.mark.parametrize("at", [(-1, 0), (0, -1), (3, 0), (0, 3)])
def test_nothing_is_printed_off_the_page(at):
    with pytest.raises(ValueError, match="does not lie on the page"):
        Page((4, 4), colour="#ffffff").ink(np.zeros((2, 2), np.uint8), at=at, colour="#000000")


def test_reducing_keeps_the_mean():
    grey = np.random.default_rng(4).integers(0, 256, (40, 60), dtype=np.uint8)
    small = shrink_picture(grey, size=(15, 10))
    means = grey.reshape(10, 4, 15, 4).mean(axis=(1, 3))
    assert np.abs(small - means).max() <= 1  # rounded once across and once down
    assert shrink_picture(grey, size=(60, 40)) is grey


@settings(max_examples=60, deadline=None)
@given(
    st.tuples(st.integers(1, 5000), st.integers(1, 5000)),
    st.tuples(st.integers(1, 900), st.integers(1, 900)),
)
def test_fitted_sizes_fit_and_keep_proportions(canvas, within):
    width, height = fitted_size(canvas, within=within)
    assert 1 <= width <= within[0]
    assert 1 <= height <= within[1]
    assert width <= canvas[0]
    assert (
        abs(width * canvas[1] - height * canvas[0]) <= max(canvas) * 1.0 + 1e-9
        or min(width, height) == 1
    )
