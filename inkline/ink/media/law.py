"""How much ink stays where what a tool gives, `q`, meets the height `h` of the paper.

Both are compared as normal deviates, z being the inverse of the normal distribution:

    ink = clip((z(q) - h) / softness + 1/2, 0, 1),

so that nothing stays where q is 0 and all where it is 1, and so that the rims of bare places are as
hard where few are bare as where half is: heights differ over a mm by as much, however high they
are. A style's softness is a share; a deviate changes sqrt(2 pi) times as fast in the middle.

Where ink builds up gradually, an amount a covers a / (1 + a^p)^(1/p) of the paper, p being one over
the style's `build_up`, so that however hard a tool presses, the paper's grain is never lost.
Without it that is the lesser of a and 1.

Masters of format 2 compare shares, h being the quantile of the height:

    ink = clip((q' - h) / softness + 1/2, 0, 1),    q' = q (1 + softness) - softness / 2.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from inkline.geometry.arrays import Bools, Floats, Grey, Indices, Singles
from inkline.ink.media.amounts import SHARE_STEPS, deviates_of_amounts, slopes_of_deviates
from inkline.ink.media.grain import DEVIATE_STEP, MOST_DEVIATION
from inkline.ink.media.medium import MULTIPLYING, Medium

# Where ink builds up gradually, dust gives way to bare paper over so many deviates, and is rubbed
# so far into what the paper's heights would leave bare.
_DUST_SOFTNESS, _RUBBED = 2.8, 0.7
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
        where: which of the places that were asked about, or `None` for all of them; scattered ones
            ascend, and several pieces of the tool may give to one.
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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Meeting:
    """What a tool gives where it meets the paper, ready to be asked at one level after the other.

    Attributes:
        where: as of `Given`; scattered places are named once.
        firsts: of each scattered place, the first of what is given there; `None` where each is
            given to once.
        within: as of `Given`.
        ink: share of ink that stays of each part of it at a level.
    """

    where: Indices | tuple[slice, slice] | None
    firsts: Indices | None
    within: Bools | None
    ink: Callable[[float], Singles]


def meetings_of(medium: Medium, given: list[Given]) -> list[Meeting]:
    """What is given, each where it meets what it is given to."""
    return [_meeting(medium, one) for one in given]


def _meeting(medium: Medium, given: Given) -> Meeting:
    where, firsts = given.where, None
    if isinstance(where, np.ndarray):
        starts = np.flatnonzero(np.diff(where, prepend=-1))
        if len(starts) < len(where):
            where, firsts = where[starts], starts
    return Meeting(
        where=where, firsts=firsts, within=given.within, ink=_ink_by_level(medium, given)
    )


def ink_met(meetings: list[Meeting], shape: tuple[int, ...], level: float) -> Singles:
    """Share of ink that stays at each place at `level`; the wettest piece of the tool wins."""
    if len(meetings) == 1 and meetings[0].where is None:
        return meetings[0].ink(level)
    ink = np.zeros(shape, dtype=np.float32)
    for one in meetings:
        mine = one.ink(level)
        if one.within is not None:
            mine *= one.within
        if one.firsts is not None:
            mine = np.maximum.reduceat(mine, one.firsts)
        if one.where is None:
            np.maximum(ink, mine, out=ink)
        else:
            ink[one.where] = np.maximum(ink[one.where], mine)
    return ink


def _ink_by_level(medium: Medium, given: Given) -> Callable[[float], Singles]:
    """The share of ink that stays of what is given, at any level."""
    if not medium.by_deviates:
        return lambda level: _ink_by_shares(medium, given, level)
    if medium.kind == "wash":
        return _wash(medium, given, _EVEN_DEVIATION, 0.0)
    return _ink_by_deviates(medium, given)


def _ink_by_deviates(medium: Medium, given: Given) -> Callable[[float], Singles]:
    """The law by deviates; what no level changes is found once."""
    blur = min(given.blur, _MOST_DEVIATE_BLUR)
    softness = float(np.hypot(medium.softness * _DEVIATES_A_SHARE, blur))
    # What heights differ by within a pixel, an even distribution so wide, they differ less by from
    # pixel to pixel: so as much ink stays, however large pixels are.
    share = float(np.sqrt(1.0 - blur**2 / 12.0))
    table, heights = _table_and_heights(given.heights, share, medium.build_up)
    is_multiplying, smear = medium.kind in MULTIPLYING, medium.smear
    sharpness, evenness = np.float32(1.0 / softness), np.float32(softness**2)
    highest = float(len(table) - 1)
    rubbed = None
    if smear > 0.0 and medium.build_up > 0.0:
        rubbed = heights * np.float32(_RUBBED)
        if given.heights.dtype == np.uint8:
            rubbed -= np.float32(_RUBBED * share * MOST_DEVIATION)

    def ink_at(level: float) -> Singles:
        if is_multiplying:
            amounts = given.amounts * np.float32(np.exp(level) * SHARE_STEPS)
        else:
            amounts = given.amounts + np.float32(level)
            amounts *= np.float32(SHARE_STEPS)
        amounts.clip(0.0, highest, out=amounts)
        steps = amounts.astype(np.int32)
        ink: Singles = table.take(steps)
        ink -= heights
        dust = None
        if smear > 0.0:
            dust = (
                amounts * np.float32(1.0 / SHARE_STEPS) if rubbed is None else _dust(ink + rubbed)
            )
        if given.slopes is None:
            ink *= sharpness
        else:
            slopes = slopes_of_deviates(medium.build_up).take(steps)
            ink /= _softness_at_rims(slopes, amounts, given.slopes, evenness)
        ink += np.float32(0.5)
        ink.clip(0.0, 1.0, out=ink)
        return ink if dust is None else _with_dust(ink, dust, smear)

    return ink_at


def _softness_at_rims(
    blurs: Singles, amounts: Singles, slopes: Singles, evenness: np.float32
) -> Singles:
    """How soft the law is where amounts differ within a pixel; `evenness` squared elsewhere.

    In `blurs`, which come as the slopes of the deviates.
    """
    blurs *= amounts
    blurs *= blurs
    blurs *= slopes
    blurs.clip(0.0, _MOST_DEVIATE_BLUR**2, out=blurs)
    blurs += evenness
    return np.sqrt(blurs, out=blurs)


def _table_and_heights(
    heights: Singles | Grey, share: float, build_up: float
) -> tuple[Singles, Singles]:
    """The deviates of amounts, in steps, and what of `share` of the heights is taken from them."""
    if heights.dtype != np.uint8:
        return deviates_of_amounts(0.0, build_up), heights * np.float32(share)
    table = deviates_of_amounts(share * MOST_DEVIATION, build_up)
    return table, heights * np.float32(share * DEVIATE_STEP)


def _with_dust(ink: Singles, dust: Singles, smear: float) -> Singles:
    """`ink`, and the dust that is rubbed in where it is bare, `smear` of `dust`."""
    dust *= np.float32(smear)
    dust *= np.float32(1.0) - ink
    dust += ink
    return np.asarray(dust)


def _dust(excess: Singles) -> Singles:
    """The dust that is rubbed in where a tool exceeds the paper's heights, rubbed over, by so much.

    It dies away with the tool's load.
    """
    excess *= np.float32(1.0 / _DUST_SOFTNESS)
    excess += np.float32(0.5)
    return np.asarray(excess.clip(0.0, 1.0, out=excess))


def _wash(medium: Medium, given: Given, scale: float, middle: float) -> Callable[[float], Singles]:
    """A wash is grey itself; heights, `scale` of them about `middle`, only granulate it."""
    shown, more = -medium.granulation * scale, 0.0
    if given.heights.dtype == np.uint8:
        tones = given.heights * np.float32(shown * DEVIATE_STEP)
        more = shown * MOST_DEVIATION
    else:
        tones = given.heights * np.float32(shown)
    tones += given.amounts

    def ink_at(level: float) -> Singles:
        ink = tones + np.float32(level - more + middle * medium.granulation)
        return np.asarray(ink.clip(0.0, 1.0, out=ink))

    return ink_at


def _ink_by_shares(medium: Medium, given: Given, level: float) -> Singles:
    """The law of masters of format 2."""
    if medium.kind == "wash":
        return _wash(medium, given, 1.0, 0.5)(level)
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


def joined(given: list[Given]) -> list[Given]:
    """What pieces of a tool give to scattered places, as if one did: one law for all.

    They are told alike, with one blur and no slopes; what is given in boxes stays as it is.
    """
    if len(given) < 2 or not all(isinstance(one.where, np.ndarray) for one in given):
        return given
    where = np.concatenate([np.asarray(one.where) for one in given])
    order = np.argsort(where, kind="stable")
    amounts: Singles = np.concatenate([one.amounts for one in given])
    heights: Singles = np.concatenate([one.heights for one in given])
    return [
        dataclasses.replace(
            given[0],
            where=where.take(order),
            amounts=amounts.take(order),
            heights=heights.take(order),
        )
    ]


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
