"""What one shape has and another has not, in the integers in which unions are exact too."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import pyclipper

from inkline.geometry.arrays import Points

_STEPS = 2.0**12
"""Grid steps in a px: a canvas of 20 000 px stays below 2^30, above which pyclipper is slow."""
_LEAST_AREA = 4.0
"""Contours of less area, in steps squared, are debris of rounding."""

_Path = list[list[int]]


def contours_without(contours: Sequence[Points], cut: Sequence[Points]) -> tuple[Points, ...]:
    """What is left of the shape of `contours` where that of `cut` is taken away.

    Coordinates are in px, rounded to 2^-12 px. Outer contours come back with positive area, holes
    negative. Both shapes are filled by the non-zero rule.
    """
    return _points(_clipped(pyclipper.CT_DIFFERENCE, _paths(contours), _paths(cut)))


def joins_between(
    whole: Sequence[Points], parts: Sequence[Points], *, under_px: float
) -> tuple[Points, ...]:
    """What `whole` has beyond `parts`, reaching `under_px` under these so that no seam shows.

    Coordinates as in `contours_without`; `parts` may overlap each other.
    """
    within = _paths(whole)
    beyond = _clipped(pyclipper.CT_DIFFERENCE, within, _paths(parts))
    if not beyond:
        return ()
    grower = pyclipper.PyclipperOffset()
    grower.AddPaths(beyond, pyclipper.JT_MITER, pyclipper.ET_CLOSEDPOLYGON)
    grown = grower.Execute(under_px * _STEPS)
    return _points(_clipped(pyclipper.CT_INTERSECTION, within, grown) if grown else [])


def _paths(contours: Iterable[Points]) -> list[_Path]:
    return [
        np.rint(contour * _STEPS).astype(np.int64).tolist()
        for contour in contours
        if len(contour) >= 3
    ]


def _clipped(how: int, subject: Sequence[_Path], clip: Sequence[_Path]) -> list[_Path]:
    clipper = pyclipper.Pyclipper()
    if not sum(_add(clipper, path, pyclipper.PT_SUBJECT) for path in subject):
        return []
    for path in clip:
        _add(clipper, path, pyclipper.PT_CLIP)
    found = clipper.Execute(how, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    return [path for path in found if abs(pyclipper.Area(path)) > _LEAST_AREA]


def _add(clipper: pyclipper.Pyclipper, path: _Path, kind: int) -> int:
    """1 if the path was taken, 0 if it has no area on the grid."""
    try:
        clipper.AddPath(path, kind, True)
    except pyclipper.ClipperException:
        return 0
    return 1


def _points(paths: Iterable[_Path]) -> tuple[Points, ...]:
    return tuple(np.array(path, dtype=np.float64) / _STEPS for path in paths)
