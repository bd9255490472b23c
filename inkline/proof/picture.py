"""Measures of a whole picture: quarter size, where its ink lies, how solid it is, stray specks."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import scipy
from numpy.typing import NDArray

from inkline.geometry.arrays import Bools, Grey

FULL = 255
"""The grey value of full ink."""

HALF = 128
"""The lowest grey value that counts as more ink than none."""
_BAND_ROWS = 256
"""Rows that are compared at once: the differences of a whole large picture would fill memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Speck:
    """A small piece of ink apart from all others.

    Attributes:
        x: the middle of its ink in px.
        y: likewise.
        area_px2: its ink in px2.
    """

    x: float
    y: float
    area_px2: float


def quarter_picture(grey: Grey) -> Grey:
    """The picture at a quarter of its size: means of 4 x 4 pixels, rounded.

    It is uint8 `(ceil(height / 4), ceil(width / 4))`. Sides that four does not divide are continued
    without ink.
    """
    height, width = grey.shape
    padded = np.pad(grey, ((0, -height % 4), (0, -width % 4)))
    rows = padded.reshape(padded.shape[0] // 4, 4, padded.shape[1]).sum(axis=1, dtype=np.uint16)
    blocks = rows.reshape(rows.shape[0], -1, 4).sum(axis=2, dtype=np.uint16)
    means: Grey = ((blocks + 8) // 16).astype(np.uint8)
    return means


def ink_bounds(grey: Grey, *, at_least: int = HALF) -> tuple[int, int, int, int] | None:
    """The smallest box `(x0, y0, x1, y1)` about all pixels of `at_least` or more, or None."""
    reached = grey >= at_least
    columns, rows = np.flatnonzero(reached.any(axis=0)), np.flatnonzero(reached.any(axis=1))
    if not len(columns):
        return None
    return int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1


def solid_share(grey: Grey, *, inside: NDArray[np.bool_]) -> float:
    """Share of full ink among the pixels for which `inside` is true; NaN if there are none."""
    return float((grey[inside] == FULL).mean()) if inside.any() else float("nan")


def differing(one: Grey, other: Grey, *, least: int) -> Bools:
    """Where two pictures of one size differ by `least` values or more.

    Cost: memory of one such picture, whatever their size.
    """
    found = np.empty(one.shape, dtype=bool)
    for first in range(0, len(one), _BAND_ROWS):
        rows = slice(first, first + _BAND_ROWS)
        found[rows] = np.abs(one[rows].astype(np.int16) - other[rows]) >= least
    return found


def specks(grey: Grey, *, largest_px2: float) -> tuple[_Speck, ...]:
    """All pieces of ink of less than `largest_px2` px2, apart from others even at their corners.

    Takes about 15 ns a pixel.
    """
    pieces, n_pieces = scipy.ndimage.label(grey > 0, structure=np.ones((3, 3)))
    labels = pieces[pieces > 0]
    ink = grey[pieces > 0] / FULL
    areas = np.bincount(labels, ink, minlength=n_pieces + 1)
    small = np.flatnonzero(areas[1:] < largest_px2) + 1
    if not len(small):
        return ()
    middles = scipy.ndimage.center_of_mass(grey, pieces, small)
    return tuple(
        _Speck(x=float(x) + 0.5, y=float(y) + 0.5, area_px2=float(areas[which]))
        for which, (y, x) in zip(small, middles, strict=True)
    )
