"""How a drawn numeral stands and how far two drawings of it lie apart, read off pictures.

Places are px about the numeral's own origin (its baseline point), y down, so that numerals from
different cells may be compared.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import scipy

from inkline.geometry.arrays import Floats, Grey

_HALF_INK = 0.5
_FULL = 255.0
# Normals come from the slope of ink blurred by this much: over pixels, below the roughness that
# matters for which way an edge faces.
_NORMAL_BLUR_PX = 1.5
# A numeral's stance is found by so many rounds of matching each place with its nearest; the last
# rounds move it by less than 0.001 px.
_N_ROUNDS = 12
# Places that lie farther off than this many times the median count less and less (a Cauchy weight),
# so that one odd end does not tilt a numeral.
_ODD_MEDIANS = 3.0
# What a fit expects of each freedom, as one standard deviation: sways little where a shape tells
# much, and holds what it tells nothing of, such as the width of a 1, or whether an oval leans or
# rises. A true lean is read 3 % too small for it at 190 px, 8 % at 75. With 0.08 and one weight all
# over, numerals whose pen grows 20 % lighter from start to end, and whose middle lines stay where
# they are, read 0.6 degrees of lean, root mean square; as it is, 0.3.
_EXPECTED_SHARE, _EXPECTED_PX = 0.025, 20.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outline:
    """The places at which a picture's ink crosses one half, in no order.

    There is about one for each pixel along every contour.

    Attributes:
        places: px about the origin, `(n, 2)`.
        normals: unit vectors out of the ink, `(n, 2)`.
    """

    places: Floats
    normals: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class StanceChange:
    """How a drawing of a numeral stands against another, usually the exact one.

    Attributes:
        slant_deg: how much more it leans to the right, in degrees: the lean of the affine change
            that fits its outline best.
        height_share: how much higher it is from its lowest ink to its highest, as a share of the
            other's height.
        baseline_share: how much lower its lowest ink lies, as a share of the other's height.
        weight_px: how much farther out its edge lies on either side, by the same fit.
    """

    slant_deg: float
    height_share: float
    baseline_share: float
    weight_px: float


def half_ink_outline(grey: Grey, *, origin: tuple[float, float] = (0.0, 0.0)) -> Outline:
    """Where ink crosses one half between neighbouring pixel centres, about `origin`.

    Crossings are sought along rows and along columns. Places lie within 0.1 px of a straight
    contour of exact coverage and follow one another at little more than a pixel. Nothing is assumed
    of how contours join up. Beyond the picture, uint8 `(height, width)`, there is no ink.
    """
    ink = np.pad(grey / _FULL, 1)
    at = np.concatenate((_crossings(ink), _crossings(ink.T)[:, ::-1]))
    smooth = scipy.ndimage.gaussian_filter(ink, _NORMAL_BLUR_PX)
    slopes = [
        scipy.ndimage.map_coordinates(slope, at[:, ::-1].T, order=1, mode="nearest")
        for slope in np.gradient(smooth)
    ]
    inwards = np.column_stack(slopes[::-1])
    lengths = np.maximum(np.hypot(inwards[:, 0], inwards[:, 1]), 1e-12)
    # Pixel (0, 0) has its centre at 0.5, and padding moved it by one.
    return Outline(places=at - 0.5 - np.array(origin), normals=-inwards / lengths[:, None])


def stance_change(drawn: Outline, exact: Outline) -> StanceChange:
    """How `drawn` stands against `exact`, both about their own origins.

    For the slant the exact outline is moved by an affine change and a change of weight until it
    fits best, square to itself: each place is matched with the nearest drawn one, and the
    least-squares change of all found, again and again. The weight may differ from foot to top and
    from side to side: moments, or a fit with one weight, would take a heavier bar for a slant.
    Height and baseline are those of the ink itself: where a stem tapers, a fit would shrink it.

    Raises:
        ValueError: an outline without any place.
    """
    _check(drawn, exact)
    top, bottom = exact.places[:, 1].min(), exact.places[:, 1].max()
    fitted = _fit_parameters(drawn, exact, height=float(bottom - top))
    lean, weight = fitted[1], fitted[6]
    return StanceChange(
        slant_deg=-math.degrees(math.atan(lean)),
        height_share=float(np.ptp(drawn.places[:, 1]) / (bottom - top)) - 1.0,
        baseline_share=float((drawn.places[:, 1].max() - bottom) / (bottom - top)),
        weight_px=float(weight),
    )


def _fit_parameters(drawn: Outline, exact: Outline, *, height: float) -> Floats:
    """The parameters of `_move_places` that lay `exact` on `drawn`, by least squares."""
    parameters = np.zeros(9)
    middle = 0.5 * (exact.places.min(axis=0) + exact.places.max(axis=0))
    tree = scipy.spatial.cKDTree(drawn.places)
    for _ in range(_N_ROUNDS):
        moved = _move_places(exact, parameters, middle)
        _, nearest = tree.query(moved, workers=1)
        misses = ((drawn.places[nearest] - moved) * exact.normals).sum(axis=1)
        parameters += _step(exact, misses, parameters, middle=middle, height=height)
    return parameters


def outline_distance(one: Outline, other: Outline, *, percentile: float = 95.0) -> float:
    """The symmetric distance of two outlines in px.

    It is the percentile, over the places of both, of the distance to the other one. The other
    outline is taken as its places, about a pixel apart, so a distance of 0 may read up to half a
    pixel and one of 3 px is read to 0.05 px.

    Raises:
        ValueError: an outline without any place.
    """
    _check(one, other)
    there = scipy.spatial.cKDTree(other.places).query(one.places, workers=1)[0]
    back = scipy.spatial.cKDTree(one.places).query(other.places, workers=1)[0]
    return float(np.percentile(np.concatenate((there, back)), percentile))


def _move_places(outline: Outline, parameters: Floats, middle: Floats) -> Floats:
    """The places changed by the parameters of a fit.

    They are (widen, lean, rise, grow, right, down, weight, weight towards the right, weight towards
    the foot), the last two per px from `middle`.
    """
    widen, lean, rise, grow, right, down, *weights = parameters
    x, y = outline.places.T
    weight = weights[0] + (outline.places - middle) @ np.array(weights[1:])
    changed = np.column_stack((x + widen * x + lean * y + right, y + rise * x + grow * y + down))
    return np.asarray(changed + weight[:, None] * outline.normals)


def _step(
    outline: Outline, misses: Floats, parameters: Floats, *, middle: Floats, height: float
) -> Floats:
    """The least-squares change of the parameters that takes off most of the misses."""
    x, y = outline.places.T
    nx, ny = outline.normals.T
    right, foot = (outline.places - middle).T
    affine = (nx * x, nx * y, ny * x, ny * y, nx, ny)
    columns = np.column_stack((*affine, np.ones_like(nx), right, foot))
    scale = max(_ODD_MEDIANS * float(np.median(np.abs(misses))), 1e-6)
    weights = 1.0 / (1.0 + (misses / scale) ** 2)
    expected = np.array([_EXPECTED_SHARE] * 4 + [_EXPECTED_PX] * 3 + [_EXPECTED_SHARE] * 2)
    # A place is worth one over the square of a hundredth of the height: what a shape tells with ten
    # places outweighs what is expected.
    worth = 1.0 / (0.01 * height) ** 2
    normal = (columns * weights[:, None]).T @ columns * worth + np.diag(expected**-2.0)
    right = columns.T @ (weights * misses) * worth - parameters * expected**-2.0
    return np.asarray(np.linalg.solve(normal, right))


def _check(one: Outline, other: Outline) -> None:
    if not (len(one.places) and len(other.places)):
        raise ValueError(f"outlines need places, not {len(one.places)} and {len(other.places)}")


def _crossings(ink: Floats) -> Floats:
    """Places (x, y) in indices of `ink` at which it crosses one half down its columns."""
    upper, lower = ink[:-1], ink[1:]
    rows, columns = np.nonzero((upper >= _HALF_INK) != (lower >= _HALF_INK))
    high, low = upper[rows, columns], lower[rows, columns]
    return np.column_stack((columns.astype(np.float64), rows + (_HALF_INK - high) / (low - high)))
