"""Colour profiles of pictures: sRGB and Display P3, as ICC files (ICC.1:2010, version 4.3).

Both have the primaries and white of their standards and the curve of sRGB; a profile states them
under D50, to which Bradford's transform takes them.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence
from enum import StrEnum
from functools import cache

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.arrays import Floats, Singles


class Profile(StrEnum):
    """What a picture says of its colours."""

    NONE = "none"
    SRGB = "srgb"
    DISPLAY_P3 = "display-p3"


PROFILE_NAMES = {Profile.SRGB: "sRGB", Profile.DISPLAY_P3: "Display P3"}
_PRIMARIES = {
    Profile.SRGB: ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06)),
    Profile.DISPLAY_P3: ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060)),
}
"""Red, green and blue as x and y of CIE 1931: IEC 61966-2-1, and SMPTE EG 432-1."""
_D65 = (0.3127, 0.3290)
_D50 = (0.9642, 1.0, 0.8249)
"""XYZ of the white that profiles are stated under (ICC.1:2010, 7.2.16)."""
_BRADFORD = np.array(
    [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]]
)
"""ICC.1:2010, annex E."""
_CURVE = (2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)
"""g, a, b, c and d of sRGB's curve: (a x + b)^g from d on, c x below (IEC 61966-2-1)."""
_HEAD_BYTES = 128
_FIXED = 65536.0


@cache
def profile_bytes(profile: Profile) -> bytes:
    """The ICC file of `profile`; the same bytes each time.

    Raises:
        KeyError: it is `Profile.NONE`.
    """
    colours = _colorants(profile)
    parts = {
        b"desc": _text(PROFILE_NAMES[profile]),
        b"cprt": _text("No copyright, use freely"),
        b"wtpt": _xyz(_D50),
        b"chad": b"sf32\0\0\0\0" + b"".join(_fixed(value) for value in _to_d50().ravel()),
        b"rXYZ": _xyz(colours[:, 0]),
        b"gXYZ": _xyz(colours[:, 1]),
        b"bXYZ": _xyz(colours[:, 2]),
        b"rTRC": _curve(),
    }
    return _file(parts, same={b"gTRC": b"rTRC", b"bTRC": b"rTRC"})


def colour_in(profile: Profile, colour: str) -> tuple[float, float, float]:
    """The colour `#rrggbb` of sRGB as values 0 to 1 of `profile`, where it looks the same."""
    values = np.array([int(colour[at : at + 2], 16) for at in (1, 3, 5)]) / 255.0
    if profile is not Profile.DISPLAY_P3:
        red, green, blue = values.tolist()
        return red, green, blue
    red, green, blue = values.tolist()
    light = light_of((red, green, blue))
    inner = np.linalg.solve(_under_d65(Profile.DISPLAY_P3), _under_d65(Profile.SRGB) @ light)
    bent = values_of_light(inner.astype(np.float32))
    red, green, blue = bent.tolist()
    return red, green, blue


def light_of(values: tuple[float, ...]) -> Singles:
    """Linear light 0 to 1 of values 0 to 1; sRGB and Display P3 have one curve."""
    power, a, b, c, knee = _CURVE
    found = np.array(values)
    return np.where(found <= knee, found * c, (found * a + b) ** power).astype(np.float32)


def light_of_bytes(values: NDArray[np.uint8]) -> Singles:
    """Linear light 0 to 1 of values 0 to 255, of any shape."""
    return _light_of_bytes()[values]


@cache
def _light_of_bytes() -> Singles:
    return light_of(tuple(value / 255.0 for value in range(256)))


def values_of_light(light: Singles) -> Singles:
    """Values 0 to 1 of linear light, which `light_of` gives back."""
    inner = np.clip(light, 0.0, 1.0)
    bent = 1.055 * np.maximum(inner, 1e-9) ** (1 / 2.4) - 0.055
    return np.where(inner <= 0.0031308, inner * 12.92, bent).astype(np.float32)


def _under_d65(profile: Profile) -> Floats:
    """XYZ of red, green and blue, a column each, whose sum is D65."""
    raw = np.array([_xyz_of(x, y) for x, y in _PRIMARIES[profile]]).T
    return np.asarray(raw * np.linalg.solve(raw, _xyz_of(*_D65)))


def _colorants(profile: Profile) -> Floats:
    return np.asarray(_to_d50() @ _under_d65(profile))


def _to_d50() -> Floats:
    """Bradford's transform from D65."""
    cones = (_BRADFORD @ np.array(_D50)) / (_BRADFORD @ np.array(_xyz_of(*_D65)))
    return np.asarray(np.linalg.inv(_BRADFORD) @ np.diag(cones) @ _BRADFORD)


def _xyz_of(x: float, y: float) -> tuple[float, float, float]:
    return x / y, 1.0, (1.0 - x - y) / y


def _fixed(value: float) -> bytes:
    return struct.pack(">i", round(float(value) * _FIXED))


def _xyz(values: Sequence[float] | Floats) -> bytes:
    return b"XYZ \0\0\0\0" + b"".join(_fixed(value) for value in values)


def _curve() -> bytes:
    return b"para\0\0\0\0\0\x03\0\0" + b"".join(_fixed(value) for value in _CURVE)


def _text(text: str) -> bytes:
    data = text.encode("utf-16-be")
    return b"mluc\0\0\0\0" + struct.pack(">II2s2sII", 1, 12, b"en", b"US", len(data), 28) + data


def _file(parts: dict[bytes, bytes], *, same: dict[bytes, bytes]) -> bytes:
    """Head, list of parts and the parts, each from a whole number of four bytes on."""
    at = _HEAD_BYTES + 4 + 12 * (len(parts) + len(same))
    places: dict[bytes, tuple[int, int]] = {}
    body = b""
    for name, data in parts.items():
        places[name] = (at + len(body), len(data))
        body += data + bytes(-len(data) % 4)
    places |= {name: places[other] for name, other in same.items()}
    listed = b"".join(struct.pack(">4sII", name, *place) for name, place in places.items())
    size = at + len(body)
    head = struct.pack(">I4sI4s4s4s", size, b"\0" * 4, 0x04300000, b"mntr", b"RGB ", b"XYZ ")
    head += struct.pack(">6H4s", 2026, 1, 1, 0, 0, 0, b"acsp").ljust(44, b"\0")
    head += b"".join(_fixed(value) for value in _D50)
    return head.ljust(_HEAD_BYTES, b"\0") + struct.pack(">I", len(places)) + listed + body
