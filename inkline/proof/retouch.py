"""What a difference from what was drawn means: a fault, or a retouch that a hand has meant."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from inkline.geometry.arrays import Bools, Grey
from inkline.proof.changes import shift_between, shift_in_words
from inkline.proof.difference import Difference
from inkline.proof.finding import Check, Finding, ListedStamp, Retouch
from inkline.proof.things import Thing, things_of

_NOT_BY_HAND = frozenset(
    {"inverted", "values", "soft", "shrunk", "stranger", "mirrored", "turned", "gone"}
)
"""Kinds that no hand means which retouches a stamp: a program has saved it otherwise, another
picture lies in its place, or something is missing."""
_LEAST_MOVE_PX = 0.5
_LEAST_INK = 0.08
"""Of its exact box, or for letters a third of that, a mark fills at least this share."""
_NUDGE_SHARE = 0.004
"""How far a stamp that was drawn anew by hand may lie off as a whole, as a share of its canvas."""
_LEAST_NUDGE_PX = 3.0


def difference_findings(name: str, found: Sequence[Difference]) -> Iterator[Finding]:
    """Whether a picture that should be as it was drawn is so: every difference is a fault."""
    if not found:
        yield Finding.clean(name, Check.MASTERS)
    for one in found:
        yield _fault_of(name, Check.MASTERS, one)


def _fault_of(name: str, check: Check, one: Difference) -> Finding:
    return Finding(
        stamp=name,
        check=check,
        sentence=one.sentence,
        share=math.inf,
        kind=one.kind,
        marks=one.marks,
        box=one.box,
    )


def retouch_findings(name: str, found: Sequence[Difference]) -> Iterator[Finding | Retouch]:
    """What of a retouched picture no hand can have meant; the rest is said and is no fault."""
    faults = [one for one in found if _is_fault(one)]
    yield from (_fault_of(name, Check.RETOUCH, one) for one in faults)
    if not faults:
        yield Finding.clean(name, Check.RETOUCH)
    others = [one.sentence for one in found if one not in faults]
    if not found:
        others = ["it looks as it was drawn, and was saved again"]
    yield from (Retouch(stamp=name, sentence=sentence) for sentence in others)


def _is_fault(one: Difference) -> bool:
    """Whether a difference can't be meant; a mark by itself may be moved or turned by hand."""
    if one.kind == "gone":
        return True
    if one.marks:
        return False
    moved = one.kind == "moved" and one.shift_px >= _LEAST_MOVE_PX
    return moved or one.kind in _NOT_BY_HAND


def layout_retouch_findings(name: str, grey: Grey, entry: ListedStamp) -> Iterator[Finding]:
    """What of a retouched picture is wrong by the exact layout alone, where there are no masters.

    Its place as a whole, by correlation with the boxes of all that is on it, and whether anything
    is in each of them.
    """
    things = things_of(entry)
    shift = shift_between(grey, _layout_picture(grey.shape, things)) if things else (0.0, 0.0)
    limit = max(_NUDGE_SHARE * max(grey.shape), _LEAST_NUDGE_PX)
    far = math.hypot(*shift)
    whole = (float(round(shift[0])), float(round(shift[1])))
    faults = [f"it is moved {shift_in_words(whole)} or so"] if far > limit else []
    empty = [thing.what for thing in things if far <= limit and not _is_there(grey, thing)]
    faults += [f"{what} is gone" for what in empty]
    yield from (Finding.fault(name, Check.RETOUCH, fault) for fault in faults)
    if not faults:
        yield Finding.clean(name, Check.RETOUCH)


def _layout_picture(shape: tuple[int, ...], things: Sequence[Thing]) -> Grey:
    """All exact boxes, filled, as uint8 of `shape`."""
    picture = np.zeros(shape, dtype=np.uint8)
    for thing in things:
        picture[_place(thing)] = 255
    return picture


def _is_there(grey: Grey, thing: Thing) -> bool:
    inked: Bools = grey[_place(thing)] >= 128
    return bool(inked.size == 0 or inked.mean() >= _LEAST_INK)


def _place(thing: Thing) -> tuple[slice, slice]:
    x0, y0, x1, y1 = (max(round(value), 0) for value in thing.exact)
    return slice(y0, max(y1, y0 + 1)), slice(x0, max(x1, x0 + 1))
