"""Counters and mouths of letters, and what ink leaves of them."""

from __future__ import annotations

import numpy as np
import scipy

from inkline.lettering.faults.spread import InkGrid

LEAST_MOUTH = 0.5
"""The narrowest mouth of an open letter (c, e, s, 6) at that pen, in pens. Chosen by eye."""
_THIN = 0.1
_CRACK = 0.3
"""White narrower than this lies between strokes that run together, and is no counter, in pens."""


def least_counter(grid: InkGrid, pen: float) -> float:
    """Width of the smallest counter's largest disc with that pen, in nominal pens.

    Infinite where the letter has none, 0 or less where ink has filled it. Looked for with a thin
    pen, since a filled counter is none.
    """
    labels, count = scipy.ndimage.label(~grid.ink(_THIN))
    white = 2.0 * grid.distances - _THIN * grid.shares
    widths = np.atleast_1d(scipy.ndimage.maximum(white, labels, range(1, count + 1)))
    outside = labels[0, 0]
    return min(
        (float(width) for at, width in enumerate(widths, 1) if at != outside and width > _CRACK),
        default=np.inf,
    ) - (pen - _THIN)


def has_narrow_mouth(grid: InkGrid, pen: float, *, least: float = LEAST_MOUTH) -> bool:
    """Whether white that is open with that pen would close, were all ink wider by `least`.

    In other words, whether a way from it to the outside is narrower than `least`, in nominal pens.
    """
    open_now, _ = scipy.ndimage.label(~grid.ink(pen))
    labels, count = scipy.ndimage.label(~grid.ink(pen, grown=least))
    free = 2.0 * grid.distances - pen * grid.shares - least
    deepest = scipy.ndimage.maximum_position(free, labels, range(1, count + 1))
    return any(
        index != labels[0, 0] and free[place] > _CRACK and open_now[place] == open_now[0, 0]
        for index, place in enumerate(deepest, 1)
    )
