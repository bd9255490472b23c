"""Stretches of a contour between two breaks, and the cubics that fit each best."""

from __future__ import annotations

from functools import partial
from typing import TypeVar

import numpy as np

from inkline.geometry.arrays import Bools, Complexes, Floats, Indices

_LOOKED_AT = (0.25, 0.5, 0.75)
"""Where between two points a curve is looked at."""
_STRAIGHT = 0.1
"""A stretch this share of the tolerance from its chord becomes a straight line."""
_ROUNDS = 2
"""How often points look for a nearer place on their curve before it is judged.
More gained less than 3 % of the pieces."""
_LONGEST_HANDLE = 1.5
"""Longest handle in lengths of its stretch; beyond this a curve swings out between points."""
_LEAST_TURN = 1e-9

Handles = tuple[Complexes, Complexes]
Numbers = TypeVar("Numbers", Floats, Complexes)


class Stretches:
    """Many stretches at once, of three points and more each, laid end to end.

    Points are complex numbers x + iy here: one array where there would be two columns, which takes
    a third of the time. `of` is the index of the stretch that each point belongs to.

    Args:
        points: of all contours.
        leaving: unit tangents behind each.
        arriving: unit tangents before each.
        limit: how far a curve may stray.
        starts: first point of each stretch.
        ends: last point of each.
    """

    def __init__(
        self,
        points: Complexes,
        *,
        leaving: Complexes,
        arriving: Complexes,
        limit: float,
        starts: Indices,
        ends: Indices,
    ) -> None:
        self.limit = limit
        self.counts = ends - starts + 1
        self.offsets = np.cumsum(self.counts) - self.counts
        self.of = np.repeat(np.arange(len(starts)), self.counts)
        self.index = np.arange(self.counts.sum()) - self.offsets[self.of] + starts[self.of]
        self.points = points[self.index]
        self.p0, self.p3 = points[starts], points[ends]
        self.t0, self.t3 = leaving[starts], -arriving[ends]
        steps = np.abs(np.diff(self.points, prepend=self.points[:1]))
        steps[self.offsets] = 0.0
        along = np.cumsum(steps)
        along -= self._each(along[self.offsets])
        self.lengths = along[self.offsets + self.counts - 1]
        self.along = along / self._each(self.lengths)

    def _each(self, values: Numbers) -> Numbers:
        """A value of every stretch at each of its points."""
        return np.repeat(values, self.counts)

    def are_straight(self) -> Bools:
        """Which stretches are as good as their chords."""
        chord = self.p3 - self.p0
        lengths = np.maximum(np.abs(chord), 1e-300)
        away = self.points - self._each(self.p0)
        across = np.abs(_cross(away, self._each(chord))) / self._each(lengths)
        flat = np.maximum.reduceat(across, self.offsets) <= _STRAIGHT * self.limit
        return np.asarray(flat & (self.lengths < 1.01 * lengths))

    def curves(self) -> tuple[Floats, Floats, Indices]:
        """Handles of the best cubics, how far each strays, and the index of the point where."""
        t = self.along
        handles = self._handles(t)
        for _ in range(_ROUNDS):
            t = self._nearer_parameters(handles, t)
            handles = self._handles(t)
        errors = np.maximum(np.abs(self._curve(handles, t) - self.points), self._swings(handles, t))
        errors[self.offsets] = -1.0
        largest = np.maximum.reduceat(errors, self.offsets)
        found = np.flatnonzero(errors == self._each(largest))
        _, first = np.unique(self.of[found], return_index=True)
        pairs = np.stack([np.stack((one.real, one.imag), axis=1) for one in handles], axis=1)
        return pairs, largest, self.index[found[first]]

    def _swings(self, handles: Handles, t: Floats) -> Floats:
        """How far the curve lies from the two lines that meet at each point, in their inner parts.

        It is 0 at the last point of a stretch.
        """
        lines = np.diff(self.points, append=self.points[-1:])
        lengths = np.maximum(np.abs(lines), 1e-300)
        nexts = np.append(t[1:], 1.0)
        swings = np.zeros(len(t))
        for part in _LOOKED_AT:
            away = self._curve(handles, t + part * (nexts - t)) - self.points
            swings = np.maximum(swings, np.abs(_cross(away, lines)) / lengths)
        lasts = np.append(self.offsets[1:], len(t)) - 1
        swings[lasts] = 0.0
        swings[self.offsets + 1] = np.maximum(swings[self.offsets], swings[self.offsets + 1])
        swings[lasts] = 0.0
        return np.asarray(swings)

    def _handles(self, t: Floats) -> Handles:
        """Handles along the tangents, of the lengths that fit best in the mean square."""
        s = 1.0 - t
        b0, b1, b2, b3 = s**3, 3 * s * s * t, 3 * s * t * t, t**3
        t0, t3 = self._each(self.t0), self._each(self.t3)
        rest = self.points - (b0 + b1) * self._each(self.p0) - (b2 + b3) * self._each(self.p3)
        sums = partial(np.add.reduceat, indices=self.offsets)
        c00, c03, c33 = sums(b1 * b1), sums(b1 * b2) * _dot(self.t0, self.t3), sums(b2 * b2)
        x0, x3 = sums(b1 * _dot(t0, rest)), sums(b2 * _dot(t3, rest))
        det = c00 * c33 - c03 * c03
        sound = det > _LEAST_TURN * np.maximum(c00 * c33, 1e-300)
        safe = np.where(sound, det, 1.0)
        long0, long3 = (x0 * c33 - x3 * c03) / safe, (c00 * x3 - c03 * x0) / safe
        for length in (long0, long3):
            sound &= (length > _LEAST_TURN * self.lengths) & (
                length < _LONGEST_HANDLE * self.lengths
            )
        third = self.lengths / 3.0
        long0, long3 = np.where(sound, long0, third), np.where(sound, long3, third)
        return self.p0 + long0 * self.t0, self.p3 + long3 * self.t3

    def _curve(self, handles: Handles, t: Floats) -> Complexes:
        s = 1.0 - t
        p0, p1, p2, p3 = (self._each(one) for one in (self.p0, *handles, self.p3))
        return np.asarray(s * s * (s * p0 + 3 * t * p1) + t * t * (3 * s * p2 + t * p3))

    def _nearer_parameters(self, handles: Handles, t: Floats) -> Floats:
        """Each point's place on its curve after one step of Newton's method towards the nearest."""
        s = 1.0 - t
        d0, d1, d2 = handles[0] - self.p0, handles[1] - handles[0], self.p3 - handles[1]
        first = 3 * (s * s * self._each(d0) + 2 * s * t * self._each(d1) + t * t * self._each(d2))
        second = 6 * (s * self._each(d1 - d0) + t * self._each(d2 - d1))
        away = self._curve(handles, t) - self.points
        slope = _dot(first, first) + _dot(away, second)
        step = _dot(away, first) / np.where(slope > 1e-300, slope, np.inf)
        return np.asarray(np.clip(t - step, 0.0, 1.0))


def _dot(one: Complexes, other: Complexes) -> Floats:
    return np.asarray(one.real * other.real + one.imag * other.imag)


def _cross(one: Complexes, other: Complexes) -> Floats:
    return np.asarray(one.real * other.imag - one.imag * other.real)
