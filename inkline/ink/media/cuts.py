"""Where a stroke is cut into pieces that turn less than any loop. Lengths in mm."""

from __future__ import annotations

import numpy as np

from inkline.geometry.arrays import Floats, Indices, Points
from inkline.geometry.polyline import arc_lengths

# A piece turns by less than this from its first point to its last; a turn of more than the second
# from one point to the next is a corner.
_LARGEST_TURN, _CORNER = np.deg2rad(80.0), np.deg2rad(28.0)
# It runs on so many half widths into the next piece.
_OVERLAP = 0.5


def apart_points(spine: Points, *, at_least: float) -> Indices:
    """Indices of points of the spine that lie so far from one another, the ends among them.

    What is nearly as near as two points of a wavering hand can be has no direction of its own.
    """
    steps = np.floor(arc_lengths(spine) / at_least)
    kept = np.flatnonzero(np.diff(steps, prepend=-1.0) > 0)
    kept[-1] = len(spine) - 1
    return kept if len(kept) > 1 else np.array([0, len(spine) - 1])


def stroke_cuts(
    spine: Points, lengths: Floats, halves: Floats
) -> list[tuple[int, int, tuple[bool, bool]]]:
    """First and last point of each piece, and whether it ends in a corner or an end there."""
    steps = np.diff(spine, axis=0)
    turns = np.angle(np.exp(1j * np.diff(np.arctan2(steps[:, 1], steps[:, 0]))))
    borders, hard, turned = [0], [True], 0.0
    for index, turn in enumerate(turns.tolist(), start=1):
        turned += turn
        if abs(turn) > _CORNER or abs(turned) > _LARGEST_TURN:
            borders.append(index)
            hard.append(bool(abs(turn) > _CORNER))
            turned = 0.0
    borders.append(len(spine) - 1)
    hard.append(True)
    cuts = []
    for index in range(len(borders) - 1):
        start, end = borders[index], borders[index + 1]
        if not hard[index]:
            start = int(np.searchsorted(lengths, lengths[start] - _OVERLAP * halves[start]))
        if not hard[index + 1]:
            end = int(np.searchsorted(lengths, lengths[end] + _OVERLAP * halves[end]))
        cuts.append((start, min(end, len(spine) - 1), (hard[index], hard[index + 1])))
    return cuts
