"""How well a colour stands out on another: the contrast ratio of WCAG 2 (W3C Recommendation)."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from inkline.pages.light import linear_from_srgb

LEAST_OF_LARGE_TEXT = 3.0
"""What large text has at least by success criterion 1.4.3 of WCAG 2, at level AA."""
_SHARES = np.array([0.2126, 0.7152, 0.0722])
_FLARE = 0.05


def relative_luminance(colours: NDArray[np.uint8]) -> NDArray[np.float64]:
    """Relative luminance 0 to 1 of colours of sRGB `(..., 3)`, by its definition in WCAG 2."""
    return np.asarray(linear_from_srgb(colours / 255.0) @ _SHARES)


def contrast_ratio(one: NDArray[np.uint8], other: NDArray[np.uint8]) -> NDArray[np.float64]:
    """The contrast ratio, 1 to 21, of colours of sRGB `(..., 3)`: the same either way round."""
    first, second = relative_luminance(one), relative_luminance(other)
    return np.asarray((np.maximum(first, second) + _FLARE) / (np.minimum(first, second) + _FLARE))
