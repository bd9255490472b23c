"""Several stamps flattened into one picture: inks over each other and a ground, mixed as light."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from inkline.geometry.arrays import Grey, Singles, Values
from inkline.output.ground import ground_values
from inkline.output.look import FileLook
from inkline.output.profiles import colour_in, light_of, light_of_bytes, values_of_light
from inkline.output.shown import Shown

_STRIP = 64
"""Rows that are mixed at a time, so that what is at work stays small."""


def flat_values(stamps: Sequence[Shown], look: FileLook) -> Values:
    """The values of `stamps` over each other, `(height, width, 3 or 4)`, of 8 or 16 bits.

    Inks are mixed in linear light, each as opaque as its coverage; on a clear ground the fourth
    value is the opacity of all together, which is not multiplied into the others.

    Args:
        stamps: back to front, on canvases of one size; those that aren't visible are left out.
        look: ground, bits and profile; ink where a stamp has no colour of its own.
    """
    seen = [stamp for stamp in stamps if stamp.is_visible]
    width, height = stamps[0].canvas
    whole, ground = 65535 if look.bits == 16 else 255, _ground_light(look, (width, height))
    kind = np.uint16 if look.bits == 16 else np.uint8
    inks = [light_of(colour_in(look.profile, one.colour or look.ink_on_ground)) for one in seen]
    pictures = [stamp.picture for stamp in seen]
    values = np.empty((height, width, 4 if ground is None else 3), kind)
    for top in range(0, height, _STRIP):
        rows = slice(top, min(top + _STRIP, height))
        light, cover = _mixed([picture[rows] for picture in pictures], inks, width)
        if ground is not None:
            bare = np.float32(1.0) - cover[:, :, None]
            light, cover = light + bare * ground(rows), np.ones_like(cover)
        shown = (light / np.maximum(cover, 1e-9)[:, :, None]).astype(np.float32)
        values[rows, :, :3] = np.rint(values_of_light(shown) * whole)
        if ground is None:
            values[rows, :, 3] = np.rint(cover * whole)
    return values


def _ground_light(look: FileLook, size: tuple[int, int]) -> Callable[[slice], Singles] | None:
    """Linear light of rows of the ground, `(3,)` or `(rows, width, 3)`; None if it is clear."""
    if look.picture is not None:
        values = ground_values(look, size, look.profile)
        return lambda rows: light_of_bytes(values[rows])
    if look.ground_colour is None:
        return None
    paper = light_of(colour_in(look.profile, look.ground_colour))
    return lambda _: paper


def _mixed(
    pictures: Sequence[Grey], inks: Sequence[Singles], width: int
) -> tuple[Singles, Singles]:
    """Light of inks over each other, multiplied with their opacity, and that."""
    height = len(pictures[0]) if pictures else _STRIP
    light = np.zeros((height, width, 3), np.float32)
    cover = np.zeros((height, width), np.float32)
    for picture, ink in zip(pictures, inks, strict=True):
        own = picture.astype(np.float32) / np.float32(255.0)
        light = light * (1.0 - own)[:, :, None] + own[:, :, None] * ink
        cover = cover + own - cover * own
    return light, cover
