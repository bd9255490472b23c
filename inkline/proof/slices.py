"""A rule's picture as slices across it: one for each pixel column or row that its line passes.

A slice holds the ink of one column in a window about the exact line. Along a column of exact
coverage the sum of ink is the exact mean height of ink there, and its centroid the exact middle, so
both are free of sampling error (derived here).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from inkline.geometry.arrays import Bools, Floats, Grey

_FULL = 255.0
"""The grey value of full ink."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExactRule:
    """A straight rule as it was laid out.

    Attributes:
        start: first point of its centreline in px, page space.
        end: last point of its centreline.
        width_px: its width, > 0.
        beside: spans in px along it, from its start, where other ink lies near it.
    """

    start: tuple[float, float]
    end: tuple[float, float]
    width_px: float
    beside: tuple[tuple[float, float], ...] = ()

    def __post_init__(self) -> None:
        if not (self.length_px > 0 and self.width_px > 0):
            raise ValueError(
                f"a rule needs a length and a width above 0 px, not {self.length_px} and "
                f"{self.width_px}"
            )

    @property
    def length_px(self) -> float:
        """From start to end."""
        return math.dist(self.start, self.end)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Slices:
    """Slices across a rule, `n` of them, each of `m` pixels.

    Attributes:
        along: arc length in px from the rule's start at which each slice crosses the exact line,
            ascending, `(n,)`.
        ink: share of ink of each pixel, 0 to 1, `(n, m)`; nothing beyond the canvas.
        first: distance in px, square to the rule, of each slice's first pixel centre from the exact
            line, `(n,)`; negative above a level rule and left of an upright one.
        pitch: distance in px, square to the rule, from one pixel centre of a slice to the next.
    """

    along: Floats
    ink: Floats
    first: Floats
    pitch: float

    def where(self, chosen: Bools) -> Slices:
        """The slices for which `chosen`, `(n,)`, is true."""
        return Slices(
            along=self.along[chosen],
            ink=self.ink[chosen],
            first=self.first[chosen],
            pitch=self.pitch,
        )

    def distances(self) -> Floats:
        """Distance of every pixel centre from the exact line, `(n, m)`."""
        distances: Floats = self.first[:, None] + self.pitch * np.arange(self.ink.shape[1])
        return distances

    def widths(self) -> Floats:
        """Width of ink in each slice, square to the rule, in px, `(n,)`."""
        widths: Floats = self.pitch * self.ink.sum(axis=1)
        return widths

    def centroids(self) -> Floats:
        """Distance of the middle of ink from the exact line in px, `(n,)`; NaN without ink."""
        total = self.ink.sum(axis=1)
        moments = (self.ink * self.distances()).sum(axis=1)
        middles: Floats = np.divide(
            moments, total, out=np.full(len(total), np.nan), where=total > 0
        )
        return middles

    def edges_by_sum(self) -> tuple[Floats, Floats]:
        """Both edges' distances from the exact line, each `(n,)`, by sums of ink; NaN without ink.

        Ink is summed from the middle outwards. Exact for solid ink. Bare spots inside move both
        edges inwards by half of what is bare.
        """
        middles = (self.centroids() - self.first) / self.pitch + 0.5
        inked = np.isfinite(middles)
        borders = np.rint(np.where(inked, middles, 0)).astype(int)
        sums = np.concatenate([np.zeros((len(borders), 1)), np.cumsum(self.ink, axis=1)], axis=1)
        before = sums[np.arange(len(borders)), borders]
        at = self.first + self.pitch * (borders - 0.5)
        near, far = at - self.pitch * before, at + self.pitch * (sums[:, -1] - before)
        return np.where(inked, near, np.nan), np.where(inked, far, np.nan)

    def edges_by_threshold(self, share: float) -> tuple[Floats, Floats]:
        """Distances of the outermost places where ink reaches `share`, each `(n,)`.

        Between pixel centres they lie on a straight line. NaN where a slice never reaches it, or
        reaches beyond its window.
        """
        turned = self.ink[:, ::-1]
        last = self.first + self.pitch * (self.ink.shape[1] - 1)
        near, far = _first_crossing(self.ink, share), _first_crossing(turned, share)
        return self.first + self.pitch * near, last - self.pitch * far


def slices_across(grey: Grey, rule: ExactRule, *, reach_px: float) -> Slices:
    """The slices across `rule` in the picture `grey`, at least `reach_px` to either side.

    The picture is uint8 `(height, width)`. Slices are columns for a rule that is rather level, rows
    for one that is rather upright.
    """
    (x0, y0), (x1, y1) = rule.start, rule.end
    if abs(x1 - x0) < abs(y1 - y0):
        grey, (x0, y0), (x1, y1) = grey.T, (y0, x0), (y1, x1)
    slope = (y1 - y0) / (x1 - x0)
    pitch = 1 / math.hypot(1, slope)
    columns = np.arange(math.ceil(min(x0, x1) - 0.5), math.floor(max(x0, x1) - 0.5) + 1)
    if x1 < x0:
        columns = columns[::-1]
    lines = y0 + (columns + 0.5 - x0) * slope
    top = np.floor(lines - reach_px / pitch).astype(int)
    rows = top[:, None] + np.arange(math.ceil(2 * reach_px / pitch) + 2)
    return Slices(
        along=np.abs(columns + 0.5 - x0) / pitch,
        ink=_take_pixels(grey, rows, columns),
        first=(top + 0.5 - lines) * pitch,
        pitch=pitch,
    )


def clear_of(
    slices: Slices, rule: ExactRule, others: Sequence[ExactRule], *, cut_weights: float
) -> Bools:
    """Which slices lie more than `cut_weights` rule weights from ends and crossing rules.

    Nor do they lie where the rule itself says that other ink is near.

    A rule counts as crossing if it does so when lengthened by two of its weights at both ends,
    since drawn rules run over.
    """
    cut = cut_weights * rule.width_px
    clear: Bools = (slices.along > cut) & (slices.along < rule.length_px - cut)
    for first, last in rule.beside:
        clear &= (slices.along < first) | (slices.along > last)
    for other in others:
        crossing = _crossing_of_rules(rule, other)
        if crossing is not None:
            at, half = crossing
            clear &= np.abs(slices.along - at) > half + cut
    return clear


def stretches(clear: Bools) -> NDArray[np.int64]:
    """The number from 1 of the unbroken run that each true value belongs to, 0 for false ones."""
    starts = clear & ~np.concatenate([[False], clear[:-1]])
    return np.where(clear, np.cumsum(starts), 0)


def _take_pixels(grey: Grey, rows: NDArray[np.int64], columns: NDArray[np.int64]) -> Floats:
    height, width = grey.shape
    on_canvas = (rows >= 0) & (rows < height) & ((columns >= 0) & (columns < width))[:, None]
    values = grey[np.clip(rows, 0, height - 1), np.clip(columns, 0, width - 1)[:, None]]
    return np.where(on_canvas, values / _FULL, 0.0)


def _first_crossing(ink: Floats, share: float) -> Floats:
    """Index, with its fraction, at which each row first rises to `share`; NaN if it doesn't."""
    reached = ink >= share
    index = np.argmax(reached, axis=1)
    each = np.arange(len(ink))
    found = reached[each, index] & (index > 0)
    index = np.where(found, index, 1)
    low, high = ink[each, index - 1], ink[each, index]
    rise = np.where(found, high - low, 1.0)
    return np.where(found, index - 1 + (share - low) / rise, np.nan)


def _crossing_of_rules(rule: ExactRule, other: ExactRule) -> tuple[float, float] | None:
    """Arc length along `rule` at which `other` crosses it, and its ink's reach to either side."""
    a, b = np.asarray(rule.start), np.asarray(other.start)
    u = (np.asarray(rule.end) - a) / rule.length_px
    v = (np.asarray(other.end) - b) / other.length_px
    sine = float(u[0] * v[1] - u[1] * v[0])
    if abs(sine) < 0.1:
        return None
    w = b - a
    at = float(w[0] * v[1] - w[1] * v[0]) / sine
    along_other = float(w[0] * u[1] - w[1] * u[0]) / sine
    over = 2 * other.width_px + rule.width_px
    if not -over <= along_other <= other.length_px + over:
        return None
    return at, 0.5 * other.width_px / abs(sine)


def gap_beside(rule: ExactRule, other: ExactRule) -> float:
    """How far from a rule another stands that runs beside it; infinite for all others."""
    along, across = _axes(rule)
    first, last = sorted((rule.start[along], rule.end[along]))
    other_first, other_last = sorted((other.start[along], other.end[along]))
    if _axes(other) != (along, across) or min(last, other_last) <= max(first, other_first):
        return math.inf
    return abs(rule.start[across] - other.start[across])


def _axes(rule: ExactRule) -> tuple[int, int]:
    """The axis that a rule runs along, 0 for x and 1 for y, and the other one."""
    (x0, y0), (x1, y1) = rule.start, rule.end
    return (0, 1) if abs(x1 - x0) >= abs(y1 - y0) else (1, 0)
