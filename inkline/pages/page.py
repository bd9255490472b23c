"""A page in colour on which stamps are printed: coverage times an ink, mixed in linear light."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from inkline.geometry.arrays import Grey
from inkline.pages.light import light_from_hex, linear_from_srgb, srgb_bytes_from_light

_STRIP = 64
"""Rows that are mixed at a time; a strip of a sheet then fits a processor's cache."""

_FULL_SHARE = 0.2
"""A strip of which more than this is inked is mixed as a whole, which is quicker then; either way
gives the same values."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Print:
    """A picture on a page.

    Attributes:
        at: x and y of its upper left corner.
        values: coverage, uint8 `(height, width)`; or colours as they are, `(height, width, 3)`.
        ink: linear light of what is printed, None for colours.
    """

    at: tuple[int, int]
    values: NDArray[np.uint8]
    ink: NDArray[np.float32] | None

    def mix_into(self, light: NDArray[np.float32], first_row: int) -> None:
        """Print it on rows of a page from `first_row` on, light `(3, rows, width)`."""
        x, y = self.at[0], self.at[1] - first_row
        part = self.values[max(-y, 0) : max(light.shape[1] - y, 0)]
        if not len(part):
            return
        below = light[:, max(y, 0) : max(y, 0) + len(part), x : x + part.shape[1]]
        if self.ink is None:
            below[:] = np.moveaxis(linear_from_srgb(part / 255.0), 2, 0)
        else:
            _mix(below, part, self.ink)


class Page:
    """A sheet of one colour, to be inked and then written.

    What is printed on it is kept and mixed when it is written, a few rows at a time: the light of a
    whole page would take twelve bytes a pixel. So pictures must not be changed meanwhile.

    Attributes:
        size: width and height in px.
    """

    def __init__(self, size: tuple[int, int], *, colour: str) -> None:
        """A blank page of `size` in px."""
        self.size = size
        self._ground = light_from_hex(colour)
        self._prints: list[_Print] = []

    def ink(self, grey: Grey, *, at: tuple[int, int], colour: str) -> Self:
        """This page with a picture printed on it, mixed in linear light.

        Args:
            grey: coverage, 255 full ink; all of it must lie on the page.
            at: x and y of its upper left corner.
            colour: of the ink, as `#rrggbb`.

        Raises:
            ValueError: part of it would lie off the page.
        """
        (x, y), (height, width) = at, grey.shape
        if min(x, y) < 0 or y + height > self.size[1] or x + width > self.size[0]:
            raise ValueError(f"a picture of {width} x {height} px at {at} does not lie on the page")
        rows, columns = _inked_box(grey)
        place = (x + columns.start, y + rows.start)
        print_ = _Print(at=place, values=grey[rows, columns], ink=light_from_hex(colour))
        self._prints += [print_] if print_.values.size else []
        return self

    def paste(self, colours: NDArray[np.uint8], *, at: tuple[int, int]) -> Self:
        """This page with a picture laid on it as it is: uint8 sRGB `(height, width, 3)`."""
        self._prints.append(_Print(at=at, values=colours, ink=None))
        return self

    def light(self) -> NDArray[np.float32]:
        """The page as linear light, float32 `(height, width, 3)`."""
        light = np.empty((self.size[1], self.size[0], 3), np.float32)
        for strip, mixed in self._mixed_strips():
            light[strip] = np.moveaxis(mixed, 0, 2)
        return light

    def srgb(self) -> NDArray[np.uint8]:
        """The page as sRGB, uint8 `(height, width, 3)`."""
        pixels = np.empty((self.size[1], self.size[0], 3), np.uint8)
        for strip, mixed in self._mixed_strips():
            for channel in range(3):
                pixels[strip, :, channel] = srgb_bytes_from_light(mixed[channel])
        return pixels

    def _mixed_strips(self) -> Iterator[tuple[slice, NDArray[np.float32]]]:
        """The page a few rows at a time: which, and their light `(3, rows, width)`."""
        for strip in _strips(self.size[1]):
            light = np.empty((3, strip.stop - strip.start, self.size[0]), np.float32)
            light[:] = self._ground[:, None, None]
            for one in self._prints:
                one.mix_into(light, strip.start)
            yield strip, light


def _mix(light: NDArray[np.float32], grey: Grey, ink: NDArray[np.float32]) -> None:
    """Mix `ink` into the light of a strip of a page, `(3, height, width)`, where `grey` says.

    Where little is inked only that is touched: bare paper keeps its colour either way.
    """
    n_wet = np.count_nonzero(grey)
    if n_wet > _FULL_SHARE * grey.size:
        cover = grey * np.float32(1 / 255)
        for channel in range(3):
            own = light[channel]
            own += (ink[channel] - own) * cover
    elif n_wet:
        rows, columns = np.nonzero(grey)
        cover, bare = grey[rows, columns] * np.float32(1 / 255), light[:, rows, columns]
        light[:, rows, columns] = bare + (ink[:, None] - bare) * cover


def _strips(n_rows: int) -> Iterator[slice]:
    """The rows of a page a few at a time, since intermediate values take more memory than it."""
    starts = range(0, n_rows, _STRIP)
    return (slice(first, min(first + _STRIP, n_rows)) for first in starts)


def _inked_box(grey: Grey) -> tuple[slice, slice]:
    """The rows and columns within which `grey` is not empty; the rest need not be touched."""
    rows, columns = np.flatnonzero(grey.any(axis=1)), np.flatnonzero(grey.any(axis=0))
    if rows.size == 0:
        return slice(0, 0), slice(0, 0)
    return slice(rows[0], rows[-1] + 1), slice(columns[0], columns[-1] + 1)


def part_on_page(
    grey: Grey, *, at: tuple[int, int], size: tuple[int, int]
) -> tuple[Grey, tuple[int, int]]:
    """The part of a picture that lies on a page of `size`, and where its upper left corner is.

    Args:
        grey: the picture.
        at: x and y of its upper left corner; any.
        size: width and height of the page in px.
    """
    left, top = max(-at[0], 0), max(-at[1], 0)
    x, y = at[0] + left, at[1] + top
    part = grey[top : top + max(size[1] - y, 0), left : left + max(size[0] - x, 0)]
    return np.ascontiguousarray(part), (min(x, size[0]), min(y, size[1]))


def shrink_picture(grey: Grey, *, size: tuple[int, int]) -> Grey:
    """`grey` at `size` (width, height): each new pixel is the mean of the area that it covers.

    Coverage adds up linearly, so means of it are right. At its own size it comes back as it is.
    """
    if (grey.shape[1], grey.shape[0]) == size:
        return grey
    return np.asarray(
        Image.fromarray(np.ascontiguousarray(grey)).resize(size, Image.Resampling.BOX)
    )


def fitted_size(canvas: tuple[int, int], *, within: tuple[int, int]) -> tuple[int, int]:
    """The largest whole size in px with the proportions of `canvas` that fits `within`.

    It is never larger than `canvas`, and never less than one px.
    """
    scale = min(1.0, within[0] / canvas[0], within[1] / canvas[1])
    return max(1, round(canvas[0] * scale)), max(1, round(canvas[1] * scale))
