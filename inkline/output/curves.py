"""Colour profiles that pictures bring: their curves, and colours of sRGB in them (ICC.1:2010).

Values are turned into linear light by the curves of the profile's own red, green and blue, so that
what is mixed in a painting is mixed as its light. A profile that has tables instead is given the
curve of sRGB, which most such profiles come close to.
"""

from __future__ import annotations

import io
import struct

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageCms

from inkline.geometry.arrays import Singles
from inkline.output.profiles import light_of

_HEAD_BYTES, _ROW_BYTES = 128, 12
_MOST_TAGS = 100
_CHANNELS = (b"rTRC", b"gTRC", b"bTRC")
_N_PARAMETERS = (1, 3, 4, 5, 7)
"""Parameters of each kind of curve (ICC.1:2010, 10.16)."""
_STEPS = np.arange(256) / 255.0


class ProfileError(ValueError):
    """A profile that can't be used; its text says why."""


def refuse_unusable_profile(profile: bytes) -> None:
    """Refuse a profile that colours of red, green and blue can't be turned into.

    Raises:
        ProfileError: it is damaged, or one of other colours.
    """
    try:
        opened = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        space = opened.profile.xcolor_space.strip()
        if space == "RGB":
            values_in_profile(((0, 0, 0),), profile)
    except (OSError, ValueError, TypeError, ImageCms.PyCMSError) as problem:
        raise ProfileError("it is damaged") from problem
    if space != "RGB":
        raise ProfileError(f"it is of {space} colours")


def values_in_profile(
    colours: tuple[tuple[int, int, int], ...], profile: bytes
) -> NDArray[np.uint8]:
    """Colours of sRGB as values of `profile`, uint8 `(n, 3)`; sRGB itself if that is empty."""
    return _converted(colours, profile, back=False)


def srgb_from_profile(
    colours: tuple[tuple[int, int, int], ...], profile: bytes
) -> NDArray[np.uint8]:
    """Values of `profile` as colours of sRGB, uint8 `(n, 3)`."""
    return _converted(colours, profile, back=True)


def _converted(
    colours: tuple[tuple[int, int, int], ...], profile: bytes, *, back: bool
) -> NDArray[np.uint8]:
    values = np.array(colours, np.uint8).reshape(1, -1, 3)
    if not profile or not values.size:
        return values.reshape(-1, 3)
    ends = (ImageCms.createProfile("sRGB"), ImageCms.ImageCmsProfile(io.BytesIO(profile)))
    source, target = reversed(ends) if back else ends
    transform = ImageCms.buildTransform(
        source, target, "RGB", "RGB", ImageCms.Intent.RELATIVE_COLORIMETRIC
    )
    shown = ImageCms.applyTransform(Image.fromarray(values), transform)
    assert shown is not None  # noqa: S101 - only a picture changed in place gives none
    return np.asarray(shown).reshape(-1, 3)


def curves_of_profile(profile: bytes) -> Singles:
    """Linear light 0 to 1 of the values 0 to 255 of red, green and blue, float32 `(256, 3)`.

    Those of sRGB where there is no profile, or where it states no curves that rise.
    """
    usual = np.array([light_of((value, value, value)) for value in _STEPS.tolist()], np.float32)
    try:
        tags = _tags(profile)
        found = np.stack([_curve(tags[name]) for name in _CHANNELS], axis=1)
    except (KeyError, IndexError, ValueError, struct.error):
        return usual
    rises = np.isfinite(found).all() and (np.diff(found, axis=0) >= 0.0).all()
    is_whole = rises and (found[-1] - found[0] > 0.5).all()
    return np.clip(found, 0.0, 1.0).astype(np.float32) if is_whole else usual


def _tags(profile: bytes) -> dict[bytes, bytes]:
    """The parts of a profile by their names."""
    (count,) = struct.unpack_from(">I", profile, _HEAD_BYTES)
    rows = range(min(count, _MOST_TAGS))
    places = (struct.unpack_from(">4sII", profile, _HEAD_BYTES + 4 + _ROW_BYTES * r) for r in rows)
    return {name: profile[start : start + size] for name, start, size in places}


def _curve(tag: bytes) -> NDArray[np.float64]:
    """Light of the 256 values by one curve: a power, a table, or a formula with parameters."""
    kind = tag[:4]
    if kind == b"curv":
        (count,) = struct.unpack_from(">I", tag, 8)
        if count == 0:
            return _STEPS
        table = np.frombuffer(tag, ">u2", count=count, offset=12)
        if count == 1:
            return np.asarray(_STEPS ** (float(table[0]) / 256.0))
        return np.interp(_STEPS, np.linspace(0.0, 1.0, count), table / 65535.0)
    if kind != b"para":
        raise ValueError(kind)
    (form,) = struct.unpack_from(">H", tag, 8)
    n = _N_PARAMETERS[form]
    return _formula(form, [value / 65536.0 for value in struct.unpack_from(f">{n}i", tag, 12)])


def _formula(form: int, parameters: list[float]) -> NDArray[np.float64]:
    """Light by the formula `form` of ICC.1:2010, table 65."""
    x, g = _STEPS, parameters[0]
    if form == 0:
        return np.asarray(x**g)
    a, b = parameters[1], parameters[2]
    power = np.maximum(a * x + b, 0.0) ** g
    if form in {1, 2}:
        c = parameters[3] if form == 2 else 0.0
        return np.where(x >= -b / a, power + c, c)
    c, knee = parameters[3], parameters[4]
    e, f = parameters[5:] if form == 4 else (0.0, 0.0)
    return np.where(x >= knee, power + e, c * x + f)
