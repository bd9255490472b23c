"""Affine maps from a file's own units to px of a picture."""

from __future__ import annotations

import math

import numpy as np

from inkline.geometry.arrays import Floats

Matrix = Floats
"""An affine map as `(2, 3)`: a point (x, y) goes to `matrix[:, :2] @ (x, y) + matrix[:, 2]`."""


def unmoved() -> Matrix:
    """The map that leaves all points where they are."""
    return np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])


def after(outer: Matrix, inner: Matrix) -> Matrix:
    """The map that does `inner` first and then `outer`, infinite where numbers grow too large."""
    with np.errstate(over="ignore", invalid="ignore"):
        joined = outer[:, :2] @ inner
        joined[:, 2] += outer[:, 2]
    return joined


def scaled(across: float, down: float, x: float = 0.0, y: float = 0.0) -> Matrix:
    """The map that scales about the origin and then moves by (x, y)."""
    return np.array([[across, 0.0, x], [0.0, down, y]])


def moved(points: Floats, matrix: Matrix) -> Floats:
    """`points`, `(n, 2)`, mapped."""
    mapped: Floats = points @ matrix[:, :2].T + matrix[:, 2]
    return mapped


def scale_of(matrix: Matrix) -> float:
    """By what factor a map grows lengths: the square root of how it grows areas."""
    return math.sqrt(abs(float(np.linalg.det(matrix[:, :2]))))


def keeps_shape(matrix: Matrix) -> bool:
    """Whether a map turns, mirrors and scales alike in all directions, and nothing else."""
    grown = matrix[:, :2].T @ matrix[:, :2]
    largest = float(np.abs(grown).max())
    return bool(
        abs(grown[0, 0] - grown[1, 1]) <= 1e-6 * largest and abs(grown[0, 1]) <= 1e-6 * largest
    )
