"""From an inked drawing to the finished picture."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from inkline.ink.inked import InkedDrawing, InkedMark, united_contours
from inkline.ink.paper import tooth_mask
from inkline.raster.coverage import FULL, Coverage, coverage_from_contours, grey_from_contours


def render(inked: InkedDrawing) -> NDArray[np.uint8]:
    """The picture of `inked` as uint8 `(height, width)`: 0 where there is no ink, 255 where it is full.

    Coverage is that of all marks united, so that overlaps are neither seams nor darker. Where marks have a tooth, a pixel keeps what
    the mark that gives it most ink leaves there; marks without one cost nothing more.
    """
    grey = grey_from_contours(united_contours(inked), canvas=inked.canvas)
    if any(mark.tooth is not None for mark in inked.marks):
        _thin(grey, inked)
    return grey


def _thin(grey: NDArray[np.uint8], inked: InkedDrawing) -> None:
    """Takes from `grey`, in place, what the paper's tooth leaves bare; only inked pixels are touched."""
    width, height = inked.canvas
    kept = np.zeros(width * height, dtype=np.uint8)
    for mark in inked.marks:
        covered = coverage_from_contours(mark.contours, canvas=inked.canvas)
        pixels = covered_pixels(covered)
        if len(pixels) == 0:
            continue  # beyond the canvas
        kept[pixels] = np.maximum(kept[pixels], _kept_by(mark, pixels, width))
    flat = grey.reshape(-1)
    touched = np.flatnonzero(flat)
    flat[touched] = np.rint(flat[touched] * (kept[touched] / FULL)).astype(np.uint8)


def _kept_by(mark: InkedMark, pixels: NDArray[np.int64], width: int) -> NDArray[np.uint8]:
    """What one mark keeps of its ink at `pixels` (flat indices), 0 to 255."""
    if mark.tooth is None:
        return np.full(len(pixels), FULL, dtype=np.uint8)
    centres = np.column_stack((pixels % width, pixels // width)) + 0.5
    places = (centres - np.array(mark.origin)) / mark.px_per_mm
    return np.rint(tooth_mask(mark.tooth, places) * FULL).astype(np.uint8)


def covered_pixels(coverage: Coverage) -> NDArray[np.int64]:
    """Flat indices of all pixels that have any coverage, touched ones first, then the spans."""
    lengths = coverage.span_ends - coverage.span_starts
    within = np.arange(int(lengths.sum())) - np.repeat(np.cumsum(lengths) - lengths, lengths)
    return np.concatenate((coverage.pixels, np.repeat(coverage.span_starts, lengths) + within))
