"""How a drawn numeral stands and how far two drawings of it lie apart, read off pictures.

Positions are px about the numeral's own origin (its baseline point), y down, so that numerals from different cells may be compared.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.spatial import cKDTree

from inkline.proof.slices import Floats, Grey

Outline = Floats
"""Places at which a picture's ink crosses one half, `(n, 2)`: about one for each pixel along every contour."""

_HALF_INK = 0.5
_FULL = 255.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stance:
    """How a numeral stands, read off its picture.

    Attributes:
        lean_rad: lean of its ink: arc tangent of the regression of x on y; positive leans to the right. A property of the shape
            too, so only differences between drawings of one numeral tell of the hand.
        top_px: y of the highest ink, at one half.
        bottom_px: y of the lowest.
    """

    lean_rad: float
    top_px: float
    bottom_px: float

    @property
    def height_px(self) -> float:
        """From the lowest ink to the highest."""
        return self.bottom_px - self.top_px


@dataclass(frozen=True, slots=True, kw_only=True)
class StanceChange:
    """How a drawing of a numeral stands against another, usually the exact one.

    Attributes:
        slant_deg: how much more it leans to the right, in degrees.
        height_share: how much higher it is, as a share of the other's height.
        baseline_share: how much lower its foot stands, as a share of the other's height.
    """

    slant_deg: float
    height_share: float
    baseline_share: float


def stance(grey: Grey, *, origin: tuple[float, float]) -> Stance:
    """How the only numeral in the picture `grey`, uint8 `(height, width)`, stands about `origin`.

    Raises:
        ValueError: no pixel holds half its ink.
    """
    outline = half_ink_outline(grey, origin=origin)
    if not len(outline):
        raise ValueError("a stance needs ink, and no pixel of the picture is half full")
    rows, columns = np.nonzero(grey)
    ink = grey[rows, columns] / _FULL
    x, y = columns - np.average(columns, weights=ink), rows - np.average(rows, weights=ink)
    down = float(ink @ (y * y))
    lean = math.atan2(-float(ink @ (x * y)), down)
    return Stance(lean_rad=lean, top_px=float(outline[:, 1].min()), bottom_px=float(outline[:, 1].max()))


def stance_change(drawn: Stance, exact: Stance) -> StanceChange:
    """How `drawn` stands against `exact`, both about their own origins."""
    return StanceChange(
        slant_deg=math.degrees(drawn.lean_rad - exact.lean_rad),
        height_share=drawn.height_px / exact.height_px - 1.0,
        baseline_share=(drawn.bottom_px - exact.bottom_px) / exact.height_px,
    )


def half_ink_outline(grey: Grey, *, origin: tuple[float, float] = (0.0, 0.0)) -> Outline:
    """Where ink crosses one half between neighbouring pixel centres, along rows and along columns, about `origin`.

    Places lie within 0.1 px of a straight contour of exact coverage and follow one another at little more than a pixel. Nothing is assumed of
    how contours join up. Beyond the picture there is no ink.
    """
    ink = np.pad(grey / _FULL, 1)
    down = _crossings(ink)
    across = _crossings(ink.T)[:, ::-1]
    # Pixel (0, 0) has its centre at 0.5, and padding moved it by one.
    return np.asarray(np.concatenate((down, across)) - 0.5 - np.array(origin))


def outline_distance(one: Outline, other: Outline, *, percentile: float = 95.0) -> float:
    """The symmetric distance of two outlines in px: the percentile, over the places of both, of the distance to the other one.

    The other outline is taken as its places, a pixel apart or less, so a distance of 0 may read up to half a pixel and one of 3 px is
    read to 0.05 px.

    Raises:
        ValueError: an outline without any place.
    """
    if not (len(one) and len(other)):
        raise ValueError(f"outlines need places, not {len(one)} and {len(other)}")
    there, back = cKDTree(other).query(one, workers=1)[0], cKDTree(one).query(other, workers=1)[0]
    return float(np.percentile(np.concatenate((there, back)), percentile))


def _crossings(ink: Floats) -> Floats:
    """Places (x, y) in indices of `ink` at which it crosses one half down its columns."""
    upper, lower = ink[:-1], ink[1:]
    rows, columns = np.nonzero((upper >= _HALF_INK) != (lower >= _HALF_INK))
    high, low = upper[rows, columns], lower[rows, columns]
    return np.column_stack((columns.astype(np.float64), rows + (_HALF_INK - high) / (low - high)))
