"""Measures of whole pictures, on pictures drawn by hand."""

import math

import numpy as np
import pytest

from inkline.proof.picture import ink_bounds, quarter_picture, solid_share, specks


def test_quarter_picture_is_the_mean_of_four_by_four():
    rng = np.random.default_rng(0)
    grey = rng.integers(0, 256, (24, 40), dtype=np.uint8)
    expected = grey.reshape(6, 4, 10, 4).mean(axis=(1, 3))
    quarter = quarter_picture(grey)
    assert quarter.dtype == np.uint8
    assert np.abs(quarter - expected).max() <= 0.5


def test_quarter_picture_continues_odd_sides_without_ink():
    quarter = quarter_picture(np.full((5, 6), 255, np.uint8))
    assert quarter.tolist() == [[255, 128], [64, 32]]


def test_ink_bounds_hold_all_that_counts_as_ink():
    grey = np.zeros((30, 40), np.uint8)
    assert ink_bounds(grey) is None
    grey[4:9, 7:20] = 200
    grey[9, 7] = 100
    assert ink_bounds(grey) == (7, 4, 20, 9)
    assert ink_bounds(grey, at_least=1) == (7, 4, 20, 10)


def test_solid_share_counts_full_pixels_inside():
    grey = np.full((10, 10), 255, np.uint8)
    grey[0, :5] = 254
    inside = np.zeros((10, 10), bool)
    assert math.isnan(solid_share(grey, inside=inside))
    inside[:2] = True
    assert solid_share(grey, inside=inside) == 0.75


def test_specks_are_small_and_apart():
    grey = np.zeros((60, 60), np.uint8)
    grey[10:50, 10:14] = 255
    grey[50, 14] = 255  # touches at a corner
    grey[20:22, 30:32] = 255
    grey[55, 40] = 51
    found = specks(grey, largest_px2=20)
    assert [(speck.x, speck.y) for speck in found] == [(31, 21), (40.5, 55.5)]
    assert [speck.area_px2 for speck in found] == pytest.approx([4, 0.2])
    assert specks(grey, largest_px2=0.1) == ()
    assert specks(np.zeros((4, 4), np.uint8), largest_px2=9) == ()
