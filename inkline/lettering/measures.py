"""The measures of a letter's strokes: its box, its upright runs and how they lean."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from inkline.geometry.arrays import Points


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """A glyph's ink in font units, its slant taken out: its box and its advance."""

    left: float
    foot: float
    right: float
    top: float
    advance: float


def upright_runs(points: Points) -> Iterator[Points]:
    """The parts of a stroke along which it goes only up or only down."""
    steps = np.sign(np.diff(points[:, 1]))
    starts = np.concatenate(([0], np.flatnonzero(np.diff(steps)) + 1, [len(steps)]))
    yield from (points[a : b + 1] for a, b in pairwise(starts) if steps[a] != 0)


def straight_lean(run: Points, stem: float) -> float | None:
    """Tangent of the slant of the middle three fifths of a run.

    None where they bow by more than half a stem.
    """
    low, high = run[:, 1].min(), run[:, 1].max()
    order = np.argsort(run[:, 1])
    y = np.linspace(low + 0.2 * (high - low), low + 0.8 * (high - low), 33)
    x = np.interp(y, run[order, 1], run[order, 0])
    lean, start = np.polyfit(y, x, 1)
    return float(lean) if np.abs(x - start - lean * y).max() < 0.5 * stem else None


def nearest_distance(points: Points, others: Points) -> float:
    """Distance from the middle of `points` to the nearest vertex of `others`."""
    return float(np.hypot(*(others - points.mean(axis=0)).T).min())


def white_at_left(measures: Measures) -> float:
    """White between a glyph's origin and its ink."""
    return measures.left


def white_at_right(measures: Measures) -> float:
    """White between a glyph's ink and its advance."""
    return measures.advance - measures.right


def top_of(measures: Measures) -> float:
    """Height of its ink's highest point."""
    return measures.top


def foot_of(measures: Measures) -> float:
    """Height of its ink's lowest point."""
    return measures.foot
