"""Contours of ink followed in bands: the very ones of the whole, in less memory."""

import tracemalloc

import numpy as np
import pytest
from scipy import ndimage

from inkline.artwork.picture import contours
from inkline.artwork.picture.contours import ink_contours


@pytest.fixture
def blots():
    """Ink of a cloud of blots with soft edges, whose contours cross every row."""
    noise = np.random.default_rng(8).standard_normal((700, 600))
    field = ndimage.gaussian_filter(noise, 9.0)
    return np.clip(128 + 128 * field / field.std(), 0, 255).astype(np.uint8)


def rings(found):
    """Contours without their beginnings: each from its least point on."""
    turned = []
    for contour in found:
        first = np.lexsort(contour.T)[0]
        turned.append(np.roll(contour, -first, axis=0))
    return sorted(turned, key=lambda ring: ring[0].tolist())


@pytest.mark.parametrize("most_px", [40_000, 100_000, 390_000])
def test_bands_give_the_contours_of_the_whole(blots, monkeypatch, most_px):
    whole = rings(ink_contours(blots))
    monkeypatch.setattr(contours, "_MOST_PX_AT_ONCE", most_px)
    banded = rings(ink_contours(blots))
    assert len(whole) == len(banded) > 30
    for one, other in zip(whole, banded, strict=True):
        assert np.array_equal(one, other)


def test_a_large_picture_takes_little_more_than_itself(monkeypatch):
    picture = np.zeros((3000, 2000), np.uint8)
    picture[200:2800, 300:330] = picture[1500:1540, 100:1900] = 255
    monkeypatch.setattr(contours, "_MOST_PX_AT_ONCE", 200_000)
    tracemalloc.start()
    try:
        found = ink_contours(picture)
        _, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert len(found) == 1
    assert peak < 5 * picture.size
