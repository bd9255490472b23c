"""Where the ink of a stamp's numerals, words and blocks lies: each by itself, and all together."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import scipy

from inkline.geometry.arrays import Floats, Grey
from inkline.geometry.boxes import Box, box_around, grown_box
from inkline.proof.finding import Bounds, Check, Finding
from inkline.proof.picture import ink_bounds

_FEWEST = 5
"""Of fewer things the mean place says next to nothing: by chance it may lie far off."""
_BY_CHANCE = 0.001
"""How rarely a clean stamp may fail by its mean place, were `Bounds.offset_px` nothing; with it, it
is far rarer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """Something that has its place on a stamp.

    Attributes:
        what: what a person would call it, such as `'17'` or `block 5`.
        exact: the box about its exact ink.
        around: the box in which all ink is its own.
        near_px: how far each side of its ink may lie from the exact one.
        is_bounded: whether `around` bounds its ink; else ink may lie as far off as its sides, also
            where things stand so close that it can't be told whose it is.
    """

    what: str
    exact: Box
    around: Box
    near_px: float
    is_bounded: bool = True

    @property
    def farthest(self) -> Box:
        """The box beyond which no ink of it may lie."""
        if self.is_bounded:
            return self.around
        return box_around([self.around, grown_box(self.exact, self.near_px)])


def place_findings(
    name: str, grey: Grey, items: Sequence[Item], *, what: str, bounds: Bounds
) -> Iterator[Finding]:
    """Whether `items` lie near their places, each and on average, and whether there is other ink.

    Args:
        name: the stamp's name.
        grey: its picture.
        items: what is on it.
        what: what the boxes around them are called.
        bounds: how far their mean may lie off.
    """
    offsets, roundings = [], []
    for item in items:
        found = _ink_box(grey, item.around)
        yield _place_finding(name, item, found)
        if found is not None:
            offsets.append(_middle(found) - _middle(item.exact))
            roundings.append(_middle(np.rint(item.exact)) - _middle(item.exact))
    if len(offsets) >= _FEWEST:
        yield from _mean_findings(name, np.array(offsets), np.array(roundings), bounds=bounds)
    yield _outside_finding(name, grey, [item.farthest for item in items], what=what)


def near_px(size_px: float, *, bounds: Bounds) -> float:
    """How far the ink of something may lie off whose size is `size_px`."""
    return min(max(bounds.near_least_px, bounds.near_share * size_px), bounds.near_most_px)


def grow_apart(boxes: Sequence[Box], *, reach_px: Sequence[float]) -> tuple[Box, ...]:
    """Each of `boxes` grown by its own reach, but no more than half way to any other.

    Ink in it is then its own.
    """
    grown = []
    for box, reach in zip(boxes, reach_px, strict=True):
        gaps = [_gap(box, other) for other in boxes if other is not box]
        by = min(reach, 0.5 * min(gaps, default=math.inf))
        grown.append(grown_box(box, by))
    return tuple(grown)


def _gap(one: Box, other: Box) -> float:
    """The white between two boxes, across or down, whichever parts them more; 0 if they overlap."""
    return max(other[0] - one[2], one[0] - other[2], other[1] - one[3], one[1] - other[3], 0.0)


def cut_picture(grey: Grey, box: Box) -> Grey:
    """The part of a picture in `box`, which is rounded outwards to whole px."""
    left, top, right, bottom = _whole(box)
    return grey[top:bottom, left:right]


def _ink_box(grey: Grey, around: Box) -> Box | None:
    cut = cut_picture(grey, around)
    inked = ink_bounds(cut) if cut.size else None
    if inked is None:
        return None
    left, top = _whole(around)[:2]
    return inked[0] + left, inked[1] + top, inked[2] + left, inked[3] + top


def _place_finding(name: str, item: Item, found: Box | None) -> Finding:
    if found is None:
        return Finding.fault(name, Check.PLACE, f"{item.what} has no ink in its place")
    farthest = max(abs(a - b) for a, b in zip(found, item.exact, strict=True))
    sentence = (
        f"the ink of {item.what} lies up to {farthest:.1f} px off its exact box, where "
        f"{item.near_px:.1f} px are allowed"
    )
    return Finding(stamp=name, check=Check.PLACE, sentence=sentence, share=farthest / item.near_px)


def _middle(box: Box | Floats) -> Floats:
    """The middle of a box, `(2,)`."""
    sides = np.asarray(box, dtype=np.float64)
    return np.asarray(0.5 * (sides[:2] + sides[2:]))


def _mean_findings(
    name: str, offsets: Floats, roundings: Floats, *, bounds: Bounds
) -> Iterator[Finding]:
    """Whether things lie in their places on average.

    Each strays by itself, so all together show a shift that none shows alone. Ink is seen in whole
    pixels. Of a stray hand that evens out; of exact edges it does not, and is allowed for.

    Chance: the mean of n things that stray with the deviation s strays with s / sqrt n; since s is
    read off the same things, the quotient follows Student's t with n - 1 degrees of freedom.
    """
    n = len(offsets)
    means, deviations = offsets.mean(axis=0), offsets.std(axis=0, ddof=1)
    chances = (
        float(scipy.special.stdtrit(n - 1, 1.0 - _BY_CHANCE / 2.0)) * deviations / math.sqrt(n)
    )
    seen = np.abs(roundings.mean(axis=0))
    limits = bounds.offset_px + seen + chances
    for mean, limit, (towards, back) in zip(
        means, limits, (("right", "left"), ("down", "up")), strict=True
    ):
        way = towards if mean >= 0 else back
        sentence = (
            f"all {n} together lie {abs(mean):.2f} px too far {way}, where {limit:.2f} px are "
            "allowed"
        )
        yield Finding(
            stamp=name, check=Check.SHIFT, sentence=sentence, share=float(abs(mean) / limit)
        )


def _outside_finding(name: str, grey: Grey, boxes: Sequence[Box], *, what: str) -> Finding:
    """Whether any ink lies outside all of `boxes`."""
    rest = grey.copy()
    for box in boxes:
        left, top, right, bottom = _whole(box)
        rest[top:bottom, left:right] = 0
    stray = ink_bounds(rest, at_least=1)
    if stray is None:
        return Finding.clean(name, Check.OUTSIDE)
    return Finding.fault(name, Check.OUTSIDE, f"there is ink outside all {what}, within {stray}")


def _whole(box: Box) -> tuple[int, int, int, int]:
    """The box in whole px, its sides rounded outwards, not beyond the canvas's left or top."""
    return (
        max(math.floor(box[0]), 0),
        max(math.floor(box[1]), 0),
        max(math.ceil(box[2]), 0),
        max(math.ceil(box[3]), 0),
    )
