"""From an inked drawing to the finished picture."""

from __future__ import annotations

import numpy as np

from inkline.geometry.arrays import Grey, Ints, Points
from inkline.ink.inked import InkedDrawing, InkedMark, united_contours, united_with_cut
from inkline.ink.media.field import SAMPLE_MM, field_over
from inkline.ink.media.medium import Medium
from inkline.ink.media.paper import tooth_mask
from inkline.raster.coverage import FULL, Coverage, coverage_from_contours, grey_from_contours

# So many pixels of a mark are looked up in its medium at a time.
_PIECE = 1 << 15


def render(inked: InkedDrawing) -> Grey:
    """The picture of `inked` as uint8 `(height, width)`: 0 is bare, 255 all ink.

    Coverage is that of all marks united, so that overlaps are neither seams nor darker. Where marks
    have a tooth, a pixel keeps what the mark that gives it most ink leaves there; marks without one
    cost nothing more. Of what is cut out only that is taken away which would be ink if it were
    drawn by itself: what the paper leaves bare in it stays.
    """
    contours = united_contours(inked)
    covered = grey_from_contours(contours, canvas=inked.canvas)
    grey = _grey_on_paper(covered, inked)
    return grey if inked.cut is None else _grey_without_cut(grey, covered, contours, inked.cut)


def _grey_without_cut(
    grey: Grey,
    covered: Grey,
    contours: tuple[Points, ...],
    cut: InkedDrawing,
) -> Grey:
    """`grey` less what `cut` takes away of it.

    With the areas a of the ink, b of the cut and u of both united, a + b - u of a pixel lies in
    both. Of this the share goes that the cut itself keeps of its own ink, and what is left keeps
    the share that the paper left of the ink there. Without any tooth that is u - b, exact also
    where edges cross.

    Args:
        grey: the ink as the paper leaves it.
        covered: the same if the paper were smooth.
        contours: the outlines of the ink.
        cut: what is cut out.
    """
    outlines = united_contours(cut)
    own = grey_from_contours(outlines, canvas=cut.canvas)
    both = grey_from_contours(united_with_cut(contours, outlines), canvas=cut.canvas)
    taken = _grey_on_paper(own, cut)
    left = grey.copy()
    flat = np.flatnonzero((taken > 0) & (covered > 0))
    a, b, u = (picture.reshape(-1)[flat].astype(np.float64) for picture in (covered, own, both))
    gone = np.clip(a + b - u, 0.0, a) * taken.reshape(-1)[flat] / b
    left.reshape(-1)[flat] = np.rint(grey.reshape(-1)[flat] * (1.0 - gone / a)).astype(np.uint8)
    return left


def _grey_on_paper(covered: Grey, inked: InkedDrawing) -> Grey:
    """What the paper leaves of `covered`, the smooth picture of the ink of `inked`."""
    if all(mark.tooth is None for mark in inked.marks):
        return covered
    grey = covered.copy()
    _take_off_paper(grey, inked)
    return grey


def _take_off_paper(grey: Grey, inked: InkedDrawing) -> None:
    """Takes from `grey`, in place, what the paper's tooth leaves bare.

    Only inked pixels are touched.
    """
    width, height = inked.canvas
    kept = np.zeros(width * height, dtype=np.uint8)
    for mark in inked.marks:
        covered = coverage_from_contours(mark.contours, canvas=inked.canvas)
        pixels = _covered_pixels(covered)
        if len(pixels) == 0:
            continue  # beyond the canvas
        mine, below = _kept_grey(mark, pixels, width), kept[pixels]
        darkest = np.maximum(mine, below)
        if isinstance(mark.tooth, Medium) and mark.tooth.overlap > 0.0 and below.any():
            darkest = _darkened(darkest, mine, below, mark.tooth.overlap)
        kept[pixels] = darkest
    flat = grey.reshape(-1)
    touched = np.flatnonzero(flat)
    flat[touched] = np.rint(flat[touched] * (kept[touched] / FULL)).astype(np.uint8)


def _darkened(darkest: Grey, mine: Grey, below: Grey, overlap: float) -> Grey:
    """What two marks leave over each other: the darker of them, and `overlap` of the way to both.

    Both together let through the product of what each lets through.
    """
    bare = (FULL - mine.astype(np.float32)) * (FULL - below.astype(np.float32)) / FULL
    return np.rint(darkest + overlap * (FULL - bare - darkest)).astype(np.uint8)


def _kept_grey(mark: InkedMark, pixels: Ints, width: int) -> Grey:
    """What one mark keeps of its ink at `pixels` (flat indices), 0 to 255."""
    if mark.tooth is None:
        return np.full(len(pixels), FULL, dtype=np.uint8)
    if isinstance(mark.tooth, Medium):
        return _grey_of_medium(mark, mark.tooth, pixels, width)
    centres = np.column_stack((pixels % width, pixels // width)) + 0.5
    places = (centres - np.array(mark.origin)) / mark.px_per_mm
    return np.rint(tooth_mask(mark.tooth, places) * FULL).astype(np.uint8)


def _grey_of_medium(mark: InkedMark, medium: Medium, pixels: Ints, width: int) -> Grey:
    """What the medium of one mark leaves at `pixels`, 0 to 255.

    Where pixels are large against the grain, each is the mean of several places in it. Taken a
    piece at a time, so that what is at work stays in the processor's near memory.
    """
    origin, pixel_mm = np.array(mark.origin), 1.0 / mark.px_per_mm
    contours = tuple((contour - origin) * pixel_mm for contour in mark.contours)
    field = field_over(medium, contours)
    n_across = max(1, round(pixel_mm / SAMPLE_MM))
    apart = (np.arange(n_across) + 0.5) / n_across
    grey = np.empty(len(pixels), dtype=np.uint8)
    for first in range(0, len(pixels), _PIECE):
        piece = pixels[first : first + _PIECE]
        corner = np.column_stack((piece % width, piece // width)) - origin
        ink = sum(
            field.ink_at(
                (corner + np.array([right, down])) * pixel_mm,
                pixel_mm=pixel_mm / n_across,
                covered_mm=pixel_mm,
            )
            for right in apart
            for down in apart
        )
        grey[first : first + _PIECE] = np.rint(ink * np.float32(FULL / n_across**2))
    return grey


def _covered_pixels(coverage: Coverage) -> Ints:
    """Flat indices of all pixels that have any coverage, touched ones first, then the spans."""
    lengths = coverage.span_ends - coverage.span_starts
    within = np.arange(int(lengths.sum())) - np.repeat(np.cumsum(lengths) - lengths, lengths)
    return np.concatenate((coverage.pixels, np.repeat(coverage.span_starts, lengths) + within))
