"""What became of one mark, by its own small picture: moved, gone, in part gone, drawn otherwise."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
import scipy

from inkline.geometry.arrays import Bools, Floats, Grey
from inkline.proof.changes import Change, change_between, move_picture, shift_between
from inkline.proof.picture import differing, ink_bounds

_SEEN = 3
_GONE = 0.1
"""Of a mark that is gone less than this share of its ink is left."""
_ONLY = 0.1
"""Ink that came is nothing beside ink that went, or the other way, below this share of it."""
_TOUCHED = 0.5
_MARGIN_PX = 8
_REACH_SHARE = 0.5
_ALIKE = 0.6
"""What another mark leaves unexplained where it stands in a mark's place, as a share of what the
mark itself does, is below this."""
_SMALL = 0.25
"""A spot is smaller than this share of its mark either way; what is larger is part of it."""


def patch_difference(got: Grey, expected: Grey) -> list[Change]:
    """How the mark in `got` differs from that in `expected`, both cut out alike."""
    ink, left = float(expected.sum(dtype=np.int64)), float(got.sum(dtype=np.int64))
    if ink == 0.0:
        return (
            [Change(kind="speck", sentence="ink where none belongs, at", left=0.0)] if left else []
        )
    if left < _GONE * ink:
        return [Change(kind="gone", sentence="gone", left=0.0)]
    differs = differing(got, expected, least=_SEEN)
    spots = list(_spots(got, expected, differs))
    if spots:
        return spots
    reach = math.ceil(_REACH_SHARE * max(got.shape))
    whole = change_between(_padded(got), _padded(expected), reach_px=reach)
    if whole is not None:
        return [whole]
    part = _changed_piece(got, expected, differs)
    if part is not None:
        return [part]
    return [_part_or_redrawn(got, expected, differs)]


def swapped_with(got: Grey, expected: Grey, fellows: Sequence[tuple[str, Grey]]) -> str | None:
    """The name of that of `fellows` that stands in the place of a mark, None if none does."""
    found = ink_bounds(got)
    if found is None:
        return None
    own = _cut_to(got, found).astype(np.float64)
    best, least = None, _ALIKE * _miss_of(own, expected)
    for name, fellow in fellows:
        miss = _miss_of(own, fellow)
        if miss < min(least, 0.15 * own.sum()):
            best, least = name, miss
    return best


def _miss_of(own: Floats, fellow: Grey) -> float:
    """What differs between cut-out ink and the ink of `fellow`, laid over each other."""
    found = ink_bounds(fellow)
    if found is None:
        return math.inf
    other = _cut_to(fellow, found)
    if max(abs(a - b) for a, b in zip(own.shape, other.shape, strict=True)) > 3:
        return math.inf
    shape = tuple(max(a, b) for a, b in zip(own.shape, other.shape, strict=True))
    one, two = np.zeros(shape), np.zeros(shape)
    one[: own.shape[0], : own.shape[1]] = own
    two[: other.shape[0], : other.shape[1]] = other
    one, two = np.pad(one, 3), np.pad(two, 3)
    at = shift_between(one.astype(np.uint8), two, reach_px=3)
    return min(
        float(np.abs(move_picture(two, place) - one).sum())
        for place in ((float(round(at[0])), float(round(at[1]))), at)
    )


def _cut_to(grey: Grey, box: tuple[int, int, int, int]) -> Grey:
    return grey[box[1] : box[3], box[0] : box[2]]


def _padded(grey: Grey) -> Grey:
    return np.pad(grey, _MARGIN_PX)


def _spots(got: Grey, expected: Grey, differs: Bools) -> Iterator[Change]:
    """Specks and holes, if the difference is nothing but small spots that touch no edge."""
    pieces, n_pieces = scipy.ndimage.label(differs, structure=np.ones((3, 3)))
    inked = ink_bounds(expected, at_least=1)
    if inked is None or n_pieces > 12:
        return
    size = max(inked[2] - inked[0], inked[3] - inked[1])
    spots = []
    for number, place in enumerate(scipy.ndimage.find_objects(pieces), start=1):
        own = pieces[place] == number
        height, width = own.shape
        ring = _ring_about(pieces == number)
        should, lost = expected[ring], got[place][own].mean() < expected[place][own].mean()
        is_small = max(height, width) < max(_SMALL * size, 7)
        if lost and is_small and (should >= 255 - _SEEN).all():
            sentence = f"a hole of {width} x {height} px in"
            spots.append(Change(kind="hole", sentence=sentence, left=0.0))
        elif not lost and is_small and (should <= _SEEN).all():
            sentence = f"a speck of {width} x {height} px near"
            spots.append(Change(kind="speck", sentence=sentence, left=0.0))
        else:
            return
    yield from spots


def _ring_about(piece: Bools) -> Bools:
    return np.asarray(scipy.ndimage.binary_dilation(piece, structure=np.ones((3, 3))) & ~piece)


def _changed_piece(got: Grey, expected: Grey, differs: Bools) -> Change | None:
    """What became of one digit or letter, if the others are as they were."""
    pieces, n_pieces = scipy.ndimage.label(expected > 0, structure=np.ones((3, 3)))
    near = scipy.ndimage.binary_dilation(differs, iterations=1)
    touched = [n for n in range(1, n_pieces + 1) if (near & (pieces == n)).any()]
    if not touched or len(touched) == n_pieces:
        return None
    rows, columns = np.nonzero(np.isin(pieces, touched) | differs)
    place = np.s_[rows.min() : rows.max() + 1, columns.min() : columns.max() + 1]
    others = (pieces > 0) & ~np.isin(pieces, touched)
    one, other = np.where(others, 0, got)[place], np.where(others, 0, expected)[place]
    if other.any() and one.sum(dtype=np.int64) < _GONE * other.sum(dtype=np.int64):
        return Change(kind="part gone", sentence="in part gone: a piece of it is missing", left=0.0)
    reach = math.ceil(_REACH_SHARE * max(one.shape))
    found = change_between(
        _padded(one.astype(np.uint8)), _padded(other.astype(np.uint8)), reach_px=reach
    )
    if found is None:
        return None
    sentence = f"in part {found.sentence}"
    return Change(kind=found.kind, sentence=sentence, left=found.left, shift=found.shift)


def _part_or_redrawn(got: Grey, expected: Grey, differs: Bools) -> Change:
    change = got.astype(np.int64) - expected
    lost, gained = -int(change[change < 0].sum()), int(change[change > 0].sum())
    ink = int(expected.sum(dtype=np.int64))
    if gained < _ONLY * lost and _is_in_one_place(differs, expected):
        share = f"{100.0 * lost / ink:.0f} %" if lost >= 0.01 * ink else "a little"
        where = _where(change < -_SEEN, expected)
        sentence = f"in part gone: {share} of its ink is missing {where}"
        return Change(kind="part gone", sentence=sentence, left=0.0)
    if lost < _ONLY * gained and _is_in_one_place(differs, expected):
        sentence = f"joined by ink that is none of its own, {_where(change > _SEEN, expected)}"
        return Change(kind="added", sentence=sentence, left=0.0)
    return Change(kind="redrawn", sentence="drawn otherwise", left=0.0)


def _is_in_one_place(differs: Bools, expected: Grey) -> bool:
    """Whether most of the outline is as it was."""
    edge = (expected > 0) & (expected < 255)
    return bool((differs & edge).sum() < _TOUCHED * max(edge.sum(), 1)) or bool(
        (differs & (expected == 255)).sum() > 0.2 * differs.sum()
    )


def _where(changed: Bools, expected: Grey) -> str:
    """Which side of the mark lies where `changed` is true."""
    inked = ink_bounds(expected, at_least=1)
    if inked is None or not changed.any():
        return "here and there"
    y, x = (float(value) for value in np.array(np.nonzero(changed)).mean(axis=1))
    across = (x - inked[0]) / max(inked[2] - inked[0], 1)
    down = (y - inked[1]) / max(inked[3] - inked[1], 1)
    sides = [(0.35 - across, "at its left"), (across - 0.65, "at its right")]
    sides += [(0.35 - down, "at its top"), (down - 0.65, "at its foot")]
    excess, side = max(sides)
    return side if excess > 0 else "in its middle"
