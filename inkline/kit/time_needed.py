"""How long a kit will take to draw, roughly, from what it holds and how fast this machine is.

Nothing is kept of earlier runs: a small piece of work like that of drawing is timed, and what kits
took where that was measured too is stretched by it.
"""

from __future__ import annotations

import time

import numpy as np

from inkline.ink.style import Style

_START_S = 7.5
"""Processor time of imports, overview, layouts, guide and proof."""
_STAMP_S, _DRY_STAMP_S = 0.11, 0.21
"""Processor time of a stamp: means of the default kit, and of it in four dry styles."""
_TRIAL_S = 0.00175
"""What the trial took on the machine where those were measured."""
_TRIALS = 5
_MOST_USE = 0.8
"""Of each further process; the rest is its own start."""


def seconds_to_draw(n_stamps: int, style: Style, *, workers: int) -> float:
    """About how long `n_stamps` stamps of a kit and its papers take, in s, on this machine.

    Cost: 0.01 s.
    """
    each = _DRY_STAMP_S if style.paper.dryness > 0.0 else _STAMP_S
    work = (_START_S + n_stamps * each) * min(_trial() for _ in range(_TRIALS)) / _TRIAL_S
    return work / (1.0 + _MOST_USE * (workers - 1))


def _trial() -> float:
    """How long a small piece of work takes that is like drawing: short arrays, many calls."""
    start = time.perf_counter()
    steps = np.linspace(0.0, 1.0, 256)
    for mode in range(1, 200):
        np.cumsum(np.cos(mode * steps) * np.hypot(steps, mode))
    return time.perf_counter() - start
