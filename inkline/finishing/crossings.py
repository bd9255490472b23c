"""Where straight lines cross one another, so that a hand can be held to those places."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from inkline.finishing.lines import PenLine
from inkline.geometry.arrays import Floats

_MOST_LINES = 4_000
"""Lines of more are drawn without regard to their crossings, which grow by the square."""
_PARALLEL = 0.2
"""Sine of the angle below which lines run side by side rather than cross."""


def crossings_of_lines(lines: Sequence[PenLine]) -> list[tuple[float, ...]]:
    """For each line the arc lengths at which others cross or meet it, ascending.

    Lines that reach each other but for half their widths meet. Only straight lines are looked at.
    """
    straight = [index for index, line in enumerate(lines) if line.is_straight]
    found: list[tuple[float, ...]] = [()] * len(lines)
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
            at = _crossings(row, starts, units, lengths, halves)
            found[index] = tuple(float(value) for value in np.unique(np.round(at, 6)))
    return found


def _crossings(row: int, starts: Floats, units: Floats, lengths: Floats, halves: Floats) -> Floats:
    """Arc lengths along one line at which the others cross it."""
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
    met: Floats = np.clip(mine[meets], 0.0, lengths[row])
    return met
