"""A picture as the ground of finished months: the middle of it, at the scale at which it fills."""

from __future__ import annotations

import hashlib
import io
from functools import lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageCms

from inkline.output.look import FileLook, GroundPicture
from inkline.output.painting import Painting, read_painting
from inkline.output.profiles import Profile, profile_bytes

_MUCH = 1.25
"""Times by which a picture may be enlarged before its owner is told."""


def ground_picture(path: Path) -> GroundPicture:
    """The picture at `path` as a ground.

    Raises:
        InputError: there is none, or it can't be used.
    """
    painting = read_painting(path, setting="ground")
    shown = hashlib.sha256(painting.profile)
    for part in (painting.values, painting.opacity):
        shown.update(b"" if part is None else np.ascontiguousarray(part).data)
    return GroundPicture(file=str(path), checksum=shown.hexdigest())


def ground_notes(ground: GroundPicture, size: tuple[int, int]) -> tuple[str, ...]:
    """What its owner should know of a picture that fills canvases of `size`, width and height.

    Raises:
        InputError: it can't be read any more.
    """
    painting = read_painting(Path(ground.file), setting="ground")
    scale = max(size[0] / painting.size[0], size[1] / painting.size[1])
    if scale <= _MUCH:
        return painting.notes
    width, height = painting.size
    note = (
        f"{Path(ground.file).name} has {width} x {height} px and is enlarged {scale:.1f} times to "
        f"fill {size[0]} x {size[1]} px; a larger picture is sharper"
    )
    return (*painting.notes, note)


def ground_values(look: FileLook, size: tuple[int, int], profile: Profile) -> NDArray[np.uint8]:
    """The values of the picture under the ink in `profile`, uint8 `(height, width, 3)`, of `size`.

    See-through parts of it are white.

    Raises:
        InputError: it can't be read any more.
        ValueError: the look has none.
    """
    if look.picture is None:
        raise ValueError("the ground is no picture")
    return _values(look.picture, size, profile)


@lru_cache(maxsize=1)
def _values(ground: GroundPicture, size: tuple[int, int], profile: Profile) -> NDArray[np.uint8]:
    painting = read_painting(Path(ground.file), setting="ground")
    values = filling_values(opaque_values(painting, profile), size)
    values.flags.writeable = False
    return values


def opaque_values(painting: Painting, profile: Profile = Profile.NONE) -> NDArray[np.uint8]:
    """A painting on white, in sRGB or another profile, uint8 `(height, width, 3)`."""
    picture = Image.fromarray(np.ascontiguousarray(painting.values))
    target = profile_bytes(profile) if profile is Profile.DISPLAY_P3 else b""
    if painting.profile != target:
        shown = ImageCms.profileToProfile(
            picture, _opened(painting.profile), _opened(target), outputMode="RGB"
        )
        picture = picture if shown is None else shown
    values = np.asarray(picture)
    if painting.opacity is None:
        return values
    cover = painting.opacity[:, :, None] / np.float32(255.0)
    return np.asarray(np.rint(values * cover + 255.0 * (1.0 - cover)), np.uint8)


def _opened(profile: bytes) -> ImageCms.ImageCmsProfile:
    """A profile for a transform, that of sRGB if there is none."""
    return ImageCms.ImageCmsProfile(
        io.BytesIO(profile) if profile else ImageCms.createProfile("sRGB")
    )


def filling_values(values: NDArray[np.uint8], size: tuple[int, int]) -> NDArray[np.uint8]:
    """The middle of a picture at the scale at which it fills `size`, width and height in px."""
    height, width = values.shape[:2]
    scale = max(size[0] / width, size[1] / height)
    part = (size[0] / scale, size[1] / scale)
    left, top = 0.5 * (width - part[0]), 0.5 * (height - part[1])
    picture = Image.fromarray(np.ascontiguousarray(values))
    box = (max(left, 0.0), max(top, 0.0), min(left + part[0], width), min(top + part[1], height))
    how = Image.Resampling.BOX if scale <= 1.0 else Image.Resampling.BICUBIC
    return np.array(picture.resize(size, how, box=box))
