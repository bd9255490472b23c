"""A page in colour on which stamps are printed: coverage times an ink, mixed in linear light."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Self

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from inkline.geometry.arrays import Grey
from inkline.pages.light import light_from_hex, srgb_bytes_from_light

_STRIP = 64
"""Rows that are mixed at a time; a strip of a sheet then fits a processor's cache."""


class Page:
    """A sheet of one colour, to be inked and then written.

    Attributes:
        light: linear light, float32 `(height, width, 3)`.
    """

    def __init__(self, size: tuple[int, int], *, colour: str) -> None:
        """A blank page of `size` (width, height) in px."""
        self.light = np.empty((size[1], size[0], 3), np.float32)
        self.light[:] = light_from_hex(colour)

    def inked(self, grey: Grey, *, at: tuple[int, int], colour: str) -> Self:
        """This page with `grey` (255 is full ink) printed in `colour`, its upper left at `at` (x, y); all of it on the page.

        Raises:
            ValueError: part of it would lie off the page.
        """
        (x, y), (height, width) = at, grey.shape
        if min(x, y) < 0 or y + height > self.light.shape[0] or x + width > self.light.shape[1]:
            raise ValueError(f"a picture of {width} x {height} px at {at} does not lie on the page")
        ink = light_from_hex(colour)
        rows, columns = _inked_box(grey)
        part, inked = self.light[y:, x:][rows, columns], grey[rows, columns]
        for strip in _strips(len(inked)):
            wet = inked[strip] > 0  # most of a stamp is bare paper, which keeps its colour
            light, cover = part[strip], inked[strip][wet] * np.float32(1 / 255)
            bare = light[wet]
            light[wet] = bare + (ink - bare) * cover[:, None]
        return self

    def srgb(self) -> NDArray[np.uint8]:
        """The page as sRGB, uint8 `(height, width, 3)`."""
        pixels = np.empty(self.light.shape, np.uint8)
        for strip in _strips(len(pixels)):
            pixels[strip] = srgb_bytes_from_light(self.light[strip])
        return pixels


def _strips(n_rows: int) -> Iterator[slice]:
    """Rows a few at a time: a whole page's intermediate values would take more memory than the page."""
    return (slice(first, first + _STRIP) for first in range(0, n_rows, _STRIP))


def _inked_box(grey: Grey) -> tuple[slice, slice]:
    """The rows and columns within which `grey` is not empty; the rest need not be touched."""
    rows, columns = np.flatnonzero(grey.any(axis=1)), np.flatnonzero(grey.any(axis=0))
    if rows.size == 0:
        return slice(0, 0), slice(0, 0)
    return slice(rows[0], rows[-1] + 1), slice(columns[0], columns[-1] + 1)


def reduced(grey: Grey, *, size: tuple[int, int]) -> Grey:
    """`grey` at `size` (width, height), each new pixel the mean of the area it covers, since coverage adds up linearly."""
    if (grey.shape[1], grey.shape[0]) == size:
        return grey
    return np.asarray(
        Image.fromarray(np.ascontiguousarray(grey)).resize(size, Image.Resampling.BOX)
    )


def fitted_size(canvas: tuple[int, int], *, within: tuple[int, int]) -> tuple[int, int]:
    """The largest whole size in px with the proportions of `canvas` that fits `within`, never larger than `canvas`."""
    scale = min(1.0, within[0] / canvas[0], within[1] / canvas[1])
    return max(1, round(canvas[0] * scale)), max(1, round(canvas[1] * scale))
