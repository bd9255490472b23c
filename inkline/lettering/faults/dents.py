"""Dents: where one curve of a bowl goes over into the next, and turns all at once more sharply.

A pen's inner edge shows it as a corner in the counter. With a cubic from a by b and c, the
curvature at a is 2/3 of |(b - a) x (c - b)| over |b - a| to the third.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from inkline.geometry.arrays import Points
from inkline.lettering.recordings import Commands

MOST_RATIO = 2.5
"""How many times as sharply one curve may turn as its neighbour where they meet. Chosen by eye."""
_SHARP = 1.5
"""Gentler turns are no dents, whatever lies beside them; in turns to a pen."""
_STRAIGHT = 0.2
"""What turns less than this is a straight that a corner follows, and no bowl; in turns to a pen."""
_SHORT = 0.7
"""Curves shorter than this, in pens, are the turn of a foot or a serif."""
_SMOOTH = np.cos(np.radians(8.0))
"""Curves that meet at more than this angle make a corner, which is meant."""


def has_dent(commands: Commands, *, stem: float) -> bool:
    """Whether two curves of a glyph meet in a dent.

    Args:
        commands: how the glyph is drawn, in font units.
        stem: of its pen, in font units.
    """
    return any(
        _is_dent(before, after, stem)
        for curves in _runs(commands)
        for before, after in pairwise(curves)
    )


def _runs(commands: Commands) -> Iterator[list[Points]]:
    """Curves that follow each other, `(4, 2)` each; a ring's first one comes again at its end."""
    run: list[Points] = []
    at, start, is_whole = np.zeros(2), np.zeros(2), True
    for operator, operands in commands:
        if operator == "moveTo":
            run, at, is_whole = [], np.array(operands[0], dtype=np.float64), True
            start = at
        elif operator == "curveTo" and len(operands) == 3:
            run.append(np.array([at, *operands], dtype=np.float64))
            at = run[-1][-1]
        elif operator in ("closePath", "endPath"):
            is_ring = operator == "closePath" and is_whole and run and np.array_equal(at, start)
            yield [*run, run[0]] if is_ring else run
            run = []
        elif operands:
            yield run
            run, at, is_whole = [], np.array(operands[-1], dtype=np.float64), False


def _is_dent(before: Points, after: Points, stem: float) -> bool:
    if min(np.hypot(*(curve[3] - curve[0])) for curve in (before, after)) < _SHORT * stem:
        return False
    arriving, leaving = before[3] - before[2], after[1] - after[0]
    lengths = float(np.hypot(*arriving)), float(np.hypot(*leaving))
    if min(lengths) <= 0.0 or arriving @ leaving < _SMOOTH * lengths[0] * lengths[1]:
        return False
    turns = -stem * _curvature(before[::-1]), stem * _curvature(after)
    gentle, sharp = sorted(map(abs, turns))
    return (
        turns[0] * turns[1] > 0.0
        and sharp > _SHARP
        and gentle > _STRAIGHT
        and sharp > MOST_RATIO * gentle
    )


def _curvature(curve: Points) -> float:
    """Signed curvature at the start of a cubic."""
    (ax, ay), (bx, by) = curve[1] - curve[0], curve[2] - curve[1]
    return float(2.0 / 3.0 * (ax * by - ay * bx) / np.hypot(ax, ay) ** 3)
