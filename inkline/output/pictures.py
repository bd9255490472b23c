"""Reading pictures back, also those that another program has saved."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from inkline.errors import InputError


def read_grey(path: Path) -> NDArray[np.uint8]:
    """The picture at `path` as coverage, uint8 `(height, width)`.

    Colours count by their lightness, see-through parts as black.

    Raises:
        InputError: it isn't a picture, or it is damaged.
    """
    try:
        with _pictures_of_any_size(), Image.open(path) as picture:
            if picture.mode.startswith("I"):  # 16 bits a pixel
                return (np.asarray(picture).astype(np.uint32) >> 8).astype(np.uint8)
            return np.asarray(_opaque(picture).convert("L"))
    except (OSError, SyntaxError, ValueError) as problem:
        raise InputError(f"{path} cannot be read as a picture: {problem}") from problem


def _opaque(picture: Image.Image) -> Image.Image:
    if not picture.has_transparency_data:
        return picture
    black = Image.new("RGBA", picture.size, (0, 0, 0, 255))
    return Image.alpha_composite(black, picture.convert("RGBA"))


@contextmanager
def _pictures_of_any_size() -> Iterator[None]:
    """Lift Pillow's limit of size meanwhile.

    It guards against strangers' files; the pictures of a kit are as large as it says.
    """
    limit = Image.MAX_IMAGE_PIXELS
    Image.MAX_IMAGE_PIXELS = None
    try:
        yield
    finally:
        Image.MAX_IMAGE_PIXELS = limit
