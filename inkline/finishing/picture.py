"""Pictures of finished artwork: its own colours over each other, and the exact under the drawn."""

from __future__ import annotations

import io
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from inkline.artwork.model import Paint
from inkline.geometry.arrays import Grey
from inkline.output.look import Ground
from inkline.pages.light import light_from_hex

_PALE = 0.72
"""Relative luminance from which a colour is no ink but what covers it: white and its neighbours."""
_LUMINANCE = np.array([0.2126, 0.7152, 0.0722], dtype=np.float32)
"""Shares of linear red, green and blue (IEC 61966-2-1)."""
_EXACT = Paint(red=0.96, green=0.52, blue=0.38)
_DRAWN = Paint(red=0.1, green=0.14, blue=0.18, opacity=0.8)
"""Colours of an overlay: what is exact shows where no ink lies, and faintly through it."""


def is_pale(paint: Paint) -> bool:
    """Whether a colour takes ink away, rather than being ink."""
    return float(light_from_hex(paint.hex) @ _LUMINANCE) >= _PALE


def coloured_png(
    layers: Sequence[tuple[Paint, Grey]], *, canvas: tuple[int, int], ground: Ground, ppi: float
) -> bytes:
    """The PNG file of layers of ink in their colours, the hindmost first.

    Args:
        layers: colours with their coverage, each uint8 `(height, width)`.
        canvas: width and height in px.
        ground: white, or clear.
        ppi: pixels per inch.
    """
    return _png(coloured_values(layers, canvas=canvas, ground=ground), ppi=ppi)


def coloured_values(
    layers: Sequence[tuple[Paint, Grey]], *, canvas: tuple[int, int], ground: Ground
) -> NDArray[np.uint8]:
    """The same as values of sRGB, `(height, width, 3)`, or 4 with alpha where the ground is clear.

    Colours are not multiplied by alpha.
    """
    shares, alpha = _composed(layers, canvas, is_clear=ground is Ground.CLEAR)
    colours: NDArray[np.uint8] = np.rint(255.0 * np.clip(shares, 0.0, 1.0)).astype(np.uint8)
    if ground is Ground.CLEAR:
        opaque = np.rint(255.0 * alpha).astype(np.uint8)[..., None]
        return np.concatenate((colours, opaque), axis=2)
    return colours


def overlay_png(
    exact: Sequence[Grey], drawn: Sequence[Grey], *, canvas: tuple[int, int], ppi: float
) -> bytes:
    """The PNG file of exact pictures in a warm colour, and drawn ones in dark ink over them."""
    layers = [(_EXACT, one) for one in exact] + [(_DRAWN, one) for one in drawn]
    return coloured_png(layers, canvas=canvas, ground=Ground.WHITE, ppi=ppi)


def _png(values: NDArray[np.uint8], *, ppi: float) -> bytes:
    data = io.BytesIO()
    Image.fromarray(values).save(data, "PNG", dpi=(ppi, ppi))
    return data.getvalue()


def _composed(
    layers: Sequence[tuple[Paint, Grey]], canvas: tuple[int, int], *, is_clear: bool
) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Colours `(height, width, 3)`, not multiplied by alpha, and alpha `(height, width)`.

    They are mixed by their sRGB values, as SVG and PDF have it (SVG 2, 13.9), so that half clear
    colours look as they do in the artwork.
    """
    shape = (canvas[1], canvas[0])
    values = np.ones((*shape, 3), dtype=np.float32)
    alpha = np.full(shape, 0.0 if is_clear else 1.0, dtype=np.float32)
    for paint, covered in layers:
        touched = covered > 0
        over = covered[touched].astype(np.float32) * np.float32(paint.opacity / 255.0)
        below = alpha[touched] * (1.0 - over)
        whole = np.maximum(over + below, np.float32(1e-6))
        own = np.array((paint.red, paint.green, paint.blue), dtype=np.float32)
        mixed = over[:, None] * own + below[:, None] * values[touched]
        values[touched] = mixed / whole[:, None]
        alpha[touched] = over + below
    return values, alpha
