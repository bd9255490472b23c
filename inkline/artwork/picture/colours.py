"""The inks of a picture, parted by the colours that its owner names."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from inkline.artwork.model import Paint
from inkline.artwork.picture.pixels import Pixels
from inkline.geometry.arrays import Grey

_STRIP = 256
"""Rows that are looked at at a time, so that what is at work stays small."""
_FAINT = 0.06
"""Less ink than that share in a pixel is the ground's own unevenness."""


def coverage_of_colours(pixels: Pixels, paints: Sequence[Paint]) -> list[Grey]:
    """How much of each ink every pixel holds, uint8 `(height, width)`.

    A pixel is taken for a mixture of the ground with one ink: the one with which it is explained
    best. The ground is the middle colour of the picture's rim; where it is clear, its own opacity
    says how much ink there is.

    Args:
        pixels: of the picture.
        paints: the inks.
    """
    colours, alpha = pixels.colours, pixels.alpha
    rim = np.concatenate((colours[0], colours[-1], colours[:, 0], colours[:, -1]))
    ground = np.median(rim, axis=0).astype(np.float32)
    found: list[Grey] = [np.zeros(colours.shape[:2], np.uint8) for _ in paints]
    inks = np.array([(one.red, one.green, one.blue) for one in paints], np.float32) * 255.0
    for top in range(0, len(colours), _STRIP):
        rows = slice(top, top + _STRIP)
        strip = colours[rows].astype(np.float32)
        if alpha is not None:
            amounts, errors = _alike(strip, inks, alpha[rows])
        else:
            amounts, errors = _mixed(strip, inks, ground)
        best = np.argmin(errors, axis=0)
        for index, coverage in enumerate(found):
            own = np.where(best == index, amounts[index], 0.0)
            coverage[rows] = np.rint(255.0 * np.where(own > _FAINT, own, 0.0)).astype(np.uint8)
    return found


def _mixed(
    strip: NDArray[np.float32], inks: NDArray[np.float32], ground: NDArray[np.float32]
) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """For each ink, how much of it lies on the ground, and how far that is from the picture."""
    away = strip - ground
    amounts, errors = [], []
    for ink in inks:
        along = ink - ground
        amount = np.clip(away @ along / max(float(along @ along), 1e-6), 0.0, 1.0)
        amounts.append(amount)
        errors.append(np.square(away - amount[..., None] * along).sum(axis=-1))
    return np.array(amounts), np.array(errors)


def _alike(
    strip: NDArray[np.float32], inks: NDArray[np.float32], alpha: NDArray[np.uint8]
) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """For each ink the picture's own opacity, and how far its colour is from the ink's."""
    amount = alpha.astype(np.float32) / np.float32(255.0)
    errors = [np.square(strip - ink).sum(axis=-1) for ink in inks]
    return np.array([amount] * len(inks)), np.array(errors)
