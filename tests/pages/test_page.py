"""Pages mixed in linear light, against plain arithmetic and means."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inkline.pages.page import Page, fitted_size, part_on_page, shrink_picture


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


@pytest.mark.parametrize("at", [(-1, -2), (2, 1), (0, 0), (-9, 0), (9, 0), (0, 9), (-4, -4)])
def test_what_lies_off_the_page_is_left_out(at):
    # Against a page with so wide a margin that nothing lies off it, cut to the page afterwards.
    grey = np.arange(1, 13, dtype=np.uint8).reshape(3, 4)
    part, corner = part_on_page(grey, at=at, size=(5, 4))
    got = np.zeros((4, 5), np.uint8)
    got[corner[1] :, corner[0] :][: part.shape[0], : part.shape[1]] = part
    large = np.zeros((40, 50), np.uint8)
    large[20 + at[1] : 23 + at[1], 20 + at[0] : 24 + at[0]] = grey
    assert np.array_equal(got, large[20:24, 20:25])
    Page((5, 4), colour="#ffffff").ink(part, at=corner, colour="#000000")


def test_a_page_knows_its_size():
    assert Page((5, 4), colour="#ffffff").size == (5, 4)
