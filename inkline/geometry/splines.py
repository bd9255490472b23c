"""Smooth curves through a few knots: cubic splines with continuous second derivative.

Pieces and end conditions as in de Boor, A Practical Guide to Splines, ch. IV (from memory). For the
dozen knots that a letter's stroke has, one small dense system costs a tenth of what a general class
does.
"""

from __future__ import annotations

from enum import Enum

import numpy as np

from inkline.geometry.arrays import Floats, Points


class Ends(Enum):
    """What holds at a spline's ends."""

    FREE = "no curvature"
    SMOOTH = "the third derivative runs on over the second and the last knot but one"
    CLOSED = "it runs on from its end into its start, which has the same value"


def spline_through(at: Floats, values: Points, wanted: Floats, *, ends: Ends) -> Points:
    """Values at `wanted` of the cubic spline through `values` at the knots `at`, `(m, k)`.

    Args:
        at: knots, strictly ascending, `(n,)`; n >= 3, or 4 where ends are smooth.
        values: at the knots, `(n, k)`; the last equals the first where it is closed.
        wanted: places from the first to the last knot, `(m,)`; beyond them the last piece runs on.
        ends: the end conditions.
    """
    steps = np.diff(at)
    slopes = np.diff(values, axis=0) / steps[:, None]
    starts = _derivatives(steps, slopes, ends)
    bend = (starts[:-1] + starts[1:] - 2.0 * slopes) / steps[:, None]
    third, second = bend / steps[:, None], (slopes - starts[:-1]) / steps[:, None] - bend
    piece = np.clip(np.searchsorted(at, wanted, side="right") - 1, 0, len(steps) - 1)
    x = (wanted - at[piece])[:, None]
    square = x * x
    return np.asarray(
        values[piece] + starts[piece] * x + second[piece] * square + third[piece] * (square * x)
    )


def _derivatives(steps: Floats, slopes: Points, ends: Ends) -> Points:
    """First derivatives at the knots, `(n, k)`, from the steps between them and their chords."""
    n = len(steps) + 1
    matrix, right = np.zeros((n, n)), np.zeros((n, slopes.shape[1]))
    inner = np.arange(1, n - 1)
    before, after = steps[:-1], steps[1:]
    matrix[inner, inner - 1], matrix[inner, inner], matrix[inner, inner + 1] = (
        after,
        2.0 * (before + after),
        before,
    )
    right[1:-1] = 3.0 * (after[:, None] * slopes[:-1] + before[:, None] * slopes[1:])
    if ends is Ends.FREE:
        matrix[0, :2], right[0] = (2.0, 1.0), 3.0 * slopes[0]
        matrix[-1, -2:], right[-1] = (1.0, 2.0), 3.0 * slopes[-1]
    elif ends is Ends.CLOSED:
        matrix[0, 0], matrix[0, 1], matrix[0, -2] = (
            2.0 * (steps[0] + steps[-1]),
            steps[-1],
            steps[0],
        )
        right[0] = 3.0 * (steps[0] * slopes[-1] + steps[-1] * slopes[0])
        matrix[-1, 0], matrix[-1, -1] = -1.0, 1.0
    else:
        matrix[0, :2] = steps[1], steps[0] + steps[1]
        right[0] = _smooth_end(steps[0], steps[1], slopes[0], slopes[1])
        matrix[-1, -2:] = steps[-2] + steps[-1], steps[-2]
        right[-1] = _smooth_end(steps[-1], steps[-2], slopes[-1], slopes[-2])
    return np.asarray(np.linalg.solve(matrix, right), dtype=np.float64)


def _smooth_end(outer: float, inner: float, slope: Floats, next_slope: Floats) -> Floats:
    """The right side of the condition at an end over whose next knot the spline runs on."""
    both = outer + inner
    return ((outer + 2.0 * both) * inner * slope + outer**2 * next_slope) / both
