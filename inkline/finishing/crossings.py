"""Where straight lines cross one another, so that a hand can be held to those places."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from inkline.finishing.lines import PenLine
from inkline.geometry.arrays import Bools, Floats

_MOST_LINES = 4_000
"""Lines of more are drawn without regard to their crossings, which grow by the square."""
_PARALLEL = 0.2
"""Sine of the angle below which lines run side by side rather than cross."""

_NEAR, _ASIDE, _APART = 0.6, 0.1, 0.02
"""Ends lie together that overlap by so much, lie so far aside or so far apart, in widths of the
thinner line; what is farther apart is meant to be."""
_LONG = 2.0
"""Only lines that are so many times as long as wide are joined; shorter ones are dots."""
_OVER_CORNERS = 0.7
"""How far the ink of thick lines may run over corners, in their widths; chosen by eye."""
_STRAIGHT_ON = 0.95
"""Cosine of the angle from which on one line goes straight on as another."""


def joined_lines(lines: Sequence[PenLine]) -> list[PenLine]:
    """The lines, those that go straight on as another one lengthened into it by half their width.

    Their ink then has no notch between them where a pen's ends are round, and covers nothing that
    it didn't cover before.
    """
    found = list(lines)
    ends = [
        (index, end)
        for index, line in enumerate(lines)
        if line.is_straight and _length(line) > _LONG * line.width
        for end in (0, 1)
    ]
    if not 2 <= len(ends) <= 2 * _MOST_LINES:
        return found
    from scipy.spatial import cKDTree  # noqa: PLC0415 - slow to import

    places = np.array([lines[index].points[end] for index, end in ends])
    widest = max(lines[index].width for index, _ in ends)
    for one, other in sorted(cKDTree(places).query_pairs(_NEAR * widest)):
        (a, end_a), (b, end_b) = ends[one], ends[other]
        width = min(lines[a].width, lines[b].width)
        out_a, out_b = _outwards(lines[a], end_a), _outwards(lines[b], end_b)
        gap = places[other] - places[one]
        is_near = -_NEAR * width <= float(gap @ out_a) <= _APART * width
        is_near &= abs(float(gap[0] * out_a[1] - gap[1] * out_a[0])) <= _ASIDE * width
        if is_near and float(out_a @ out_b) < -_STRAIGHT_ON:
            found[a] = _lengthened(found[a], lines[a], end_a, 0.5 * width * out_a)
            found[b] = _lengthened(found[b], lines[b], end_b, 0.5 * width * out_b)
    return found


def _length(line: PenLine) -> float:
    """Of a straight line."""
    return float(np.hypot(*(line.points[1] - line.points[0])))


def _outwards(line: PenLine, end: int) -> Floats:
    """The unit vector along which a line leaves itself at an end."""
    away = line.points[end] - line.points[1 - end]
    return np.asarray(away / max(float(np.hypot(*away)), 1e-12))


def _lengthened(now: PenLine, before: PenLine, end: int, step: Floats) -> PenLine:
    """A line whose end lies a step beyond where it was at first."""
    points = now.points.copy()
    points[end] = before.points[end] + step
    return replace(now, points=points)


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossed:
    """Where others cross or meet a line, arc lengths in px.

    Attributes:
        places: all of them, ascending.
        corners: those at which the end of another meets an end of it.
    """

    places: tuple[float, ...] = ()
    corners: tuple[float, ...] = ()


def crossings_of_lines(lines: Sequence[PenLine]) -> list[Crossed]:
    """For each line where others cross or meet it.

    Lines that reach each other but for half their widths meet. Only straight lines are looked at.
    """
    straight = [index for index, line in enumerate(lines) if line.is_straight]
    found = [Crossed()] * len(lines)
    if not 1 < len(straight) <= _MOST_LINES:
        return found
    starts = np.array([lines[i].points[0] for i in straight])
    spans = np.array([lines[i].points[1] for i in straight]) - starts
    halves = 0.5 * np.array([lines[i].width for i in straight])
    lengths = np.hypot(spans[:, 0], spans[:, 1])
    keep = lengths > 0.0
    units = spans / np.where(keep, lengths, 1.0)[:, None]
    for row, index in enumerate(straight):
        if keep[row]:
            at, is_corner = _crossings(row, starts, units, lengths, halves)
            at = np.round(at, 6)
            found[index] = Crossed(
                places=tuple(np.unique(at).tolist()),
                corners=tuple(np.unique(at[is_corner]).tolist()),
            )
    return found


def _crossings(
    row: int, starts: Floats, units: Floats, lengths: Floats, halves: Floats
) -> tuple[Floats, Bools]:
    """Arc lengths along one line at which the others cross it, and which of them are corners."""
    away = starts - starts[row]
    sines = units[row, 0] * units[:, 1] - units[row, 1] * units[:, 0]
    crosses = np.abs(sines) > _PARALLEL
    safe = np.where(crosses, sines, 1.0)
    mine = (away[:, 0] * units[:, 1] - away[:, 1] * units[:, 0]) / safe
    theirs = (away[:, 0] * units[row, 1] - away[:, 1] * units[row, 0]) / safe
    reach_mine, reach_theirs = halves, halves[row]
    meets = (
        crosses
        & (mine >= -reach_mine)
        & (mine <= lengths[row] + reach_mine)
        & (theirs >= -reach_theirs)
        & (theirs <= lengths + reach_theirs)
    )
    reach = reach_mine + reach_theirs
    ends_mine = (mine <= reach) | (mine >= lengths[row] - reach)
    ends_theirs = (theirs <= reach) | (theirs >= lengths - reach)
    return np.clip(mine[meets], 0.0, lengths[row]), (ends_mine & ends_theirs)[meets]


def room_at_corners(line: PenLine, corners: Sequence[float]) -> tuple[float, float]:
    """How far a line may run over its start and its end, where it meets another at corners.

    Thin lines thin out where they end at others. Thick ones would leave a gap between them.
    """
    if not corners:
        return line.room, line.room
    length = float(np.hypot(*(line.points[-1] - line.points[0])))
    room = min(line.room, _OVER_CORNERS * line.width)
    return (
        room if min(corners) < 0.5 * length else line.room,
        room if max(corners) >= 0.5 * length else line.room,
    )
