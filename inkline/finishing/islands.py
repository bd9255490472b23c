"""Simple contours as islands: outer ones, each with the holes in it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from inkline.geometry.arrays import Points
from inkline.geometry.polygon import signed_area


def islands(contours: Sequence[Points]) -> list[tuple[Points, ...]]:
    """Simple contours, each outer one with the holes in it.

    Contours of positive area by the page's own coordinates are outer ones.
    """
    outer = [contour for contour in contours if signed_area(contour) > 0.0]
    holes = [contour for contour in contours if signed_area(contour) <= 0.0]
    if not holes:
        return [(contour,) for contour in outer]
    found = [[contour] for contour in outer]
    areas = [signed_area(contour) for contour in outer]
    for hole in holes:
        around = [i for i, one in enumerate(outer) if _holds(one, hole[0])]
        if around:
            found[min(around, key=lambda i: areas[i])].append(hole)
    return [tuple(parts) for parts in found]


def _holds(contour: Points, point: Points) -> bool:
    """Whether a point lies within a simple contour, by the crossings of a ray from it."""
    x, y = contour[:, 0], contour[:, 1]
    nx, ny = np.roll(x, -1), np.roll(y, -1)
    spans = (y > point[1]) != (ny > point[1])
    height = np.where(ny == y, 1.0, ny - y)
    at = x + (point[1] - y) / height * (nx - x)
    return bool(np.count_nonzero(spans & (at > point[0])) % 2)
