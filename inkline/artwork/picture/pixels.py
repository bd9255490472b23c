"""The pixels of a picture, held so that a large one takes no more memory than it must."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from inkline.geometry.arrays import Grey

_STRIP = 512
"""Rows that are converted at a time."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pixels:
    """Colours and opacity.

    Attributes:
        colours: red, green and blue, uint8 `(height, width, 3)`; of a grey picture a view of its
            one channel.
        alpha: uint8 `(height, width)`, or None where all is opaque.
    """

    colours: NDArray[np.uint8]
    alpha: Grey | None


def pixels_of_picture(picture: Image.Image) -> Pixels:
    """The pixels of an open picture, whatever its mode."""
    width, height = picture.size
    if picture.mode == "L" and "transparency" not in picture.info:
        grey = np.empty((height, width), np.uint8)
        for rows, strip in _strips(picture):
            grey[rows] = np.asarray(strip)
        return Pixels(colours=np.broadcast_to(grey[..., None], (height, width, 3)), alpha=None)
    colours = np.empty((height, width, 3), np.uint8)
    has_alpha = picture.mode not in {"RGB", "1", "CMYK", "YCbCr"} or "transparency" in picture.info
    alpha = np.empty((height, width), np.uint8) if has_alpha else None
    for rows, strip in _strips(picture):
        if alpha is None:
            colours[rows] = np.asarray(strip.convert("RGB"))
        else:
            values = np.asarray(strip.convert("RGBA"))
            colours[rows], alpha[rows] = values[..., :3], values[..., 3]
    is_opaque = alpha is None or bool(alpha.min() == np.iinfo(np.uint8).max)
    return Pixels(colours=colours, alpha=None if is_opaque else alpha)


def luma_of(colours: NDArray[np.uint8]) -> Grey:
    """Luma by ITU-R BT.601 as Pillow rounds it, uint8 `(height, width)`."""
    luma = np.empty(colours.shape[:2], np.uint8)
    for top in range(0, len(colours), _STRIP):
        strip = np.ascontiguousarray(colours[top : top + _STRIP])
        luma[top : top + _STRIP] = np.asarray(Image.fromarray(strip).convert("L"))
    return luma


def _strips(picture: Image.Image) -> Iterator[tuple[slice, Image.Image]]:
    width, height = picture.size
    for top in range(0, height, _STRIP):
        below = min(top + _STRIP, height)
        yield slice(top, below), picture.crop((0, top, width, below))
