"""What two shapes have in common, or one without the other, in the integers that unions take."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import pyclipper

from inkline.geometry.arrays import Points

STEPS = 2.0**12
"""Grid steps in a px: a canvas of 20 000 px stays below 2^30, above which pyclipper is slow."""
_LEAST_AREA = 4.0
"""Contours of less area, in steps squared, are debris of rounding."""

Path = list[list[int]]


def contours_without(contours: Sequence[Points], cut: Sequence[Points]) -> tuple[Points, ...]:
    """What is left of the shape of `contours` where that of `cut` is taken away.

    Coordinates are in px, rounded to 2^-12 px. Outer contours come back with positive area, holes
    negative. Both shapes are filled by the non-zero rule.
    """
    return off_grid(_clipped(pyclipper.CT_DIFFERENCE, on_grid(contours), on_grid(cut)))


def common_area(one: Sequence[Points], other: Sequence[Points]) -> tuple[Points, ...]:
    """What lies in both of two shapes; coordinates as in `contours_without`."""
    clip = on_grid(other)
    if not clip:
        return ()
    return off_grid(_clipped(pyclipper.CT_INTERSECTION, on_grid(one), clip))


def joins_between(
    whole: Sequence[Points], parts: Sequence[Points], *, under_px: float
) -> tuple[Points, ...]:
    """What `whole` has beyond `parts`, reaching `under_px` under these so that no seam shows.

    Coordinates as in `contours_without`; `parts` may overlap each other.
    """
    within = on_grid(whole)
    beyond = _clipped(pyclipper.CT_DIFFERENCE, within, on_grid(parts))
    if not beyond:
        return ()
    grower = pyclipper.PyclipperOffset()
    grower.AddPaths(beyond, pyclipper.JT_MITER, pyclipper.ET_CLOSEDPOLYGON)
    grown = grower.Execute(under_px * STEPS)
    return off_grid(_clipped(pyclipper.CT_INTERSECTION, within, grown) if grown else [])


def on_grid(contours: Iterable[Points]) -> list[Path]:
    """Contours in steps of the grid, those without area left out."""
    return [
        np.rint(contour * STEPS).astype(np.int64).tolist()
        for contour in contours
        if len(contour) >= 3
    ]


def _clipped(how: int, subject: Sequence[Path], clip: Sequence[Path]) -> list[Path]:
    clipper = pyclipper.Pyclipper()
    if not sum(add_closed(clipper, path, pyclipper.PT_SUBJECT) for path in subject):
        return []
    for path in clip:
        add_closed(clipper, path, pyclipper.PT_CLIP)
    found = clipper.Execute(how, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    return [path for path in found if abs(pyclipper.Area(path)) > _LEAST_AREA]


def add_closed(clipper: pyclipper.Pyclipper, path: Path, kind: int) -> int:
    """1 if the path was taken, 0 if it has no area on the grid."""
    try:
        clipper.AddPath(path, kind, True)
    except pyclipper.ClipperException:
        return 0
    return 1


def off_grid(paths: Iterable[Path]) -> tuple[Points, ...]:
    """Contours in px from those in steps of the grid."""
    return tuple(np.array(path, dtype=np.float64) / STEPS for path in paths)
