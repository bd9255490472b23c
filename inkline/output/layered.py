"""Layered pictures as OpenRaster files, the open standard of layers for painting programs.

A file is a ZIP archive. Its first member is `mimetype`, unpacked; `stack.xml` lists the layers, the
uppermost first, each a PNG file in `data/`; `mergedimage.png` shows them together, and a thumbnail
of at most 256 px stands for the whole. Of the standard's version 0.0.3, which its later versions
extend (openraster.org, from memory).

Layers are one colour each, as opaque as their coverage. A reader mixes them as sRGB values, as
painting programs do; the sheets that inkline composes itself are mixed as light and look a little
softer at the edges.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

import numpy as np
from PIL import Image, ImageColor

from inkline.geometry.arrays import Grey
from inkline.output.zip import zip_bytes

_MIME_TYPE = b"image/openraster"
_VERSION = "0.0.3"
_THUMBNAIL_SIDE = 256


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PictureLayer:
    """One layer of a picture.

    Attributes:
        name: what a painting program calls it.
        grey: coverage, uint8 `(height, width)`, of the whole picture's size.
        colour: of the ink, as `#rrggbb`.
    """

    name: str
    grey: Grey
    colour: str


def open_raster_bytes(layers: Sequence[PictureLayer], *, ground: str, ppi: float) -> bytes:
    """An OpenRaster file of `layers`, back to front, over a layer of the plain colour `ground`.

    Equal arguments give equal bytes.

    Args:
        layers: of one size, at least one.
        ground: as `#rrggbb`.
        ppi: pixels per inch.

    Raises:
        ValueError: no layer, or layers of several sizes.
    """
    sizes = {layer.grey.shape for layer in layers}
    if len(sizes) != 1:
        raise ValueError(f"layers of one size are required, not of {len(sizes)}")
    ((height, width),) = sizes
    full = np.full((height, width), 255, np.uint8)
    paper = PictureLayer(name="paper", grey=full, colour=ground)
    stack = [(layer.name, _tinted_picture(layer)) for layer in (paper, *layers)]
    merged = Image.new("RGBA", (width, height))
    for _, picture in stack:
        merged.alpha_composite(picture)
    members = [("mimetype", _MIME_TYPE), ("stack.xml", _stack_xml(stack, ppi=ppi))]
    members += [
        (_place(index), _png_bytes(picture, ppi=ppi)) for index, (_, picture) in enumerate(stack)
    ]
    members += [
        ("mergedimage.png", _png_bytes(merged, ppi=ppi)),
        ("Thumbnails/thumbnail.png", _png_bytes(_thumbnail(merged), ppi=ppi)),
    ]
    return zip_bytes(members)


def _tinted_picture(layer: PictureLayer) -> Image.Image:
    """A layer as its colour throughout, as opaque as its coverage."""
    height, width = layer.grey.shape
    picture = Image.new("RGB", (width, height), ImageColor.getrgb(layer.colour))
    picture.putalpha(Image.fromarray(np.ascontiguousarray(layer.grey)))
    return picture


def _stack_xml(stack: Sequence[tuple[str, Image.Image]], *, ppi: float) -> bytes:
    """What the file says of its layers, the uppermost first."""
    width, height = stack[0][1].size
    resolution = str(round(ppi))
    size = {"w": str(width), "h": str(height), "xres": resolution, "yres": resolution}
    image = ET.Element("image", {"version": _VERSION, **size})
    listed = ET.SubElement(image, "stack")
    for index, (name, _) in reversed(list(enumerate(stack))):
        place = {"name": name, "src": _place(index), "x": "0", "y": "0"}
        look = {"opacity": "1.0", "visibility": "visible", "composite-op": "svg:src-over"}
        ET.SubElement(listed, "layer", place | look)
    text = ET.tostring(image, encoding="unicode")
    return f"<?xml version='1.0' encoding='UTF-8'?>\n{text}\n".encode()


def _place(index: int) -> str:
    return f"data/layer{index}.png"


def _thumbnail(picture: Image.Image) -> Image.Image:
    small = picture.copy()
    small.thumbnail((_THUMBNAIL_SIDE, _THUMBNAIL_SIDE), Image.Resampling.BOX)
    return small


def _png_bytes(picture: Image.Image, *, ppi: float) -> bytes:
    data = io.BytesIO()
    picture.save(data, "PNG", dpi=(ppi, ppi))
    return data.getvalue()
