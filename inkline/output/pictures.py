"""Reading pictures back, also those that another program has saved."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image, UnidentifiedImageError

from inkline.artwork.picture.plain_png import SIGNATURE, grey_from_plain_png
from inkline.errors import InputError
from inkline.folder.reading import open_plain_file

_BLACK, _WHITE = (0, 0, 0, 255), (255, 255, 255, 255)
_GREY_MODES = frozenset({"1", "L", "I", "I;16", "I;16B", "I;16L"})
_BYTES_WHILE_READ = {"1": 2, "L": 2, "P": 5, "I": 7, "I;16": 7, "RGB": 5}
"""Bytes that a pixel takes while it is read, by the mode of its picture; others take more."""
_MOST_BYTES = 820_000_000
"""Grey pictures of 20 000 x 20 000 px, the largest that are drawn, take a little less."""
_LARGER, _LEAST_BYTES = 24, 100_000_000
"""Bytes for each px of its canvas that a picture may take, and what any may."""
_MIDDLE_GREY = 127


def read_grey(path: Path, *, canvas: tuple[int, int] | None = None) -> NDArray[np.uint8]:
    """The picture at `path` as coverage, uint8 `(height, width)`.

    Colours count by their lightness, see-through parts as black. If a `canvas` is given, width and
    height in px, what is very much larger isn't read.

    Raises:
        InputError: it isn't a picture, it is too large, or it is damaged.
    """
    plain = _plain_grey(path, canvas)
    if plain is not None:
        return plain
    with _opened(path, canvas) as picture:
        if picture.mode.startswith("I"):  # 16 bits a pixel
            return (np.asarray(picture).astype(np.uint32) >> 8).astype(np.uint8)
        return np.asarray(_on_ground(picture, _BLACK).convert("L"))


def read_colours(path: Path, *, canvas: tuple[int, int]) -> NDArray[np.uint8]:
    """The picture at `path` as it looks on white paper, uint8 sRGB `(height, width, 3)`.

    Raises:
        InputError: as `read_grey`.
    """
    with _opened(path, canvas) as picture:
        if picture.mode.startswith("I"):
            grey = (np.asarray(picture).astype(np.uint32) >> 8).astype(np.uint8)
            return np.repeat(grey[:, :, None], 3, axis=2)
        return np.asarray(_on_ground(picture, _WHITE).convert("RGB"))


def picture_size(path: Path, *, canvas: tuple[int, int] | None) -> tuple[int, int]:
    """Width and height in px of the picture at `path`; one of the `canvas`'s size is read whole.

    Raises:
        InputError: as `read_grey`; of a picture of another size only its head is looked at.
    """
    with _opened(path) as picture:
        if canvas in {None, picture.size}:
            picture.load()
        return picture.size


def is_in_grey(path: Path) -> bool:
    """Whether the picture at `path` has neither colours nor see-through parts.

    Raises:
        InputError: as `read_grey`.
    """
    with _opened(path) as picture:
        return picture.mode in _GREY_MODES and not picture.has_transparency_data


def has_dark_ground(grey: NDArray[np.uint8]) -> bool:
    """Whether most of the rim of a picture is dark, as that of all stamps is."""
    rim = np.concatenate((grey[0], grey[-1], grey[:, 0], grey[:, -1]))
    return bool(np.median(rim) <= _MIDDLE_GREY)


def _plain_grey(path: Path, canvas: tuple[int, int] | None) -> NDArray[np.uint8] | None:
    """The picture at `path` if it is as we write them; None for all that `_opened` has to see."""
    most_px = _most_bytes(canvas) // _BYTES_WHILE_READ["L"]
    try:
        with open_plain_file(path) as file:
            data = file.read(most_px) if file.read(len(SIGNATURE)) == SIGNATURE else b""
    except (OSError, ValueError, MemoryError):
        return None
    return grey_from_plain_png(SIGNATURE + data, most_px=most_px)


def _most_bytes(canvas: tuple[int, int] | None) -> int:
    """How much memory a picture may take while it is read, by the canvas that it should fill."""
    if canvas is None:
        return _MOST_BYTES
    return min(_MOST_BYTES, max(_LARGER * canvas[0] * canvas[1], _LEAST_BYTES))


@contextmanager
def _opened(path: Path, canvas: tuple[int, int] | None = None) -> Iterator[Image.Image]:
    """The PNG picture at `path`, known not to take more memory than the largest of ours.

    Raises:
        InputError: it isn't one, it is too large, or it is damaged.
    """
    try:
        with (
            _pictures_of_any_size(),
            open_plain_file(path) as file,
            Image.open(file, formats=("PNG",)) as picture,
        ):
            width, height = picture.size
            if width * height * _BYTES_WHILE_READ.get(picture.mode, 12) > _most_bytes(canvas):
                raise InputError(
                    f"{path} cannot be read as a picture: {width} x {height} px are more than are "
                    f"read"
                )
            yield picture
    except (OSError, SyntaxError, ValueError, MemoryError) as problem:
        said = "it is no PNG file" if isinstance(problem, UnidentifiedImageError) else str(problem)
        raise InputError(f"{path} cannot be read as a picture: {said}") from problem


def _on_ground(picture: Image.Image, ground: tuple[int, int, int, int]) -> Image.Image:
    if not picture.has_transparency_data:
        return picture
    return Image.alpha_composite(Image.new("RGBA", picture.size, ground), picture.convert("RGBA"))


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
