"""What a PNG file says of itself, read from its chunks (PNG, ISO/IEC 15948)."""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageChops

from inkline.artwork.picture.plain_png import SIGNATURE, grey_from_plain_png

METRES_PER_INCH = 0.0254
_MOST_PX = 20_000
"""Sides of the largest canvas that can be drawn."""
_BAND_ROWS = 256
"""Rows that are made grey at once: colours take four times the memory of greys."""
UNREADABLE = (OSError, SyntaxError, ValueError, EOFError, MemoryError, struct.error, zlib.error)
"""What reading a damaged picture can raise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PngFacts:
    """The head of a PNG file.

    Attributes:
        size: width and height in px.
        bits: bits a sample.
        colour_type: 0 is grey.
        px_per_metre: across and down from pHYs; None without that chunk or where its unit is not
            the metre.
        chunks: names of all chunks, in order.
    """

    size: tuple[int, int]
    bits: int
    colour_type: int
    px_per_metre: tuple[int, int] | None
    chunks: tuple[str, ...]


def png_facts(data: bytes) -> PngFacts:
    """The facts of the PNG file `data`.

    Raises:
        ValueError: it is no PNG file, or it is cut short.
    """
    if not data.startswith(SIGNATURE):
        raise ValueError("a PNG file must begin with its signature")
    chunks = _chunks(data)
    head = chunks.get("IHDR", b"")
    if len(head) != 13 or "IEND" not in chunks:
        raise ValueError("a PNG file must run from its IHDR to its IEND chunk")
    width, height, bits, colour_type = struct.unpack(">IIBB", head[:10])
    resolution = (
        struct.unpack(">IIB", chunks["pHYs"]) if len(chunks.get("pHYs", b"")) == 9 else (0, 0, 0)
    )
    return PngFacts(
        size=(width, height),
        bits=bits,
        colour_type=colour_type,
        px_per_metre=resolution[:2] if resolution[2] == 1 else None,
        chunks=tuple(chunks),
    )


def grey_from_png(data: bytes) -> NDArray[np.uint8]:
    """The picture in `data` as uint8 grey `(height, width)`, on black where it is see-through.

    Look at its size by `png_facts` first, and whether it is the one that it should be.

    Raises:
        OSError: the picture can't be decoded.
        ValueError: it is larger than any canvas.
    """
    plain = grey_from_plain_png(data, most_px=_MOST_PX * _MOST_PX)
    if plain is not None and max(plain.shape) <= _MOST_PX:
        return np.ascontiguousarray(plain)
    with _pictures_of_any_size(), Image.open(io.BytesIO(data), formats=("PNG",)) as image:
        if max(image.size) > _MOST_PX:
            raise ValueError(f"{image.size[0]} x {image.size[1]} px are more than are read")
        if image.mode.startswith("I"):  # 16 bits a pixel
            return (np.asarray(image).astype(np.uint32) >> 8).astype(np.uint8)
        width, height = image.size
        grey = np.empty((height, width), np.uint8)
        for top in range(0, height, _BAND_ROWS):
            bottom = min(top + _BAND_ROWS, height)
            grey[top:bottom] = np.asarray(_grey_on_black(image.crop((0, top, width, bottom))))
        return grey


def _grey_on_black(image: Image.Image) -> Image.Image:
    """The greys of a picture as they look on black, which is the ground of stamps."""
    if not image.has_transparency_data:
        return image.convert("L")
    clear = image if "A" in image.getbands() else image.convert("RGBA")
    return ImageChops.multiply(clear.convert("L"), clear.getchannel("A"))


@contextmanager
def _pictures_of_any_size() -> Iterator[None]:
    """Lift Pillow's limit of size meanwhile: the size was held against the manifest's before."""
    limit = Image.MAX_IMAGE_PIXELS
    Image.MAX_IMAGE_PIXELS = None
    try:
        yield
    finally:
        Image.MAX_IMAGE_PIXELS = limit


def _chunks(data: bytes) -> dict[str, bytes]:
    """The data of each kind of chunk, the last of its kind, in order of first appearance."""
    found = {}
    at = len(SIGNATURE)
    while at + 12 <= len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        found[data[at + 4 : at + 8].decode("latin-1")] = data[at + 8 : at + 8 + length]
        at += 12 + length
    return found
