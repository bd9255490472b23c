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

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageColor

from inkline.geometry.arrays import Grey
from inkline.output.ground import ground_values
from inkline.output.look import FileLook
from inkline.output.png import layer_png_bytes
from inkline.output.profiles import Profile
from inkline.output.shown import Shown
from inkline.output.zip import zip_bytes

_MIME_TYPE = b"image/openraster"
_VERSION = "0.0.3"
_THUMBNAIL_SIDE = 256
_PAPER = "paper"
"""The layer of the ground."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PictureLayer:
    """One layer of a picture.

    Attributes:
        name: what a painting program calls it.
        grey: coverage, uint8 `(height, width)`, of the whole picture's size.
        colour: of the ink, as `#rrggbb`.
        is_visible: whether it is seen at first.
    """

    name: str
    grey: Grey
    colour: str
    is_visible: bool = True


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ValuesLayer:
    """A layer of several colours, or one that doesn't cover the whole picture.

    Attributes:
        name: what a painting program calls it.
        values: uint8 `(height, width, 4)`, opacity last and not multiplied into the others.
        at: x and y of its upper left corner; the lowest layer lies at (0, 0) and is the whole.
    """

    name: str
    values: NDArray[np.uint8]
    at: tuple[int, int] = (0, 0)


def open_raster_bytes(
    layers: Iterable[PictureLayer | ValuesLayer],
    *,
    ground: str | None,
    ppi: float,
    profile: bytes = b"",
) -> bytes:
    """An OpenRaster file of `layers`, back to front, over a layer of the plain colour `ground`.

    Equal arguments give equal bytes. Layers are taken one at a time, and no two of them are held.

    Args:
        layers: of one size, at least one.
        ground: as `#rrggbb`; no such layer if None.
        ppi: pixels per inch.
        profile: that all pictures in it name; none if b"".

    Raises:
        ValueError: no layer, or layers of several sizes.
    """
    stack = _Stack(ppi=ppi, profile=profile)
    for layer in layers:
        if isinstance(layer, ValuesLayer):
            stack.add(layer.name, Image.fromarray(layer.values), at=layer.at)
            continue
        if ground is not None and not stack.rows:
            full = np.full(layer.grey.shape, 255, np.uint8)
            paper = PictureLayer(name=_PAPER, grey=full, colour=ground)
            stack.add(paper.name, _tinted_picture(paper))
        stack.add_whole(layer)
    if stack.merged is None:
        raise ValueError("layers of one size are required, not of 0")
    members = [("mimetype", _MIME_TYPE), ("stack.xml", stack.xml()), *stack.members]
    members += [
        ("mergedimage.png", stack.png(stack.merged)),
        ("Thumbnails/thumbnail.png", stack.png(_thumbnail(stack.merged))),
    ]
    return zip_bytes(members)


def open_raster_of_stamps(stamps: Sequence[Shown], look: FileLook) -> bytes:
    """The OpenRaster file of `stamps`, a layer each, back to front.

    Layers are called as their stamps are, without what the names of all of them begin with.

    Args:
        stamps: on canvases of one size, at least one.
        look: ground and ink.
    """
    folders = {stamp.name.rpartition("/")[0] for stamp in stamps}
    layers = (
        PictureLayer(
            name=stamp.name.rpartition("/")[2] if len(folders) == 1 else stamp.name,
            grey=stamp.picture,
            colour=stamp.colour or look.ink_on_ground,
            is_visible=stamp.is_visible,
        )
        for stamp in stamps
    )
    ppi = stamps[0].ppi
    if look.picture is None:
        return open_raster_bytes(layers, ground=look.ground_colour, ppi=ppi)
    colours = ground_values(look, stamps[0].canvas, Profile.NONE)
    values = np.dstack((colours, np.full(colours.shape[:2], 255, np.uint8)))
    paper = ValuesLayer(name=_PAPER, values=values)
    return open_raster_bytes(itertools.chain((paper,), layers), ground=None, ppi=ppi)


class _Stack:
    """The layers of a file while they are put together, back to front.

    Attributes:
        rows: name of each layer, whether it is seen, and where it lies.
        members: their files.
        merged: all that is seen so far; None before the first layer.
    """

    def __init__(self, *, ppi: float, profile: bytes) -> None:
        self.rows: list[tuple[str, bool, tuple[int, int]]] = []
        self.members: list[tuple[str, bytes]] = []
        self.merged: Image.Image | None = None
        self._ppi, self._profile = ppi, profile

    def add_whole(self, layer: PictureLayer) -> None:
        """Put `layer` on top.

        Raises:
            ValueError: it is of another size than those below.
        """
        picture = _tinted_picture(layer)
        if self.merged is not None and picture.size != self.merged.size:
            raise ValueError("layers of one size are required, not of 2")
        self.add(layer.name, picture, is_visible=layer.is_visible)

    def add(
        self,
        name: str,
        picture: Image.Image,
        *,
        at: tuple[int, int] = (0, 0),
        is_visible: bool = True,
    ) -> None:
        """Put a picture on top, with its upper left corner `at` x and y."""
        if self.merged is None:
            self.merged = Image.new("RGBA", picture.size)
        if is_visible:
            self.merged.alpha_composite(picture, dest=at)
        self.members.append((_place(len(self.rows)), self.png(picture)))
        self.rows.append((name, is_visible, at))

    def png(self, picture: Image.Image) -> bytes:
        """The file of a picture in this one."""
        return layer_png_bytes(np.asarray(picture), ppi=self._ppi, profile=self._profile)

    def xml(self) -> bytes:
        """What the file says of its layers, the uppermost first."""
        width, height = (0, 0) if self.merged is None else self.merged.size
        resolution = str(round(self._ppi))
        size = {"w": str(width), "h": str(height), "xres": resolution, "yres": resolution}
        image = ET.Element("image", {"version": _VERSION, **size})
        listed = ET.SubElement(image, "stack")
        for index, (name, is_visible, (x, y)) in reversed(list(enumerate(self.rows))):
            place = {"name": name, "src": _place(index), "x": str(x), "y": str(y)}
            seen = "visible" if is_visible else "hidden"
            look = {"opacity": "1.0", "visibility": seen, "composite-op": "svg:src-over"}
            ET.SubElement(listed, "layer", place | look)
        text = ET.tostring(image, encoding="unicode")
        return f"<?xml version='1.0' encoding='UTF-8'?>\n{text}\n".encode()


def _tinted_picture(layer: PictureLayer) -> Image.Image:
    """A layer as its colour throughout, as opaque as its coverage."""
    height, width = layer.grey.shape
    picture = Image.new("RGB", (width, height), ImageColor.getrgb(layer.colour))
    picture.putalpha(Image.fromarray(np.ascontiguousarray(layer.grey)))
    return picture


def _place(index: int) -> str:
    return f"data/layer{index}.png"


def _thumbnail(picture: Image.Image) -> Image.Image:
    small = picture.copy()
    small.thumbnail((_THUMBNAIL_SIDE, _THUMBNAIL_SIDE), Image.Resampling.BOX)
    return small
