"""Every difference between a stamp's picture and what it should be, by mark and by kind."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.arrays import Bools, Grey
from inkline.geometry.boxes import Box
from inkline.proof.changes import Change, change_between
from inkline.proof.difference import Difference
from inkline.proof.drawings import differs_by_edge, is_of_something_else, roughness_ratio
from inkline.proof.new_ink import differences_elsewhere, without_crossings
from inkline.proof.patches import patch_difference, swapped_with
from inkline.proof.picture import differing
from inkline.proof.rule_differences import rule_differences
from inkline.proof.things import Sort, Thing, names_in_short

_SEEN = 3
"""Values that differ by less are one: platforms may differ in the last of 255."""
_WHOLE_SHARE = 0.6
"""From this share of its marks on, a stamp is looked at as a whole first."""
_UNSURE = frozenset({"redrawn", "part gone", "added"})
"""What may also be because another mark stands in the place of one."""
_PLAIN_RATIO = 0.002
"""Outlines whose lengths differ by less may be rougher and yet shorter."""
_ALL_CHANGED = 0.8
_NEW_INK = 0.1
"""Over so much of what went, new ink says that something else stands there."""


def differences(
    got: Grey, expected: Grey, things: Sequence[Thing], *, sheet_px: float
) -> tuple[Difference, ...]:
    """What differs between two pictures of one size, uint8 `(height, width)`.

    Args:
        got: the picture there is.
        expected: the picture there should be.
        things: what is on it.
        sheet_px: how wide the sheet is on which its hand moves, be it only a part of that.

    Cost: next to nothing for equal pictures; else up to some seconds for 2500 px.
    """
    differs = differing(got, expected, least=_SEEN)
    if not differs.any():
        return ()
    labels = _labels_of_things(got.shape, things)
    n_touched = np.count_nonzero(np.unique(labels[differs]))
    if n_touched >= _WHOLE_SHARE * max(len(things), 1):
        whole = _whole_difference(got, expected)
        if whole is not None:
            return (whole,)
    found = list(_differences_of_things(got, expected, things, differs, labels))
    found += differences_elsewhere(differs & (labels == 0), got, expected, things)
    redrawn = [one for one in found if one.kind == "redrawn"]
    if things and len(redrawn) >= _ALL_CHANGED * len(things):
        return (_other_drawing(got, expected, things, sheet_px),)
    return _together(without_crossings(found, things)) or (_faint_difference(differs),)


def _labels_of_things(shape: tuple[int, ...], things: Sequence[Thing]) -> NDArray[np.int32]:
    """The number from 1 of the thing that each pixel belongs to, 0 for none."""
    labels = np.zeros(shape, dtype=np.int32)
    for number, thing in enumerate(things, start=1):
        x0, y0, x1, y1 = _whole_box(thing.around)
        labels[y0:y1, x0:x1] = number
    return labels


def _whole_box(box: Box) -> tuple[int, int, int, int]:
    return (
        max(math.floor(box[0]), 0),
        max(math.floor(box[1]), 0),
        max(math.ceil(box[2]), 0),
        max(math.ceil(box[3]), 0),
    )


def _whole_difference(got: Grey, expected: Grey) -> Difference | None:
    """The one change that explains all of it, if there is one."""
    if not got.any():
        return _of_stamp("gone", "it holds no ink", got)
    change = change_between(got, expected)
    if change is not None:
        whole = _of_stamp(change.kind, f"it is {change.sentence}", got)
        return replace(whole, shift_px=math.hypot(*change.shift))
    if is_of_something_else(got, expected):
        return _of_stamp("stranger", "it is another picture altogether", got)
    return None


def _of_stamp(kind: str, sentence: str, got: Grey) -> Difference:
    height, width = got.shape
    return Difference(kind=kind, marks=(), sentence=sentence, box=(0.0, 0.0, width, height))


def _other_drawing(
    got: Grey, expected: Grey, things: Sequence[Thing], sheet_px: float
) -> Difference:
    """What to say where every mark is drawn otherwise."""
    if differs_by_edge(got, expected, sheet_px=sheet_px):
        ratio, word = roughness_ratio(got, expected), "rougher or smoother"
        if abs(ratio - 1.0) > _PLAIN_RATIO:
            word = "rougher" if ratio > 1.0 else "smoother"
        return _of_stamp("edges", f"all its edges are {word} than they were drawn", got)
    marks = "all of it is" if len(things) == 1 else f"all {len(things)} of its marks are"
    sentence = (
        f"{marks} drawn otherwise: it is another drawing, such as one of another number or style"
    )
    return _of_stamp("other drawing", sentence, got)


def _differences_of_things(
    got: Grey, expected: Grey, things: Sequence[Thing], differs: Bools, labels: NDArray[np.int32]
) -> Iterator[Difference]:
    rules = [thing for thing in things if thing.sort is Sort.RULE]
    for thing, found in rule_differences(got, expected, rules, differs):
        yield from (_of_thing(thing, one) for one in found)
    others = [
        (number, thing) for number, thing in enumerate(things, 1) if thing.sort is not Sort.RULE
    ]
    for number, thing in others:
        x0, y0, x1, y1 = _whole_box(thing.around)
        own = labels[y0:y1, x0:x1] == number
        if not (differs[y0:y1, x0:x1] & own).any():
            continue
        here = np.where(own, got[y0:y1, x0:x1], 0).astype(np.uint8)
        should = np.where(own, expected[y0:y1, x0:x1], 0).astype(np.uint8)
        changes = patch_difference(here, should)
        is_unsure = any(one.kind in _UNSURE for one in changes) and _has_new_ink(here, should)
        if thing.sort is Sort.LETTERS and is_unsure:
            fellows = [(other.what, _cut(expected, other)) for n, other in others if n != number]
            stands_for = swapped_with(here, should, fellows)
            if stands_for is not None:
                sentence = f"{stands_for} stands in the place of {thing.what}"
                yield Difference(
                    kind="exchanged", marks=(thing.what,), sentence=sentence, box=thing.around
                )
                continue
        yield from (_of_thing(thing, change) for change in changes)


def _has_new_ink(got: Grey, expected: Grey) -> bool:
    """Whether ink came where none was, and not only went."""
    more = got.astype(np.int16) - expected
    return bool(np.count_nonzero(more >= _SEEN) > _NEW_INK * np.count_nonzero(-more >= _SEEN))


def _cut(picture: Grey, thing: Thing) -> Grey:
    x0, y0, x1, y1 = _whole_box(thing.around)
    return picture[y0:y1, x0:x1]


def _of_thing(thing: Thing, change: Change) -> Difference:
    return Difference(
        kind=change.kind,
        marks=(thing.what,),
        sentence=f"{thing.what} is {change.sentence}"
        if not change.sentence.startswith(("a ", "an ", "ink "))
        else f"{change.sentence} {thing.what}",
        box=change.box or thing.around,
    )


def _together(found: Sequence[Difference]) -> tuple[Difference, ...]:
    """Those that say the same of several things as one; two that changed places as one."""
    groups: dict[tuple[str, str], list[Difference]] = {}
    for one in found:
        said = one.sentence
        for mark in one.marks:
            said = said.replace(mark, "*")
        groups.setdefault((one.kind, said), []).append(one)
    joined = []
    for (kind, said), group in groups.items():
        marks = tuple(dict.fromkeys(mark for one in group for mark in one.marks))
        if len(group) == 1 or kind in {"exchanged", "speck", "line"} or not said.startswith("* is"):
            joined += group
            continue
        sentence = f"{names_in_short(marks)} are {_of_several(said.removeprefix('* is '))}"
        joined.append(replace(group[0], marks=marks, sentence=sentence))
    return _pairs(joined)


def _of_several(said: str) -> str:
    """What is said of one mark, as it is said of several."""
    return re.sub(r"\bits\b", "their", said).replace("it was", "they were")


def _pairs(found: Sequence[Difference]) -> tuple[Difference, ...]:
    """Two things that stand in each other's place as one difference."""
    swaps = {one.sentence: one for one in found if one.kind == "exchanged"}
    done: set[str] = set()
    joined = []
    for one in found:
        if one.sentence in done:
            continue
        here, _, there = one.sentence.partition(" stands in the place of ")
        back = swaps.get(f"{there} stands in the place of {here}")
        if one.kind == "exchanged" and back is not None and back is not one:
            done.add(back.sentence)
            sentence = f"{there} and {here} have changed places"
            joined.append(replace(one, marks=(there, here), sentence=sentence))
        else:
            joined.append(one)
    return tuple(joined)


def _faint_difference(differs: Bools) -> Difference:
    height, width = differs.shape
    sentence = f"it differs a little in {np.count_nonzero(differs)} px from what was drawn"
    return Difference(kind="faint", marks=(), sentence=sentence, box=(0.0, 0.0, width, height))
