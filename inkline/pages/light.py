"""sRGB and linear light (IEC 61966-2-1): colours are mixed as light, then written as sRGB."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

_STEPS = 65535
"""Steps of linear light that are told apart when a page is written; 16 bits keep all but the
darkest two of 256 values exact."""


def linear_from_srgb(values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Linear light 0 to 1 of sRGB values 0 to 1 (IEC 61966-2-1)."""
    return np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)


def srgb_from_linear(light: NDArray[np.float64]) -> NDArray[np.float64]:
    """SRGB values 0 to 1 of linear light 0 to 1 (IEC 61966-2-1)."""
    return np.where(
        light <= 0.0031308, 12.92 * light, 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055
    )


def light_from_hex(colour: str) -> NDArray[np.float32]:
    """The linear light of a colour such as `"#f6f1e7"`, float32 `(3,)`.

    Raises:
        ValueError: anything but a hash and six hexadecimal digits.
    """
    if len(colour) != 7 or colour[0] != "#":
        raise ValueError(f'a colour must be written like "#f6f1e7", not {colour!r}')
    values = np.frombuffer(bytes.fromhex(colour[1:]), np.uint8) / 255.0
    return linear_from_srgb(values).astype(np.float32)


@cache
def _bytes_of_steps() -> NDArray[np.uint8]:
    return np.round(255.0 * srgb_from_linear(np.arange(_STEPS + 1) / _STEPS)).astype(np.uint8)


def srgb_bytes_from_light(light: NDArray[np.float32]) -> NDArray[np.uint8]:
    """SRGB values 0 to 255 of linear light 0 to 1 of any shape, by a table: at most 1 off."""
    steps = (light * np.float32(_STEPS) + np.float32(0.5)).astype(np.uint16)
    return _bytes_of_steps()[steps]


def mixed_colour(one: str, other: str, *, share: float) -> str:
    """The colour that is `share` light of `one` and else light of `other`, as `#rrggbb`."""
    light = share * light_from_hex(one) + (1.0 - share) * light_from_hex(other)
    return "#" + srgb_bytes_from_light(light.astype(np.float32)).tobytes().hex()
