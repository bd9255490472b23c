"""PNG files of black ink on a clear ground, as opaque as its coverage (PNG, ISO/IEC 15948)."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from inkline.errors import InputError


def clear_png_bytes(grey: NDArray[np.uint8], *, ppi: float) -> bytes:
    """The PNG file of `grey`, as black ink on a clear ground.

    Alpha is the coverage, value for value; PNG stores colours unmultiplied, so that a program
    composes it without a fringe.

    Args:
        grey: coverage, uint8 `(height, width)`.
        ppi: pixels per inch.

    Raises:
        ValueError: another shape or type, or no pixels.
    """
    if grey.ndim != 2 or grey.dtype != np.uint8 or grey.size == 0:
        raise ValueError(
            f"a grey picture must be uint8 (height, width), not {grey.dtype} {grey.shape}"
        )
    ink = Image.new("L", (grey.shape[1], grey.shape[0]), 0)
    picture = Image.merge("LA", (ink, Image.fromarray(np.ascontiguousarray(grey))))
    data = io.BytesIO()
    picture.save(data, "PNG", dpi=(ppi, ppi))
    return data.getvalue()


def read_clear(path: Path) -> NDArray[np.uint8]:
    """The coverage of a picture on a clear ground, uint8 `(height, width)`.

    It is how opaque the picture is, or, where it has no clear parts, how dark.

    Raises:
        InputError: it isn't a picture, or it is damaged.
    """
    try:
        with Image.open(path) as picture:
            if picture.has_transparency_data:
                return np.asarray(picture.convert("RGBA").getchannel("A"))
            return np.asarray(255 - np.asarray(picture.convert("L")), dtype=np.uint8)
    except (OSError, SyntaxError, ValueError) as problem:
        raise InputError(f"{path} cannot be read as a picture: {problem}") from problem
