"""How much ink stays where what a tool gives, `q`, meets the height `h` of the paper.

Both are compared as normal deviates, z being the inverse of the normal distribution:

    ink = clip((z(q) - h) / softness + 1/2, 0, 1),

so that nothing stays where q is 0 and all where it is 1, and so that the rims of bare places are as
hard where few are bare as where half is: heights differ over a mm by as much, however high they
are. A style's softness is a share; a deviate changes sqrt(2 pi) times as fast in the middle.

Masters of format 2 compare shares, h being the quantile of the height:

    ink = clip((q' - h) / softness + 1/2, 0, 1),    q' = q (1 + softness) - softness / 2.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.arrays import Bools, Floats, Grey, Indices, Singles
from inkline.ink.media.grain import DEVIATE_STEP, MOST_DEVIATION
from inkline.ink.media.medium import MULTIPLYING, Medium

# Deviates of shares are looked up at so many steps from 0 to 1, and go so far.
_SHARE_STEPS, _FARTHEST = 2048, 4.5
# The deviate of all and, below 0, of nothing.
_NEVER = 100.0
# In the middle a deviate changes by this for a share of 1: sqrt(2 pi).
_DEVIATES_A_SHARE = 2.5066
# Heights differ by at most this within a pixel, as shares and as deviates.
_MOST_BLUR, _MOST_DEVIATE_BLUR = 0.6, 1.6
# Standard deviation of a share of which every value is as likely.
_EVEN_DEVIATION = 0.2887
# A level is near enough where so much less or more stays than is asked; it is sought so many times.
_LEVEL_TOLERANCE, _MOST_STEPS = 2e-3, 24


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Given:
    """What a tool gives at some places at the level 0, and what it meets there.

    Attributes:
        where: which of the places that were asked about, or `None` for all of them.
        amounts: what it gives.
        heights: height of the paper, or poverty of the bristle, as the medium reads them; whole
            numbers are levels of a tile of deviates.
        blur: by how much heights differ within a pixel.
        slopes: by how much the amounts differ within a pixel, or `None` if by little; where the
            medium compares deviates, the square of that over the amounts.
        within: which of the places at `where` the tool reaches, or `None` for all of them.
    """

    where: Indices | tuple[slice, slice] | None
    amounts: Singles
    heights: Singles | Grey
    blur: float
    slopes: Singles | None = None
    within: Bools | None = None


def ink_given(medium: Medium, given: list[Given], shape: tuple[int, ...], level: float) -> Singles:
    """Share of ink that stays at each place at `level`; the wettest piece of the tool wins."""
    if len(given) == 1 and given[0].where is None:
        return _ink_of_one(medium, given[0], level)
    ink = np.zeros(shape, dtype=np.float32)
    for one in given:
        mine = _ink_of_one(medium, one, level)
        if one.within is not None:
            mine *= one.within
        if one.where is None:
            np.maximum(ink, mine, out=ink)
        else:
            ink[one.where] = np.maximum(ink[one.where], mine)
    return ink


def _ink_of_one(medium: Medium, given: Given, level: float) -> Singles:
    if not medium.by_deviates:
        return _ink_by_shares(medium, given, level)
    if medium.kind == "wash":
        return _wash(medium, given, level, _EVEN_DEVIATION, 0.0)
    amounts = (
        given.amounts * np.float32(np.exp(level) * _SHARE_STEPS)
        if medium.kind in MULTIPLYING
        else (given.amounts + np.float32(level)) * np.float32(_SHARE_STEPS)
    )
    np.clip(amounts, 0.0, float(_SHARE_STEPS), out=amounts)
    steps = amounts.astype(np.int32)
    blur = min(given.blur, _MOST_DEVIATE_BLUR)
    softness = float(np.hypot(medium.softness * _DEVIATES_A_SHARE, blur))
    # What heights differ by within a pixel, an even distribution so wide, they differ less by from
    # pixel to pixel: so as much ink stays, however large pixels are.
    share = float(np.sqrt(1.0 - blur**2 / 12.0))
    ink = _deviates_above(given.heights, steps, share)
    if given.slopes is None:
        ink *= np.float32(1.0 / softness)
    else:
        blurs = _slopes_of_deviates().take(steps)
        blurs *= amounts
        blurs *= blurs
        blurs *= given.slopes
        np.clip(blurs, 0.0, _MOST_DEVIATE_BLUR**2, out=blurs)
        blurs += np.float32(softness**2)
        np.sqrt(blurs, out=blurs)
        ink /= blurs
    ink += np.float32(0.5)
    np.clip(ink, 0.0, 1.0, out=ink)
    return _with_dust(ink, amounts, medium.smear) if medium.smear > 0.0 else np.asarray(ink)


def _deviates_above(heights: Singles | Grey, steps: NDArray[np.int32], share: float) -> Singles:
    """By how much the deviates of shares, in steps, exceed `share` of the heights."""
    if heights.dtype != np.uint8:
        ink = _deviates_of_shares(0.0).take(steps)
        ink -= heights * np.float32(share)
        return np.asarray(ink)
    ink = _deviates_of_shares(share * MOST_DEVIATION).take(steps)
    ink -= heights * np.float32(share * DEVIATE_STEP)
    return np.asarray(ink)


def _with_dust(ink: Singles, amounts: Singles, smear: float) -> Singles:
    """`ink`, and the dust that is rubbed in where it is bare."""
    dust = amounts * np.float32(smear / _SHARE_STEPS)
    dust *= np.float32(1.0) - ink
    dust += ink
    return np.asarray(dust)


@lru_cache(maxsize=8)
def _deviates_of_shares(more: float) -> Singles:
    """The deviates of even shares from 0 to 1, and `more`."""
    from scipy.special import ndtri  # noqa: PLC0415 - slow; wanted only for dry marks

    shares = (np.arange(_SHARE_STEPS + 1) + 0.5) / (_SHARE_STEPS + 1)
    deviates = np.clip(ndtri(shares), -_FARTHEST, _FARTHEST)
    deviates[[0, -1]] = (-_NEVER, _NEVER)
    return np.asarray((deviates + more).astype(np.float32))


@lru_cache(maxsize=1)
def _slopes_of_deviates() -> Singles:
    """How fast deviates change with the share, in steps of it."""
    deviates = np.clip(_deviates_of_shares(0.0).astype(np.float64), -_FARTHEST, _FARTHEST)
    slopes = np.sqrt(2.0 * np.pi) * np.exp(0.5 * deviates**2)
    return np.asarray((slopes / _SHARE_STEPS).astype(np.float32))


def _wash(medium: Medium, given: Given, level: float, scale: float, middle: float) -> Singles:
    """A wash is grey itself; heights, `scale` of them about `middle`, only granulate it."""
    shown = -medium.granulation * scale
    if given.heights.dtype == np.uint8:
        tone = given.heights * np.float32(shown * DEVIATE_STEP)
        level -= shown * MOST_DEVIATION
    else:
        tone = given.heights * np.float32(shown)
    tone += given.amounts
    tone += np.float32(level + middle * medium.granulation)
    return np.asarray(np.clip(tone, 0.0, 1.0, out=tone))


def _ink_by_shares(medium: Medium, given: Given, level: float) -> Singles:
    """The law of masters of format 2."""
    if medium.kind == "wash":
        return _wash(medium, given, level, 1.0, 0.5)
    # A pixel is not a point: what heights and amounts differ by within it softens the step.
    softness = np.float32(np.hypot(medium.softness, min(given.blur, _MOST_BLUR)))
    load = np.float32(np.exp(level))
    if medium.kind in MULTIPLYING:
        ink = given.amounts * np.float32((1.0 + medium.softness) * load)
    else:
        ink = (given.amounts + np.float32(level)) * np.float32(1.0 + medium.softness)
    ink -= given.heights
    ink -= np.float32(0.5 * medium.softness)
    if given.slopes is None:
        ink *= np.float32(1.0 / softness)
    else:
        ink /= np.hypot(np.minimum(given.slopes * load, np.float32(_MOST_BLUR)), softness)
    ink += np.float32(0.5)
    return np.asarray(np.clip(ink, 0.0, 1.0, out=ink))


def thinned(given: list[Given], step: int) -> list[Given]:
    """What is given at every `step`th of scattered places."""
    return given if step == 1 else [_thinned(one, step) for one in given]


def _thinned(given: Given, step: int) -> Given:
    if isinstance(given.where, tuple) or given.within is not None:
        raise TypeError("only what is given at scattered places can be thinned")
    part: slice | Indices = slice(None, None, step)
    where = None
    if given.where is not None:
        part = np.flatnonzero(given.where % step == 0)
        where = given.where[part] // step
    return dataclasses.replace(
        given,
        where=where,
        amounts=given.amounts[part],
        heights=given.heights[part],
        slopes=None if given.slopes is None else given.slopes[part],
    )


def falling_root(value_at: Callable[[float], float], *, between: tuple[float, float]) -> float:
    """Where a falling function is 0, to `_LEVEL_TOLERANCE` in its value.

    By false position, halving the value of an end that stays (M. Dowell and P. Jarratt, 1971).
    """
    ends = list(between)
    values = [value_at(end) for end in ends]
    if values[0] <= 0.0 or values[1] >= 0.0:
        return ends[int(np.argmin(np.abs(values)))]
    stayed = -1
    for _ in range(_MOST_STEPS):
        level = (ends[0] * values[1] - ends[1] * values[0]) / (values[1] - values[0])
        value = value_at(level)
        if abs(value) < _LEVEL_TOLERANCE:
            break
        moved = 0 if value > 0.0 else 1
        if stayed == 1 - moved:
            values[stayed] *= 0.5
        ends[moved], values[moved], stayed = level, value, 1 - moved
    return level


def level_that_leaves(
    dryness: float,
    ink_at: Callable[[float], Floats | Singles],
    *,
    between: tuple[float, float],
    n_halvings: int,
) -> float:
    """The level at which `dryness` of the ink is missing, by bisection.

    Args:
        dryness: the share of ink that is to be missing on the mean.
        ink_at: gives the ink that stays at a level, more at a higher one.
        between: the lowest and the highest level.
        n_halvings: how many times the way between them is halved.
    """
    low, high = between
    for _ in range(n_halvings):
        middle = 0.5 * (low + high)
        if 1.0 - float(ink_at(middle).mean(dtype=np.float64)) > dryness:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)
