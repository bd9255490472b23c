"""How strokes stand: how far moves of their points shift them aside and make them lean."""

from __future__ import annotations

import numpy as np

from inkline.geometry.arrays import Floats, Points

# What is likely beforehand of each change, as weights against changes by the whole height: a shift
# aside, a lean, and widening, rising, leaning downwards and growing.
_EXPECTED = (1e-4, 1e-4, 1e-3, 1e-3, 1e-3, 1e-3)


def shift_and_lean(points: Points, across: Floats, normals: Points, weights: Floats) -> Points:
    """What moves across a stroke's way shift aside and make lean, `(n, 2)`.

    The affine change is sought that does to the strokes, across their way, most of what the moves
    do; of it, what moves points aside by themselves and by their height comes back.

    Args:
        points: of one stroke or several, `(n, 2)`.
        across: how far each is moved along its normal, `(n,)`.
        normals: unit normals, `(n, 2)`.
        weights: the length that each stands for, `(n,)`.
    """
    low, high = (np.array([edge(points[:, 0]), edge(points[:, 1])]) for edge in (np.min, np.max))
    height = max(float(high[1] - low[1]), 1e-6)
    if height < 0.5 * float(high[0] - low[0]):  # a dash or a bar doesn't lean
        return np.zeros_like(points)
    (x, y), (nx, ny) = ((points - 0.5 * (low + high)) / height).T, normals.T
    changes = np.column_stack((nx, nx * y, nx * x, ny, ny * x, ny * y))
    counted = changes * (weights / max(float(weights.sum()), 1e-12))[:, None]
    found = np.linalg.solve(counted.T @ changes + np.diag(_EXPECTED), counted.T @ across)
    return np.column_stack((found[0] + found[1] * y, np.zeros_like(y)))
