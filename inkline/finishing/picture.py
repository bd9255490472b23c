"""Pictures of finished artwork: white ink on black, or its own colours, mixed as light."""

from __future__ import annotations

import io
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from inkline.artwork.model import Paint
from inkline.finishing.request import Ground
from inkline.geometry.arrays import Grey
from inkline.output.png import png_bytes
from inkline.pages.light import light_from_hex, srgb_bytes_from_light

_PALE = 0.72
"""Relative luminance from which a colour is no ink but what covers it: white and its neighbours."""
_LUMINANCE = np.array([0.2126, 0.7152, 0.0722], dtype=np.float32)
"""Shares of linear red, green and blue (IEC 61966-2-1)."""


def picture_bytes(
    layers: Sequence[tuple[Paint, Grey]], *, canvas: tuple[int, int], ground: Ground, ppi: float
) -> bytes:
    """The PNG file of layers of ink, the hindmost first.

    On black, all dark colours are ink at its fullest and pale ones take it away; otherwise each
    layer has its own colour.

    Args:
        layers: colours with their coverage, each uint8 `(height, width)`.
        canvas: width and height in px.
        ground: what the ink lies on.
        ppi: pixels per inch.
    """
    if ground is Ground.BLACK:
        return png_bytes(_stamp(layers, canvas), ppi=ppi)
    light, alpha = _composed(layers, canvas, is_clear=ground is Ground.CLEAR)
    colours = srgb_bytes_from_light(np.clip(light, 0.0, 1.0))
    if ground is Ground.CLEAR:
        opaque = np.rint(255.0 * alpha).astype(np.uint8)[..., None]
        picture = Image.fromarray(np.concatenate((colours, opaque), axis=2))
    else:
        picture = Image.fromarray(colours)
    data = io.BytesIO()
    picture.save(data, "PNG", dpi=(ppi, ppi))
    return data.getvalue()


def is_pale(paint: Paint) -> bool:
    """Whether a colour takes ink away, rather than being ink."""
    return float(light_from_hex(paint.hex) @ _LUMINANCE) >= _PALE


def _stamp(layers: Sequence[tuple[Paint, Grey]], canvas: tuple[int, int]) -> Grey:
    """White ink on black: what dark layers cover, less what pale ones lie over."""
    ink: Grey = np.zeros((canvas[1], canvas[0]), dtype=np.uint8)
    for paint, covered in layers:
        if is_pale(paint):
            touched = covered > 0
            left = 255 - covered[touched].astype(np.uint16)
            ink[touched] = ((ink[touched] * left + 127) // 255).astype(np.uint8)
        else:
            ink = np.maximum(ink, covered)
    return ink


def _composed(
    layers: Sequence[tuple[Paint, Grey]], canvas: tuple[int, int], *, is_clear: bool
) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Linear light `(height, width, 3)`, not multiplied by alpha, and alpha `(height, width)`."""
    shape = (canvas[1], canvas[0])
    light = np.ones((*shape, 3), dtype=np.float32)
    alpha = np.full(shape, 0.0 if is_clear else 1.0, dtype=np.float32)
    for paint, covered in layers:
        touched = covered > 0
        over = covered[touched].astype(np.float32) * np.float32(paint.opacity / 255.0)
        below = alpha[touched] * (1.0 - over)
        whole = np.maximum(over + below, np.float32(1e-6))
        own = light_from_hex(paint.hex)
        light[touched] = (over[:, None] * own + below[:, None] * light[touched]) / whole[:, None]
        alpha[touched] = over + below
    return light, alpha
