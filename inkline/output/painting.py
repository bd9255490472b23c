"""Pictures that something is stamped into: read upright with their profile, inked as light."""

from __future__ import annotations

import io
import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageOps, UnidentifiedImageError

from inkline.errors import InputError
from inkline.geometry.arrays import Grey, Singles
from inkline.output.curves import (
    ProfileError,
    curves_of_profile,
    refuse_unusable_profile,
    srgb_from_profile,
    values_in_profile,
)

_FORMATS = ("PNG", "JPEG", "TIFF")
_LEAST_SIDE, _MOST_SIDE, _MOST_PIXELS = 64, 20_000, 101_000_000
_USUAL_PPI, _LEAST_PPI, _MOST_PPI = 300.0, 30.0, 5_000.0
_NOT_RGB = {"CMYK": "CMYK", "LAB": "CIELAB", "YCbCr": "YCbCr", "F": "numbers of 32 bits"}
_PNG_BITS_AT = 24
"""Where a PNG file says how many bits a value has (ISO/IEC 15948, 11.2.2)."""
_TIFF_BITS = 258
"""The tag by which a TIFF file says it (TIFF 6.0)."""
_LEVEL = 4
"""How long to search for repeats, 1 to 9; more takes far longer and saves little of a painting."""
_STEPS = 4095
"""Steps of a value's square root in which light is looked up; steps finer than 8 bits can hold."""


@dataclass(frozen=True, eq=False, kw_only=True)
class Painting:
    """A picture that somebody painted.

    Attributes:
        values: red, green and blue, uint8 `(height, width, 3)`, upright.
        opacity: uint8 `(height, width)`, None where all is opaque.
        profile: its colour profile as it stands in the file, b"" if none that can be used.
        ppi: pixels per inch.
        notes: what its owner should know of how it was read.
    """

    values: NDArray[np.uint8]
    opacity: NDArray[np.uint8] | None = None
    profile: bytes = b""
    ppi: float = _USUAL_PPI
    notes: tuple[str, ...] = ()

    @property
    def size(self) -> tuple[int, int]:
        """Width and height in px."""
        return self.values.shape[1], self.values.shape[0]

    @cached_property
    def curves(self) -> Singles:
        """Linear light of its values, `(256, 3)`."""
        return curves_of_profile(self.profile)

    def light_of_colour(self, colour: str) -> Singles:
        """Linear light of the sRGB colour `#rrggbb` as this picture's profile has it, `(3,)`."""
        red, green, blue = bytes.fromhex(colour[1:])
        (values,) = values_in_profile(((red, green, blue),), self.profile)
        return self.light_of_values(values)

    def light_of_values(self, values: NDArray[np.uint8]) -> Singles:
        """Linear light of values of any shape `(..., 3)`."""
        return np.stack([self.curves[values[..., c], c] for c in range(3)], axis=-1)

    def values_of_light(self, light: Singles) -> NDArray[np.uint8]:
        """Values of linear light of any shape `(..., 3)`, which `light_of_values` gives back."""
        steps = np.rint(np.sqrt(np.clip(light, 0.0, 1.0)) * _STEPS).astype(np.uint16)
        return np.stack([self._back[steps[..., c], c] for c in range(3)], axis=-1)

    @cached_property
    def _back(self) -> NDArray[np.uint8]:
        light, values = (np.arange(_STEPS + 1) / _STEPS) ** 2, np.arange(256)
        backs = [np.interp(light, self.curves[:, c], values) for c in range(3)]
        return np.rint(np.stack(backs, axis=1)).astype(np.uint8)

    def srgb_of_light(self, light: Singles) -> NDArray[np.uint8]:
        """Colours of sRGB of some linear light, uint8 `(n, 3)`."""
        values = self.values_of_light(light)
        return srgb_from_profile(
            tuple((int(r), int(g), int(b)) for r, g, b in values), self.profile
        )


def read_painting(path: Path, *, setting: str = "on") -> Painting:
    """The picture at `path`, PNG, JPEG or TIFF, turned upright as its EXIF says.

    Args:
        path: of the file.
        setting: by which it was asked for.

    Raises:
        InputError: there is none, it can't be read, or it is of a size or colours that can't be
            used.
    """
    if not path.is_file():
        raise InputError(f"{path}: there is no such picture", setting=setting)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            with Image.open(path, formats=_FORMATS) as picture:
                _refuse_size(picture.size, path, setting)
                return _painting_of(picture, path, setting)
    except (OSError, SyntaxError, ValueError, MemoryError, Image.DecompressionBombError) as problem:
        raise InputError(
            f"{path} cannot be read as a picture: {_reason(problem)}", setting=setting
        ) from problem


def _reason(problem: BaseException) -> str:
    if isinstance(problem, UnidentifiedImageError):
        return "it is no PNG, JPEG or TIFF file of 8 bits, or of kinds that are read"
    if isinstance(problem, Image.DecompressionBombError):
        return "it has more pixels than can be used"
    return str(problem) or type(problem).__name__


def _refuse_size(size: tuple[int, int], path: Path, setting: str) -> None:
    width, height = size
    is_large = max(size) > _MOST_SIDE or width * height > _MOST_PIXELS
    if is_large or min(size) < _LEAST_SIDE:
        raise InputError(
            f"{path} has {width} x {height} px; months are stamped into pictures from "
            f"{_LEAST_SIDE} px a side to {_MOST_SIDE} px a side and "
            f"{_MOST_PIXELS // 1_000_000} million px",
            setting=setting,
        )


def _painting_of(picture: Image.Image, path: Path, setting: str) -> Painting:
    notes = list[str]()
    if picture.mode in _NOT_RGB:
        raise InputError(
            f"{path} is in {_NOT_RGB[picture.mode]}, and red, green and blue or greys are "
            "required; save a copy of it in RGB",
            setting=setting,
        )
    if _bits(picture, path) > 8:
        notes.append(f"{path.name} has 16 bits a value, and the result has 8")
    ppi = _ppi(picture)
    profile = picture.info.get("icc_profile") or b""
    upright = ImageOps.exif_transpose(picture)
    if upright.mode.startswith("I"):
        whole = np.asarray(upright).astype(np.uint32)
        upright = Image.fromarray(np.rint(whole * (255.0 / 65535.0)).astype(np.uint8))
    profile, said = _usable_profile(profile, path)
    notes += said
    if not upright.has_transparency_data:
        return Painting(
            values=np.asarray(upright.convert("RGB")), profile=profile, ppi=ppi, notes=tuple(notes)
        )
    values = np.asarray(upright.convert("RGBA"))
    return Painting(
        values=values[:, :, :3],
        opacity=values[:, :, 3],
        profile=profile,
        ppi=ppi,
        notes=tuple(notes),
    )


def _ppi(picture: Image.Image) -> float:
    try:
        ppi = float(picture.info.get("dpi", (0.0, 0.0))[0])
    except (TypeError, ValueError, ZeroDivisionError, IndexError):
        return _USUAL_PPI
    return ppi if _LEAST_PPI <= ppi <= _MOST_PPI else _USUAL_PPI


def _bits(picture: Image.Image, path: Path) -> int:
    """How many bits a value of the file has, as far as it says so."""
    if picture.format == "PNG":
        with path.open("rb") as file:
            return (file.read(_PNG_BITS_AT + 1) or b"\0")[-1]
    if picture.format == "TIFF":
        said = getattr(picture, "tag_v2", {}).get(_TIFF_BITS, (8,))
        return int(max(said)) if isinstance(said, Sequence) else int(said)
    return 8


def _usable_profile(profile: bytes, path: Path) -> tuple[bytes, list[str]]:
    """The profile, or b"" and a note if it can't be used."""
    if not profile:
        return b"", []
    try:
        refuse_unusable_profile(profile)
    except ProfileError as problem:
        note = (
            f"the colour profile of {path.name} can't be used, since {problem}: its colours are "
            "taken for sRGB, and the result names no profile"
        )
        return b"", [note]
    return profile, []


def painting_png_bytes(values: NDArray[np.uint8], *, ppi: float, profile: bytes) -> bytes:
    """The PNG file of `values`, uint8 `(height, width, 3 or 4)`, with a profile unless b""."""
    data = io.BytesIO()
    Image.fromarray(values).save(
        data, "PNG", dpi=(ppi, ppi), icc_profile=profile or None, compress_level=_LEVEL
    )
    return data.getvalue()


class Inking:
    """A part of a painting while inks are put on it.

    Attributes:
        light: linear light of the part, float32 `(height, width, 3)`, not multiplied with opacity.
        cover: opacity 0 to 1, float32 `(height, width)`.
    """

    def __init__(self, painting: Painting, box: tuple[int, int, int, int]) -> None:
        """Take the part of `painting` within x0, y0, x1, y1."""
        x0, y0, x1, y1 = box
        self._painting, self._part = painting, (slice(y0, y1), slice(x0, x1))
        self.light = painting.light_of_values(painting.values[self._part])
        opacity = painting.opacity
        self.cover: Singles = np.ones(self.light.shape[:2], np.float32)
        if opacity is not None:
            self.cover = opacity[self._part].astype(np.float32) / np.float32(255.0)
        self._wet = np.zeros(self.light.shape[:2], np.bool_)

    def ink(self, grey: Grey, light: Singles) -> None:
        """Put on an ink as opaque as `grey`, of one `light` `(3,)`, or of one a pixel."""
        wet = grey > 0
        own = grey[wet] / np.float32(255.0)
        below = self.cover[wet] * (np.float32(1.0) - own)
        whole = own + below
        ink = light if light.ndim == 1 else light[wet]
        mixed = self.light[wet] * below[:, None] + ink * own[:, None]
        self.light[wet], self.cover[wet] = mixed / whole[:, None], whole
        self._wet |= wet

    def inked_values(self) -> NDArray[np.uint8]:
        """The whole painting with what was put on; other pixels as they were, to the bit."""
        painting = self._painting
        opacity = painting.opacity
        planes = [painting.values] if opacity is None else [painting.values, opacity[:, :, None]]
        values = np.concatenate(planes, axis=2)
        part, wet = values[self._part], self._wet
        part[wet, :3] = painting.values_of_light(self.light[wet])
        if opacity is not None:
            part[wet, 3] = np.rint(self.cover[wet] * 255.0)
        return values
