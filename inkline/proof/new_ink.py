"""Ink that came or went apart from the marks: specks, lines and strokes."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

import numpy as np
import scipy

from inkline.geometry.arrays import Bools, Grey
from inkline.geometry.boxes import Box, box_around
from inkline.proof.difference import Difference
from inkline.proof.things import Sort, Thing

_NEAR_PX = 2
"""How far pieces of a difference may lie apart and still be one."""
_LONG, _PX = 8.0, 3.0
"""How many times longer than wide a line is; how exactly pieces lie on one line."""
_LEAST_LINE_PX = 40
_OF_STROKES = frozenset({"speck", "line"})
_ALL_ALONG = frozenset({"gone", "moved", "wider", "thinner", "redrawn", "broken", "line"})


def differences_elsewhere(
    differs: Bools, got: Grey, expected: Grey, things: Sequence[Thing]
) -> Iterator[Difference]:
    """Ink that came or went apart from all things."""
    pieces, _ = scipy.ndimage.label(
        scipy.ndimage.binary_dilation(differs, iterations=_NEAR_PX), structure=np.ones((3, 3))
    )
    for number, place in enumerate(scipy.ndimage.find_objects(pieces), start=1):
        own = (pieces[place] == number) & differs[place]
        if not own.any():
            continue
        rows, columns = np.flatnonzero(own.any(axis=1)), np.flatnonzero(own.any(axis=0))
        x0, y0 = place[1].start + columns[0], place[0].start + rows[0]
        width, height = int(np.ptp(columns)) + 1, int(np.ptp(rows)) + 1
        box = (float(x0), float(y0), float(x0 + width), float(y0 + height))
        is_lost = got[place][own].sum(dtype=np.int64) < expected[place][own].sum(dtype=np.int64)
        n_px = int(np.count_nonzero(own))
        kind, what = _kind_of_piece(width, height, n_px, is_lost=bool(is_lost))
        near = _nearest(box, things)
        where = f" near {near.what}" if near is not None else ""
        marks = (near.what,) if near is not None else ()
        at = f" at {x0}, {y0}" if kind == "line" else ""
        sentence = f"{what} of {width} x {height} px{at}{where}"
        yield Difference(kind=kind, marks=marks, sentence=sentence, box=box)


def _kind_of_piece(width: int, height: int, n_px: int, *, is_lost: bool) -> tuple[str, str]:
    if is_lost:
        return "part gone", "ink is gone"
    length = math.hypot(width, height)
    if length > _LEAST_LINE_PX and max(width, height) >= _LONG * min(width, height):
        return "line", "a line that is none of its own,"
    if length > _LEAST_LINE_PX and length**2 >= _LONG * n_px:
        return "line", "a stroke that is none of its own,"
    return "speck", "a speck"


def without_crossings(
    found: Sequence[Difference], things: Sequence[Thing]
) -> tuple[Difference, ...]:
    """`found` without what a changed rule or a new line leaves where it crosses others."""
    rules = {thing.what for thing in things if thing.sort is Sort.RULE}
    reach = max((_thickness(thing.around) for thing in things if thing.what in rules), default=0.0)
    lines = _joined_lines([one for one in found if one.kind == "line" and _is_straight(one)])
    rest = [one for one in found if one.kind != "line" or not _is_straight(one)]
    kept = _joined_strokes(rest, rules, reach) + lines
    causes = [
        one
        for one in kept
        if one.kind in _ALL_ALONG and (one.kind == "line" or set(one.marks) <= rules)
    ]
    return tuple(
        one
        for one in kept
        if not set(one.marks) <= rules
        or not any(
            _is_side_effect(one, cause) or _is_end_of_line(one, cause, reach)
            for cause in causes
            if cause is not one
        )
    )


def _is_straight(one: Difference) -> bool:
    """Whether a line runs across or down the page."""
    return _extent(one.box) >= _LONG * _thickness(one.box)


def _joined_strokes(
    found: Sequence[Difference], rules: Collection[str], reach: float
) -> list[Difference]:
    """`found`, in which pieces of one stroke that crosses rules are one.

    Specks alone are no stroke; they join one that goes on beyond the rule beside them.
    """
    kept = [one for one in found if one.kind not in _OF_STROKES or not _is_apart(one, rules)]
    open_ = [one for one in found if one.kind in _OF_STROKES and _is_apart(one, rules)]
    while open_:
        group, size = [open_.pop()], 0
        while size < len(group):
            size = len(group)
            near = [
                one for one in open_ if any(_apart(one, other) <= reach + _PX for other in group)
            ]
            group += near
            open_ = [one for one in open_ if one not in near]
        if len(group) == 1 or all(one.kind == "speck" for one in group):
            kept += group
            continue
        box = box_around([one.box for one in group])
        size_px = f"{box[2] - box[0]:.0f} x {box[3] - box[1]:.0f} px at {box[0]:.0f}, {box[1]:.0f}"
        sentence = (
            f"a stroke that is none of its own, of {size_px}, in {len(group)} pieces between rules"
        )
        kept.append(Difference(kind="line", marks=(), sentence=sentence, box=box))
    return kept


def _is_apart(one: Difference, rules: Collection[str]) -> bool:
    """Whether ink lies apart from the marks, in a cell or beside a rule."""
    return set(one.marks) <= set(rules) or " near " in one.sentence


def _apart(one: Difference, other: Difference) -> float:
    """How far two boxes lie apart in px; 0 where they meet."""
    away = [
        max(one.box[side] - other.box[side + 2], other.box[side] - one.box[side + 2], 0.0)
        for side in (0, 1)
    ]
    return max(away)


def _is_side_effect(one: Difference, cause: Difference) -> bool:
    """Whether one difference lies within another that is larger."""
    x0, y0, x1, y1 = cause.box
    near = 0.5 * _extent(one.box) + _PX
    inside = (
        x0 - near <= 0.5 * (one.box[0] + one.box[2]) <= x1 + near
        and y0 - near <= 0.5 * (one.box[1] + one.box[3]) <= y1 + near
    )
    most = 0.95 if one.kind in _ALL_ALONG else 1.5
    return inside and _extent(one.box) < most * _extent(cause.box)


def _is_end_of_line(one: Difference, cause: Difference, reach: float) -> bool:
    """Whether a speck is where a new line comes out beyond a rule, at most so far on."""
    if one.kind != "speck" or cause.kind != "line":
        return False
    x0, y0, x1, y1 = cause.box
    away_x = max(x0 - one.box[2], one.box[0] - x1, 0.0)
    away_y = max(y0 - one.box[3], one.box[1] - y1, 0.0)
    across, along = (away_x, away_y) if y1 - y0 > x1 - x0 else (away_y, away_x)
    return across <= _PX and along <= reach + _PX


def _thickness(box: Box) -> float:
    return min(box[2] - box[0], box[3] - box[1])


def _extent(box: Box) -> float:
    return max(box[2] - box[0], box[3] - box[1])


def _joined_lines(lines: Sequence[Difference]) -> list[Difference]:
    """Pieces of lines that go on beyond the rules that they cross, each line once."""
    joined: list[Difference] = []
    for one in lines:
        for index, other in enumerate(joined):
            both = box_around([one.box, other.box])
            if min(both[2] - both[0], both[3] - both[1]) <= _PX + min(
                max(box[2] - box[0], 1.0)
                if both[3] - both[1] > both[2] - both[0]
                else box[3] - box[1]
                for box in (one.box, other.box)
            ):
                size = f"{both[2] - both[0]:.0f} x {both[3] - both[1]:.0f} px"
                sentence = f"a line that is none of its own, of {size}"
                joined[index] = replace(other, marks=(), sentence=sentence, box=both)
                break
        else:
            joined.append(one)
    return joined


def _nearest(box: Box, things: Sequence[Thing]) -> Thing | None:
    x, y = 0.5 * (box[0] + box[2]), 0.5 * (box[1] + box[3])

    def distance(thing: Thing) -> float:
        x0, y0, x1, y1 = thing.exact
        return math.hypot(max(x0 - x, x - x1, 0.0), max(y0 - y, y - y1, 0.0))

    return min(things, key=distance, default=None)
